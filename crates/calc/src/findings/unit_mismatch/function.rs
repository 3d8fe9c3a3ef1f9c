//! The arguments of a built-in function.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;

use super::at_fault::at_fault;
use super::operands::operands;
use super::{described, is_a, listing};
use crate::expression::Context;
use crate::finding::{Finding, Place};

/// The argument of a function that takes plain numbers or angles alone, at the part of it at fault.
pub(crate) fn argument(
    context: &Context<'_>,
    function: &str,
    argument: ExpressionId,
    found: Dimension,
) -> Finding {
    let wanted = match function {
        "sin" | "cos" | "tan" => "an angle (in deg or rad)".to_owned(),
        _ => Dimension::RATIO.describe_with_article(),
    };
    let (place, hint) = at_fault(context, argument, Dimension::RATIO);
    let message = format!(
        "{function} takes {wanted}, but {}.{hint}",
        is_a(described(context, (argument, found)))
    );
    listing(context, place, message, operands(context, argument))
}

/// The one argument of a function that does not fit the others, and the part of it at fault.
pub(crate) fn odd_argument(
    context: &Context<'_>,
    function: &str,
    odd: (ExpressionId, Dimension),
    others: &[(ExpressionId, Dimension)],
    common: Dimension,
) -> Finding {
    let the_rest = if others.len() > 1 {
        "the others are"
    } else {
        "it is meant as"
    };
    let (place, hint) = at_fault(context, odd.0, common);
    let operands = std::iter::once(&odd).chain(others).copied();
    listing(
        context,
        place,
        format!(
            "{function} takes quantities of one kind: {}, but {the_rest} {}.{hint}",
            is_a(described(context, odd)),
            common.describe_with_article()
        ),
        operands,
    )
}

/// Arguments of one function that have to be of one kind, none of them clearly the odd one.
pub(crate) fn arguments(
    context: &Context<'_>,
    place: Place,
    function: &str,
    arguments: &[(ExpressionId, Dimension)],
) -> Finding {
    let words = arguments.iter().map(|own| is_a(described(context, *own)));
    let listed: Vec<String> = words.collect();
    let message = format!(
        "{function} takes quantities of one kind: {}.",
        listed.join(", ")
    );
    listing(context, place, message, arguments.iter().copied())
}
