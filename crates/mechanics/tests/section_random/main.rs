//! Random sections against general libraries: `generate.py` made `sections.toml` and names them.

use haunch_mechanics::section::{Part, Point, Section, Shape};
use haunch_quantity::typed::Typed;
use toml::{Table, Value};

#[path = "../elements/mod.rs"]
mod elements;

use elements::{float, list, mm, size};

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
        let (_, told) = elements::torsion(&section(case), case, 2e-2);
        wrong.extend(told.into_iter().map(|told| format!("{number}: {told}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
