//! Extremes over several cases or combinations.

use super::diagram::{Diagram, EQUALLY_EXTREME, Extreme, Side};
use haunch_quantity::typed::{Length, Typed};

/// An extreme value, where it is, and which of several diagrams it belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Governing<Q> {
    /// Index of the diagram. Of several whose values differ by rounding only it is the one whose
    /// extreme is nearest to the start, of several at one place the first.
    pub which: usize,
    /// The value and its place.
    pub extreme: Extreme<Q>,
}

/// The largest and smallest value over several diagrams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Envelope<Q> {
    /// The largest value, by sign.
    pub max: Governing<Q>,
    /// The smallest value, by sign.
    pub min: Governing<Q>,
}

impl<Q: Typed> Envelope<Q> {
    /// Over the whole beam. `None` if there is no diagram.
    pub fn of(diagrams: &[&Diagram<Q>]) -> Option<Self> {
        Self::collect(diagrams.iter().map(|diagram| Some(diagram.extremes())))
    }

    /// Between two places, as [`Diagram::extremes_within`]. `None` if there is no diagram or the
    /// places are not on the beam in that order.
    pub fn within(diagrams: &[&Diagram<Q>], from: Length, to: Length) -> Option<Self> {
        Self::collect(
            diagrams
                .iter()
                .map(|diagram| diagram.extremes_within(from, to)),
        )
    }

    /// The largest and smallest value at one place, both sides of a jump looked at.
    /// `None` if there is no diagram or the place is not on the beam.
    pub fn at(diagrams: &[&Diagram<Q>], x: Length) -> Option<Self> {
        let extremes = |diagram: &&Diagram<Q>| {
            let [before, after] = [Side::Before, Side::After].map(|side| {
                diagram
                    .at(x, side)
                    .map(|value| Extreme { value, at: x, side })
            });
            let (before, after) = (before?, after?);
            let after_is_larger = after.value.si() > before.value.si();
            let (max, min) = if after_is_larger {
                (after, before)
            } else {
                (before, after)
            };
            Some(super::Extremes { max, min })
        };
        Self::collect(diagrams.iter().map(extremes))
    }

    /// The one that is larger without its sign; the largest if both are equal but for rounding.
    pub fn largest_magnitude(&self) -> Governing<Q> {
        let (max, min) = (self.max.value().abs(), self.min.value().abs());
        if min > max + EQUALLY_EXTREME * min {
            self.min
        } else {
            self.max
        }
    }

    fn collect(all: impl Iterator<Item = Option<super::Extremes<Q>>>) -> Option<Self> {
        let (mut max, mut min) = (Vec::new(), Vec::new());
        for (which, extremes) in all.enumerate() {
            let extremes = extremes?;
            let governing = |extreme| Governing { which, extreme };
            max.push(governing(extremes.max));
            min.push(governing(extremes.min));
        }
        let values = max.iter().chain(&min).map(|governing| governing.value());
        let rounding = EQUALLY_EXTREME * values.fold(0.0_f64, |most, value| most.max(value.abs()));
        Some(Self {
            max: first_of_the_largest(&max, 1.0, rounding)?,
            min: first_of_the_largest(&min, -1.0, rounding)?,
        })
    }
}

/// The largest value (`sign` 1) or the smallest (`sign` −1), as the diagram has it that reaches it
/// nearest to the start.
fn first_of_the_largest<Q: Typed>(
    all: &[Governing<Q>],
    sign: f64,
    rounding: f64,
) -> Option<Governing<Q>> {
    let place = |governing: &Governing<Q>| governing.extreme.at.si();
    let values = || all.iter().map(|governing| sign * governing.value());
    let best = values().fold(f64::NEG_INFINITY, f64::max);
    let mut first: Option<Governing<Q>> = None;
    for governing in all {
        let is_equal = sign * governing.value() >= best - rounding;
        if is_equal && first.is_none_or(|first| place(governing) < place(&first)) {
            first = Some(*governing);
        }
    }
    let first = first?;
    Some(Governing {
        extreme: Extreme {
            value: Q::from_si(sign * best + 0.0),
            ..first.extreme
        },
        ..first
    })
}

impl<Q: Typed> Governing<Q> {
    fn value(&self) -> f64 {
        self.extreme.value.si()
    }
}
