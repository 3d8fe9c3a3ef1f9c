//! The operands of a formula that are worth naming with their dimensions.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Path};

use super::kind;
use super::meant::{base, is_plain_constant};
use crate::expression::Context;
use crate::expression::functions::is_built_in;
use crate::value::Kind;

/// With more there is too much to read.
const MOST: usize = 7;

/// The factors of a product or quotient whose dimensions are known, but for plain numbers. Of a single one
/// that is a power, a root or a call, what it is made of.
pub(super) fn operands(context: &Context<'_>, id: ExpressionId) -> Vec<(ExpressionId, Dimension)> {
    let mut operands: Vec<(ExpressionId, Dimension)> = Vec::new();
    let mut pending = vec![id];
    while let Some(id) = pending.pop() {
        match kind(context, id) {
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Multiply | BinaryOperator::Divide,
                left,
                right,
                ..
            }) => pending.extend([*right, *left]),
            Some(ExpressionKind::Negate(inner) | ExpressionKind::Group(inner)) => {
                pending.push(*inner);
            }
            Some(ExpressionKind::Path(Path {
                arguments: Some(arguments),
                ..
            })) if pending.is_empty() && operands.is_empty() => {
                pending.extend(arguments.iter().rev());
            }
            _ if pending.is_empty() && operands.is_empty() && base(context, id).is_some() => {
                pending.extend(base(context, id));
            }
            _ => {
                if let Kind::Quantity(dimension) = context.kind(id)
                    && (has_name(context, id) || has_unit(context, id))
                {
                    operands.push((id, dimension));
                }
            }
        }
        if operands.len() >= MOST {
            break;
        }
    }
    let is_whole = |operand: &(ExpressionId, Dimension)| operand.0 == context.tree.inside(id);
    operands.retain(|operand| !is_whole(operand));
    operands
}

/// Whether an operand is told of in words: a number that shows its unit says by itself what it is, but one
/// in degrees or per cent is taken for more than a plain number.
pub(super) fn is_news(context: &Context<'_>, (id, dimension): (ExpressionId, Dimension)) -> bool {
    dimension.is_ratio() || has_name(context, id)
}

/// Whether an expression is a number with a unit.
fn has_unit(context: &Context<'_>, id: ExpressionId) -> bool {
    match kind(context, id) {
        Some(ExpressionKind::Literal(literal)) => {
            literal.parts.iter().any(|part| part.unit.is_some())
        }
        _ => false,
    }
}

/// Whether an expression has a name that somebody gave.
fn has_name(context: &Context<'_>, id: ExpressionId) -> bool {
    let span = context.span(id);
    let is_inside = |path: &&Path| {
        let first = path.names.first();
        first.is_some_and(|name| span.start <= name.span.start && name.span.end <= span.end)
    };
    let is_given = |path: &Path| {
        let is_kept = |name: &str| is_built_in(name) || is_plain_constant(name);
        !matches!(path.names.as_slice(), [only] if is_kept(&only.text))
    };
    context.tree.paths().filter(is_inside).any(is_given)
}
