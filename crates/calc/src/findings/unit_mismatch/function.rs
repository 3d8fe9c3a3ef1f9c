//! The arguments of a built-in function.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;

use super::at_fault::at_fault;
use super::{CODE, described, is_a, related};
use crate::expression::Context;
use crate::finding::{Finding, Place};

/// The argument of a function that takes one kind of quantity.
pub(crate) fn argument(
    place: Place,
    function: &str,
    source: &str,
    found: Dimension,
    wanted: Dimension,
) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes {}, but {source} is {}.",
            wanted.describe_with_article(),
            found.describe_with_article()
        ),
    )
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
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes quantities of one kind: {}, but {the_rest} {}.{hint}",
            is_a(described(context, odd)),
            common.describe_with_article()
        ),
    );
    finding.related = std::iter::once(&odd)
        .chain(others)
        .map(|argument| related(described(context, *argument)))
        .collect();
    finding
}

/// Arguments of one function that have to be of one kind, none of them clearly the odd one.
pub(crate) fn arguments(
    context: &Context<'_>,
    place: Place,
    function: &str,
    arguments: &[(ExpressionId, Dimension)],
) -> Finding {
    let arguments = || arguments.iter().map(|own| described(context, *own));
    let listed: Vec<String> = arguments().map(is_a).collect();
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes quantities of one kind: {}.",
            listed.join(", ")
        ),
    );
    finding.related = arguments().map(related).collect();
    finding
}
