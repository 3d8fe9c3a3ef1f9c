//! Calls of the user's formulas: their arguments and what they give.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;
use smol_str::SmolStr;

use super::{CODE, described, is_a, related};
use crate::expression::Context;
use crate::finding::{Finding, Place, Related, Repair};
use crate::inference::AtFault;

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
    finding.related = given_to(context, arguments);
    Some(finding)
}

/// The arguments of a call with their dimensions.
pub(crate) fn given_to(context: &Context<'_>, arguments: &[ExpressionId]) -> Vec<Related> {
    let known = context.known(arguments).into_iter();
    known.map(|own| related(described(context, own))).collect()
}

/// Two arguments of a formula's call that fit in each other's place.
pub(crate) fn exchanged(
    context: &Context<'_>,
    call: Place,
    name: &str,
    arguments: &[ExpressionId],
    [one, other]: &[(usize, SmolStr); 2],
) -> Option<Finding> {
    let (first, second) = (*arguments.get(one.0)?, *arguments.get(other.0)?);
    let known = |id: ExpressionId| Some(described(context, (id, context.kind(id).dimension()?)));
    let (source, of_second) = (context.source(first), context.source(second));
    let message = format!(
        "these do not go together in {name}: {}, {}. They fit in each other's place: {of_second} as \
         {}, {source} as {}.",
        is_a(known(first)?),
        is_a(known(second)?),
        one.1,
        other.1
    );
    let mut finding = Finding::new(&CODE, call, message);
    finding.related = given_to(context, arguments);
    finding.repairs.push(Repair {
        title: format!("Exchange {source} and {of_second}"),
        edits: vec![
            (context.place_of(first), of_second.to_owned()),
            (context.place_of(second), source.to_owned()),
        ],
    });
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
