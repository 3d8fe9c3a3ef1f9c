//! One quantity along the beam as an exact piecewise polynomial.

use super::polynomial::Polynomial;
use haunch_quantity::typed::{Length, Typed};
use std::cmp::Ordering;
use std::marker::PhantomData;
use std::sync::Arc;

/// Values whose difference is less than this share of the largest number that went into them
/// differ by rounding only.
pub(super) const ROUNDING: f64 = 1e-14;
/// Two places are equally extreme if their values differ by less than this share.
pub(super) const EQUALLY_EXTREME: f64 = 1e-12;
/// Places closer than this share of the beam's length are one place: they differ only by the
/// rounding of the sums and unit factors they come from.
pub(super) const SAME_PLACE: f64 = 1e-12;

/// Which of the two values is meant where the quantity jumps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Just before the place, coming from the start.
    Before,
    /// Just after the place.
    After,
}

/// A quantity along the beam: exact between places, not sampled.
///
/// Values that are smaller than the rounding of the solution are given as exactly zero, so that a
/// moment at a hinge reads 0 and not some 1e-13.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagram<Q> {
    /// Ends of the pieces, from 0 to the length.
    places: Arc<[f64]>,
    /// One per stretch between places, in the SI unit of the quantity.
    pieces: Vec<Polynomial>,
    /// The size of the numbers that went into the values; their rounding is a share of it.
    size: f64,
    quantity: PhantomData<Q>,
}

/// An extreme value and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extreme<Q> {
    /// The value.
    pub value: Q,
    /// Distance from the start; the first such place if there are several.
    pub at: Length,
    /// On which side of the place, if the quantity jumps there.
    pub side: Side,
}

/// The largest and the smallest value over a stretch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes<Q> {
    /// The largest value, by sign.
    pub max: Extreme<Q>,
    /// The smallest value, by sign.
    pub min: Extreme<Q>,
}

impl<Q: Typed> Extremes<Q> {
    /// The one that is larger without its sign; the largest if both are equal.
    pub fn largest_magnitude(&self) -> Extreme<Q> {
        if self.min.value.si().abs() > self.max.value.si().abs() {
            self.min
        } else {
            self.max
        }
    }
}

impl<Q: Typed> Diagram<Q> {
    pub(super) fn new(places: Arc<[f64]>, pieces: Vec<Polynomial>, size: f64) -> Self {
        debug_assert_eq!(places.len(), pieces.len() + 1);
        Self {
            places,
            pieces,
            size,
            quantity: PhantomData,
        }
    }

    /// The value at a place, on one side of it. `None` outside the beam.
    ///
    /// At the start there is only the value after it, at the end only the one before it.
    pub fn at(&self, x: Length, side: Side) -> Option<Q> {
        let x = self.same_place(x.si())?;
        let piece = self.piece_at(x, side)?;
        Some(Q::from_si(self.value(piece, x)))
    }

    /// The largest and the smallest value over the whole beam.
    pub fn extremes(&self) -> Extremes<Q> {
        self.extremes_between(self.places[0], self.length())
    }

    /// The largest and the smallest value between two places: the value after `from`, everything
    /// inside, and the value before `to`. `None` unless `from < to`, both on the beam.
    pub fn extremes_within(&self, from: Length, to: Length) -> Option<Extremes<Q>> {
        let (from, to) = (self.same_place(from.si())?, self.same_place(to.si())?);
        (from < to).then(|| self.extremes_between(from, to))
    }

    /// The value at `x` of the polynomial that holds at `inside`, wherever `x` is.
    pub(super) fn continued(&self, inside: f64, x: f64) -> f64 {
        let Some(piece) = self.piece_at(inside, Side::After) else {
            return 0.0;
        };
        let (left, right) = (self.places[piece], self.places[piece + 1]);
        self.pieces[piece].value((x - left) / (right - left))
    }

    /// The places between which the quantity is one polynomial, from 0 to the length.
    ///
    /// Jumps and kinks are at these places only.
    pub fn places(&self) -> impl Iterator<Item = Length> + '_ {
        self.places.iter().map(|&x| Length::from_si(x))
    }

    pub(super) fn places_si(&self) -> &Arc<[f64]> {
        &self.places
    }

    pub(super) fn is_finite(&self) -> bool {
        let mut coefficients = self.pieces.iter().flat_map(Polynomial::coefficients);
        self.size.is_finite() && coefficients.all(|c| c.is_finite())
    }

    fn length(&self) -> f64 {
        self.places[self.places.len() - 1]
    }

    /// The place, brought to an end of a piece if it is the same place.
    fn same_place(&self, x: f64) -> Option<f64> {
        let tolerance = SAME_PLACE * self.length();
        let after = self.places.partition_point(|&place| place < x);
        let near = [after.checked_sub(1), Some(after)]
            .into_iter()
            .flatten()
            .filter_map(|index| self.places.get(index))
            .find(|&&place| (place - x).abs() <= tolerance);
        match near {
            Some(&place) => Some(place),
            None => (x > 0.0 && x < self.length()).then_some(x),
        }
    }

    fn piece_at(&self, x: f64, side: Side) -> Option<usize> {
        let after = match side {
            Side::Before => self.places.partition_point(|&place| place < x),
            Side::After => self.places.partition_point(|&place| place <= x),
        };
        let last = self.pieces.len().checked_sub(1)?;
        Some(after.saturating_sub(1).min(last))
    }

    fn value(&self, piece: usize, x: f64) -> f64 {
        let (left, right) = (self.places[piece], self.places[piece + 1]);
        self.without_rounding(self.pieces[piece].value((x - left) / (right - left)))
    }

    fn without_rounding(&self, value: f64) -> f64 {
        if value.abs() <= ROUNDING * self.size {
            0.0
        } else {
            value
        }
    }

    /// The ends of all pieces, and every place inside one where the value changes its sign, m.
    pub(super) fn sign_changes(&self) -> Vec<f64> {
        let mut changes = Vec::with_capacity(2 * self.places.len());
        for (piece, ends) in self.pieces.iter().zip(self.places.windows(2)) {
            let (left, right) = (ends[0], ends[1]);
            changes.push(left);
            let roots = piece.sign_changes();
            changes.extend(roots.as_slice().iter().map(|t| left + t * (right - left)));
        }
        changes.push(self.length());
        changes
    }

    fn extremes_between(&self, from: f64, to: f64) -> Extremes<Q> {
        let candidates = self.candidates(from, to);
        Extremes {
            max: first_extreme(&candidates, 1.0),
            min: first_extreme(&candidates, -1.0),
        }
    }

    /// Both ends of every piece within the stretch, and the turning points inside it, in order.
    fn candidates(&self, from: f64, to: f64) -> Vec<Candidate> {
        let first = self.piece_at(from, Side::After).unwrap_or(0);
        let last = self.piece_at(to, Side::Before).unwrap_or(0);
        let mut candidates = Vec::with_capacity(3 * (last + 1 - first.min(last)));
        for piece in first..=last {
            let (left, right) = (self.places[piece], self.places[piece + 1]);
            let (begin, end) = (from.max(left), to.min(right));
            candidates.push(Candidate {
                value: self.value(piece, begin),
                x: begin,
                side: Side::After,
            });
            for &t in self.pieces[piece].derivative().sign_changes().as_slice() {
                let x = left + t * (right - left);
                if x > begin && x < end {
                    let value = self.without_rounding(self.pieces[piece].value(t));
                    candidates.push(Candidate {
                        value,
                        x,
                        side: Side::Before,
                    });
                }
            }
            candidates.push(Candidate {
                value: self.value(piece, end),
                x: end,
                side: Side::Before,
            });
        }
        candidates
    }

    /// The sum of diagrams times factors, on the places of all of them together.
    ///
    /// The terms come in an order that depends on their content only (see
    /// [`compare`](Self::compare)), so that sums do not depend on the order of the caller.
    pub(super) fn sum(places: &Arc<[f64]>, terms: &[(f64, &Self)]) -> Self {
        let mut pieces = vec![Polynomial::zero(); places.len() - 1];
        for (factor, diagram) in terms {
            let mut own = 0;
            for (sum, ends) in pieces.iter_mut().zip(places.windows(2)) {
                let middle = 0.5 * (ends[0] + ends[1]);
                while own + 2 < diagram.places.len() && diagram.places[own + 1] <= middle {
                    own += 1;
                }
                let (left, right) = (diagram.places[own], diagram.places[own + 1]);
                let part = if left == ends[0] && right == ends[1] {
                    diagram.pieces[own]
                } else {
                    let width = right - left;
                    diagram.pieces[own]
                        .restricted((ends[0] - left) / width, (ends[1] - left) / width)
                };
                *sum = sum.plus_scaled(*factor, &part);
            }
        }
        let size = terms
            .iter()
            .map(|(factor, diagram)| factor.abs() * diagram.size)
            .sum();
        Self::new(Arc::clone(places), pieces, size)
    }

    /// The same numbers as another quantity's.
    pub(super) fn into_quantity<P: Typed>(self) -> Diagram<P> {
        Diagram::new(self.places, self.pieces, self.size)
    }

    /// The polynomial between two places of one piece, on its own coordinate from 0 to 1.
    pub(super) fn polynomial_between(&self, from: f64, to: f64) -> Polynomial {
        let piece = self.piece_at(0.5 * (from + to), Side::After).unwrap_or(0);
        let (left, right) = (self.places[piece], self.places[piece + 1]);
        let width = right - left;
        self.pieces[piece].restricted((from - left) / width, (to - left) / width)
    }

    /// An order by content.
    pub(super) fn compare(&self, other: &Self) -> Ordering {
        let by_places = compare_numbers(self.places.iter(), other.places.iter());
        by_places.then_with(|| {
            compare_numbers(
                self.pieces.iter().flat_map(Polynomial::coefficients),
                other.pieces.iter().flat_map(Polynomial::coefficients),
            )
        })
    }
}

fn compare_numbers<'a>(
    a: impl Iterator<Item = &'a f64>,
    mut b: impl Iterator<Item = &'a f64>,
) -> Ordering {
    for x in a {
        let Some(y) = b.next() else {
            return Ordering::Greater;
        };
        match x.total_cmp(y) {
            Ordering::Equal => {}
            unequal => return unequal,
        }
    }
    if b.next().is_some() {
        Ordering::Less
    } else {
        Ordering::Equal
    }
}

#[derive(Debug, Clone, Copy)]
struct Candidate {
    value: f64,
    x: f64,
    side: Side,
}

/// The largest value (`sign` 1) or the smallest (`sign` −1), at the first place where the value
/// differs from it by rounding only.
fn first_extreme<Q: Typed>(candidates: &[Candidate], sign: f64) -> Extreme<Q> {
    let mut best = f64::NEG_INFINITY;
    let mut largest = 0.0_f64;
    for candidate in candidates {
        best = best.max(sign * candidate.value);
        largest = largest.max(candidate.value.abs());
    }
    let limit = best - EQUALLY_EXTREME * largest;
    let first = candidates
        .iter()
        .find(|candidate| sign * candidate.value >= limit);
    let place = first.copied().unwrap_or(Candidate {
        value: 0.0,
        x: 0.0,
        side: Side::After,
    });
    Extreme {
        value: Q::from_si(sign * best + 0.0),
        at: Length::from_si(place.x),
        side: place.side,
    }
}
