//! Two sides, terms or arguments whose dimensions do not fit each other or the place.

mod at_fault;
mod call;
mod choice;
mod compound;
mod contradiction;
mod declared;
mod function;
mod meant;
mod operands;
mod place;
mod power;
mod sides;
mod sum;

pub(crate) use call::{argument_of_formula, call, exchanged, given_to};
pub(crate) use choice::branches;
pub(crate) use compound::compound;
pub(crate) use contradiction::contradiction;
pub(crate) use declared::declared;
pub(crate) use function::{argument, arguments, odd_argument};
pub(crate) use meant::meant;
pub(crate) use place::{needed, needed_part};
pub(crate) use power::exponent;
pub(crate) use sides::sides;
pub(crate) use sum::{odd_term, terms};

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};

use crate::expression::Context;
use crate::finding::{Code, Finding, Place, Related, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unit-mismatch",
    severity: Severity::Error,
    summary: "two sides of a formula, or a formula and its place, have different dimensions",
    page: include_str!("../pages/unit-mismatch.md"),
};

/// An expression with its place, its text and its dimension.
type Described<'a> = (Place, &'a str, Dimension);

fn is_a((_, source, dimension): Described<'_>) -> String {
    format!("{source} is {}", dimension.describe_with_article())
}

fn related(described: Described<'_>) -> Related {
    Related {
        place: described.0,
        message: is_a(described),
    }
}

/// A finding that lists the expressions which do not go together, each with its dimension.
fn listing(
    context: &Context<'_>,
    place: Place,
    message: String,
    operands: impl IntoIterator<Item = (ExpressionId, Dimension)>,
) -> Finding {
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = operands
        .into_iter()
        .map(|operand| related(described(context, operand)))
        .collect();
    finding
}

fn described<'a>(
    context: &Context<'a>,
    (id, dimension): (ExpressionId, Dimension),
) -> Described<'a> {
    (context.place_of(id), context.source(id), dimension)
}

fn kind<'a>(context: &Context<'a>, id: ExpressionId) -> Option<&'a ExpressionKind> {
    let tree = context.tree;
    tree.expressions.get(id.0 as usize).map(|own| &own.kind)
}
