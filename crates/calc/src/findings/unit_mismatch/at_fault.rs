//! Where a finding points: the smallest part of an expression that explains it.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::kind;
use super::meant::is_number;
use crate::expression::Context;
use crate::finding::Place;
use crate::value::Kind;

/// The smallest part at fault of an expression that has to be `wanted`, and words that point at it
/// where it is not the whole.
pub(super) fn at_fault(
    context: &Context<'_>,
    id: ExpressionId,
    wanted: Dimension,
) -> (Place, String) {
    let line = crate::repair::Line {
        tree: context.tree,
        text: context.text,
        evaluated: &context.evaluated,
    };
    let (mut part, mut needed) = crate::repair::part_at_fault(&line, id, wanted);
    let mut is_whole = part == context.span(context.tree.inside(id)) || part == context.span(id);
    if is_whole {
        let (factor, of_factor) = single_factor(context, id, wanted);
        part = context.span(factor);
        needed = Some(of_factor);
        // What is of the same dimension as the whole needs no more words.
        is_whole = of_factor == wanted;
    }
    let place = context.place(part);
    if let Some(needed) = needed
        && let Some(found) = argument_in(context, part, needed)
    {
        return found;
    }
    if is_whole {
        return (place, String::new());
    }
    let source = part.text(context.text);
    let hint = match needed {
        Some(needed) if is_turned_over(context, part, needed) => {
            format!(
                " Look at {source}: all else being right, it stands on the wrong side of the stroke."
            )
        }
        Some(needed) => format!(
            " Look at {source}: all else being right, it has to be {}.",
            needed.describe_with_article()
        ),
        None => format!(" Look at {source}."),
    };
    (place, hint)
}

/// Whether a part would fit if it were divided by instead of multiplied with, or the other way round.
fn is_turned_over(context: &Context<'_>, part: Span, needed: Dimension) -> bool {
    let mut expressions = context.tree.expressions.iter().zip(&context.evaluated);
    let own = expressions.find(|(own, _)| own.span == part);
    let found = own.and_then(|(_, evaluated)| evaluated.kind.dimension());
    found.is_some_and(|found| {
        !found.is_ratio() && found.checked_multiply(needed) == Some(Dimension::RATIO)
    })
}

/// The argument at fault, where a part is a call of a formula that has to be `wanted`.
fn argument_in(context: &Context<'_>, part: Span, wanted: Dimension) -> Option<(Place, String)> {
    let mut tree = context.tree.expressions.iter();
    let call =
        tree.position(|own| own.span == part && matches!(own.kind, ExpressionKind::Path(_)))?;
    let call = ExpressionId(u32::try_from(call).ok()?);
    let (argument, at_fault) = context.single_argument_at_fault(call, wanted)?;
    let place = context.place_of(argument);
    let hint = format!(
        " Look at {}: all else being right, {} of {} has to be {}.",
        context.source(argument),
        at_fault.parameter,
        at_fault.formula,
        at_fault.needed.describe_with_article()
    );
    Some((place, hint))
}

/// What is left of an expression that has to be `wanted` without the plain numbers that it is multiplied
/// with or divided by, and what that has to be.
pub(super) fn single_factor(
    context: &Context<'_>,
    id: ExpressionId,
    wanted: Dimension,
) -> (ExpressionId, Dimension) {
    let is_plain = |id: ExpressionId| {
        context.kind(id) == Kind::Quantity(Dimension::RATIO) && is_number(context, id)
    };
    let (mut id, mut wanted) = (id, wanted);
    loop {
        id = context.tree.inside(id);
        let factor = match kind(context, id) {
            Some(ExpressionKind::Negate(inner)) => Some((*inner, wanted)),
            Some(ExpressionKind::Binary {
                operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
                left,
                right,
                ..
            }) => match (is_plain(*left), is_plain(*right)) {
                (false, true) => Some((*left, wanted)),
                (true, false) if *operator == BinaryOperator::Multiply => Some((*right, wanted)),
                (true, false) => {
                    let inverse = Dimension::RATIO.checked_divide(wanted);
                    inverse.map(|inverse| (*right, inverse))
                }
                _ => None,
            },
            _ => None,
        };
        match factor {
            Some(factor) => (id, wanted) = factor,
            None => return (id, wanted),
        }
    }
}
