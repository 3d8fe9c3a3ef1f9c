//! Numbers with their units.

use haunch_quantity::{Quantity, Unit, compound_to_si};
use haunch_syntax::{ExpressionId, Literal, LiteralPart, Number, UnitText};
use haunch_text::Span;

use super::Context;
use crate::findings;
use crate::value::{Evaluated, Kind, Value};

/// The number of a part in the form that the conversion takes.
fn number_of(part: &LiteralPart) -> haunch_quantity::Number<'_> {
    match &part.number {
        Number::Decimal(text) => haunch_quantity::Number::Decimal(text),
        Number::Fraction {
            whole,
            numerator,
            denominator,
        } => haunch_quantity::Number::Fraction {
            whole: whole.as_deref(),
            numerator,
            denominator,
        },
    }
}

/// The unit in which a literal is written: that of its only part.
pub(crate) fn written_unit(literal: &Literal) -> Option<Unit> {
    match literal.parts.as_slice() {
        [part] => Unit::parse(&part.unit.as_ref()?.text).ok(),
        _ => None,
    }
}

impl Context<'_> {
    pub(super) fn literal(&mut self, id: ExpressionId, literal: &Literal, span: Span) -> Evaluated {
        self.literal_in(id, literal, span, None)
    }

    /// A literal, a number without a unit being taken in `unit` where that is given.
    pub(crate) fn literal_in(
        &mut self,
        id: ExpressionId,
        literal: &Literal,
        span: Span,
        unit: Option<&Unit>,
    ) -> Evaluated {
        let mut parts = Vec::with_capacity(literal.parts.len());
        for part in &literal.parts {
            let unit = match &part.unit {
                Some(text) => match self.unit(text) {
                    Some(unit) => unit,
                    None => return Evaluated::UNKNOWN,
                },
                None => unit.cloned().unwrap_or_else(Unit::one),
            };
            parts.push((number_of(part), unit));
        }
        let Some(dimension) = parts.first().map(|(_, unit)| unit.dimension()) else {
            return Evaluated::UNKNOWN;
        };
        if let Some(at) = parts.iter().position(|(_, u)| u.dimension() != dimension) {
            let wrong = &literal.parts[at];
            let place = self.place(
                wrong.number_span.cover(
                    wrong
                        .unit
                        .as_ref()
                        .map_or(wrong.number_span, |unit| unit.span),
                ),
            );
            self.report(findings::unit_mismatch::compound(
                place,
                dimension,
                parts[at].1.dimension(),
            ));
            return Evaluated::UNKNOWN;
        }
        let borrowed: Vec<_> = parts.iter().map(|(number, unit)| (*number, unit)).collect();
        match compound_to_si(&borrowed) {
            Ok(si) => {
                let bare = literal.parts.iter().all(|part| part.unit.is_none()) && unit.is_none();
                let kind = if bare && si == 0.0 {
                    Kind::Zero
                } else {
                    Kind::Quantity(dimension)
                };
                Evaluated {
                    kind,
                    value: Quantity::new(si, dimension).map(Value::Quantity),
                }
            }
            Err(error) => {
                self.fail(id, span, error.to_string());
                Evaluated::dimension_only(dimension)
            }
        }
    }

    /// Reads a unit; an unknown one, or one that could be a name, is a finding.
    pub(crate) fn unit(&mut self, text: &UnitText) -> Option<Unit> {
        for word in &text.later_words {
            if self.state.is_defined(self.file, &word.text) {
                let place = self.place(word.span);
                let whole = self.place(text.span);
                self.report(findings::unit_or_name::finding(
                    place, whole, text, &word.text,
                ));
                return None;
            }
        }
        match Unit::parse(&text.text) {
            Ok(unit) => Some(unit),
            Err(_) => {
                let place = self.place(text.span);
                self.report(findings::unknown_unit::finding(place, &text.text));
                None
            }
        }
    }
}
