//! Stresses and shear flows in the sections of a beam: `von_mises(A, 1.2 m)`, `shear_flow(flange)`.
//!
//! At a place, on either side of it; without a place, the extreme over the whole beam. Of several
//! combinations and of several materials at a point, the worst.

use haunch_mechanics::beam::{AtPlace, BendingForces, Measure};
use haunch_mechanics::section::{Equivalent, ForceRange, ForcesAlong, PointFactors};
use haunch_quantity::typed::{Force, Length, Typed};
use haunch_quantity::{Dimension, Quantity};

use super::functions::{Asked, Found, elsewhere, fibres, position};
use super::limits::Under;
use super::results::member_dimension;
use super::together::along;
use super::{BeamModel, BentSection, Combination, oblique};
use crate::blocks::section::{NoShearFlow, NoShearStress, SectionModel, level};
use crate::blocks::{Argument, CallError};
use crate::value::{Evaluated, Kind};

/// A stress along the beam may be taken too high by this share and no more; else it has no value.
const EXCESS: f64 = 1e-4;

/// A result by its name and arguments; `None` for a function that is not of these.
pub(super) fn call(
    of: &Asked<'_>,
    function: &str,
    arguments: &[Argument],
) -> Option<Result<Evaluated, CallError>> {
    let equivalent = match function {
        "von_mises" => Some(Equivalent::VonMises),
        "principal_stress_1" => Some(Equivalent::Greatest),
        "principal_stress_2" => Some(Equivalent::Least),
        "shear_stress" | "shear_flow" | "shear_flow_at" => None,
        _ => return None,
    };
    let inquiry = Inquiry {
        of,
        model: of.model,
        function,
        dimension: member_dimension(function)?,
    };
    Some(match equivalent {
        Some(equivalent) => inquiry.at_point(equivalent, arguments),
        None if of.combinations().any(is_bent_sideways) => Err(inquiry.no_value(format!(
            "{function} is that of an upright shear force alone, and {} is loaded sideways, too; a \
             limit on shear counts both",
            of.model.name
        ))),
        None => inquiry.across_level(arguments),
    })
}

fn is_bent_sideways(own: &Combination) -> bool {
    own.sideways.as_ref().is_some_and(oblique::acts)
}

/// What a function is asked of.
struct Inquiry<'a> {
    of: &'a Asked<'a>,
    model: &'a BeamModel,
    function: &'a str,
    dimension: Dimension,
}

/// Where along the beam.
#[derive(Clone, Copy)]
enum Where {
    All,
    At(Length),
}

impl Inquiry<'_> {
    fn unknown(&self) -> Evaluated {
        Evaluated::dimension_only(self.dimension)
    }

    fn no_value(&self, message: String) -> CallError {
        CallError::NoValue {
            kind: Kind::Quantity(self.dimension),
            message,
        }
    }

    fn result(&self, value: f64) -> Evaluated {
        let known = Quantity::new(value, self.dimension);
        known.map_or(self.unknown(), Evaluated::quantity)
    }

    /// The first argument, and the place; none where the place is not known.
    fn split<'b>(
        &self,
        arguments: &'b [Argument],
    ) -> Result<(&'b Argument, Option<Where>), CallError> {
        let (what, call) = match self.function {
            "shear_flow" => ("the name of a part", "flange"),
            "shear_stress" | "shear_flow_at" => ("a level of the section", "40 mm"),
            _ => ("a point of the section", "A"),
        };
        match arguments {
            [first] => Ok((first, Some(Where::All))),
            [first, place] => {
                let place = position(self.model, place, 1, self.dimension)?;
                Ok((first, place.map(Where::At)))
            }
            _ => Err(CallError::Argument {
                index: arguments.len().min(2),
                message: format!(
                    "{0} takes {what} and, where wanted, a place along the beam, as {0}({call}, \
                     1.2 m).",
                    self.function
                ),
            }),
        }
    }

    /// Normal and shear stress together at a point of a section.
    fn at_point(
        &self,
        equivalent: Equivalent,
        arguments: &[Argument],
    ) -> Result<Evaluated, CallError> {
        let (point, place) = self.split(arguments)?;
        let Found { section, fibres } = fibres(self.function, self.model, point)?;
        let (Some(place), Some(bent)) = (place, self.model.sections.get(section)) else {
            return Ok(self.unknown());
        };
        self.look_at(section, place)?;
        let mut worst: Option<f64> = None;
        for fibre in fibres {
            let shear = bent.section.shear_stress_at(&fibre.name, 1.0);
            let sideways = match self.of.combinations().any(is_bent_sideways) {
                true => bent.section.shear_stress_sideways_at(&fibre.name, 1.0),
                false => Ok(0.0),
            };
            let factors = PointFactors {
                per_axial: fibre.per_axial,
                per_moment_x: fibre.per_moment,
                per_moment_y: fibre.per_moment_y,
                per_shear: shear.map_err(|reason| self.no_shear(bent, reason))?,
                per_shear_sideways: sideways.map_err(|reason| self.no_shear(bent, reason))?,
            };
            let still = match place {
                _ if self.of.still().next().is_none() => Some(0.0),
                Where::All => self.worst_along(section, equivalent, &factors),
                Where::At(x) => self.worst_at(x, equivalent, &factors),
            };
            let Some(still) = still else {
                return Ok(self.unknown());
            };
            let found = still.max(self.worst_of_wheels(section, place, equivalent, &factors)?);
            worst = Some(worst.map_or(found, |known| known.max(found)));
        }
        let sense = match equivalent {
            Equivalent::Least => -1.0,
            Equivalent::VonMises | Equivalent::Greatest => 1.0,
        };
        Ok(worst.map_or(self.unknown(), |stress| self.result(sense * stress + 0.0)))
    }

    /// Under the wheels that run along the beam; nothing where none do.
    fn worst_of_wheels(
        &self,
        section: usize,
        place: Where,
        equivalent: Equivalent,
        factors: &PointFactors,
    ) -> Result<f64, CallError> {
        let of = |forces: &BendingForces| {
            let none = Force::from_si(0.0);
            let range = ForceRange {
                axial: (none, none),
                moment_x: (forces.moment, forces.moment),
                moment_y: (forces.moment_sideways, forces.moment_sideways),
                shear: (forces.shear, forces.shear),
                shear_sideways: (forces.shear_sideways, forces.shear_sideways),
            };
            factors.highest(equivalent, &range).si()
        };
        let measure = |from: Length, to: Length| Measure { from, to, of: &of };
        let measures: Vec<Measure<'_>> = match place {
            Where::At(x) => vec![measure(x, x)],
            Where::All => {
                let stretches = self.model.stretches_of(section);
                stretches.map(|own| measure(own.from, own.to)).collect()
            }
        };
        let mut worst = 0.0_f64;
        for running in self.of.running() {
            let found = running.worst(&running.as_stated(), &measures);
            let found = found.map_err(|_| self.of.not_told(self.dimension))?;
            worst = found.iter().map(|(bound, _)| *bound).fold(worst, f64::max);
        }
        Ok(worst)
    }

    fn worst_at(&self, x: Length, equivalent: Equivalent, factors: &PointFactors) -> Option<f64> {
        let ranges = self.forces_at(x, self.of.still().map(Under::of))?;
        let stresses = ranges
            .iter()
            .map(|range| factors.highest(equivalent, range).si());
        stresses.reduce(f64::max)
    }

    fn worst_along(
        &self,
        section: usize,
        equivalent: Equivalent,
        factors: &PointFactors,
    ) -> Option<f64> {
        let mut worst: Option<f64> = None;
        for stretch in self.model.stretches_of(section) {
            for under in self.of.still().map(Under::of) {
                let (stops, forces) = along(under, stretch.from, stretch.to);
                let found = factors.worst_along(equivalent, &stops, &forces)?;
                let (stress, excess) = (found.stress.si(), found.excess.si());
                if excess > EXCESS * stress {
                    return None;
                }
                worst = Some(worst.map_or(stress, |known| known.max(stress)));
            }
        }
        worst
    }

    /// A shear stress or flow, a magnitude.
    fn across_level(&self, arguments: &[Argument]) -> Result<Evaluated, CallError> {
        let (first, place) = self.split(arguments)?;
        let (part, y) = match (self.function, first) {
            ("shear_flow", Argument::Point(part)) => (Some(part.as_str()), None),
            ("shear_flow", Argument::Value(_)) => {
                return Err(CallError::Argument {
                    index: 0,
                    message: "shear_flow takes the name of a part of the section first, as \
                              shear_flow(flange)."
                        .to_owned(),
                });
            }
            _ => (None, level(self.function, std::slice::from_ref(first))?),
        };
        let Some(place) = place else {
            return Ok(self.unknown());
        };
        let mut largest: Option<f64> = None;
        let is_there = |section: usize| match place {
            Where::All => self.model.stretches_of(section).next().is_some(),
            Where::At(x) => self.model.is_at(section, x),
        };
        for (section, bent) in self.model.sections.iter().enumerate() {
            let per_shear = match (part, y) {
                (Some(part), _) => {
                    let dotted = part.strip_prefix(&format!("{}.", bent.name));
                    match self.flow_into(bent, dotted.unwrap_or(part)) {
                        // A part of one section of several is not asked of the others.
                        Ok(None) => continue,
                        Ok(Some(flow)) => flow,
                        Err(_) if !is_there(section) => continue,
                        Err(error) => return Err(error),
                    }
                }
                (None, _) if !is_there(section) => continue,
                (None, None) => return Ok(self.unknown()),
                (None, Some(y)) => self.at_level(bent, y)?,
            };
            if part.is_some() {
                self.look_at(section, place)?;
            }
            let Some(shear) = self.largest_shear(section, place)? else {
                return Ok(self.unknown());
            };
            let found = per_shear * shear;
            largest = Some(largest.map_or(found, |known: f64| known.max(found)));
        }
        match (largest, part) {
            (Some(largest), _) => Ok(self.result(largest)),
            (None, Some(part)) => {
                let name = self.model.sections.first().map_or("", |bent| &bent.name);
                Err(CallError::Argument {
                    index: 0,
                    message: format!("{name} has no part {part}."),
                })
            }
            (None, None) => Ok(self.unknown()),
        }
    }

    /// For a unit of shear; none where the section has no such part.
    fn flow_into(&self, bent: &BentSection, part: &str) -> Result<Option<f64>, CallError> {
        match bent.section.shear_flow_into(part, 1.0) {
            Ok(flow) => Ok(Some(flow)),
            Err(NoShearFlow::NoPart) => Ok(None),
            Err(NoShearFlow::Reason(message)) => Err(self.no_value(message)),
        }
    }

    /// For a unit of shear.
    fn at_level(&self, bent: &BentSection, y: Length) -> Result<f64, CallError> {
        let section: &SectionModel = &bent.section;
        let found = match self.function {
            "shear_flow_at" => section.shear_flow_at(y, 1.0),
            _ => section.shear_stress(y, 1.0),
        };
        found.map_err(|reason| self.no_shear(bent, reason))
    }

    fn no_shear(&self, bent: &BentSection, reason: NoShearStress) -> CallError {
        match reason {
            NoShearStress::Outside => self.no_value(format!("this level misses {}", bent.name)),
            NoShearStress::Reason(message) => self.no_value(message),
        }
    }

    /// The largest magnitude of the shear force.
    fn largest_shear(&self, section: usize, place: Where) -> Result<Option<f64>, CallError> {
        let magnitude = |range: &ForceRange| range.shear.0.si().abs().max(range.shear.1.si().abs());
        if let Where::At(x) = place {
            let responses = self.of.responses_at(x, AtPlace::Shear, self.dimension)?;
            let ranges = self.forces_at(x, responses.iter().map(|own| Under::upright(own)));
            let shears = ranges.iter().flatten().map(magnitude);
            return Ok(shears.reduce(f64::max));
        }
        let mut largest: Option<f64> = None;
        for stretch in self.model.stretches_of(section) {
            for under in self.of.combinations().map(Under::of) {
                let shear = under.response.shear();
                let Some(extremes) = shear.extremes_within(stretch.from, stretch.to) else {
                    return Ok(None);
                };
                let found = extremes.largest_magnitude().value.si().abs();
                largest = Some(largest.map_or(found, |known| known.max(found)));
            }
        }
        Ok(largest)
    }

    /// The forces on either side of a place, of every response.
    fn forces_at<'b>(
        &self,
        x: Length,
        responses: impl Iterator<Item = Under<'b>>,
    ) -> Option<Vec<ForceRange>> {
        let mut ranges = Vec::new();
        for under in responses {
            let (_, forces) = along(under, Length::from_si(0.0), self.model.length);
            let sides = [true, false].map(|before| forces.at(x, before));
            let before = ranges.len();
            ranges.extend(sides.into_iter().flatten());
            if ranges.len() == before {
                return None;
            }
        }
        Some(ranges)
    }

    /// Refuses a place at which the beam has another section.
    fn look_at(&self, section: usize, place: Where) -> Result<(), CallError> {
        match place {
            Where::At(x) if !self.model.is_at(section, x) => {
                Err(elsewhere(self.model, section, x, self.dimension))
            }
            _ => Ok(()),
        }
    }
}
