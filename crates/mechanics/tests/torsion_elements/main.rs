//! The numerical solution of Saint-Venant's problem against another finite-element library:
//! `generate.py` made the cases and names it.

use haunch_mechanics::section::{Outline, Part, Point, Section, Shape};
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

fn section(rings: &Value) -> Section {
    let mut outlines = list(rings).iter().map(|ring| {
        let place = |own: &Value| {
            let own = list(own);
            Point::new(mm(float(&own[0])), mm(float(&own[1])))
        };
        let (first, rest) = list(ring).split_first().expect("corners");
        rest.iter()
            .fold(Outline::starting_at(place(first)), |path, corner| {
                path.line_to(place(corner))
            })
            .close()
    });
    let outer = outlines.next().expect("a ring");
    let outline = outlines.fold(outer, Outline::with_hole);
    Section::new(&[Part::material(Shape::Outline(outline))]).expect("a sound section")
}

#[test]
fn other_elements_agree() {
    let data: Table = include_str!("cases.toml").parse().expect("a data file");
    let mut wrong = Vec::new();
    for case in list(&data["case"]) {
        let name = case["name"].as_str().expect("a name");
        let section = section(&case["rings"]);
        let bounds = section.bounds();
        let size = bounds.width().si().max(bounds.depth().si()) * 1e3;
        let found = saint_venant(&section, Ratio::from_si(1e-3)).expect("a solution");
        let expected = |key: &str| {
            let change = float(&case[format!("{key}_change").as_str()]);
            (float(&case[key]), change)
        };
        let mut check = |what: &str, within: bool| {
            if !within {
                wrong.push(format!("{name}: {what} {found:?} {case:?}"));
            }
        };
        check("error", found.relative_error().si() <= 1e-3);
        // Theirs is an upper bound.
        let (constant, change) = expected("torsion_constant");
        let millimetres = |value: f64| value * 1e12;
        check("least", millimetres(found.least.si()) <= constant);
        check(
            "greatest",
            millimetres(found.greatest.si()) >= constant - 2.0 * change,
        );
        // The bounds are wide: their middle is several times better.
        let middle = millimetres(found.torsion_constant.si());
        check("torsion", (middle / constant - 1.0).abs() <= 3e-4);
        let off = |found: f64, (expected, change): (f64, f64), own: f64| {
            (found - expected).abs() <= 2.0 * change + own
        };
        let own = found.shear_centre_error.si() * 1e3;
        check("shear centre", own <= 1e-3 * size);
        let [x, y] = [found.shear_centre.x, found.shear_centre.y].map(|own| own.si() * 1e3);
        check("x", off(x, expected("shear_centre_x"), own));
        check("y", off(y, expected("shear_centre_y"), own));
        let warping = expected("warping_constant");
        let own = found.warping_constant_error.si() * 1e18;
        let constant = found.warping_constant.si() * 1e18;
        check("warping", off(constant, warping, own));
        check("warping error", own <= 1e-2 * constant);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
