//! Sums: all terms have one dimension, and of several terms the odd one out is named.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Tree};
use rustc_hash::FxHashSet;

use super::{Between, Context};
use crate::findings;
use crate::value::{Evaluated, Kind};

/// The sums that are the left operand of a longer sum: they are checked as part of it.
pub(crate) fn inner_sums(tree: &Tree) -> FxHashSet<ExpressionId> {
    let sum_left = |kind: &ExpressionKind| match kind {
        ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            left,
            ..
        } => Some(*left),
        _ => None,
    };
    tree.expressions
        .iter()
        .filter_map(|expression| sum_left(&expression.kind))
        .filter(|left| {
            tree.expressions
                .get(left.0 as usize)
                .is_some_and(|e| sum_left(&e.kind).is_some())
        })
        .collect()
}

/// The terms of a whole sum, from the left; the expression itself where it is none.
pub(crate) fn terms(tree: &Tree, id: ExpressionId) -> Vec<ExpressionId> {
    let mut terms = Vec::new();
    let mut current = id;
    while let Some(ExpressionKind::Binary {
        operator: BinaryOperator::Add | BinaryOperator::Subtract,
        left,
        right,
        ..
    }) = tree.expressions.get(current.0 as usize).map(|e| &e.kind)
    {
        terms.push(*right);
        current = *left;
    }
    terms.push(current);
    terms.reverse();
    terms
}

impl Context<'_> {
    /// The one dimension of a sum's terms, or of what a function takes that has to be alike, as far as it
    /// can be told: what the line asks for, or what most of them have.
    pub(super) fn common_dimension(
        &self,
        id: ExpressionId,
        terms: &[ExpressionId],
    ) -> Option<Dimension> {
        let mut counts: Vec<(Dimension, usize)> = Vec::new();
        for term in terms {
            if let Kind::Quantity(dimension) = self.kind(*term) {
                match counts.iter_mut().find(|(d, _)| *d == dimension) {
                    Some((_, count)) => *count += 1,
                    None => counts.push((dimension, 1)),
                }
            }
        }
        if let [(dimension, _)] = counts.as_slice() {
            return Some(*dimension);
        }
        if let Some(expected) = self.expected(id)
            && counts.iter().any(|(dimension, _)| *dimension == expected)
        {
            return Some(expected);
        }
        let most = counts.iter().map(|(_, count)| *count).max()?;
        let mut leading = counts.iter().filter(|(_, count)| *count == most);
        match (leading.next(), leading.next()) {
            (Some((dimension, _)), None) => Some(*dimension),
            _ => None,
        }
    }

    /// Checks a whole sum once.
    pub(super) fn check_sum(&mut self, id: ExpressionId) {
        let terms = terms(self.tree, id);
        for term in &terms {
            self.operand(*term);
        }
        let known = self.known(&terms);
        if known.windows(2).all(|pair| pair[0].1 == pair[1].1) {
            return;
        }
        match self.common_dimension(id, &terms) {
            Some(common) => self.report_terms(id, &known, Some(common)),
            None => self.leave_open(id, Between::Terms),
        }
    }

    /// Tells which terms are not of the dimension that the sum is meant to have; all of them where that
    /// cannot be told.
    pub(super) fn report_terms(
        &mut self,
        id: ExpressionId,
        known: &[(ExpressionId, Dimension)],
        common: Option<Dimension>,
    ) {
        let Some(common) = common else {
            let finding = findings::unit_mismatch::terms(self, self.place_of(id), known);
            self.report(finding);
            return;
        };
        let (fitting, odd): (Vec<_>, Vec<_>) = known.iter().partition(|own| own.1 == common);
        for odd in odd {
            let finding = findings::unit_mismatch::odd_term(self, odd, &fitting, common);
            self.report(finding);
        }
    }

    pub(super) fn sum(
        &mut self,
        id: ExpressionId,
        operator: BinaryOperator,
        left: ExpressionId,
        right: ExpressionId,
    ) -> Evaluated {
        self.inherit_failure(id, &[left, right]);
        let kind = match (self.kind(left), self.kind(right)) {
            (Kind::Zero, Kind::Zero) => Kind::Quantity(Dimension::RATIO),
            (Kind::Quantity(a), Kind::Quantity(b)) if a != b => {
                // The check above named the odd one; go on with the dimension that is meant.
                return match self.common_dimension(id, &terms(self.tree, id)) {
                    Some(dimension) => Evaluated::dimension_only(dimension),
                    None => Evaluated::UNKNOWN,
                };
            }
            (Kind::Quantity(dimension), Kind::Quantity(_) | Kind::Zero | Kind::Unknown)
            | (Kind::Zero | Kind::Unknown, Kind::Quantity(dimension)) => Kind::Quantity(dimension),
            _ => return Evaluated::UNKNOWN,
        };
        let Some(dimension) = kind.dimension() else {
            return Evaluated::UNKNOWN;
        };
        let values = (
            self.get(left).as_dimension(dimension),
            self.get(right).as_dimension(dimension),
        );
        let (Some(a), Some(b)) = values else {
            return Evaluated::dimension_only(dimension);
        };
        let result = match operator {
            BinaryOperator::Subtract => a.checked_subtract(b),
            _ => a.checked_add(b),
        };
        self.quantity_or_failure(id, dimension, result)
    }
}
