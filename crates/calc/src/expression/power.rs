//! Powers. A base with a dimension takes a literal rational power, so that the dimension of the
//! result is known before any value.

use haunch_quantity::Rational;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Literal, Number, Tree};

use super::Context;
use crate::findings;
use crate::value::Evaluated;

/// The rational number that a literal without a unit states exactly.
fn rational(literal: &Literal) -> Option<Rational> {
    let [part] = literal.parts.as_slice() else {
        return None;
    };
    if part.unit.is_some() {
        return None;
    }
    match &part.number {
        Number::Decimal(text) => {
            let (digits, fraction) = text.split_once('.').unwrap_or((text, ""));
            let denominator = 10_i32.checked_pow(u32::try_from(fraction.len()).ok()?)?;
            let numerator: i32 = format!("{digits}{fraction}").parse().ok()?;
            Rational::new(numerator, denominator)
        }
        Number::Fraction { .. } => None,
    }
}

/// The exponent as an exact rational, where it is written as one: `2`, `-1`, `0.5`, `(1/3)`.
pub(crate) fn literal_exponent(tree: &Tree, id: ExpressionId) -> Option<Rational> {
    let kind = |id: ExpressionId| tree.expressions.get(id.0 as usize).map(|own| &own.kind);
    let (mut id, mut negative) = (id, false);
    let value = loop {
        match kind(id)? {
            ExpressionKind::Group(inner) => id = *inner,
            ExpressionKind::Negate(inner) => {
                id = *inner;
                negative = !negative;
            }
            ExpressionKind::Literal(literal) => break rational(literal)?,
            ExpressionKind::Binary {
                operator: BinaryOperator::Divide,
                left,
                right,
                ..
            } => {
                let part = |id: ExpressionId| match kind(id)? {
                    ExpressionKind::Literal(literal) => rational(literal),
                    ExpressionKind::Negate(inner) => match kind(*inner)? {
                        ExpressionKind::Literal(literal) => rational(literal)?.checked_negate(),
                        _ => None,
                    },
                    _ => None,
                };
                break part(*left)?.checked_divide(part(*right)?)?;
            }
            _ => return None,
        }
    };
    if negative {
        value.checked_negate()
    } else {
        Some(value)
    }
}

impl Context<'_> {
    pub(super) fn power(
        &mut self,
        id: ExpressionId,
        base: ExpressionId,
        exponent: ExpressionId,
    ) -> Evaluated {
        self.inherit_failure(id, &[base, exponent]);
        let (base_dimension, exponent_dimension) = (self.operand(base), self.operand(exponent));
        if let Some(dimension) = exponent_dimension.filter(|d| !d.is_ratio()) {
            let place = self.place_of(exponent);
            let finding =
                findings::unit_mismatch::exponent(place, self.source(exponent), dimension);
            self.report(finding);
            return Evaluated::UNKNOWN;
        }
        let Some(base_dimension) = base_dimension else {
            return Evaluated::UNKNOWN;
        };
        if let Some(exponent) = literal_exponent(self.tree, exponent) {
            return self.rational_power(id, base, exponent);
        }
        if !base_dimension.is_ratio() {
            if exponent_dimension.is_some() {
                let finding = findings::power_not_literal::finding(
                    self.place_of(exponent),
                    self.source(base),
                    base_dimension,
                );
                self.report(finding);
            }
            return Evaluated::UNKNOWN;
        }
        let values = (
            self.get(base).as_quantity(),
            self.get(exponent).as_quantity(),
        );
        let (Some(x), Some(y)) = values else {
            return Evaluated::dimension_only(base_dimension);
        };
        self.quantity_or_failure(id, base_dimension, x.power_of_ratio(y))
    }

    pub(super) fn superscript(
        &mut self,
        id: ExpressionId,
        base: ExpressionId,
        exponent: i32,
    ) -> Evaluated {
        self.inherit_failure(id, &[base]);
        if self.operand(base).is_none() {
            return Evaluated::UNKNOWN;
        }
        self.rational_power(id, base, Rational::from_integer(exponent))
    }

    fn rational_power(
        &mut self,
        id: ExpressionId,
        base: ExpressionId,
        exponent: Rational,
    ) -> Evaluated {
        let Some(dimension) = self
            .kind(base)
            .dimension()
            .and_then(|d| d.checked_power(exponent))
        else {
            let place = self.place_of(id);
            self.report(findings::no_value::powers_too_high(place));
            return Evaluated::UNKNOWN;
        };
        match self.get(base).as_quantity() {
            Some(quantity) => self.quantity_or_failure(id, dimension, quantity.power(exponent)),
            None => Evaluated::dimension_only(dimension),
        }
    }
}
