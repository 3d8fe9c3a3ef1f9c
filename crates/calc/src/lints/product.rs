//! Products taken apart: `M*y/(I)` has the factors M and y, and I, by which it is divided.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};

use super::Line;

/// A factor of a product, parentheses and signs taken away.
#[derive(Debug, Clone, Copy)]
pub(super) struct Factor {
    pub(super) id: ExpressionId,
    /// The product is divided by it.
    pub(super) divides: bool,
}

/// A product that is no part of another, with its factors.
#[derive(Debug, Clone)]
pub(super) struct Product {
    pub(super) id: ExpressionId,
    pub(super) factors: Vec<Factor>,
}

impl Factor {
    /// Its dimension, where it is a quantity.
    pub(super) fn dimension(self, line: Line<'_>) -> Option<Dimension> {
        line.evaluated(self.id).kind.dimension()
    }
}

/// The products of the line, in its order.
pub(super) fn products(line: Line<'_>) -> Vec<Product> {
    let count = line.tree.expressions.len();
    let mut within = vec![false; count];
    let mut products = Vec::new();
    // Operands come before what they are part of, so whole products are met first from the end.
    for index in (0..count).rev() {
        let id = ExpressionId(index as u32);
        if !within[index] && operands(line, id).is_some() {
            let factors = factors(line, id, &mut within);
            products.push(Product { id, factors });
        }
    }
    products.reverse();
    products
}

/// The factors of an expression, which is one itself where it is no product.
pub(super) fn factors_of(line: Line<'_>, id: ExpressionId) -> Vec<Factor> {
    factors(line, id, &mut [])
}

fn factors(line: Line<'_>, whole: ExpressionId, within: &mut [bool]) -> Vec<Factor> {
    let mut factors = Vec::new();
    let mut rest = vec![Factor {
        id: whole,
        divides: false,
    }];
    while let Some(Factor { id, divides }) = rest.pop() {
        if let Some(seen) = within.get_mut(id.0 as usize) {
            *seen = true;
        }
        let part = |id, divides| Factor { id, divides };
        match line.expression(id).map(|expression| &expression.kind) {
            Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) => {
                rest.push(part(*inner, divides));
            }
            _ => match operands(line, id) {
                Some((by_right, left, right)) => {
                    rest.push(part(right, divides != by_right));
                    rest.push(part(left, divides));
                }
                None => factors.push(part(id, divides)),
            },
        }
    }
    factors
}

/// Both sides of a product or quotient, with whether it is a quotient.
fn operands(line: Line<'_>, id: ExpressionId) -> Option<(bool, ExpressionId, ExpressionId)> {
    match line.expression(id)?.kind {
        ExpressionKind::Binary {
            operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
            left,
            right,
            ..
        } => Some((operator == BinaryOperator::Divide, left, right)),
        _ => None,
    }
}
