//! Random sections against general libraries: `generate.py` made `sections.toml` and names them.

use haunch_mechanics::section::{Part, Point, Section, Shape};
use haunch_mechanics::torsion::saint_venant;
use haunch_quantity::typed::{Length, Ratio, Typed};
use toml::{Table, Value};

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn float(value: &Value) -> f64 {
    value.as_float().expect("a number")
}

fn mm(value: f64) -> Length {
    Length::from_si(value * 1e-3)
}

fn polygons(rings: &Value) -> impl Iterator<Item = Shape> {
    list(rings).iter().map(|ring| {
        let place = |own: &Value| Point::new(mm(float(&list(own)[0])), mm(float(&list(own)[1])));
        Shape::Polygon(list(ring).iter().map(place).collect())
    })
}

fn section(case: &Value) -> Section {
    let material = polygons(&case["material"]).map(Part::material);
    let deductions = polygons(&case["deduction"]).map(Part::deduction);
    let parts: Vec<Part> = material.chain(deductions).collect();
    Section::new(&parts).expect("a sound section")
}

fn sections() -> Vec<Value> {
    let data: Table = include_str!("sections.toml").parse().expect("a data file");
    list(&data["section"]).to_vec()
}

/// Sizes of the section: the scale that a result with nothing left of it is measured by.
fn size(section: &Section) -> f64 {
    let bounds = section.bounds();
    bounds.width().si().max(bounds.depth().si()) * 1e3
}

fn power(base: f64, exponent: usize) -> f64 {
    std::iter::repeat_n(base, exponent).product()
}

#[test]
fn elastic_and_plastic_properties() {
    let mut wrong = Vec::new();
    let cases = sections();
    assert_eq!(cases.len(), 36);
    for (number, case) in cases.iter().enumerate() {
        let section = section(case);
        let size = size(&section);
        let second = section.second_moments();
        let upright = section.plastic_x().expect("one material");
        let sideways = section.plastic_y().expect("one material");
        let level = mm(float(&case["level"]));
        // The name, the value, and its power of a length.
        for (name, found, dimension) in [
            ("area", section.area().si(), 2),
            ("xbar", section.centroid().x.si(), 1),
            ("ybar", section.centroid().y.si(), 1),
            ("ixx", second.ixx.si(), 4),
            ("iyy", second.iyy.si(), 4),
            ("ixy", second.ixy.si(), 4),
            ("first_moment", section.first_moment_above(level).si(), 3),
            ("plastic_modulus_x", upright.modulus.si(), 3),
            ("plastic_modulus_y", sideways.modulus.si(), 3),
            ("plastic_centre_y", upright.neutral_axis.si(), 1),
            ("plastic_centre_x", sideways.neutral_axis.si(), 1),
        ] {
            let found = found * power(1e3, dimension);
            let expected = float(&case[name]);
            let off = (found - expected).abs() / power(size, dimension);
            if off > 1e-11 {
                wrong.push(format!("{number} {name}: {found}, not {expected}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn corners_of_the_kern() {
    for (number, case) in sections().iter().enumerate() {
        let section = section(case);
        let size = size(&section);
        let found = section.kern_corners();
        let expected = list(&case["kern"]);
        assert_eq!(found.len(), expected.len(), "{number}");
        for corner in expected {
            let (x, y) = (float(&list(corner)[0]), float(&list(corner)[1]));
            let distances = found.iter().map(|own| {
                let (right, up) = (own.place.x.si() * 1e3 - x, own.place.y.si() * 1e3 - y);
                (right * right + up * up).sqrt()
            });
            let nearest = distances.fold(f64::INFINITY, f64::min);
            assert!(
                nearest <= 1e-9 * size,
                "{number}: {x}, {y} is {nearest} off"
            );
        }
    }
}

#[test]
fn torsion() {
    let mut wrong = Vec::new();
    for (number, case) in sections().iter().enumerate() {
        let section = section(case);
        let size = size(&section);
        let found = saint_venant(&section, Ratio::from_si(1e-3)).expect("a solution");
        let expected = |key: &str| {
            let change = float(&case[format!("{key}_change").as_str()]);
            (float(&case[key]), change)
        };
        let mut check = |what: &str, within: bool| {
            if !within {
                wrong.push(format!("{number}: {what} {found:?} {case:?}"));
            }
        };
        check("error", found.relative_error().si() <= 1e-3);
        // Theirs is an upper bound.
        let (constant, change) = expected("torsion_constant");
        check("least", found.least.si() * 1e12 <= constant);
        check(
            "greatest",
            found.greatest.si() * 1e12 >= constant - 2.0 * change,
        );
        let off = |found: f64, (expected, change): (f64, f64), own: f64| {
            (found - expected).abs() <= 2.0 * change + own
        };
        // The errors that are told hold, and are small.
        let own = found.shear_centre_error.si() * 1e3;
        check("shear centre error", own <= 1e-3 * size);
        let [x, y] = [found.shear_centre.x, found.shear_centre.y].map(|own| own.si() * 1e3);
        check("x", off(x, expected("shear_centre_x"), own));
        check("y", off(y, expected("shear_centre_y"), own));
        let own = found.warping_constant_error.si() * 1e18;
        let constant = found.warping_constant.si() * 1e18;
        check("warping", off(constant, expected("warping_constant"), own));
        check("warping error", own <= 2e-2 * constant);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
