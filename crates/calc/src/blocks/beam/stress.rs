//! Stress at the points of a beam's sections.

use haunch_mechanics::beam::{Envelope, Extreme, Response};
use haunch_quantity::typed::{Length, Moment, Typed};

use super::{BeamModel, BeamStretch};
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
        responses: &[&Response],
    ) -> Option<LargestStress> {
        let mut largest: Option<LargestStress> = None;
        for stretch in self.stretches_of(section) {
            for (which, response) in responses.iter().enumerate() {
                let moment = response.moment();
                let extremes = moment.extremes_within(stretch.from, stretch.to)?;
                for extreme in [extremes.max, extremes.min] {
                    let found = stress_under(fibre, extreme, which);
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
pub(super) fn at_place(fibre: &Fibre, responses: &[&Response], x: Length) -> Option<LargestStress> {
    let moments: Vec<_> = responses.iter().map(|r| r.moment()).collect();
    let envelope = Envelope::at(&moments, x)?;
    let of = |governing: haunch_mechanics::beam::Governing<Moment>| {
        stress_under(fibre, governing.extreme, governing.which)
    };
    Some(of(envelope.max).or_larger(of(envelope.min)))
}

fn stress_under(fibre: &Fibre, extreme: Extreme<Moment>, which: usize) -> LargestStress {
    LargestStress {
        stress: extreme.value.si() * fibre.per_moment + 0.0,
        at: extreme.at.si(),
        which,
    }
}
