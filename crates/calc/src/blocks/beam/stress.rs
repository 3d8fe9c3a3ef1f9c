//! Stress at the points of a beam's sections.

use haunch_mechanics::beam::{BendingForces, Diagram, Envelope, Extreme, Measure, Response};
use haunch_quantity::typed::{Length, Stress, Typed};
use haunch_quantity::{Dimension, Preferences, Quantity};
use smol_str::SmolStr;

use super::limits::Under;
use super::{BeamModel, BeamStretch, Combination, Running, functions, oblique};
use crate::blocks::fibre::Fibre;
use crate::blocks::limits::place_text;

/// The stress of the largest magnitude at a point, and where it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LargestStress {
    /// Pa, positive in tension.
    pub(super) stress: f64,
    /// Distance from the start, m.
    pub(super) at: f64,
    /// The combination's name.
    pub(super) name: Option<SmolStr>,
    /// Which spans are loaded, and where wheels stand.
    pub(super) pattern: Option<SmolStr>,
    /// The moment that it comes from, N·m.
    pub(super) moment: f64,
    /// The moment about the upright axis; none where nothing acts sideways.
    pub(super) moment_sideways: Option<f64>,
}

impl LargestStress {
    /// The one of the larger magnitude; of two equal ones that in tension.
    pub(super) fn or_larger(self, other: LargestStress) -> LargestStress {
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

    /// Where wheels are worst for the stress at a fibre of a section, in the combinations among the
    /// responses in which anything acts sideways. None where it cannot be told accurately.
    fn worst_standings(
        &self,
        section: usize,
        fibre: &Fibre,
        responses: &[Under<'_>],
    ) -> Option<Vec<Combination>> {
        let of = |sign: f64| {
            move |forces: &BendingForces| {
                let upright = fibre.per_moment * forces.moment.si();
                sign * (upright + fibre.per_moment_y * forces.moment_sideways.si())
            }
        };
        let (tension, compression) = (of(1.0), of(-1.0));
        let mut measures = Vec::new();
        for stretch in self.stretches_of(section) {
            let signs: [&dyn Fn(&BendingForces) -> f64; 2] = [&tension, &compression];
            measures.extend(signs.map(|of| Measure {
                from: stretch.from,
                to: stretch.to,
                of,
            }));
        }
        let is_asked = |running: &&Running| {
            let name = running.others.name.as_ref();
            let sideways = running.others.sideways.as_ref();
            sideways.is_some_and(oblique::acts) && responses.iter().any(|own| own.name == name)
        };
        let mut standings = Vec::new();
        for running in self.running.iter().filter(is_asked) {
            let found = running.worst(&running.as_stated(), &measures).ok()?;
            standings.extend(found.into_iter().flat_map(|(_, combinations)| combinations));
        }
        Some(standings)
    }

    /// The stress of the largest magnitude at a fibre of a section, wherever the section is.
    pub(super) fn largest_stress(
        &self,
        section: usize,
        fibre: &Fibre,
        responses: &[Under<'_>],
    ) -> Option<LargestStress> {
        let mut largest: Option<LargestStress> = None;
        let standings = self.worst_standings(section, fibre, responses)?;
        let all = responses.iter().copied();
        let all: Vec<Under<'_>> = all.chain(standings.iter().map(Under::of)).collect();
        for stretch in self.stretches_of(section) {
            for under in &all {
                let along = stress_along(fibre, *under)?;
                let extremes = along.extremes_within(stretch.from, stretch.to)?;
                for extreme in [extremes.max, extremes.min] {
                    let found = stress_under(extreme, *under);
                    largest = Some(match largest {
                        Some(largest) => largest.or_larger(found),
                        None => found,
                    });
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
        Some(stress_under(
            governing.extreme,
            *responses.get(governing.which)?,
        ))
    };
    Some(of(envelope.max)?.or_larger(of(envelope.min)?))
}

/// The stress at a fibre along the beam, from bending both ways.
fn stress_along(fibre: &Fibre, under: Under<'_>) -> Option<Diagram<Stress>> {
    oblique::stress_along(fibre, under.response, under.sideways)
}

fn stress_under(extreme: Extreme<Stress>, under: Under<'_>) -> LargestStress {
    let moment = |response: &Response| {
        let moment = response.moment().at(extreme.at, extreme.side);
        moment.map_or(f64::NAN, Typed::si)
    };
    LargestStress {
        stress: extreme.value.si() + 0.0,
        at: extreme.at.si(),
        name: under.name.cloned(),
        pattern: under.pattern.cloned(),
        moment: moment(under.response),
        moment_sideways: under.sideways.map(moment),
    }
}

/// How the stress at a point comes from the moments there.
#[derive(Debug, Clone, PartialEq)]
pub struct StressWorking {
    /// Where along the beam, and under which combination, in words.
    pub place: String,
    /// The moments, each with the section modulus that it is divided by: below zero where a positive
    /// moment presses. The moment about the upright axis comes second, where anything acts sideways.
    pub terms: Vec<(Quantity, Quantity)>,
    /// Their sum.
    pub stress: Quantity,
}

impl BeamModel {
    /// The working of `stress(POINT)` or `stress(POINT, x)`, by its name after the beam's, such as
    /// `strength.stress`. None for other results, and where it has no value.
    pub fn stress_working(
        &self,
        member: &str,
        point: &str,
        x: Option<Quantity>,
        preferences: &Preferences,
    ) -> Option<StressWorking> {
        let (found, fibre) = functions::stress_by_name(self, member, point, x)?;
        let place = place_text(found.at, self.length_unit.as_ref(), preferences);
        let mut words = format!("at {place}");
        if let Some(name) = &found.name {
            words += &format!(" under {name}");
        }
        if let Some(pattern) = &found.pattern {
            words += &format!(", {pattern}");
        }
        let sideways = found.moment_sideways.map(|own| (own, fibre.per_moment_y));
        let term = |(moment, per_moment): (f64, f64)| {
            let modulus = Quantity::new(1.0 / per_moment, Dimension::FIRST_MOMENT_OF_AREA)?;
            Some((Quantity::new(moment, Dimension::MOMENT)?, modulus))
        };
        let of = [(found.moment, fibre.per_moment)]
            .into_iter()
            .chain(sideways);
        Some(StressWorking {
            place: words,
            terms: of
                .filter(|(_, per_moment)| *per_moment != 0.0)
                .filter_map(term)
                .collect(),
            stress: Quantity::new(found.stress, Dimension::STRESS)?,
        })
    }
}
