//! Calls of the user's formulas: their arguments and what they give.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;

use super::{CODE, described, is_a, related};
use crate::expression::Context;
use crate::finding::{Finding, Place};
use crate::inference::AtFault;
use crate::value::Kind;

/// The argument of a formula's call that does not fit, where one is; else what each may be.
pub(crate) fn argument_of_formula(
    context: &Context<'_>,
    call: Place,
    name: &str,
    arguments: &[ExpressionId],
    at_fault: &[AtFault],
) -> Option<Finding> {
    let given = |own: &AtFault| {
        let id = *arguments.get(own.index)?;
        Some((id, context.kind(id).dimension()?))
    };
    let mut finding = match at_fault {
        [] => return None,
        [only] => {
            let argument = given(only)?;
            let message = format!(
                "{} of {name} has to be {} here, but {}.",
                only.parameter,
                only.needed.describe_with_article(),
                is_a(described(context, argument))
            );
            Finding::new(&CODE, context.place_of(argument.0), message)
        }
        several => {
            let given: Vec<String> = several
                .iter()
                .filter_map(|own| Some(is_a(described(context, given(own)?))))
                .collect();
            let needed: Vec<String> = several
                .iter()
                .map(|own| {
                    format!(
                        "{} as {}",
                        own.parameter,
                        own.needed.describe_with_article()
                    )
                })
                .collect();
            let message = format!(
                "these do not go together in {name}: {}. Either of these would be right: {}.",
                given.join(", "),
                needed.join(", ")
            );
            Finding::new(&CODE, call, message)
        }
    };
    finding.related = arguments
        .iter()
        .filter_map(|id| match context.kind(*id) {
            Kind::Quantity(dimension) => Some(related(described(context, (*id, dimension)))),
            _ => None,
        })
        .collect();
    Some(finding)
}

/// The result of a formula's call against the brackets of the formula.
pub(crate) fn call(place: Place, name: &str, found: Dimension, wanted: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "with these arguments {name} comes out as {}, but the formula asks for {}.",
            found.describe_with_article(),
            wanted.describe_with_article()
        ),
    )
}
