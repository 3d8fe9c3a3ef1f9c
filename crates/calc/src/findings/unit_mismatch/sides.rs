//! Two sides of a comparison.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};

use super::at_fault::{at_fault, single_factor};
use super::meant::{is_number, meant};
use super::{CODE, described, is_a, kind, related};
use crate::expression::Context;
use crate::finding::{Finding, Place};

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

/// The part at fault of two sides that differ, where one of them is clearly the odd one ([`meant`]), or a
/// formula beside a plain name or number, whatever its factor.
fn odd_side(
    context: &Context<'_>,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Option<(Place, String)> {
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
