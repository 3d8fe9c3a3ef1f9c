//! Whether two normal forms are one but for names and a constant.

use haunch_quantity::Rational;

use super::form::{Base, Dimensions, Form, Term, hash};

/// Most ways to rename that are looked at.
const MOST_FITS: usize = 24;
/// How far the constants of the terms of a sum may lie apart and still be one.
const ONE: f64 = 1e-9;

/// A way to rename the symbols of one form so that it becomes another.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fit {
    /// The index of the other form's symbol for each symbol of the first.
    pub(crate) symbols: Vec<u8>,
    /// The constant of the other form over that of the first.
    pub(crate) ratio: f64,
}

/// A form with what of each symbol does not depend on names.
#[derive(Clone, Copy)]
pub(super) struct Profiled<'a> {
    pub(super) form: &'a Form,
    /// See [`profiles`].
    pub(super) profiles: &'a [u64],
}

/// Of each symbol its dimension and where it stands with which power, as a number.
pub(super) fn profiles(form: &Form, dimensions: &Dimensions) -> Vec<u64> {
    let of = |index| profile(form, dimensions, index as u8);
    (0..form.symbols.len()).map(of).collect()
}

/// Every way to rename `known` into `written`, names of the same dimension for each other.
pub(super) fn fits(known: Profiled<'_>, written: Profiled<'_>) -> Vec<Fit> {
    let same = known.form.symbols.len() == written.form.symbols.len()
        && known.form.terms.len() == written.form.terms.len();
    if !same {
        return Vec::new();
    }
    let mut search = Search {
        known,
        written,
        symbols: Vec::with_capacity(known.form.symbols.len()),
        fits: Vec::new(),
    };
    search.extend();
    search.fits
}

fn profile(form: &Form, dimensions: &Dimensions, symbol: u8) -> u64 {
    let base = Base::Symbol(symbol);
    let places = |terms: &[Term], level: u8| {
        let mut total = 0_u64;
        for term in terms {
            if let Some((_, exponent)) = term.factors.iter().find(|(own, _)| *own == base) {
                let place = (level, *exponent, term.factors.len());
                total = total.wrapping_add(hash(&place));
            }
        }
        total
    };
    let within = form.sums.iter().map(|sum| places(sum, 1));
    let own = hash(&dimensions.of(base));
    within.fold(own.wrapping_add(places(&form.terms, 0)), u64::wrapping_add)
}

struct Search<'a> {
    known: Profiled<'a>,
    written: Profiled<'a>,
    symbols: Vec<u8>,
    fits: Vec<Fit>,
}

impl Search<'_> {
    /// Finds a partner for the next symbol, then for those after it: as deep as the formula that is
    /// known has symbols.
    fn extend(&mut self) {
        let next = self.symbols.len();
        let Some(profile) = self.known.profiles.get(next).copied() else {
            self.fits.extend(self.ratio().map(|ratio| Fit {
                symbols: self.symbols.clone(),
                ratio,
            }));
            return;
        };
        for index in 0..self.written.profiles.len() {
            let partner = index as u8;
            if self.written.profiles[index] == profile && !self.symbols.contains(&partner) {
                self.symbols.push(partner);
                self.extend();
                self.symbols.pop();
            }
            if self.fits.len() >= MOST_FITS {
                return;
            }
        }
    }

    /// The one ratio of all constants, where the renamed form is the written one but for it.
    fn ratio(&self) -> Option<f64> {
        let mut sums: Vec<Option<(u8, f64)>> = Vec::with_capacity(self.known.form.sums.len());
        for sum in &self.known.form.sums {
            let partner = self
                .written
                .form
                .sums
                .iter()
                .enumerate()
                .find_map(|(at, other)| Some((at as u8, self.terms(sum, other, &sums)?)));
            sums.push(partner);
        }
        self.terms(&self.known.form.terms, &self.written.form.terms, &sums)
    }

    fn terms(&self, known: &[Term], written: &[Term], sums: &[Option<(u8, f64)>]) -> Option<f64> {
        if known.len() != written.len() {
            return None;
        }
        let mut ratio = None;
        for term in known {
            let (factors, scale) = self.renamed(term, sums)?;
            let other = written.iter().find(|other| other.factors == factors)?;
            let own = other.constant * scale / term.constant;
            let first: f64 = *ratio.get_or_insert(own);
            if (own - first).abs() > ONE * first.abs() {
                return None;
            }
        }
        ratio
    }

    /// The factors of a term in the other form's symbols, and how much larger the sums among them are.
    fn renamed(
        &self,
        term: &Term,
        sums: &[Option<(u8, f64)>],
    ) -> Option<(Vec<(Base, Rational)>, f64)> {
        let mut scale = 1.0;
        let mut factors = Vec::with_capacity(term.factors.len());
        for (base, exponent) in &term.factors {
            let base = match base {
                Base::Symbol(index) => Base::Symbol(*self.symbols.get(*index as usize)?),
                Base::Sum(index) => {
                    let (partner, larger) = (*sums.get(*index as usize)?)?;
                    scale *= power(larger, *exponent)?;
                    Base::Sum(partner)
                }
            };
            factors.push((base, *exponent));
        }
        factors.sort_unstable_by_key(|(base, _)| *base);
        Some((factors, scale))
    }
}

fn power(number: f64, exponent: Rational) -> Option<f64> {
    if number == 1.0 {
        return Some(1.0);
    }
    let size = libm::pow(number.abs(), exponent.to_f64());
    match exponent.as_integer() {
        Some(times) if number < 0.0 && times % 2 != 0 => Some(-size),
        None if number < 0.0 => None,
        _ => Some(size),
    }
}

/// A form of one term that becomes the other where one unit of an exponent goes from one of its
/// symbols to another of the same dimension.
///
/// Names decide which symbol stands for which: `same` tells it of two indices.
pub(super) fn with_an_exponent_moved(
    known: (&Form, &Dimensions),
    written: (&Form, &Dimensions),
    same: impl Fn(u8, u8) -> bool,
) -> Option<Fit> {
    let ([term], [other]) = (known.0.terms.as_slice(), written.0.terms.as_slice()) else {
        return None;
    };
    if term.factors.len() != other.factors.len() {
        return None;
    }
    let mut symbols = Vec::with_capacity(term.factors.len());
    let mut moved = Rational::ZERO;
    for index in 0..known.0.symbols.len() {
        let base = Base::Symbol(index as u8);
        let (_, exponent) = term.factors.iter().find(|(own, _)| *own == base)?;
        let (partner, found) = other
            .factors
            .iter()
            .find(|(own, _)| matches!(own, Base::Symbol(own) if same(index as u8, *own)))?;
        let Base::Symbol(partner) = partner else {
            return None;
        };
        if written.1.of(Base::Symbol(*partner)) != known.1.of(base) {
            return None;
        }
        let difference = found.checked_subtract(*exponent)?;
        if !difference.is_negative() {
            moved = moved.checked_add(difference)?;
        }
        symbols.push(*partner);
    }
    (moved == Rational::ONE).then(|| Fit {
        symbols,
        ratio: other.constant / term.constant,
    })
}
