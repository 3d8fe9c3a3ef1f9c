//! The kern.

use haunch_mechanics::section::{Outline, Part, Point, Section, Shape};
use haunch_mechanics::shapes::{Angle, Channel};
use haunch_quantity::typed::{Force, Length, Ratio, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

fn point(x: f64, y: f64) -> Point {
    Point::new(Length::from_si(x), Length::from_si(y))
}

fn mm(value: f64) -> Length {
    Length::from_si(value * 1e-3)
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Part {
    Part::material(Shape::Rectangle {
        left: mm(left),
        bottom: mm(bottom),
        width: mm(width),
        height: mm(height),
    })
}

fn section(parts: &[Part]) -> Section {
    Section::new(parts).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn in_mm(section: &Section) -> Vec<(f64, f64)> {
    let round = |value: Length| (value.si() * 1e9).round() / 1e6 + 0.0;
    let corners = section.kern().into_iter();
    corners.map(|own| (round(own.x), round(own.y))).collect()
}

/// Source: standard result, b/6 and h/6 each way from the centroid.
#[test]
fn rectangle_has_a_rhombus() {
    let mut corners = in_mm(&section(&[rectangle(-100.0, -150.0, 200.0, 300.0)]));
    corners.sort_by(|a, b| a.partial_cmp(b).unwrap());
    let third = 33.333333;
    assert_eq!(
        corners,
        [(-third, 0.0), (0.0, -50.0), (0.0, 50.0), (third, 0.0)]
    );
}

/// Source: standard results, d/8 for a circle and (D² + d²)/(8D) for a tube.
#[test]
fn round_sections_have_a_circle() {
    let of_radius = |own: &Section, radius: f64| {
        let centre = own.centroid();
        let kern = own.kern();
        assert_eq!(kern.len(), 128);
        for corner in kern {
            let (x, y) = ((corner.x - centre.x).si(), (corner.y - centre.y).si());
            let found = (x * x + y * y).sqrt();
            assert!((found - radius).abs() < 1e-12, "{found}");
        }
    };
    let circle = Outline::circle(point(0.3, -0.1), Length::from_si(0.1));
    let circle = section(&[Part::material(Shape::Outline(circle))]);
    of_radius(&circle, 0.2 / 8.0);
    let tube = Shape::Tube {
        centre: point(0.0, 0.0),
        diameter: mm(200.0),
        thickness: mm(20.0),
    };
    of_radius(&section(&[Part::material(tube)]), (0.04 + 0.0256) / 1.6);
}

/// Of a triangle the triangle shrunk to a quarter about the centroid: h/6 towards each corner and
/// h/12 towards each side (common practice).
#[test]
fn triangle_has_a_triangle() {
    let corners = [(0.0, 0.0), (120.0, 0.0), (40.0, 90.0)];
    let places = corners.map(|(x, y)| Point::new(mm(x), mm(y)));
    let shape = Shape::Polygon(places.to_vec());
    let mut found = in_mm(&section(&[Part::material(shape)]));
    let centre = (160.0 / 3.0, 30.0);
    let mut expected = corners.map(|(x, y)| {
        let round = |value: f64| (value * 1e6).round() / 1e6;
        (
            round(centre.0 + (x - centre.0) / 4.0),
            round(centre.1 + (y - centre.1) / 4.0),
        )
    });
    found.sort_by(|a, b| a.partial_cmp(b).unwrap());
    expected.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(found, expected);
}

fn corners_in_mm(section: &Section) -> Vec<(f64, f64)> {
    let round = |value: Length| (value.si() * 1e9).round() / 1e6 + 0.0;
    let corners = section.kern_corners().into_iter();
    corners
        .map(|own| (round(own.place.x), round(own.place.y)))
        .collect()
}

/// The corners come anticlockwise from the direction of x on; round sections have none.
#[test]
fn corners_come_in_their_order() {
    let rectangle = section(&[rectangle(-100.0, -150.0, 200.0, 300.0)]);
    let third = 33.333333;
    assert_eq!(
        corners_in_mm(&rectangle),
        [(third, 0.0), (0.0, 50.0), (-third, 0.0), (0.0, -50.0)]
    );
    let tube = Shape::Tube {
        centre: point(0.0, 0.0),
        diameter: mm(200.0),
        thickness: mm(20.0),
    };
    assert!(section(&[Part::material(tube)]).kern_corners().is_empty());
    let ellipse = Shape::Ellipse {
        centre: point(0.01, 0.0),
        width: mm(120.0),
        height: mm(70.0),
    };
    assert!(
        section(&[Part::material(ellipse)])
            .kern_corners()
            .is_empty()
    );
}

/// Two circles of different size with a gap: the two lines that touch both of them. By the centres
/// d apart and the radii R and r, the normal has the cosine (R − r)/d from the line of the centres.
#[test]
fn a_line_that_touches_two_circles() {
    let (large, small, apart) = (0.05, 0.02, 0.12);
    let circle = |x: f64, radius: f64| {
        Part::material(Shape::Circle {
            centre: point(x, 0.0),
            diameter: Length::from_si(2.0 * radius),
        })
    };
    let section = section(&[circle(0.0, large), circle(apart, small)]);
    let corners = section.kern_corners();
    assert_eq!(corners.len(), 2);
    let cosine = (large - small) / apart;
    for corner in corners {
        let angle = corner.angle.si();
        assert!((libm::cos(angle) - cosine).abs() < 1e-14, "{angle}");
        let distance = large - section.centroid().x.si() * cosine;
        assert!((corner.distance.si() - distance).abs() < 1e-15);
    }
}

/// Stresses at both extremes over the mean stress, under a force at a place.
fn extremes(section: &Section, place: Point) -> (f64, f64) {
    let force = Force::from_si(1e3);
    let found = section
        .extreme_stresses(&section.eccentric(force, place))
        .unwrap();
    let mean = (force / section.transformed_area()).si();
    (
        found.least.stress.si() / mean,
        found.greatest.stress.si() / mean,
    )
}

fn check_edge(section: &Section) -> Result<(), TestCaseError> {
    let kern = section.kern();
    prop_assert!(kern.len() >= 3);
    let centre = section.centroid();
    for (index, &corner) in kern.iter().enumerate() {
        // At a corner the stress at the nearer edge is 0, a little farther out it changes sign.
        let (least, _) = extremes(section, corner);
        prop_assert!(least.abs() < 1e-9, "{least}");
        let farther = |factor: f64| {
            let along = |to: Length, from: Length| from + (to - from) * factor;
            Point::new(along(corner.x, centre.x), along(corner.y, centre.y))
        };
        prop_assert!(extremes(section, farther(1.01)).0 < -1e-3);
        prop_assert!(extremes(section, farther(0.99)).0 > 1e-3);
        // Between corners no part is in the other sign.
        let next = kern[(index + 1) % kern.len()];
        let middle = Point::new((corner.x + next.x) / 2.0, (corner.y + next.y) / 2.0);
        prop_assert!(extremes(section, middle).0 > -1e-9);
        // Anticlockwise.
        let arm = |own: Point| ((own.x - centre.x).si(), (own.y - centre.y).si());
        let ((a, b), (c, d)) = (arm(corner), arm(next));
        prop_assert!(a * d - b * c > 0.0);
    }
    // The corners are where the neutral axis runs along a side: at its distance, and nowhere
    // nearer does a force relieve any fibre wholly.
    for corner in section.kern_corners() {
        let force = section.eccentric(Force::from_si(1e3), corner.place);
        let axis = section.neutral_axis(&force).expect("an axis");
        let (sine, cosine) = (libm::sin(corner.angle.si()), libm::cos(corner.angle.si()));
        let (x, y) = (
            (axis.nearest.x - centre.x).si(),
            (axis.nearest.y - centre.y).si(),
        );
        let size = section.bounds().width().si() + section.bounds().depth().si();
        prop_assert!((x * cosine + y * sine - corner.distance.si()).abs() < 1e-9 * size);
        prop_assert!((y * cosine - x * sine).abs() < 1e-9 * size);
        prop_assert!(extremes(section, corner.place).0.abs() < 1e-9);
    }
    Ok(())
}

proptest! {
    #[test]
    fn no_stress_of_the_other_sign(
        corners in prop::collection::vec((0.3..1.0_f64, 0.2..1.0_f64), 3..9),
        height in 50.0..300.0_f64, width in 50.0..200.0_f64, angle in 0.0..6.0_f64,
        ratio in 0.2..6.0_f64,
    ) {
        let total: f64 = corners.iter().map(|(_, share)| share).sum();
        let mut turned = 0.0;
        let places = corners.iter().map(|(radius, share)| {
            turned += share / total * 2.0 * PI;
            point(radius * libm::cos(turned), radius * libm::sin(turned))
        });
        let polygon = Shape::Polygon(places.collect());
        if let Ok(section) = Section::new(&[Part::material(polygon)]) {
            check_edge(&section)?;
        }

        let channel = Channel {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(6.0),
            flange_thickness: mm(9.0),
            taper: None,
            root_radius: mm(9.0),
            toe_radius: mm(5.0),
        };
        check_edge(&section(&[Part::material(Shape::Outline(channel.outline().unwrap()))]))?;
        let angle_shape = Angle {
            height: mm(height),
            width: mm(width),
            thickness: mm(8.0),
            root_radius: mm(9.0),
            toe_radius: mm(4.0),
        };
        let outline = angle_shape.outline().unwrap().turned(Ratio::from_si(angle), point(0.0, 0.0));
        check_edge(&section(&[Part::material(Shape::Outline(outline))]))?;

        // Two materials.
        let plate = Part::with_modular_ratio(
            rectangle(0.0, -10.0, width / 2.0, 10.0).shape,
            Ratio::from_si(ratio),
        );
        check_edge(&section(&[rectangle(0.0, 0.0, width, height), plate]))?;
    }
}
