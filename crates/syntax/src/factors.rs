//! A product taken apart: `-M*y/(I)` has the factors M and y, and I, by which it is divided.

use crate::tree::{BinaryOperator, ExpressionId, ExpressionKind, Tree};

/// A factor of a product, out of its parentheses and its sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Factor {
    /// What it is.
    pub id: ExpressionId,
    /// The product is divided by it.
    pub divides: bool,
}

/// The factors of a product in the order in which they stand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Factors {
    /// Each of them; powers are not taken apart.
    pub all: Vec<Factor>,
    /// An odd number of minus signs stands before them.
    pub is_negative: bool,
}

impl Tree {
    /// The factors of an expression, which is one itself where it is no product. Every expression that is
    /// taken apart, and every factor, is told to `met`.
    pub fn factors(&self, whole: ExpressionId, mut met: impl FnMut(ExpressionId)) -> Factors {
        let mut factors = Factors::default();
        let mut rest = vec![(whole, false)];
        while let Some((id, divides)) = rest.pop() {
            met(id);
            let kind = self.expressions.get(id.0 as usize).map(|own| &own.kind);
            match kind {
                Some(ExpressionKind::Group(inner)) => rest.push((*inner, divides)),
                Some(ExpressionKind::Negate(inner)) => {
                    factors.is_negative = !factors.is_negative;
                    rest.push((*inner, divides));
                }
                _ => match self.product(id) {
                    Some((by_right, left, right)) => {
                        rest.push((right, divides != by_right));
                        rest.push((left, divides));
                    }
                    None => factors.all.push(Factor { id, divides }),
                },
            }
        }
        factors
    }

    /// Both sides of a product or quotient, with whether it is a quotient.
    pub fn product(&self, id: ExpressionId) -> Option<(bool, ExpressionId, ExpressionId)> {
        match self.expressions.get(id.0 as usize)?.kind {
            ExpressionKind::Binary {
                operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
                left,
                right,
                ..
            } => Some((operator == BinaryOperator::Divide, left, right)),
            _ => None,
        }
    }
}
