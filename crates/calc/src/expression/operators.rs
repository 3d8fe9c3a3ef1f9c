//! Products, negation, comparisons, truths and choices.

use std::cmp::Ordering;

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, Relation};

use super::{Between, Context};
use crate::findings;
use crate::value::{Evaluated, Kind, Value};

impl Context<'_> {
    /// The dimension of an operand of arithmetic; a truth, words or a list is a finding.
    pub(super) fn operand(&mut self, id: ExpressionId) -> Option<Dimension> {
        match self.kind(id) {
            Kind::Quantity(dimension) => Some(dimension),
            Kind::Zero => Some(Dimension::RATIO),
            Kind::Unknown => None,
            kind @ (Kind::Truth | Kind::Text | Kind::List(_)) => {
                let place = self.place_of(id);
                self.report(findings::not_a_quantity::finding(
                    place,
                    self.source(id),
                    kind,
                ));
                None
            }
        }
    }

    pub(crate) fn negate(&mut self, id: ExpressionId, inner: ExpressionId) -> Evaluated {
        self.inherit_failure(id, &[inner]);
        if self.operand(inner).is_none() {
            return Evaluated::UNKNOWN;
        }
        let mut evaluated = self.get(inner);
        if let Some(Value::Quantity(quantity)) = &mut evaluated.value {
            *quantity = quantity.negated();
        }
        evaluated
    }

    pub(super) fn product(
        &mut self,
        id: ExpressionId,
        operator: BinaryOperator,
        left: ExpressionId,
        right: ExpressionId,
    ) -> Evaluated {
        self.inherit_failure(id, &[left, right]);
        let (Some(a), Some(b)) = (self.operand(left), self.operand(right)) else {
            return Evaluated::UNKNOWN;
        };
        let multiplies = operator == BinaryOperator::Multiply;
        let dimension = if multiplies {
            a.checked_multiply(b)
        } else {
            a.checked_divide(b)
        };
        let Some(dimension) = dimension else {
            let place = self.place_of(id);
            self.report(findings::no_value::powers_too_high(place));
            return Evaluated::UNKNOWN;
        };
        let values = (self.get(left).as_quantity(), self.get(right).as_quantity());
        let (Some(x), Some(y)) = values else {
            return Evaluated::dimension_only(dimension);
        };
        let result = if multiplies {
            x.checked_multiply(y)
        } else {
            x.checked_divide(y)
        };
        self.quantity_or_failure(id, dimension, result)
    }

    /// Whether a condition is a truth; anything else known is a finding.
    fn is_truth(&mut self, id: ExpressionId) -> bool {
        match self.kind(id) {
            Kind::Truth => true,
            Kind::Unknown => false,
            kind => {
                let place = self.place_of(id);
                self.report(findings::not_a_truth::finding(place, self.source(id), kind));
                false
            }
        }
    }

    pub(super) fn not(&mut self, id: ExpressionId, inner: ExpressionId) -> Evaluated {
        self.inherit_failure(id, &[inner]);
        if !self.is_truth(inner) {
            return truth(None);
        }
        truth(self.get(inner).as_truth().map(|t| !t))
    }

    pub(super) fn logical(
        &mut self,
        id: ExpressionId,
        operator: BinaryOperator,
        left: ExpressionId,
        right: ExpressionId,
    ) -> Evaluated {
        let left_is_truth = self.is_truth(left);
        let right_is_truth = self.is_truth(right);
        if !(left_is_truth && right_is_truth) {
            return truth(None);
        }
        let a = self.get(left).as_truth();
        let b = self.get(right).as_truth();
        let decides = operator == BinaryOperator::Or;
        if a == Some(decides) {
            return truth(a);
        }
        self.inherit_failure(id, &[left, right]);
        match (a, b) {
            (Some(_), Some(b)) => truth(Some(b)),
            _ => truth(None),
        }
    }

    pub(super) fn compare(
        &mut self,
        id: ExpressionId,
        relation: Relation,
        left: ExpressionId,
        right: ExpressionId,
    ) -> Evaluated {
        self.inherit_failure(id, &[left, right]);
        let (Some(a), Some(b)) = (self.operand(left), self.operand(right)) else {
            return truth(None);
        };
        let zero = self.kind(left) == Kind::Zero || self.kind(right) == Kind::Zero;
        if a != b && !zero {
            let place = self.place_of(id);
            let finding = findings::unit_mismatch::sides(self, place, (left, a), (right, b));
            self.report(finding);
            return truth(None);
        }
        let common = if self.kind(left) == Kind::Zero { b } else { a };
        let values = (
            self.get(left).as_dimension(common),
            self.get(right).as_dimension(common),
        );
        let (Some(x), Some(y)) = values else {
            return truth(None);
        };
        truth(x.compare(y).ok().map(|ordering| holds(relation, ordering)))
    }

    pub(super) fn choice(
        &mut self,
        id: ExpressionId,
        condition: ExpressionId,
        then: ExpressionId,
        otherwise: ExpressionId,
    ) -> Evaluated {
        let decides = self.is_truth(condition);
        let (a, b) = (self.kind(then), self.kind(otherwise));
        let kind = match (a, b) {
            (Kind::Unknown, other) | (other, Kind::Unknown) => other,
            (Kind::Zero, other @ Kind::Quantity(_)) | (other @ Kind::Quantity(_), Kind::Zero) => {
                other
            }
            (a, b) if a == b => a,
            (Kind::Quantity(a), Kind::Quantity(b)) => {
                let meant = self.expected(id).filter(|meant| [a, b].contains(meant));
                let Some(meant) = meant else {
                    self.leave_open(id, Between::Branches { then, otherwise });
                    return Evaluated::UNKNOWN;
                };
                let branches = ((then, a), (otherwise, b));
                let finding = findings::unit_mismatch::branches(self, id, branches, Some(meant));
                self.report(finding);
                return Evaluated::dimension_only(meant);
            }
            (a, b) => {
                let quantity_first = matches!(a, Kind::Quantity(_) | Kind::Zero);
                let (id, kind) = if quantity_first {
                    (otherwise, b)
                } else {
                    (then, a)
                };
                let place = self.place_of(id);
                self.report(findings::not_a_quantity::finding(
                    place,
                    self.source(id),
                    kind,
                ));
                return Evaluated::UNKNOWN;
            }
        };
        self.inherit_failure(id, &[condition]);
        let taken = match self.get(condition).as_truth() {
            Some(true) if decides => then,
            Some(false) if decides => otherwise,
            _ => return Evaluated { kind, value: None },
        };
        self.inherit_failure(id, &[taken]);
        let taken = self.get(taken);
        match (kind, taken.kind) {
            (Kind::Quantity(dimension), _) => Evaluated {
                kind,
                value: taken.as_dimension(dimension).map(Value::Quantity),
            },
            _ => Evaluated {
                kind,
                value: taken.value,
            },
        }
    }
}

fn truth(value: Option<bool>) -> Evaluated {
    Evaluated {
        kind: Kind::Truth,
        value: value.map(Value::Truth),
    }
}

/// Whether a relation holds for two sides that compare like this.
pub(crate) fn holds(relation: Relation, ordering: Ordering) -> bool {
    match relation {
        Relation::Less => ordering == Ordering::Less,
        Relation::LessOrEqual => ordering != Ordering::Greater,
        Relation::Greater => ordering == Ordering::Greater,
        Relation::GreaterOrEqual => ordering != Ordering::Less,
    }
}
