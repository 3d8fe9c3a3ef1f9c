//! A formula against the brackets at its end.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Shown, ShownKind};

use super::at_fault::at_fault;
use super::place::{MASS_IS_NO_FORCE, is_mass_for_force};
use super::{CODE, is_a};
use crate::expression::Context;
use crate::finding::{Finding, Related};
use crate::value::Kind;

/// A formula whose result is not what its brackets ask for.
pub(crate) fn declared(
    context: &Context<'_>,
    body: Option<ExpressionId>,
    shown: &Shown,
    found: Dimension,
    wanted: Dimension,
) -> Finding {
    let (place, hint) = body.map_or((context.place(shown.span), String::new()), |id| {
        at_fault(context, id, wanted)
    });
    let brackets = shown.span.text(context.text);
    let what = if hint.is_empty() {
        "this"
    } else {
        "the formula"
    };
    let mut message = format!(
        "{what} comes out as {}, but {brackets} asks for {}.",
        found.describe_with_article(),
        wanted.with_article()
    );
    let parts = body.map(|id| parts(context, id)).unwrap_or_default();
    let words = |(id, dimension): &(ExpressionId, Dimension)| {
        is_a((context.place_of(*id), context.source(*id), *dimension))
    };
    // A name that stands twice in the formula is told of once.
    let mut listed: Vec<String> = Vec::new();
    for said in parts.iter().map(words) {
        if !listed.contains(&said) {
            listed.push(said);
        }
    }
    if !listed.is_empty() {
        message.push(' ');
        message.push_str(&listed.join("; "));
        message.push('.');
    }
    if is_mass_for_force(found, wanted) {
        message.push_str(MASS_IS_NO_FORCE);
    } else {
        message.push_str(&hint);
    }
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = parts
        .iter()
        .map(|part| Related {
            place: context.place_of(part.0),
            message: words(part),
        })
        .collect();
    if let ShownKind::Unit(_) = shown.kind {
        let unit = found.typical_unit().source_text();
        let title = if found.is_ratio() {
            "Leave the unit out: the formula gives a plain number".to_owned()
        } else {
            format!("Show {} in [{unit}]", found.with_article())
        };
        let replacement = if found.is_ratio() {
            String::new()
        } else {
            format!("[{unit}]")
        };
        finding = finding.with_repair(title, context.place(shown.span), replacement);
    }
    finding
}

/// The factors of a product or quotient whose dimensions are known and worth naming.
fn parts(context: &Context<'_>, id: ExpressionId) -> Vec<(ExpressionId, Dimension)> {
    let mut parts = Vec::new();
    let mut pending = vec![id];
    while let Some(id) = pending.pop() {
        match context.tree.expressions.get(id.0 as usize).map(|e| &e.kind) {
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Multiply | BinaryOperator::Divide,
                left,
                right,
                ..
            }) => pending.extend([*right, *left]),
            Some(ExpressionKind::Negate(inner) | ExpressionKind::Group(inner)) => {
                pending.push(*inner);
            }
            Some(ExpressionKind::Literal(_)) | None => {}
            Some(_) => {
                if let Kind::Quantity(dimension) = context.kind(id) {
                    parts.push((id, dimension));
                }
            }
        }
        if parts.len() > 6 {
            break;
        }
    }
    if parts.len() < 2 { Vec::new() } else { parts }
}
