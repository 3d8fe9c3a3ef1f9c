//! What the editor shows at the lines of a section.

use haunch_quantity::Quantity;
use haunch_syntax::Statement;

use super::SectionModel;
use crate::blocks::context::BlockContext;
use crate::blocks::{AnnotatedResult, Annotation};
use crate::value::Evaluated;

/// Centroid, second moment and section moduli at the heading; area and centroid at each part.
pub(in crate::blocks) fn of(context: &BlockContext<'_>, model: &SectionModel) -> Vec<Annotation> {
    let heading = [
        ("xbar", "xbar"),
        ("ybar", "ybar"),
        ("Ixx", "Ixx"),
        ("section modulus top", "section_modulus_top"),
        ("bottom", "section_modulus_bottom"),
    ];
    let heading = heading.map(|(label, member)| result(label, model.member(member)));
    let mut annotations = vec![Annotation {
        line: context.line,
        results: heading.into_iter().flatten().collect(),
    }];
    // A section with results has understood each of its lines.
    let parts = context.lines.iter().filter_map(|line| {
        let Statement::Part(part) = &line.tree.statement else {
            return None;
        };
        Some((line.id, &part.name.text))
    });
    for ((line, name), shape) in parts.zip(&model.geometry.shapes) {
        let own = |member: &str| model.member(&format!("{name}.{member}"));
        // The area of a rolled size is that of its standard.
        let label = match shape.standard() {
            Some(standard) => format!("area to {standard}"),
            None => "area".to_owned(),
        };
        let results = [
            result(&label, own("area")),
            result("xbar", own("xbar")),
            result("ybar", own("ybar")),
        ];
        annotations.push(Annotation {
            line,
            results: results.into_iter().flatten().collect(),
        });
    }
    annotations
}

fn result(label: &str, value: Option<Quantity>) -> Option<AnnotatedResult> {
    Some(AnnotatedResult::new(label, Evaluated::quantity(value?)))
}
