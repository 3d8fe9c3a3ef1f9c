//! Wheels that run along the beam: where they stand when a result is largest or smallest.
//!
//! The places of the train form a continuum, and so do the places of the beam. A result at one
//! place is, between the places where anything changes, a polynomial in both; its extremes over all
//! of them are enclosed from both sides until nothing can be larger than what was found
//! ([`search`]). What is found is always a real place of the train, and
//! the beam is solved anew with the wheels standing there.

mod influence;
mod patch;
mod search;
mod worst;

use super::Analysis;
use super::diagram::{Diagram, Extremes, SAME_PLACE, Side};
use super::envelope::Envelope;
use super::error::BeamError;
use super::model::{Load, Loading};
use super::response::Response;
use haunch_quantity::typed::{Force, Length, Typed};
use influence::Influence;
use search::{Found, Goal, Of, Quantity, Search};

pub use worst::{BendingForces, Measure, Worst};

/// One wheel of a train.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Distance from the first wheel, towards the end of the beam.
    pub after_first: Length,
    /// Its load, positive downward.
    pub down: Force,
}

/// What is looked at one place of the beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtPlace {
    /// The shear.
    Shear,
    /// The moment.
    Moment,
    /// The slope.
    Slope,
    /// The deflection.
    Deflection,
}

/// Wheels at fixed distances that may stand anywhere along a beam. A wheel beyond the beam's ends
/// carries nothing, and the train may be off the beam altogether.
#[derive(Debug, Clone, PartialEq)]
pub struct Train {
    analysis: Analysis,
    influence: Influence,
    wheels: Vec<Wheel>,
    both_ways: bool,
}

/// The train at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Where each wheel stands, in the order of the wheels; none for one off the beam.
    pub wheels: Vec<Option<Length>>,
    /// What the wheels alone do to the beam.
    pub response: Response,
}

/// Two places of the train closer than this share of the beam's length are not told apart in the
/// search; a wheel just beside a place stands at [`BESIDE`] from it.
const APART: f64 = 1e-11;
/// More than [`SAME_PLACE`] and less than half of [`APART`].
const BESIDE: f64 = 4.0 * SAME_PLACE;
/// The solved beam agrees with the search to this share of the largest value along it.
const AGREES: f64 = 1e-9;

impl Train {
    /// A train on a beam. With `both_ways` it may run either way round.
    ///
    /// # Errors
    /// A wheel that is not finite is [`BeamError::LoadNotFinite`]; otherwise what is wrong with the
    /// beam under a force.
    pub fn new(analysis: &Analysis, wheels: &[Wheel], both_ways: bool) -> Result<Self, BeamError> {
        let finite = |w: &Wheel| w.after_first.si().is_finite() && w.down.si().is_finite();
        if let Some(load) = wheels.iter().position(|wheel| !finite(wheel)) {
            return Err(BeamError::LoadNotFinite { loading: 0, load });
        }
        Ok(Self {
            analysis: analysis.clone(),
            influence: Influence::new(analysis)?,
            wheels: wheels.to_vec(),
            both_ways: both_ways && !is_symmetric(wheels),
        })
    }

    /// The wheels.
    pub fn wheels(&self) -> &[Wheel] {
        &self.wheels
    }

    /// What one wheel alone does at a place. `None` if there is no such wheel or the place is not on
    /// the beam.
    pub fn wheel_alone(&self, wheel: usize, at: Length) -> Option<Response> {
        let down = self.wheels.get(wheel)?.down;
        let loads = vec![Load::Force { at, down }];
        self.analysis.response(0, &Loading { loads }).ok()
    }

    /// The places of the train, times `factor` and with `fixed` acting besides, at which shear,
    /// moment, deflection, a reaction or a fixing moment is largest or smallest: along each part of
    /// the beam between neighbouring `borders`. Every value that changes linearly in one of these
    /// takes its extremes over all places of the train at one of them.
    ///
    /// The values there fall short of the true extremes by at most 10⁻¹⁰ of the largest magnitude
    /// of their kind along the beam.
    ///
    /// # Errors
    /// [`BeamError::IllConditioned`] if the extremes cannot be told that closely.
    pub fn governing(
        &self,
        factor: f64,
        fixed: &Response,
        borders: &[Length],
    ) -> Result<Vec<Standing>, BeamError> {
        let length = self.influence.length();
        let mut ends: Vec<f64> = borders.iter().map(|border| border.si()).collect();
        ends.retain(|x| *x > APART * length && *x < length * (1.0 - APART));
        ends.extend([0.0, length]);
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|next, kept| *next - *kept <= APART * length);
        let mut goals = Vec::new();
        for (part, _) in ends.windows(2).enumerate() {
            goals.extend([Quantity::Shear, Quantity::Moment].map(|q| Of::Along(q, part)));
            if fixed.deflection().is_some() {
                goals.push(Of::Along(Quantity::Deflection, part));
            }
        }
        for (support, reaction) in fixed.reactions().iter().enumerate() {
            goals.push(Of::Reaction(support));
            if reaction.moment.is_some() {
                goals.push(Of::FixingMoment(support));
            }
        }
        self.standings(factor, fixed, &ends, &goals)
    }

    /// The places of the train at which one quantity at one place of the beam is largest or
    /// smallest, on either side of the place; otherwise as [`governing`](Self::governing).
    ///
    /// # Errors
    /// [`BeamError::IllConditioned`] if the extremes cannot be told that closely, or the place is
    /// not on the beam.
    pub fn governing_at(
        &self,
        factor: f64,
        fixed: &Response,
        x: Length,
        what: AtPlace,
    ) -> Result<Vec<Standing>, BeamError> {
        let length = self.influence.length();
        let place = self.analysis.structure.place(x.si());
        let x = place.ok_or(BeamError::IllConditioned)?;
        let quantity = match what {
            AtPlace::Shear => Quantity::Shear,
            AtPlace::Moment => Quantity::Moment,
            AtPlace::Slope => Quantity::Slope,
            AtPlace::Deflection => Quantity::Deflection,
        };
        let sides = [(x > 0.0, Side::Before), (x < length, Side::After)];
        let sides = sides.into_iter().filter(|(is_on, _)| *is_on);
        let goals: Vec<Of> = sides.map(|(_, side)| Of::At(quantity, x, side)).collect();
        self.standings(factor, fixed, &[0.0, length], &goals)
    }

    fn standings(
        &self,
        factor: f64,
        fixed: &Response,
        ends: &[f64],
        goals: &[Of],
    ) -> Result<Vec<Standing>, BeamError> {
        let mut standings: Vec<(f64, f64, Standing)> = Vec::new();
        let ways: &[f64] = if self.both_ways { &[1.0, -1.0] } else { &[1.0] };
        for &way in ways {
            let wheels = self.placed_along(way);
            let search = Search::new(&self.influence, fixed, factor, &wheels, ends);
            for found in search.run(goals)? {
                let (place, standing) = self.settled(way, factor, fixed, ends, &found)?;
                let same = |other: &(f64, f64, Standing)| other.0 == way && other.1 == place;
                if !standings.iter().any(same) {
                    standings.push((way, place, standing));
                }
            }
        }
        Ok(standings
            .into_iter()
            .map(|(_, _, standing)| standing)
            .collect())
    }

    /// The first place that gives what was found: right at a border of the search if that does it,
    /// else just beside. The solved beam confirms the value.
    fn settled(
        &self,
        way: f64,
        factor: f64,
        fixed: &Response,
        ends: &[f64],
        found: &Found,
    ) -> Result<(f64, Standing), BeamError> {
        let beside = BESIDE * self.influence.length();
        let candidates = found.stop.candidates(beside);
        for place in candidates.into_iter().flatten() {
            let standing = self.standing(way, place)?;
            let all = Response::combine(&[(1.0, fixed), (factor, &standing.response)]);
            let all = all.ok_or(BeamError::IllConditioned)?;
            let value = value(&all, &found.goal, ends).ok_or(BeamError::IllConditioned)?;
            let is_last = candidates[1].is_none_or(|inward| inward == place);
            let allowed = if is_last { AGREES } else { 0.1 * AGREES };
            if found.goal.sign * value >= found.value - allowed * found.scale {
                return Ok((place, standing));
            }
        }
        Err(BeamError::IllConditioned)
    }

    /// Distance from the first wheel and load of each, for a train that runs this way round.
    fn placed_along(&self, way: f64) -> Vec<(f64, f64)> {
        let placed = |wheel: &Wheel| (way * wheel.after_first.si(), wheel.down.si());
        self.wheels.iter().map(placed).collect()
    }

    fn standing(&self, way: f64, place: f64) -> Result<Standing, BeamError> {
        let at = |wheel: &Wheel| {
            let x = place + way * wheel.after_first.si();
            self.analysis.structure.place(x).map(Length::from_si)
        };
        let wheels: Vec<Option<Length>> = self.wheels.iter().map(at).collect();
        let force = |(at, wheel): (&Option<Length>, &Wheel)| {
            Some(Load::Force {
                at: (*at)?,
                down: wheel.down,
            })
        };
        let loads = wheels.iter().zip(&self.wheels).filter_map(force).collect();
        let response = self.analysis.response(0, &Loading { loads })?;
        Ok(Standing { wheels, response })
    }
}

/// The value of a goal in a solved beam.
fn value(response: &Response, goal: &Goal, ends: &[f64]) -> Option<f64> {
    fn along<Q: Typed>(diagram: &Diagram<Q>, part: usize, ends: &[f64], sign: f64) -> Option<f64> {
        let (from, to) = (*ends.get(part)?, *ends.get(part + 1)?);
        let Extremes { max, min } =
            diagram.extremes_within(Length::from_si(from), Length::from_si(to))?;
        Some(if sign > 0.0 { max } else { min }.value.si())
    }
    fn at<Q: Typed>(diagram: &Diagram<Q>, x: f64, sign: f64) -> Option<f64> {
        let both = Envelope::at(&[diagram], Length::from_si(x))?;
        let side = if sign > 0.0 { both.max } else { both.min };
        Some(side.extreme.value.si())
    }
    let sign = goal.sign;
    match goal.of {
        Of::Along(Quantity::Shear, part) => along(response.shear(), part, ends, sign),
        Of::Along(Quantity::Moment, part) => along(response.moment(), part, ends, sign),
        Of::Along(Quantity::Slope, part) => along(response.slope()?, part, ends, sign),
        Of::Along(Quantity::Deflection, part) => along(response.deflection()?, part, ends, sign),
        Of::At(Quantity::Shear, x, _) => at(response.shear(), x, sign),
        Of::At(Quantity::Moment, x, _) => at(response.moment(), x, sign),
        Of::At(Quantity::Slope, x, _) => at(response.slope()?, x, sign),
        Of::At(Quantity::Deflection, x, _) => at(response.deflection()?, x, sign),
        Of::Reaction(support) => Some(response.reactions().get(support)?.force.si()),
        Of::FixingMoment(support) => Some(response.reactions().get(support)?.moment?.si()),
    }
}

/// Whether the train is the same the other way round.
fn is_symmetric(wheels: &[Wheel]) -> bool {
    let mut own: Vec<(f64, f64)> = wheels
        .iter()
        .map(|wheel| (wheel.after_first.si(), wheel.down.si()))
        .collect();
    let order = |a: &(f64, f64), b: &(f64, f64)| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1));
    own.sort_by(order);
    let (Some(first), Some(last)) = (own.first(), own.last()) else {
        return true;
    };
    let sum = first.0 + last.0;
    let slack = SAME_PLACE * (last.0 - first.0);
    let mut other: Vec<(f64, f64)> = own.iter().map(|(x, down)| (sum - x, *down)).collect();
    other.sort_by(order);
    own.iter()
        .zip(&other)
        .all(|(a, b)| (a.0 - b.0).abs() <= slack && a.1 == b.1)
}
