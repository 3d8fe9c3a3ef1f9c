//! A quantity or plain number that is written with another unit.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Literal, Statement};

use super::candidates::Search;
use super::costs::{Reason, Reasons};

/// How many lines are looked at for the units of the file.
const MOST_LINES: usize = 200;

impl Search<'_> {
    pub(super) fn literal(&mut self, id: ExpressionId, literal: &Literal, wanted: Dimension) {
        let [part] = literal.parts.as_slice() else {
            return;
        };
        let number = part.number_span.text(self.line.text).to_owned();
        let is_plain_factor = self.is_factor(id)
            && (number.parse::<f64>().is_ok_and(|number| number <= 100.0) || self.is_exponent(id));
        if part.unit.is_none() && (self.line.found(id).is_none() || is_plain_factor) {
            return;
        }
        let written = part.unit.as_ref().map(|unit| unit.text.as_str());
        let preferences = self.state.file(self.cell.file);
        let preferences = preferences.map(|file| file.preferences.clone());
        let mut texts = super::units::near(written, wanted, &preferences.unwrap_or_default());
        if self.is_modulus() && wanted == Dimension::STRESS {
            // Moduli are some gigapascals in every material that is built with.
            texts.insert(0, "GPa".to_owned());
        }
        for (rank, text) in texts.into_iter().take(3).enumerate() {
            let reason = match part.unit {
                Some(_) => Reason::UnitChanged,
                None => Reason::UnitAdded,
            };
            // The same unit with another power needs no other line to vouch for it.
            let is_same = written.is_some_and(|written| letters(written) == letters(&text));
            let is_strange = !is_same && !self.stands_in_file(&text);
            let reasons = Reasons::of(reason)
                .and_if(is_strange, Reason::UnitStrange)
                .and_if(self.is_factor(id), Reason::UnitInProduct);
            self.replace(reasons, rank as u64, id, format!("{number} {text}"));
        }
        if wanted.is_ratio() && part.unit.is_some() {
            self.replace(Reasons::of(Reason::UnitLeftOut), 0, id, number);
        }
    }

    /// Whether a unit stands on one of the lines around this one.
    fn stands_in_file(&self, unit: &str) -> bool {
        let state = self.state;
        let Some(file) = state.file(self.cell.file) else {
            return false;
        };
        let texts = file.physical.iter().filter_map(|line| state.cell(*line));
        texts.take(MOST_LINES).any(|cell| {
            cell.text.match_indices(unit).any(|(at, _)| {
                let is_end = |c: char| !c.is_alphanumeric() && !matches!(c, '*' | '/' | '^');
                let after = cell.text.get(at + unit.len()..).unwrap_or("");
                let before = cell.text.get(..at).unwrap_or("");
                after.chars().next().is_none_or(is_end) && before.ends_with([' ', '['])
            })
        })
    }

    /// Whether the line gives a modulus of elasticity or of rigidity.
    fn is_modulus(&self) -> bool {
        matches!(
            &self.line.tree.statement,
            Statement::Value(value) if matches!(super::symbols::letter(&value.name.text), "E" | "G")
        )
    }

    fn is_exponent(&self, id: ExpressionId) -> bool {
        self.line.tree.expressions.iter().any(|own| {
            matches!(
                &own.kind,
                ExpressionKind::Binary { operator: BinaryOperator::Power, right, .. } if *right == id
            )
        })
    }

    /// Whether an expression is an operand of a product, quotient or power: a number there is a plain
    /// factor.
    fn is_factor(&self, id: ExpressionId) -> bool {
        self.line.tree.expressions.iter().any(|expression| {
            matches!(
                &expression.kind,
                ExpressionKind::Binary {
                    operator: BinaryOperator::Multiply
                        | BinaryOperator::Divide
                        | BinaryOperator::Power,
                    left,
                    right,
                    ..
                } if *left == id || *right == id
            )
        })
    }
}

/// A unit without its powers.
fn letters(unit: &str) -> String {
    unit.chars().filter(|c| c.is_alphabetic()).collect()
}
