//! Two sides of a comparison.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};

use super::at_fault::{at_fault, single_factor};
use super::meant::{is_number, meant};
use super::{described, is_a, kind, listing};
use crate::expression::Context;
use crate::finding::{Finding, Place};
use crate::repair::is_name_of_bound;
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
    let message = format!(
        "these cannot be compared: {}, but {}.{hint}",
        is_a(described(context, left)),
        is_a(described(context, right))
    );
    listing(context, place, message, [left, right])
}

/// Whether a side is written as bounds are: a stress, a name that tells one, or a name with a plain number
/// as its factor.
fn is_bound(context: &Context<'_>, side: ExpressionId) -> bool {
    let inside = context.tree.inside(side);
    match kind(context, inside) {
        // A stress that is written out is hardly ever anything else.
        Some(ExpressionKind::Literal(_)) => {
            context.kind(inside) == Kind::Quantity(Dimension::STRESS)
        }
        Some(ExpressionKind::Path(path)) => {
            let last = path.names.last();
            last.is_some_and(|name| is_name_of_bound(&name.text))
        }
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Multiply | BinaryOperator::Divide,
            left,
            right,
            ..
        }) => {
            let is = |id: ExpressionId, literal: bool| match kind(context, context.tree.inside(id))
            {
                Some(ExpressionKind::Literal(_)) => {
                    literal && context.kind(id) == Kind::Quantity(Dimension::RATIO)
                }
                Some(ExpressionKind::Path(_)) => !literal,
                _ => false,
            };
            (is(*left, false) && is(*right, true)) || (is(*left, true) && is(*right, false))
        }
        _ => false,
    }
}

/// The part at fault of two sides that differ, where one of them is clearly the odd one ([`meant`]), or a
/// formula beside a plain name or number, whatever its factor.
fn odd_side(
    context: &Context<'_>,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Option<(Place, String)> {
    // A check that takes a wrong result is likelier than one with a wrong bound, but for bounds of which
    // the trade knows none.
    let is_named = |side: (ExpressionId, Dimension)| side.1.name().is_some();
    match (is_bound(context, left.0), is_bound(context, right.0)) {
        (true, false) if is_named(left) => return Some(at_fault(context, right.0, left.1)),
        (false, true) if is_named(right) => return Some(at_fault(context, left.0, right.1)),
        _ => {}
    }
    if let Some(meant) = meant(context, &[left, right]) {
        let odd = if left.1 == meant { right } else { left };
        return Some(at_fault(context, odd.0, meant));
    }
    let is_plain = |side: (ExpressionId, Dimension)| {
        let (factor, _) = single_factor(context, side.0, side.1);
        is_number(context, factor)
            || matches!(
                kind(context, factor),
                Some(ExpressionKind::Literal(_) | ExpressionKind::Path(_))
            )
    };
    match (is_plain(left), is_plain(right)) {
        (true, false) => Some(at_fault(context, right.0, left.1)),
        (false, true) => Some(at_fault(context, left.0, right.1)),
        _ => None,
    }
}
