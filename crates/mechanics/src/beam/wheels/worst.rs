//! Where wheels stand when something convex in moments and shears is largest, such as a stress of all
//! of them together.
//!
//! Moments and shears over a part of the beam and a part of the train's way lie within the convex
//! hull of the control points of their polynomials, so that the measure is nowhere larger than at one
//! of these. The parts are halved as for a single quantity ([`super::search`]).

use super::super::diagram::Side;
use super::super::error::BeamError;
use super::super::response::Response;
use super::patch::{Basis, Patch, Surface};
use super::search::{Cell, Hunt, Quantity, Sampled, Search, Stop};
use super::{BESIDE, Standing, Train};
use haunch_quantity::typed::{Force, Length, Moment, Typed};

/// How near the bound comes to a value that was found, as a share of it.
const CLOSE: f64 = 1e-11;
/// Of the largest bound there is: below it values differ by rounding.
const ROUNDING: f64 = 1e-12;
/// Both ways round are equally bad if they differ by less than this share.
const EQUAL: f64 = 1e-9;
/// Both moments are of this degree along the beam, and no shear of a higher one.
const DEGREE: usize = 3;

/// Moments and shears at a place of the beam, both ways; those sideways 0 where nothing acts there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendingForces {
    /// About the level axis, sagging positive.
    pub moment: Moment,
    /// Upright.
    pub shear: Force,
    /// About the upright axis.
    pub moment_sideways: Moment,
    /// Sideways.
    pub shear_sideways: Force,
}

impl BendingForces {
    fn of([moment, shear, moment_sideways, shear_sideways]: [f64; 4]) -> Self {
        Self {
            moment: Moment::from_si(moment),
            shear: Force::from_si(shear),
            moment_sideways: Moment::from_si(moment_sideways),
            shear_sideways: Force::from_si(shear_sideways),
        }
    }
}

/// Something that is to be as large as it can be along a part of the beam: convex in the forces, and
/// nothing without them.
pub struct Measure<'a> {
    /// Where the part begins.
    pub from: Length,
    /// Where it ends; the same place for both sides of one place.
    pub to: Length,
    /// What is measured.
    pub of: &'a dyn Fn(&BendingForces) -> f64,
}

/// The worst that wheels can do.
#[derive(Debug, Clone, PartialEq)]
pub struct Worst {
    /// No place of the train gives more, and the best of these standings gives less by one
    /// part in 10¹⁰ at most.
    pub bound: f64,
    /// The train at its worst place; also just beside it where it stands at a border.
    pub standings: Vec<Standing>,
}

/// A measure on a part of the beam and of the train's way.
struct Measured<'a> {
    /// Moment, shear, and both sideways where anything acts there.
    patches: Vec<Patch>,
    of: &'a dyn Fn(&BendingForces) -> f64,
}

impl Measured<'_> {
    fn at(&self, control: usize) -> f64 {
        let mut forces = [0.0; 4];
        for (force, patch) in forces.iter_mut().zip(&self.patches) {
            *force = patch.controls().get(control).copied().unwrap_or(f64::NAN);
        }
        (self.of)(&BendingForces::of(forces))
    }
}

impl Surface for Measured<'_> {
    fn bound(&self) -> f64 {
        let count = self.patches.first().map_or(0, |p| p.controls().len());
        let all = (0..count).map(|control| self.at(control));
        all.fold(f64::NEG_INFINITY, f64::max)
    }

    fn corners(&self) -> [f64; 2] {
        let indices = self.patches.first().map(Patch::corner_indices);
        let ends = indices.unwrap_or_default();
        ends.map(|[one, other]| self.at(one).max(self.at(other)))
    }

    fn bends_along_u(&self) -> bool {
        let (mut along_u, mut along_t) = (0.0, 0.0);
        for (index, patch) in self.patches.iter().enumerate() {
            // What a second difference of this force alone comes to.
            let alone = |size: f64| {
                let mut forces = [0.0; 4];
                forces[index] = size;
                let up = (self.of)(&BendingForces::of(forces));
                forces[index] = -size;
                up.max((self.of)(&BendingForces::of(forces)))
            };
            let (u, t) = patch.bends();
            along_u += alone(u);
            along_t += alone(t);
        }
        along_u >= along_t
    }

    fn halves(&self, along_u: bool) -> [Self; 2] {
        let (mut first, mut second) = (Vec::new(), Vec::new());
        for patch in &self.patches {
            let [one, other] = patch.halves(along_u);
            first.push(one);
            second.push(other);
        }
        [first, second].map(|patches| Self {
            patches,
            of: self.of,
        })
    }
}

impl Train {
    /// For each measure where the train, its loads times `factor`, is worst with `fixed` and
    /// `sideways` acting besides.
    ///
    /// # Errors
    /// [`BeamError::IllConditioned`] if a place cannot be told closely enough.
    pub fn worst(
        &self,
        factor: f64,
        fixed: &Response,
        sideways: Option<&Response>,
        measures: &[Measure<'_>],
    ) -> Result<Vec<Worst>, BeamError> {
        let ends = [0.0, self.influence.length()];
        let ways: &[f64] = if self.both_ways { &[1.0, -1.0] } else { &[1.0] };
        let mut best: Vec<Option<(f64, f64, Stop)>> = vec![None; measures.len()];
        for &way in ways {
            let wheels = self.placed_along(way);
            let search = Search::new(&self.influence, fixed, factor, &wheels, &ends);
            for (known, (bound, stop)) in best.iter_mut().zip(hunted(&search, sideways, measures)?)
            {
                if known.is_none_or(|(other, ..)| bound > other * (1.0 + EQUAL)) {
                    *known = Some((bound, way, stop));
                }
            }
        }
        let worst = |found: Option<(f64, f64, Stop)>| {
            let (bound, way, stop) = found.ok_or(BeamError::IllConditioned)?;
            let candidates = stop.candidates(BESIDE * self.influence.length());
            let standings = candidates.into_iter().flatten();
            let standings = standings.map(|place| self.standing(way, place));
            Ok(Worst {
                bound,
                standings: standings.collect::<Result<_, BeamError>>()?,
            })
        };
        best.into_iter().map(worst).collect()
    }
}

/// For each measure its bound and the place of the train.
fn hunted(
    search: &Search<'_>,
    sideways: Option<&Response>,
    measures: &[Measure<'_>],
) -> Result<Vec<(f64, Stop)>, BeamError> {
    let mut hunts: Vec<(f64, Hunt<Measured<'_>>)> =
        measures.iter().map(|_| (0.0, Hunt::new())).collect();
    let borders = measures.iter().flat_map(|m| [m.from.si(), m.to.si()]);
    let of_sideways = sideways.map(|own| own.shear().places().map(Typed::si));
    let places = search.places(borders.chain(of_sideways.into_iter().flatten()));
    let mut add = |index: usize, patches: Vec<Patch>, way| {
        if let (Some(measure), Some((largest, hunt))) = (measures.get(index), hunts.get_mut(index))
        {
            let measured = Measured {
                patches,
                of: measure.of,
            };
            *largest = measured.bound().max(*largest);
            hunt.add(measured, way, (0.0, 1.0), 0.0);
        }
    };
    let (along_beam, at_one) = (Basis::new(DEGREE), Basis::new(0));
    for way in search.ways(&places) {
        let sampled = search.sampled(way);
        for cell in search.cells(way, &places) {
            let is_in = |m: &Measure<'_>| m.from.si() < cell.middle && cell.middle < m.to.si();
            let mut patches: Option<Vec<Patch>> = None;
            for index in (0..measures.len()).filter(|&index| is_in(&measures[index])) {
                let own = patches.get_or_insert_with(|| {
                    let all = values(search, &cell, sideways, &along_beam, &sampled);
                    let patch =
                        |values: &Vec<f64>| Patch::new(values, &along_beam, &search.along_train);
                    all.iter().map(patch).collect()
                });
                add(index, own.clone(), way);
            }
        }
        for (index, measure) in measures.iter().enumerate() {
            let x = measure.from.si();
            if measure.from == measure.to {
                for side in search.sides(x) {
                    let all = values_at(search, x, side, sideways, &sampled);
                    let patch =
                        |values: &Vec<f64>| Patch::new(values, &at_one, &search.along_train);
                    add(index, all.iter().map(patch).collect(), way);
                }
            }
        }
    }
    let found = |(largest, mut hunt): (f64, Hunt<Measured<'_>>)| {
        let slack = CLOSE * hunt.best.abs() + ROUNDING * largest;
        hunt.run(slack)?;
        let bound = hunt.best + slack;
        match bound.is_finite() {
            true => Ok((bound, hunt.stop()?)),
            false => Err(BeamError::IllConditioned),
        }
    };
    hunts.into_iter().map(found).collect()
}

/// Moment, shear, and both sideways, over a cell.
fn values(
    search: &Search<'_>,
    cell: &Cell,
    sideways: Option<&Response>,
    along_beam: &Basis,
    sampled: &Sampled,
) -> Vec<Vec<f64>> {
    let mut all: Vec<Vec<f64>> = [Quantity::Moment, Quantity::Shear]
        .map(|quantity| search.values(cell, quantity, along_beam, sampled).all)
        .into();
    if let Some(sideways) = sideways {
        let over = |value: &dyn Fn(f64) -> f64| {
            let trains = |t: &f64| {
                let own = sampled.trains.iter().map(|train| cell.at(*t, *train));
                own.map(value).collect::<Vec<f64>>()
            };
            along_beam
                .places
                .iter()
                .flat_map(trains)
                .collect::<Vec<f64>>()
        };
        all.push(over(&|x| sideways.moment().continued(cell.middle, x)));
        all.push(over(&|x| sideways.shear().continued(cell.middle, x)));
    }
    all
}

/// The same on one side of a place.
fn values_at(
    search: &Search<'_>,
    x: f64,
    side: Side,
    sideways: Option<&Response>,
    sampled: &Sampled,
) -> Vec<Vec<f64>> {
    let mut all: Vec<Vec<f64>> = [Quantity::Moment, Quantity::Shear]
        .map(|quantity| {
            let fixed = search.fixed_at(quantity, x, side);
            let wheels = search.at_place(quantity, x, side, sampled);
            let with = |own: f64| fixed + search.factor * own;
            wheels.into_iter().map(with).collect()
        })
        .into();
    if let Some(sideways) = sideways {
        let x = Length::from_si(x);
        let (moment, shear) = (sideways.moment().at(x, side), sideways.shear().at(x, side));
        for value in [moment.map(Typed::si), shear.map(Typed::si)] {
            all.push(vec![value.unwrap_or(f64::NAN); sampled.trains.len()]);
        }
    }
    all
}
