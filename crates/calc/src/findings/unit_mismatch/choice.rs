//! The two branches of a choice.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;

use super::at_fault::at_fault;
use super::{described, is_a, listing};
use crate::expression::Context;
use crate::finding::Finding;

/// Two branches of a choice, at the odd one where the line says what is `meant`.
pub(crate) fn branches(
    context: &Context<'_>,
    id: ExpressionId,
    (then, otherwise): ((ExpressionId, Dimension), (ExpressionId, Dimension)),
    meant: Option<Dimension>,
) -> Finding {
    let (place, hint) = match meant {
        Some(meant) if then.1 == meant => at_fault(context, otherwise.0, meant),
        Some(meant) => at_fault(context, then.0, meant),
        None => (context.place_of(id), String::new()),
    };
    let message = format!(
        "both branches have to be of one kind: {}, but {}.{hint}",
        is_a(described(context, then)),
        is_a(described(context, otherwise))
    );
    listing(context, place, message, [then, otherwise])
}
