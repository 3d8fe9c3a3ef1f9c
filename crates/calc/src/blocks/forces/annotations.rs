//! What the editor shows at the lines of a set of forces and at the points of its section.

use haunch_quantity::{Dimension, Quantity};

use super::ForcesModel;
use crate::blocks::context::BlockContext;
use crate::blocks::{AnnotatedResult, Annotation, BlockMeaning};
use crate::outcome::Check;
use crate::value::Evaluated;

/// Extreme stresses and the limits of materials at the heading, the stress at each point of the
/// section, and utilisations at limits.
pub(in crate::blocks) fn of(
    context: &BlockContext<'_>,
    model: &ForcesModel,
    block: &BlockMeaning,
) -> Vec<Annotation> {
    let checks = &block.checks;
    let mut heading = Vec::new();
    for (label, member) in [("top", "stress_top"), ("bottom", "stress_bottom")] {
        let value = block.member(member);
        let value = value.as_ref().and_then(Evaluated::as_quantity);
        heading.extend(value.map(|value| stress(label, value)));
    }
    if model.shear.si() != 0.0
        && let Some(value) = block.member("shear_stress_max")
    {
        heading.push(AnnotatedResult::new("shear", value));
    }
    let of_materials = checks.iter().filter(|check| check.line == context.line);
    heading.extend(of_materials.filter_map(|check| utilisation(check.kind, check)));
    let mut annotations = vec![Annotation {
        line: context.line,
        results: heading,
    }];
    for fibre in &model.section.fibres {
        let value = Quantity::new(model.stress_at(fibre), Dimension::STRESS);
        if let (Some(line), Some(value)) = (fibre.point, value) {
            annotations.push(Annotation {
                line,
                results: vec![stress("", value)],
            });
        }
    }
    let own = checks.iter().filter(|check| check.line != context.line);
    annotations.extend(own.filter_map(|check| {
        Some(Annotation {
            line: check.line,
            results: vec![utilisation("", check)?],
        })
    }));
    annotations
}

/// A stress with the word for its sense.
fn stress(label: &'static str, value: Quantity) -> AnnotatedResult {
    let word = match value.si() {
        stress if stress > 0.0 => "tension",
        stress if stress < 0.0 => "compression",
        _ => "",
    };
    AnnotatedResult {
        word: word.to_owned(),
        ..AnnotatedResult::new(label, Evaluated::quantity(value))
    }
}

fn utilisation(label: &'static str, check: &Check) -> Option<AnnotatedResult> {
    let value = Quantity::ratio(check.utilisation?)?;
    Some(AnnotatedResult {
        is_utilisation: true,
        word: check.place.clone().unwrap_or_default(),
        ..AnnotatedResult::new(label, Evaluated::quantity(value))
    })
}
