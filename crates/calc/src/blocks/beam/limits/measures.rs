//! How much of a limit on a stress the moments and shears at a place use: what the worst place of
//! wheels is sought for.
//!
//! Each measure is convex in the forces and never too small. Of normal and shear stress together it is
//! too large by [`StressGauge::EXCESS`] at most; what acts sideways adds to that with its own largest
//! stress in the section, wherever it is.

use haunch_mechanics::beam::{BendingForces, Measure};
use haunch_mechanics::section::{Equivalent, ForceRange, Forces, PointFactors, StressGauge};
use haunch_quantity::typed::{Force, Length, Moment, Typed};

use super::super::wheels::{Besides, Running, WorstStanding};
use super::super::{BeamModel, BentSection, oblique};
use super::BeamLimit;
use crate::blocks::limits::LimitSubject;
use crate::blocks::material::{MaterialLimit, StressLimit};

/// How much of a limit forces use.
type Used<'a> = Box<dyn Fn(&BendingForces) -> f64 + 'a>;

impl BeamModel {
    /// Where wheels are worst for the limits on stresses of several moments and shears.
    pub(in crate::blocks::beam) fn worst_of(
        &self,
        running: &Running,
        besides: &Besides<'_>,
    ) -> Vec<WorstStanding> {
        let name = running.others.name.as_ref();
        let acts_sideways = besides.sideways.is_some_and(oblique::acts);
        let mut standings = Vec::new();
        let mut asked: Vec<Asked<'_>> = Vec::new();
        for (index, limit) in self.limits.iter().enumerate() {
            if !(limit.applies(name) && limit.is_of_several(acts_sideways)) {
                continue;
            }
            for (stretch, own) in self.stretches.iter().enumerate() {
                let from = own.from.si().max(limit.within.0.si());
                let to = own.to.si().min(limit.within.1.si());
                let bent = self.sections.get(own.section);
                let Some(bent) = bent.filter(|_| from < to) else {
                    continue;
                };
                if let Some(used) = limit.used(bent, acts_sideways) {
                    asked.push(Asked {
                        standing: standings.len(),
                        used,
                        from: Length::from_si(from),
                        to: Length::from_si(to),
                    });
                }
                standings.push(WorstStanding {
                    limit: index,
                    stretch,
                    name: name.cloned(),
                    combinations: Vec::new(),
                    bound: f64::NAN,
                });
            }
        }
        let mut measures = Vec::with_capacity(asked.len());
        for own in &asked {
            measures.push(Measure {
                from: own.from,
                to: own.to,
                of: &own.used,
            });
        }
        let Ok(found) = running.worst(besides, &measures) else {
            return standings;
        };
        for (own, (bound, combinations)) in asked.iter().zip(found) {
            if let Some(standing) = standings.get_mut(own.standing) {
                standing.bound = bound;
                standing.combinations = combinations;
            }
        }
        standings
    }
}

/// What is sought along a stretch.
struct Asked<'a> {
    /// The index of its standing.
    standing: usize,
    used: Used<'a>,
    from: Length,
    to: Length,
}

impl BeamLimit {
    /// The smallest bound in a grade of material.
    fn bound_in(&self, limits: &[MaterialLimit]) -> Option<f64> {
        if let Some((bound, _)) = self.stated.bound {
            return Some(bound.si());
        }
        let own = limits
            .iter()
            .filter(|limit| LimitSubject::Stress(limit.subject) == self.stated.subject);
        own.map(|limit| limit.bound.si()).reduce(f64::min)
    }

    /// None where it is not known.
    fn used<'a>(&self, bent: &'a BentSection, acts_sideways: bool) -> Option<Used<'a>> {
        let LimitSubject::Stress(subject) = self.stated.subject else {
            return None;
        };
        let section = &bent.section;
        // One place of shear for each grade.
        let bounds: Vec<Option<f64>> = section
            .shear
            .iter()
            .map(|place| self.bound_in(&place.limits))
            .collect();
        if let Some(equivalent) = subject.together() {
            let gauges = section.gauges(equivalent)?;
            let sideways = SidewaysStress { bent, equivalent };
            return Some(Box::new(move |forces| {
                let stresses =
                    gauges
                        .iter()
                        .enumerate()
                        .map(|(grade, gauge): (usize, &StressGauge)| {
                            let upright = gauge.stress(forces.moment, forces.shear).si();
                            match acts_sideways {
                                true => upright + sideways.of_grade(grade, forces),
                                false => upright,
                            }
                        });
                most_used(stresses, &bounds)
            }));
        }
        match subject {
            StressLimit::Shear => Some(Box::new(move |forces| {
                let stresses = section.shear.iter().map(|place| {
                    place.per_shear * forces.shear.si().abs()
                        + place.per_shear_sideways * forces.shear_sideways.si().abs()
                });
                most_used(stresses, &bounds)
            })),
            _ => {
                let sense = if subject == StressLimit::Compression {
                    -1.0
                } else {
                    1.0
                };
                let bounds = self.normal_bounds(bent);
                Some(Box::new(move |forces| {
                    let (moment, moment_y) = (forces.moment.si(), forces.moment_sideways.si());
                    let stresses = section.greatest_stresses(moment, moment_y, sense);
                    most_used(stresses.into_iter(), &bounds)
                }))
            }
        }
    }

    /// The bound in each grade of material of a section, for normal stress.
    fn normal_bounds(&self, bent: &BentSection) -> Vec<Option<f64>> {
        let limits = bent.section.limits_of_grades();
        limits.iter().map(|own| self.bound_in(own)).collect()
    }
}

/// The largest of the shares that stresses use of their bounds.
fn most_used(stresses: impl Iterator<Item = f64>, bounds: &[Option<f64>]) -> f64 {
    let used = stresses
        .zip(bounds)
        .filter_map(|(stress, bound)| Some(stress / (*bound)?));
    used.fold(0.0, |most, own| {
        if own > most || own.is_nan() {
            own
        } else {
            most
        }
    })
}

/// The stress of a sideways moment and shear in a section: the largest normal stress and the largest
/// shear stress together, wherever each of them is.
struct SidewaysStress<'a> {
    bent: &'a BentSection,
    equivalent: Equivalent,
}

impl SidewaysStress<'_> {
    fn of_grade(&self, grade: usize, forces: &BendingForces) -> f64 {
        let section = &self.bent.section;
        let moment = forces.moment_sideways.si();
        let normal = [1.0, -1.0].map(|sense| {
            let all = section.greatest_stresses(0.0, moment, sense);
            all.get(grade).copied().unwrap_or(f64::NAN)
        });
        let shear = section
            .shear
            .get(grade)
            .map(|place| place.per_shear_sideways);
        let factors = PointFactors {
            per_axial: 1.0,
            per_moment_x: 0.0,
            per_moment_y: 0.0,
            per_shear: shear.unwrap_or(f64::NAN),
            per_shear_sideways: 0.0,
        };
        // The greater of both magnitudes, whichever its sign.
        let largest = Force::from_si(normal[0].max(normal[1]));
        let still = Forces::bending(Moment::from_si(0.0));
        let range = ForceRange {
            axial: (-largest, largest),
            ..ForceRange::constant(&still, forces.shear_sideways)
        };
        factors.highest(self.equivalent, &range).si()
    }
}
