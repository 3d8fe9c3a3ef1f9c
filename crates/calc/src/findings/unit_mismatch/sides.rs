//! Two sides of a comparison.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};

use super::at_fault::at_fault;
use super::{CODE, described, is_a, kind, related};
use crate::expression::Context;
use crate::finding::{Finding, Place};
use crate::value::Kind;

/// Two sides of a comparison, at the part at fault where one side is clearly the odd one.
pub(crate) fn sides(
    context: &Context<'_>,
    place: Place,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Finding {
    let (place, hint) = match odd_side(context, left, right) {
        Some(at_fault) => at_fault,
        None => (place, String::new()),
    };
    let (left, right) = (described(context, left), described(context, right));
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "these cannot be compared: {}, but {}.{hint}",
            is_a(left),
            is_a(right)
        ),
    );
    finding.related = vec![related(left), related(right)];
    finding
}

/// The part at fault of two sides that differ, where one of them is clearly the odd one: the trade has no
/// name for its dimension, it is a power of what the other is, or it is a formula with one likely slip
/// beside a plain name or number.
fn odd_side(
    context: &Context<'_>,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Option<(Place, String)> {
    let is_unnamed = |side: (ExpressionId, Dimension)| side.1.name().is_none();
    if is_unnamed(left) != is_unnamed(right) {
        let (odd, wanted) = match is_unnamed(left) {
            true => (left.0, right.1),
            false => (right.0, left.1),
        };
        return Some(at_fault(context, odd, wanted));
    }
    let power_of = |side: (ExpressionId, Dimension), wanted: Dimension| {
        let base = match kind(context, context.tree.inside(side.0))? {
            ExpressionKind::Superscript { base, .. } => *base,
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                ..
            } => *left,
            _ => return None,
        };
        (context.kind(base) == Kind::Quantity(wanted))
            .then(|| (context.place_of(context.tree.inside(side.0)), String::new()))
    };
    if let Some(odd) = power_of(left, right.1).xor(power_of(right, left.1)) {
        return Some(odd);
    }
    let is_plain = |side: (ExpressionId, Dimension)| {
        matches!(
            kind(context, context.tree.inside(side.0)),
            Some(ExpressionKind::Literal(_) | ExpressionKind::Path(_))
        )
    };
    let slip = |side: (ExpressionId, Dimension), wanted: Dimension| {
        let found = at_fault(context, side.0, wanted);
        Some(found).filter(|(place, _)| *place != context.place_of(context.tree.inside(side.0)))
    };
    match (is_plain(left), is_plain(right)) {
        (true, false) => slip(right, left.1),
        (false, true) => slip(left, right.1),
        _ => None,
    }
}
