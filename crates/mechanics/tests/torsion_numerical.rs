//! The numerical solution of Saint-Venant's problem: exact solutions, laws, and refusals.

use haunch_mechanics::section::{Outline, Part, Point, Section, Shape};
use haunch_mechanics::shapes::{Channel, HollowRectangle, IShape, Pipe, Triangle};
use haunch_mechanics::torsion::{NoTorsion, SaintVenant, saint_venant};
use haunch_quantity::typed::{Length, Ratio, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn point(x: f64, y: f64) -> Point {
    Point::new(metres(x), metres(y))
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Part {
    Part::material(Shape::Rectangle {
        left: metres(left),
        bottom: metres(bottom),
        width: metres(width),
        height: metres(height),
    })
}

fn section(parts: &[Part]) -> Section {
    Section::new(parts).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn of_outline(outline: Outline) -> Section {
    section(&[Part::material(Shape::Outline(outline))])
}

fn solve(section: &Section) -> SaintVenant {
    saint_venant(section, Ratio::from_si(1e-3)).expect("a solution")
}

#[track_caller]
fn assert_encloses(found: &SaintVenant, exact: f64) {
    let slack = 1e-9 * exact;
    assert!(
        found.least.si() <= exact + slack && exact <= found.greatest.si() + slack,
        "{exact} not in {found:?}"
    );
    assert!(found.relative_error().si() <= 1e-3, "{found:?}");
    let off = (found.torsion_constant.si() / exact - 1.0).abs();
    assert!(off <= 4e-4, "off by {off}: {found:?}");
}

/// Timoshenko & Goodier, Theory of Elasticity, 3rd ed., arts. 102, 109 and 115: ellipse and circle
/// π·a³b³/(a² + b²), equilateral triangle √3·a⁴/80, rectangles by the series of art. 109.
#[test]
fn exact_solutions() {
    let circle = of_outline(Outline::circle(point(3.0, -2.0), metres(1.0)));
    assert_encloses(&solve(&circle), PI / 2.0);

    for thickness in [0.5, 0.1, 0.01] {
        let pipe = Pipe {
            diameter: metres(2.0),
            thickness: metres(thickness),
        };
        let inner: f64 = 1.0 - thickness;
        let exact = PI / 2.0 * (1.0 - inner * inner * inner * inner);
        assert_encloses(&solve(&of_outline(pipe.outline().unwrap())), exact);
    }

    let side: f64 = 0.25;
    let triangle = Triangle {
        width: metres(side),
        height: metres(side * 3.0_f64.sqrt() / 2.0),
        apex: metres(side / 2.0),
    };
    let exact = 3.0_f64.sqrt() / 80.0 * side * side * side * side;
    assert_encloses(&solve(&of_outline(triangle.outline().unwrap())), exact);

    // J/(a·b³), summed with mpmath 1.4.1 to nine digits.
    let rectangles = [
        (1.0, 0.140577015),
        (1.2, 0.166118910),
        (2.0, 0.228681677),
        (10.0, 0.312325037),
        (100.0, 0.331232504),
    ];
    for (length, coefficient) in rectangles {
        let found = solve(&section(&[rectangle(0.0, 0.0, length, 1.0)]));
        assert_encloses(&found, coefficient * length);
    }
}

/// An ellipse of 360 straight sides: its constant is lower by no more than its area allows.
#[test]
fn ellipse() {
    let (a, b) = (0.05, 0.03);
    let corners = (0..360).map(|step| {
        let angle = f64::from(step) * PI / 180.0;
        point(a * libm::cos(angle), b * libm::sin(angle))
    });
    let found = solve(&section(&[Part::material(Shape::Polygon(
        corners.collect(),
    ))]));
    let exact = PI * a * a * a * b * b * b / (a * a + b * b);
    let ratio = found.torsion_constant.si() / exact;
    // The polygon's area is 5e-5 less, and the constant goes with the square of the area.
    assert!((ratio - (1.0 - 1.02e-4)).abs() < 1e-5, "{ratio}");
}

#[test]
fn symmetry_puts_the_shear_centre() {
    let beam = IShape::with_equal_flanges(
        metres(0.3),
        metres(0.15),
        metres(0.0071),
        metres(0.0107),
        metres(0.015),
    );
    let found = solve(&of_outline(beam.outline().unwrap()));
    assert!((found.shear_centre.x.si() - 0.075).abs() < 1e-5);
    assert!((found.shear_centre.y.si() - 0.15).abs() < 1e-5);
    let tube = HollowRectangle::with_equal_walls(
        metres(0.2),
        metres(0.1),
        metres(0.01),
        metres(0.015),
        metres(0.01),
    );
    let found = solve(&of_outline(tube.outline().unwrap()));
    assert!((found.shear_centre.x.si() - 0.05).abs() < 1e-5);
    assert!((found.shear_centre.y.si() - 0.1).abs() < 1e-5);
    let channel = Channel {
        height: metres(0.2),
        width: metres(0.08),
        web_thickness: metres(0.008),
        flange_thickness: metres(0.012),
        taper: None,
        root_radius: metres(0.01),
        toe_radius: metres(0.005),
    };
    let found = solve(&of_outline(channel.outline().unwrap()));
    assert!(found.shear_centre.x.si() < 0.0, "beyond the web");
    assert!((found.shear_centre.y.si() - 0.1).abs() < 1e-5);
}

#[test]
fn parts_that_touch_count_as_one() {
    let whole = solve(&section(&[rectangle(0.0, 0.0, 3.0, 1.0)]));
    let halves = [rectangle(0.0, 0.0, 1.7, 1.0), rectangle(1.7, 0.0, 1.3, 1.0)];
    let halves = solve(&section(&halves));
    let ratio = halves.torsion_constant.si() / whole.torsion_constant.si();
    assert!((ratio - 1.0).abs() < 5e-4, "{ratio}");

    // A box of four plates has a hole in it.
    let plates = [
        rectangle(0.0, 0.0, 0.1, 0.01),
        rectangle(0.0, 0.01, 0.01, 0.08),
        rectangle(0.09, 0.01, 0.01, 0.08),
        rectangle(0.0, 0.09, 0.1, 0.01),
    ];
    let plates = solve(&section(&plates));
    let tube = HollowRectangle::with_equal_walls(
        metres(0.1),
        metres(0.1),
        metres(0.01),
        metres(0.0),
        metres(0.0),
    );
    let tube = solve(&of_outline(tube.outline().unwrap()));
    let ratio = plates.torsion_constant.si() / tube.torsion_constant.si();
    assert!((ratio - 1.0).abs() < 5e-4, "{ratio}");
}

#[test]
fn the_order_of_parts_and_the_run_do_not_matter() {
    let parts = [
        rectangle(-0.1, 0.0, 0.2, 0.01),
        rectangle(-0.004, 0.01, 0.008, 0.28),
        rectangle(-0.08, 0.29, 0.16, 0.01),
    ];
    let one = solve(&section(&parts));
    let mut reversed = parts;
    reversed.reverse();
    assert_eq!(solve(&section(&reversed)), one);
}

#[test]
fn refusals() {
    let of = |parts: &[Part]| saint_venant(&section(parts), Ratio::from_si(1e-3));
    let apart = [rectangle(0.0, 0.0, 1.0, 1.0), rectangle(3.0, 0.0, 1.0, 1.0)];
    assert_eq!(of(&apart), Err(NoTorsion::InPieces));
    let corner = [rectangle(0.0, 0.0, 1.0, 1.0), rectangle(1.0, 1.0, 1.0, 1.0)];
    assert_eq!(of(&corner), Err(NoTorsion::TouchesInAPoint));
    let [one, other] = [rectangle(0.0, 0.0, 1.0, 1.0), rectangle(1.0, 0.0, 1.0, 1.0)];
    let mixed = [
        one,
        Part::with_modular_ratio(other.shape, Ratio::from_si(2.0)),
    ];
    assert_eq!(of(&mixed), Err(NoTorsion::SeveralMaterials));
    let foil = [rectangle(0.0, 0.0, 1.0, 2e-5)];
    assert_eq!(of(&foil), Err(NoTorsion::TooSlender));
}

#[test]
fn any_accuracy_is_answered() {
    let square = section(&[rectangle(0.0, 0.0, 1.0, 1.0)]);
    let with = |accuracy: f64| saint_venant(&square, Ratio::from_si(accuracy)).expect("a solution");
    assert!(with(1.0).relative_error().si() < 0.05);
    assert!(with(1e-5).relative_error().si() <= 1e-5);
    let fine = with(1e-5).torsion_constant.si();
    assert!((fine / 0.140577015 - 1.0).abs() < 1e-5, "{fine}");
    for accuracy in [0.0, -1.0, f64::NAN] {
        assert!(with(accuracy).relative_error().si() <= 1e-4);
    }
}

/// A polygon whose corners lie round a point, some of them far in.
fn star() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let corner = (0.05..1.0_f64, 0.2..1.0_f64);
    prop::collection::vec(corner, 3..12).prop_map(|corners| {
        let total: f64 = corners.iter().map(|(_, share)| share).sum();
        let mut turned = 0.0;
        corners
            .into_iter()
            .map(|(radius, share)| {
                turned += share / total * 2.0 * PI;
                (radius * libm::cos(turned), radius * libm::sin(turned))
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// J is at most A²/2π (Saint-Venant's inequality, proved by Pólya 1948, for sections without
    /// holes) and at most the polar moment; turning and scaling change nothing else.
    #[test]
    fn laws_of_random_polygons(corners in star(), angle in 0.0..6.0_f64, scale in 1e-3..10.0_f64) {
        let corners: Vec<Point> = corners.into_iter().map(|(x, y)| point(x, y)).collect();
        let shape = Shape::Polygon(corners);
        let Ok(section) = Section::new(&[Part::material(shape.clone())]) else {
            return Ok(());
        };
        let found = saint_venant(&section, Ratio::from_si(1e-3)).expect("a solution");
        let area = section.area().si();
        prop_assert!(found.least.si() > 0.0);
        prop_assert!(found.least <= found.torsion_constant);
        prop_assert!(found.least.si() <= area * area / (2.0 * PI));
        let second = section.second_moments();
        prop_assert!(found.least.si() <= (second.ixx + second.iyy).si());
        prop_assert!(found.relative_error().si() <= 2e-3);
        prop_assert!(found.warping_constant.si() > -1e-20);

        let turned = shape.outline().unwrap().turned(Ratio::from_si(angle), point(0.3, -0.2));
        let other = solve(&of_outline(turned));
        prop_assert!(other.least <= found.greatest && found.least <= other.greatest);
        let off = (other.torsion_constant / found.torsion_constant).si() - 1.0;
        prop_assert!(off.abs() <= 6e-4, "{off}");

        let Shape::Polygon(corners) = shape else { unreachable!("made above") };
        let larger = corners.iter().map(|own| Point::new(own.x * scale, own.y * scale));
        let larger = section_of(larger.collect());
        let other = solve(&larger);
        let fourth = scale * scale * scale * scale;
        let off = other.torsion_constant.si() / fourth / found.torsion_constant.si() - 1.0;
        prop_assert!(off.abs() <= 6e-4, "{off}");
    }

    /// Two numerical bounds about the exact series for any rectangle.
    #[test]
    fn rectangles_of_any_slenderness(ratio in 1.0..60.0_f64, angle in 0.0..3.0_f64) {
        let outline = rectangle(0.0, 0.0, ratio, 1.0).shape.outline().unwrap();
        let turned = outline.turned(Ratio::from_si(angle), point(0.0, 0.0));
        // The series of Timoshenko & Goodier, art. 109.
        let sum: f64 = (0..40)
            .map(|term| {
                let n = f64::from(2 * term + 1);
                libm::tanh(n * PI * ratio / 2.0) / (n * n * n * n * n)
            })
            .sum();
        let exact = ratio / 3.0 * (1.0 - 192.0 / libm::pow(PI, 5.0) / ratio * sum);
        assert_encloses(&solve(&of_outline(turned)), exact);
    }
}

fn section_of(corners: Vec<Point>) -> Section {
    section(&[Part::material(Shape::Polygon(corners))])
}
