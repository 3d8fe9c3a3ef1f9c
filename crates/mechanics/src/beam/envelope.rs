//! Extremes over several cases or combinations.

use super::diagram::{Diagram, Extreme, Side};
use haunch_quantity::typed::{Length, Typed};

/// An extreme value, where it is, and which of several diagrams it belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Governing<Q> {
    /// Index of the diagram; the first one if several have the same value.
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

    fn collect(all: impl Iterator<Item = Option<super::Extremes<Q>>>) -> Option<Self> {
        let mut envelope: Option<Self> = None;
        for (which, extremes) in all.enumerate() {
            let extremes = extremes?;
            let max = Governing {
                which,
                extreme: extremes.max,
            };
            let min = Governing {
                which,
                extreme: extremes.min,
            };
            envelope = Some(match envelope {
                None => Self { max, min },
                Some(other) => Self {
                    max: if max.value() > other.max.value() {
                        max
                    } else {
                        other.max
                    },
                    min: if min.value() < other.min.value() {
                        min
                    } else {
                        other.min
                    },
                },
            });
        }
        envelope
    }
}

impl<Q: Typed> Governing<Q> {
    fn value(&self) -> f64 {
        self.extreme.value.si()
    }
}
