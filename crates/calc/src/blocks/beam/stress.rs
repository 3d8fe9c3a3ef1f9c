//! Stress at the points of a beam's sections.

use haunch_mechanics::beam::{Diagram, Envelope, Extreme};
use haunch_quantity::typed::{Length, Stress, Typed};

use super::limits::Under;
use super::{BeamModel, BeamStretch, oblique};
use crate::blocks::fibre::Fibre;

/// The stress of the largest magnitude at a point, and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LargestStress {
    /// Pa, positive in tension.
    pub(super) stress: f64,
    /// Distance from the start, m.
    pub(super) at: f64,
    /// The index of the response.
    pub(super) which: usize,
}

impl LargestStress {
    /// The one of the larger magnitude; of two equal ones that in tension.
    fn or_larger(self, other: LargestStress) -> LargestStress {
        let (own, new) = (self.stress, other.stress);
        if new.abs() > own.abs() || (new.abs() == own.abs() && new > own) {
            other
        } else {
            self
        }
    }
}

impl BeamModel {
    /// The stretches with a section.
    pub(super) fn stretches_of(&self, section: usize) -> impl Iterator<Item = &BeamStretch> {
        self.stretches
            .iter()
            .filter(move |stretch| stretch.section == section)
    }

    /// The stress of the largest magnitude at a fibre of a section, wherever the section is.
    pub(super) fn largest_stress(
        &self,
        section: usize,
        fibre: &Fibre,
        responses: &[Under<'_>],
    ) -> Option<LargestStress> {
        let mut largest: Option<LargestStress> = None;
        for stretch in self.stretches_of(section) {
            for (which, under) in responses.iter().enumerate() {
                let along = stress_along(fibre, *under)?;
                let extremes = along.extremes_within(stretch.from, stretch.to)?;
                for extreme in [extremes.max, extremes.min] {
                    let found = stress_under(extreme, which);
                    largest = Some(largest.map_or(found, |largest| largest.or_larger(found)));
                }
            }
        }
        largest
    }

    /// Whether a section is at a place; where two meet both are.
    pub(super) fn is_at(&self, section: usize, x: Length) -> bool {
        let slack = 1e-12 * self.length.si();
        let x = x.si();
        self.stretches_of(section)
            .any(|stretch| x >= stretch.from.si() - slack && x <= stretch.to.si() + slack)
    }
}

/// The stress of the largest magnitude at a fibre at one place, on either side of it.
pub(super) fn at_place(fibre: &Fibre, responses: &[Under<'_>], x: Length) -> Option<LargestStress> {
    let along = responses.iter().map(|under| stress_along(fibre, *under));
    let along: Option<Vec<Diagram<Stress>>> = along.collect();
    let along = along?;
    let envelope = Envelope::at(&along.iter().collect::<Vec<_>>(), x)?;
    let of = |governing: haunch_mechanics::beam::Governing<Stress>| {
        stress_under(governing.extreme, governing.which)
    };
    Some(of(envelope.max).or_larger(of(envelope.min)))
}

/// The stress at a fibre along the beam, from bending both ways.
fn stress_along(fibre: &Fibre, under: Under<'_>) -> Option<Diagram<Stress>> {
    oblique::stress_along(fibre, under.response, under.sideways)
}

fn stress_under(extreme: Extreme<Stress>, which: usize) -> LargestStress {
    LargestStress {
        stress: extreme.value.si() + 0.0,
        at: extreme.at.si(),
        which,
    }
}
