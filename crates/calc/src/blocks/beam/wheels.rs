//! Combinations in which wheels run along the beam: each place of the wheels that can govern is a
//! combination of its own.
//!
//! Most of what results and limits look at is linear in one moment, shear or deflection along a
//! part of the beam, or in one reaction, so that the places at which these are extreme are all that
//! can govern. Stresses of several of them have places of their own ([`Running::worst`]). All depend on
//! what acts besides, and are sought again wherever that changes.

use haunch_mechanics::beam::{AtPlace, BeamError, Measure, Response, Standing, Train, Wheel};
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Preferences, Unit};
use smol_str::{SmolStr, format_smolstr};

use super::combinations::StatedCombination;
use super::{Combination, LoadCase};
use crate::blocks::limits::place_text;

/// More wheels on the beam than this are told by the first and the last.
const MOST_PLACES: usize = 4;

/// Wheels at their places.
#[derive(Debug, Clone, PartialEq)]
pub struct StandingWheels {
    /// The case of the wheels, by its index.
    pub case: usize,
    /// Its factor.
    pub factor: f64,
    /// Where each wheel stands, in the order of the line; none for one off the beam.
    pub places: Vec<Option<Length>>,
}

/// A combination in which wheels run along the beam.
#[derive(Debug, Clone, PartialEq)]
pub struct Running {
    /// Everything else in it.
    pub(super) others: Combination,
    /// The case of the wheels, by its index.
    pub(super) case: usize,
    pub(super) factor: f64,
    train: Train,
    name: SmolStr,
    /// The ends of spans and of stretches of one section.
    borders: Vec<Length>,
    pub(super) shown: Shown,
}

/// What acts besides wheels, and how often they count.
#[derive(Debug, Clone, Copy)]
pub(super) struct Besides<'a> {
    pub(super) upright: &'a Response,
    pub(super) sideways: Option<&'a Response>,
    /// Of the wheels.
    pub(super) factor: f64,
}

/// Where wheels are worst for a limit on a stress of several moments and shears.
#[derive(Debug, Clone, PartialEq)]
pub struct WorstStanding {
    /// The limit, by its index.
    pub(super) limit: usize,
    /// The stretch of one section along which it was sought, by its index.
    pub(super) stretch: usize,
    /// The combination's name.
    pub(super) name: Option<SmolStr>,
    /// The wheels there.
    pub(super) combinations: Vec<Combination>,
    /// The utilisation that no place of the wheels exceeds; not a number where it is not known.
    pub(super) bound: f64,
}

/// How places are told.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shown {
    pub(super) unit: Option<Unit>,
    pub(super) preferences: Preferences,
}

/// The cases with wheels in a combination.
pub(super) fn cases_with_wheels<'a>(
    stated: &'a StatedCombination,
    cases: &'a [LoadCase],
) -> impl Iterator<Item = (usize, f64, &'a Train)> {
    let all = cases.iter().enumerate();
    all.filter_map(|(index, case)| {
        let factor = stated.factors.get(&case.name)?;
        Some((index, *factor, case.train.as_ref()?))
    })
}

impl Running {
    pub(super) fn new(
        others: Combination,
        (case, factor, train): (usize, f64, &Train),
        cases: &[LoadCase],
        borders: &[Length],
        shown: &Shown,
    ) -> Running {
        Running {
            others,
            case,
            factor,
            train: train.clone(),
            name: cases.get(case).map(|c| c.name.clone()).unwrap_or_default(),
            borders: borders.to_vec(),
            shown: shown.clone(),
        }
    }

    /// What acts besides, and the factor of the wheels, as they are stated.
    pub(super) fn as_stated(&self) -> Besides<'_> {
        Besides {
            upright: &self.others.response,
            sideways: self.others.sideways.as_ref(),
            factor: self.factor,
        }
    }

    /// The combinations that can govern, with the wheels and everything else at their stated size.
    pub(super) fn combinations(&self) -> Result<Vec<Combination>, BeamError> {
        self.combinations_with(&self.as_stated())
    }

    /// The same with other loads besides.
    pub(super) fn combinations_with(
        &self,
        besides: &Besides<'_>,
    ) -> Result<Vec<Combination>, BeamError> {
        let Besides {
            upright, factor, ..
        } = *besides;
        let standings = self.train.governing(factor, upright, &self.borders)?;
        let combined = standings.into_iter().map(|own| self.combined(besides, own));
        combined.collect()
    }

    /// For each measure where the wheels are worst: its bound, and the combinations that reach it.
    pub(super) fn worst(
        &self,
        besides: &Besides<'_>,
        measures: &[Measure<'_>],
    ) -> Result<Vec<(f64, Vec<Combination>)>, BeamError> {
        let Besides {
            upright,
            sideways,
            factor,
        } = *besides;
        let found = self.train.worst(factor, upright, sideways, measures)?;
        let of = |worst: haunch_mechanics::beam::Worst| {
            let standings = worst.standings.into_iter();
            let combined = standings.map(|own| self.combined(besides, own));
            Ok((worst.bound, combined.collect::<Result<_, BeamError>>()?))
        };
        found.into_iter().map(of).collect()
    }

    fn combined(
        &self,
        besides: &Besides<'_>,
        standing: Standing,
    ) -> Result<Combination, BeamError> {
        let response = together(besides.upright, besides.factor, &standing.response)?;
        let own = self.words(&standing.wheels);
        let pattern = match &self.others.pattern {
            Some(others) => format_smolstr!("{others} and {own}"),
            None => own,
        };
        Ok(Combination {
            pattern: Some(pattern),
            wheels: Some(StandingWheels {
                case: self.case,
                factor: besides.factor,
                places: standing.wheels,
            }),
            response,
            sideways: besides.sideways.cloned(),
            ..self.others.clone()
        })
    }

    /// What can govern at one place of the beam.
    pub(super) fn responses_at(
        &self,
        x: Length,
        what: AtPlace,
    ) -> Result<Vec<Response>, BeamError> {
        let fixed = &self.others.response;
        let standings = self.train.governing_at(self.factor, fixed, x, what)?;
        standings
            .iter()
            .map(|standing| together(fixed, self.factor, &standing.response))
            .collect()
    }

    /// `trolley at 2.1 m and 3.9 m`
    fn words(&self, places: &[Option<Length>]) -> SmolStr {
        let at = |x: &Length| place_text(x.si(), self.shown.unit.as_ref(), &self.shown.preferences);
        let on_beam: Vec<(usize, String)> = places
            .iter()
            .enumerate()
            .filter_map(|(index, x)| Some((index + 1, at(x.as_ref()?))))
            .collect();
        let name = &self.name;
        let (Some((first, first_at)), Some((last, last_at))) = (on_beam.first(), on_beam.last())
        else {
            return format_smolstr!("{name} off the beam");
        };
        let where_each: Vec<&str> = on_beam.iter().map(|(_, at)| at.as_str()).collect();
        let places_of_all = match where_each.as_slice() {
            [only] => format!("at {only}"),
            [others @ .., last] if on_beam.len() <= MOST_PLACES => {
                format!("at {} and {last}", others.join(", "))
            }
            _ => format!("from {first_at} to {last_at}"),
        };
        if on_beam.len() == places.len() {
            return format_smolstr!("{name} {places_of_all}");
        }
        let which = if first == last {
            format!("wheel {first}")
        } else {
            format!("wheels {first} to {last}")
        };
        format_smolstr!("{name} with {which} {places_of_all}")
    }
}

fn together(fixed: &Response, factor: f64, wheels: &Response) -> Result<Response, BeamError> {
    Response::combine(&[(1.0, fixed), (factor, wheels)]).ok_or(BeamError::IllConditioned)
}

impl LoadCase {
    /// The wheels that run along the beam in this case.
    pub fn wheels(&self) -> &[Wheel] {
        self.train.as_ref().map_or(&[], Train::wheels)
    }
}
