//! What several that have to be of one dimension are meant to be, as far as they tell by themselves.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};

use super::kind;
use crate::expression::{Context, constant};
use crate::value::Kind;

/// An expression with its dimension.
type Known = (ExpressionId, Dimension);

/// The dimension of the others, where those of another are clearly the odd ones: the trade has no name for
/// their dimension, or they are powers of what the others are.
pub(crate) fn meant(context: &Context<'_>, known: &[Known]) -> Option<Dimension> {
    let is_unnamed = |own: &Known| own.1.name().is_none();
    let is_power = |own: &Known| {
        let base = base(context, own.0).map(|base| context.kind(base));
        let mut others = known.iter().filter(|other| other.1 != own.1);
        others.any(|other| base == Some(Kind::Quantity(other.1)))
    };
    others(known, is_unnamed).or_else(|| others(known, is_power))
}

/// The one dimension of those that are not odd, where there are both.
fn others(known: &[Known], is_odd: impl Fn(&Known) -> bool) -> Option<Dimension> {
    let mut others = known.iter().filter(|own| !is_odd(own));
    let (_, first) = others.next()?;
    let all_alike = others.all(|(_, dimension)| dimension == first);
    let differs = known.iter().any(|own| is_odd(own) && own.1 != *first);
    let none_alike = !known.iter().any(|own| is_odd(own) && own.1 == *first);
    (all_alike && differs && none_alike).then_some(*first)
}

/// The base of a power.
pub(super) fn base(context: &Context<'_>, id: ExpressionId) -> Option<ExpressionId> {
    kind(context, context.tree.inside(id))?.raised()
}

/// Whether an expression is made of numbers with their units alone, π among them.
pub(super) fn is_number(context: &Context<'_>, id: ExpressionId) -> bool {
    let mut pending = vec![id];
    while let Some(id) = pending.pop() {
        match kind(context, id) {
            Some(ExpressionKind::Literal(_)) => {}
            Some(ExpressionKind::Path(path)) => match path.names.as_slice() {
                [only] if is_plain_constant(&only.text) => {}
                _ => return false,
            },
            Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) => {
                pending.push(*inner);
            }
            Some(ExpressionKind::Binary { left, right, .. }) => pending.extend([*left, *right]),
            _ => return false,
        }
    }
    true
}

/// Whether a name is kept for a number without a unit.
pub(super) fn is_plain_constant(name: &str) -> bool {
    constant(name).is_some_and(|own| own.dimension().is_ratio())
}
