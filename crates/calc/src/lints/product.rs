//! The products of a line with their factors.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, Factor};

use super::Line;

/// A product that is no part of another, with its factors.
#[derive(Debug, Clone)]
pub(super) struct Product {
    pub(super) id: ExpressionId,
    pub(super) factors: Vec<Factor>,
}

/// The products of the line, in its order.
pub(super) fn products(line: Line<'_>) -> Vec<Product> {
    let count = line.tree.expressions.len();
    let mut within = vec![false; count];
    let mut products = Vec::new();
    // Operands come before what they are part of, so whole products are met first from the end.
    for index in (0..count).rev() {
        let id = ExpressionId(index as u32);
        if !within[index] && line.tree.product(id).is_some() {
            let factors = line.tree.factors(id, |part| {
                if let Some(seen) = within.get_mut(part.0 as usize) {
                    *seen = true;
                }
            });
            products.push(Product {
                id,
                factors: factors.all,
            });
        }
    }
    products.reverse();
    products
}

impl Line<'_> {
    /// The factors of an expression, which is one itself where it is no product.
    pub(super) fn factors(self, id: ExpressionId) -> Vec<Factor> {
        self.tree.factors(id, |_| ()).all
    }

    /// The dimension of a factor, where it is a quantity.
    pub(super) fn dimension(self, factor: Factor) -> Option<Dimension> {
        self.evaluated(factor.id).kind.dimension()
    }
}
