//! The numerical solution of Saint-Venant's problem against another finite-element library:
//! `generate.py` made the cases and names it.

use haunch_mechanics::section::{Outline, Part, Point, Section, Shape};
use haunch_quantity::typed::Typed;
use toml::{Table, Value};

#[path = "../elements/mod.rs"]
mod elements;

use elements::{float, list, mm};

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
        let (found, told) = elements::torsion(&section(&case["rings"]), case, 1e-2);
        wrong.extend(told.into_iter().map(|told| format!("{name}: {told}")));
        // The bounds are wide: their middle is several times better.
        let middle = found.torsion_constant.si() * 1e12;
        let constant = float(&case["torsion_constant"]);
        if (middle / constant - 1.0).abs() > 3e-4 {
            wrong.push(format!("{name}: torsion {found:?} {case:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
