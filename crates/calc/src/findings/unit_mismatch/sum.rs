//! The terms of a sum.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;

use super::at_fault::at_fault;
use super::{described, is_a, listing};
use crate::expression::Context;
use crate::finding::{Finding, Place};

/// The one term of a sum that does not fit the others, and the part of it at fault.
pub(crate) fn odd_term(
    context: &Context<'_>,
    odd: (ExpressionId, Dimension),
    others: &[(ExpressionId, Dimension)],
    common: Dimension,
) -> Finding {
    let the_rest = if others.len() > 1 {
        "the other terms are"
    } else {
        "the sum is meant as"
    };
    let (place, hint) = at_fault(context, odd.0, common);
    let operands = std::iter::once(&odd).chain(others).copied();
    listing(
        context,
        place,
        format!(
            "{}, but {the_rest} {}. Only quantities of one kind can be added.{hint}",
            is_a(described(context, odd)),
            common.describe_with_article()
        ),
        operands,
    )
}

/// A sum of which no term is clearly the odd one.
pub(crate) fn terms(
    context: &Context<'_>,
    place: Place,
    terms: &[(ExpressionId, Dimension)],
) -> Finding {
    let words = terms.iter().map(|own| is_a(described(context, *own)));
    let listed: Vec<String> = words.collect();
    let message = format!("these cannot be added: {}.", listed.join(", "));
    listing(context, place, message, terms.iter().copied())
}
