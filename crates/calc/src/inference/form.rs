//! A dimension in terms of unknown ones.

use haunch_quantity::{Dimension, Rational};

/// A dimension that is solved for, by its number among those of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Unknown(pub(crate) u16);

/// A known dimension times powers of unknown ones: of `3 kN/x^2` a force times x^-2.
///
/// Arithmetic is checked as that of [`Dimension`]: `None` where an exponent does not fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Form {
    pub(crate) known: Dimension,
    /// In the order of the unknowns, none with the power 0.
    pub(crate) powers: Vec<(Unknown, Rational)>,
}

impl Form {
    pub(crate) fn known(dimension: Dimension) -> Form {
        Form {
            known: dimension,
            powers: Vec::new(),
        }
    }

    pub(crate) fn unknown(unknown: Unknown) -> Form {
        Form {
            known: Dimension::RATIO,
            powers: vec![(unknown, Rational::ONE)],
        }
    }

    /// Whether it holds an unknown.
    pub(crate) fn is_open(&self) -> bool {
        !self.powers.is_empty()
    }

    /// The power of an unknown in it.
    pub(crate) fn power_of(&self, unknown: Unknown) -> Rational {
        let found = self.powers.binary_search_by_key(&unknown, |(own, _)| *own);
        found.map_or(Rational::ZERO, |at| self.powers[at].1)
    }

    pub(crate) fn multiply(&self, other: &Form) -> Option<Form> {
        let mut powers = Vec::with_capacity(self.powers.len() + other.powers.len());
        let mut others = other.powers.iter().copied().peekable();
        for &(unknown, power) in &self.powers {
            while let Some(before) = others.next_if(|(own, _)| *own < unknown) {
                powers.push(before);
            }
            let power = match others.next_if(|(own, _)| *own == unknown) {
                Some((_, more)) => power.checked_add(more)?,
                None => power,
            };
            if !power.is_zero() {
                powers.push((unknown, power));
            }
        }
        powers.extend(others);
        Some(Form {
            known: self.known.checked_multiply(other.known)?,
            powers,
        })
    }

    pub(crate) fn power(&self, exponent: Rational) -> Option<Form> {
        if exponent.is_zero() {
            return Some(Form::known(Dimension::RATIO));
        }
        let powers: Option<Vec<_>> = self
            .powers
            .iter()
            .map(|(unknown, power)| Some((*unknown, power.checked_multiply(exponent)?)))
            .collect();
        Some(Form {
            known: self.known.checked_power(exponent)?,
            powers: powers?,
        })
    }

    pub(crate) fn divide(&self, other: &Form) -> Option<Form> {
        self.multiply(&other.power(Rational::from_integer(-1))?)
    }
}
