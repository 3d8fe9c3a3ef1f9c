//! Laws that hold for every section, over random sections.

use haunch_mechanics::section::{Forces, Outline, Part, Path, Point, Section, Sense, Shape, Side};
use haunch_quantity::typed::{Force, Length, Moment, Ratio, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn point(x: f64, y: f64) -> Point {
    Point::new(metres(x), metres(y))
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Shape {
    Shape::Rectangle {
        left: metres(left),
        bottom: metres(bottom),
        width: metres(width),
        height: metres(height),
    }
}

fn circle(x: f64, y: f64, diameter: f64) -> Shape {
    Shape::Circle {
        centre: point(x, y),
        diameter: metres(diameter),
    }
}

fn section(parts: &[Part]) -> Section {
    Section::new(parts).unwrap_or_else(|problems| panic!("{problems:?}\n{parts:?}"))
}

#[track_caller]
fn assert_close(found: f64, expected: f64, scale: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= 1e-11 * scale,
        "{found} instead of {expected}, off by {off} of {scale}"
    );
}

/// The numbers that describe a section, for comparing two.
fn numbers(section: &Section) -> Vec<f64> {
    let force = Force::from_si(1e3);
    let second = section.second_moments();
    let principal = section.principal_axes();
    let mut found = vec![
        section.area().si(),
        section.transformed_area().si(),
        section.centroid().x.si(),
        section.centroid().y.si(),
        second.ixx.si(),
        second.iyy.si(),
        second.ixy.si(),
        principal.major.si(),
        principal.minor.si(),
        principal.angle.si(),
        section.first_moment_above(section.centroid().y).si(),
    ];
    if let Ok(shear) = section.largest_shear_stress(force) {
        found.extend([shear.stress.si(), shear.y.si(), shear.width.si()]);
    }
    for plastic in [section.plastic_x(), section.plastic_y()]
        .into_iter()
        .flatten()
    {
        found.extend([
            plastic.modulus.si(),
            plastic.neutral_axis.si(),
            plastic.shape_factor.si(),
        ]);
    }
    let forces = Forces {
        axial: force,
        moment_x: Moment::from_si(2e3),
        moment_y: Moment::from_si(5e2),
    };
    let extremes = section.extreme_stresses(&forces).unwrap();
    found.extend([extremes.greatest.stress.si(), extremes.least.stress.si()]);
    found
}

/// A stack of plates of random sizes, each resting on the one below and shifted sideways, with a
/// round hole in some of them and a round tube on top.
fn stack() -> impl Strategy<Value = Vec<Part>> {
    let plate = (0.02..0.3_f64, 0.01..0.3_f64, -0.4..0.4_f64, any::<bool>());
    (prop::collection::vec(plate, 1..6), any::<bool>()).prop_map(|(plates, with_tube)| {
        let mut parts = Vec::new();
        let mut bottom = 0.0;
        let mut middle = 0.0;
        for (width, height, shift, has_hole) in plates {
            middle += shift * width;
            parts.push(Part::material(rectangle(
                middle - width / 2.0,
                bottom,
                width,
                height,
            )));
            if has_hole {
                let diameter = 0.6 * width.min(height);
                parts.push(Part::deduction(circle(
                    middle,
                    bottom + height / 2.0,
                    diameter,
                )));
            }
            bottom += height;
        }
        if with_tube {
            parts.push(Part::material(Shape::Tube {
                centre: point(middle, bottom + 0.05),
                diameter: metres(0.1),
                thickness: metres(0.01),
            }));
        }
        parts
    })
}

fn moved(parts: &[Part], right: f64, up: f64) -> Vec<Part> {
    let shift = |part: &Part| Part {
        shape: part.shape.clone().moved(metres(right), metres(up)),
        role: part.role,
    };
    parts.iter().map(shift).collect()
}

fn turned(parts: &[Part], angle: f64) -> Vec<Part> {
    let turn = |part: &Part| {
        let outline = part.shape.outline().unwrap();
        let shape = Shape::Outline(outline.turned(Ratio::from_si(angle), point(0.1, -0.2)));
        Part {
            shape,
            role: part.role,
        }
    };
    parts.iter().map(turn).collect()
}

proptest! {
    #[test]
    fn moving_changes_nothing_about_the_centroid(
        parts in stack(), right in -3.0..3.0_f64, up in -3.0..3.0_f64,
    ) {
        let (here, there) = (section(&parts), section(&moved(&parts, right, up)));
        let (one, other) = (here.second_moments(), there.second_moments());
        let polar = one.ixx.si() + one.iyy.si();
        assert_close(other.ixx.si(), one.ixx.si(), polar);
        assert_close(other.iyy.si(), one.iyy.si(), polar);
        assert_close(other.ixy.si(), one.ixy.si(), polar);
        assert_close(there.area().si(), here.area().si(), here.area().si());
        assert_close(there.centroid().x.si() - right, here.centroid().x.si(), 3.0);
        assert_close(there.centroid().y.si() - up, here.centroid().y.si(), 3.0);
    }

    #[test]
    fn turning_keeps_the_polar_moment_and_the_principal_ones(
        parts in stack(), angle in -3.0..3.0_f64,
    ) {
        let (here, there) = (section(&parts), section(&turned(&parts, angle)));
        let (one, other) = (here.second_moments(), there.second_moments());
        let polar = one.ixx.si() + one.iyy.si();
        assert_close(other.ixx.si() + other.iyy.si(), polar, polar);
        let (first, second) = (here.principal_axes(), there.principal_axes());
        assert_close(second.major.si(), first.major.si(), polar);
        assert_close(second.minor.si(), first.minor.si(), polar);
        // Axes turned the other way in the unturned section see the turned one.
        let seen = here.second_moments_about(here.centroid(), Ratio::from_si(-angle));
        assert_close(other.ixx.si(), seen.ixx.si(), polar);
        assert_close(other.ixy.si(), seen.ixy.si(), polar);
    }

    #[test]
    fn the_order_of_the_parts_changes_no_bit(
        (parts, shuffled) in stack().prop_flat_map(|parts| (Just(parts.clone()), Just(parts).prop_shuffle())),
    ) {
        let bits = |parts: &[Part]| -> Vec<u64> {
            numbers(&section(parts)).into_iter().map(f64::to_bits).collect()
        };
        prop_assert_eq!(bits(&parts), bits(&shuffled));
    }

    #[test]
    fn splitting_a_rectangle_changes_nothing(
        width in 0.01..1.0_f64, height in 0.01..1.0_f64, share in 0.05..0.95_f64, upright: bool,
    ) {
        let whole = section(&[Part::material(rectangle(0.0, 0.0, width, height))]);
        let split = if upright {
            let left = share * width;
            [rectangle(0.0, 0.0, left, height), rectangle(left, 0.0, width - left, height)]
        } else {
            let lower = share * height;
            [rectangle(0.0, 0.0, width, lower), rectangle(0.0, lower, width, height - lower)]
        };
        let split = section(&split.map(Part::material));
        prop_assert!(split.warnings().is_empty());
        for (one, other) in numbers(&whole).into_iter().zip(numbers(&split)) {
            // The product moment and the angle are exactly 0 for the whole and rounding otherwise.
            prop_assert!((one - other).abs() <= 1e-9 * one.abs().max(1e-9), "{} {}", one, other);
        }
    }

    #[test]
    fn the_first_moments_of_what_lies_above_and_below_cancel(parts in stack(), share in 0.0..1.0_f64) {
        let own = section(&parts);
        let bounds = own.bounds();
        let y = metres(bounds.bottom.si() + share * bounds.depth().si());
        let flipped: Vec<Part> = parts.iter().map(|part| Part {
            shape: Shape::Outline(part.shape.outline().unwrap().mirrored_upside_down(y)),
            role: part.role,
        }).collect();
        let mirror = section(&flipped);
        let scale = own.area().si() * bounds.depth().si();
        assert_close(mirror.first_moment_above(y).si(), own.first_moment_above(y).si(), scale);
        prop_assert_eq!(own.first_moment_above(bounds.bottom).si(), 0.0);
        prop_assert_eq!(own.first_moment_above(bounds.top).si(), 0.0);
    }

    #[test]
    fn the_shear_stress_adds_up_to_the_shear_force(width in 0.05..0.2_f64, height in 0.05..0.4_f64, web in 0.005..0.04_f64) {
        // Simpson's rule is exact for the parabola in each plate.
        let parts = [
            rectangle(-width / 2.0, 0.0, width, 0.02),
            rectangle(-web / 2.0, 0.02, web, height),
            rectangle(-width / 4.0, 0.02 + height, width / 2.0, 0.03),
        ];
        let own = section(&parts.map(Part::material));
        let levels = [0.0, 0.02, 0.02 + height, 0.05 + height];
        let widths = [width, web, width / 2.0];
        let force = Force::from_si(1.0);
        let mut sum = 0.0;
        for (pair, width) in levels.windows(2).zip(widths) {
            let (low, high) = (pair[0], pair[1]);
            let at = |y: f64| own.shear_stress(metres(y), force).unwrap();
            let mean = (at(low).above.si() + 4.0 * at((low + high) / 2.0).above.si() + at(high).below.si()) / 6.0;
            sum += mean * width * (high - low);
        }
        assert_close(sum, 1.0, 1.0);
    }

    #[test]
    fn no_level_has_more_shear_stress_than_the_largest(parts in stack(), share in 0.001..0.999_f64) {
        let own = section(&parts);
        let force = Force::from_si(1.0);
        if let Ok(largest) = own.largest_shear_stress(force) {
            let bounds = own.bounds();
            let y = metres(bounds.bottom.si() + share * bounds.depth().si());
            let here = own.shear_stress(y, force).unwrap();
            let most = largest.stress.si().abs() * (1.0 + 1e-9);
            prop_assert!(here.below.si().abs() <= most && here.above.si().abs() <= most);
            let there = own.shear_stress(largest.y, force).unwrap();
            let found = there.below.si().abs().max(there.above.si().abs());
            assert_close(found, largest.stress.si().abs(), found);
        }
    }

    #[test]
    fn a_plastic_modulus_is_at_least_the_elastic_one(parts in stack()) {
        let own = section(&parts);
        let x = own.plastic_x().unwrap();
        let y = own.plastic_y().unwrap();
        prop_assert!(x.shape_factor.si() >= 1.0 - 1e-12);
        prop_assert!(y.shape_factor.si() >= 1.0 - 1e-12);
        let elastic = own.section_modulus(Side::Top).si().min(own.section_modulus(Side::Bottom).si());
        assert_close(x.modulus.si() / elastic, x.shape_factor.si(), 10.0);
    }

    #[test]
    fn the_plastic_axis_halves_the_area(parts in stack()) {
        let own = section(&parts);
        let axis = own.plastic_x().unwrap().neutral_axis.si();
        // The widths above the axis, added up.
        let steps = 4000;
        let step = (own.bounds().top.si() - axis) / f64::from(steps);
        let above: f64 = (0..steps)
            .map(|number| own.width_at(metres(axis + (f64::from(number) + 0.5) * step)).above.si() * step)
            .sum();
        let half = own.area().si() / 2.0;
        prop_assert!((above - half).abs() < 2e-3 * half, "{} of {}", above, half);
    }

    #[test]
    fn the_columns_of_the_table_add_up_to_the_properties(parts in stack()) {
        let own = section(&parts);
        let table = own.table();
        prop_assert_eq!(table.len(), parts.len());
        let second = own.second_moments();
        let polar = second.ixx.si() + second.iyy.si();
        let area: f64 = table.iter().map(|row| row.area.si()).sum();
        let ay: f64 = table.iter().map(|row| row.area_y.si()).sum();
        let ax: f64 = table.iter().map(|row| row.area_x.si()).sum();
        let ixx: f64 = table.iter().map(|row| row.own.ixx.si() + row.area_arm_y_squared.si()).sum();
        let iyy: f64 = table.iter().map(|row| row.own.iyy.si() + row.area_arm_x_squared.si()).sum();
        let ixy: f64 = table.iter().map(|row| row.own.ixy.si() + row.area_arm_x_arm_y.si()).sum();
        assert_close(area, own.transformed_area().si(), area);
        assert_close(ay / area, own.centroid().y.si(), 1.0);
        assert_close(ax / area, own.centroid().x.si(), 1.0);
        assert_close(ixx, second.ixx.si(), polar);
        assert_close(iyy, second.iyy.si(), polar);
        assert_close(ixy, second.ixy.si(), polar);
    }

    #[test]
    fn the_stresses_add_up_to_the_forces(parts in stack(), n in -1e5..1e5_f64, mx in -1e4..1e4_f64, my in -1e4..1e4_f64) {
        // A linear stress over an area: its resultant needs the stress at three places only.
        let own = section(&parts);
        let forces = Forces { axial: Force::from_si(n), moment_x: Moment::from_si(mx), moment_y: Moment::from_si(my) };
        let extremes = own.extreme_stresses(&forces).unwrap();
        prop_assert!(extremes.greatest.stress >= extremes.least.stress);
        let place = extremes.greatest.place;
        let same = own.stress(&forces, place).unwrap();
        prop_assert!(same.iter().any(|found| found.stress == extremes.greatest.stress));
        // σ = a + gx·x + gy·y gives Mx = −∫σ·y dA = −(gx·Ixy + gy·Ixx) and the like for My.
        let mut inside = None;
        for part in own.table().iter().filter(|row| !row.is_deduction) {
            let bounds = own.part(part.part).unwrap().bounds;
            let corner = Point::new(bounds.left, bounds.bottom);
            let others = [Point::new(bounds.right, bounds.bottom), Point::new(bounds.left, bounds.top)];
            if own.contains(corner) && others.iter().all(|other| own.contains(*other)) {
                inside = Some([corner, others[0], others[1]]);
            }
        }
        if let Some(places) = inside {
            let at = |place: Point| own.stress(&forces, place).unwrap()[0].stress.si();
            let gx = (at(places[1]) - at(places[0])) / (places[1].x.si() - places[0].x.si());
            let gy = (at(places[2]) - at(places[0])) / (places[2].y.si() - places[0].y.si());
            let second = own.second_moments();
            let (ixx, iyy, ixy) = (second.ixx.si(), second.iyy.si(), second.ixy.si());
            let scale = 1e3 * (mx.abs() + my.abs() + n.abs());
            assert_close(-(gx * ixy + gy * ixx), mx, scale);
            assert_close(-(gx * iyy + gy * ixy), my, scale);
        }
    }

    #[test]
    fn a_circle_of_arcs_has_the_closed_form(x in -2.0..2.0_f64, y in -2.0..2.0_f64, d in 0.01..2.0_f64) {
        let own = section(&[Part::material(circle(x, y, d))]);
        let second = own.second_moments();
        let expected = PI * d * d * d * d / 64.0;
        assert_close(own.area().si(), PI * d * d / 4.0, d * d);
        assert_close(second.ixx.si(), expected, expected);
        assert_close(second.iyy.si(), expected, expected);
        prop_assert_eq!(second.ixy.si(), 0.0);
        prop_assert!(own.principal_axes().every_axis);
        let plastic = own.plastic_x().unwrap();
        assert_close(plastic.modulus.si(), d * d * d / 6.0, d * d * d);
        assert_close(plastic.neutral_axis.si(), y, d);
        let shear = own.largest_shear_stress(Force::from_si(1.0)).unwrap();
        assert_close(shear.stress.si(), 4.0 / 3.0 / own.area().si(), shear.stress.si());
        prop_assert_eq!(shear.y, own.centroid().y);
    }

    #[test]
    fn a_tube_is_a_circle_less_a_circle(d in 0.05..2.0_f64, share in 0.05..0.95_f64) {
        let thickness = share * d / 2.0;
        let tube = section(&[Part::material(Shape::Tube {
            centre: point(0.3, 0.1), diameter: metres(d), thickness: metres(thickness),
        })]);
        let cut = section(&[
            Part::material(circle(0.3, 0.1, d)),
            Part::deduction(circle(0.3, 0.1, d - 2.0 * thickness)),
        ]);
        for (one, other) in numbers(&tube).into_iter().zip(numbers(&cut)) {
            prop_assert!((one - other).abs() <= 1e-9 * one.abs().max(1e-12), "{} {}", one, other);
        }
    }

    #[test]
    fn a_deduction_leaves_what_the_two_shapes_say(
        x in -0.6..0.6_f64, y in -0.6..0.6_f64, d in 0.1..1.0_f64, angle in 0.0..1.5_f64,
    ) {
        // A circle over a turned square, against points counted on a grid.
        let square = Shape::Outline(rectangle(-0.5, -0.5, 1.0, 1.0).outline().unwrap()
            .turned(Ratio::from_si(angle), point(0.0, 0.0)));
        let parts = [Part::material(square), Part::deduction(circle(x, y, d))];
        let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
        let steps = 400;
        let mut count = 0;
        for i in 0..steps {
            for j in 0..steps {
                let u = (f64::from(i) + 0.5) / f64::from(steps) - 0.5;
                let v = (f64::from(j) + 0.5) / f64::from(steps) - 0.5;
                let (px, py) = (u * cosine - v * sine, u * sine + v * cosine);
                if (px - x) * (px - x) + (py - y) * (py - y) > d * d / 4.0 {
                    count += 1;
                }
            }
        }
        let counted = f64::from(count) / f64::from(steps * steps);
        let area = match Section::new(&parts) {
            Ok(own) => own.area().si(),
            Err(problems) => {
                // Partly outside: the problem tells how much.
                let outside = problems.iter().find_map(|problem| match problem {
                    haunch_mechanics::section::Problem::DeductionOutside { area, .. } => Some(area.si()),
                    _ => None,
                }).unwrap();
                1.0 - (PI * d * d / 4.0 - outside)
            }
        };
        prop_assert!((area - counted).abs() < 2e-3, "{} counted {}", area, counted);
    }
}

fn rounded_rectangle(width: f64, height: f64, radius: f64) -> Outline {
    let (w, h, r) = (width / 2.0, height / 2.0, radius);
    let arc = |path: Path, to: (f64, f64), centre: (f64, f64)| {
        path.arc_to(
            point(to.0, to.1),
            point(centre.0, centre.1),
            Sense::Anticlockwise,
        )
    };
    let path = Outline::starting_at(point(-w + r, -h)).line_to(point(w - r, -h));
    let path = arc(path, (w, -h + r), (w - r, -h + r)).line_to(point(w, h - r));
    let path = arc(path, (w - r, h), (w - r, h - r)).line_to(point(-w + r, h));
    let path = arc(path, (-w, h - r), (-w + r, h - r)).line_to(point(-w, -h + r));
    arc(path, (-w + r, -h), (-w + r, -h + r)).close()
}

#[test]
fn rounded_corners_by_hand() {
    // Four corners r², each with a quarter circle of area πr²/4 kept.
    let own = section(&[Part::material(Shape::Outline(rounded_rectangle(
        0.2, 0.1, 0.02,
    )))]);
    let corner = 0.02 * 0.02 * (1.0 - PI / 4.0);
    assert_close(own.area().si(), 0.02 - 4.0 * corner, 0.02);
    // Put together from rectangles and quarter circles, whose centroid lies 4r/3π from the centre.
    let plates = 0.2 * 0.06 * 0.06 * 0.06 / 12.0
        + 2.0 * (0.16 * 0.02 * 0.02 * 0.02 / 12.0 + 0.16 * 0.02 * 0.04 * 0.04);
    let r = 0.02_f64;
    let quarter_area = PI * r * r / 4.0;
    let to_centroid = 4.0 * r / (3.0 * PI);
    let quarter_own = PI * r * r * r * r / 16.0 - quarter_area * to_centroid * to_centroid;
    let arm = 0.03 + to_centroid;
    let expected = plates + 4.0 * (quarter_own + quarter_area * arm * arm);
    assert_close(own.second_moments().ixx.si(), expected, expected);
}

#[test]
fn shapes_of_any_turn_and_side_are_the_same_shape() {
    let channel = Outline::starting_at(point(0.0, 0.0))
        .line_to(point(0.1, 0.0))
        .line_to(point(0.1, 0.01))
        .line_to(point(0.02, 0.01))
        .arc_to(point(0.01, 0.02), point(0.02, 0.02), Sense::Clockwise)
        .line_to(point(0.01, 0.2))
        .line_to(point(0.0, 0.2))
        .close();
    let here = section(&[Part::material(Shape::Outline(channel.clone()))]);
    let mirrored = section(&[Part::material(Shape::Outline(
        channel.clone().mirrored_sideways(metres(0.03)),
    ))]);
    let turned = channel.turned(Ratio::from_si(PI / 2.0), point(0.0, 0.0));
    let turned = section(&[Part::material(Shape::Outline(turned))]);
    let (one, mirror, turn) = (
        here.second_moments(),
        mirrored.second_moments(),
        turned.second_moments(),
    );
    let scale = one.ixx.si();
    assert_close(mirror.ixx.si(), one.ixx.si(), scale);
    assert_close(mirror.ixy.si(), -one.ixy.si(), scale);
    assert_close(turn.ixx.si(), one.iyy.si(), scale);
    assert_close(turn.ixy.si(), -one.ixy.si(), scale);
    assert_close(mirrored.area().si(), here.area().si(), here.area().si());
}

/// About its two straight sides a quarter circle has Ixx = πr⁴/16 and Ixy = r⁴/8.
/// Source: common practice, any table of plane figures; r⁴/8 by ∫∫ r³ sin θ cos θ dr dθ.
#[test]
fn a_quarter_circle_about_its_sides() {
    let (x, y, r) = (0.3, -0.2, 0.07_f64);
    let quarter = Outline::starting_at(point(x, y))
        .line_to(point(x + r, y))
        .arc_to(point(x, y + r), point(x, y), Sense::Anticlockwise)
        .close();
    let own = section(&[Part::material(Shape::Outline(quarter))]);
    let found = own.second_moments_about(point(x, y), Ratio::from_si(0.0));
    let fourth = r * r * r * r;
    assert_close(found.ixx.si(), PI * fourth / 16.0, fourth);
    assert_close(found.iyy.si(), PI * fourth / 16.0, fourth);
    assert_close(found.ixy.si(), fourth / 8.0, fourth);
}

#[test]
fn a_tube_contains_its_wall() {
    let tube = Shape::Tube {
        centre: point(0.1, 0.2),
        diameter: metres(0.1),
        thickness: metres(0.02),
    };
    let own = section(&[Part::material(tube)]);
    for i in -60..=60 {
        for j in -60..=60 {
            let (x, y) = (f64::from(i) * 1e-3, f64::from(j) * 1e-3);
            let square = i * i + j * j;
            let inside = (900..=2500).contains(&square);
            assert_eq!(own.contains(point(0.1 + x, 0.2 + y)), inside, "{i} {j}");
        }
    }
}
