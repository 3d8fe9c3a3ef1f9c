//! Where a finding points: the smallest part of an expression that explains it.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};
use haunch_text::Span;

use crate::expression::Context;
use crate::finding::Place;

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
    let (part, needed) = crate::repair::part_at_fault(&line, id, wanted);
    let place = context.place(part);
    let is_whole = part == context.span(context.tree.inside(id)) || part == context.span(id);
    let of_part = if is_whole { Some(wanted) } else { needed };
    if let Some(of_part) = of_part
        && let Some(found) = argument_in(context, part, of_part)
    {
        return found;
    }
    if part == context.place_of(id).span {
        return (place, String::new());
    }
    let source = part.text(context.text);
    let hint = match needed {
        Some(needed) => format!(
            " Look at {source}: all else being right, it has to be {}.",
            needed.describe_with_article()
        ),
        None => format!(" Look at {source}."),
    };
    (place, hint)
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
