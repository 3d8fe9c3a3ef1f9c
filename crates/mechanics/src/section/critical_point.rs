//! Where along a beam normal and shear stress together are worst at one place of the section.
//!
//! As the [search over the section](super::critical): stretches of the beam are divided, the
//! stress in each is bounded from above, and the stretch with the highest bound is divided until a
//! real place reaches it but for [`CLOSE`], or [`MOST_STRETCHES`] are looked at.

use haunch_quantity::typed::{Length, Stress, Typed};

use super::critical::{Equivalent, ForceRange, ForcesAlong};

/// How near the bound has to come to the stress at a place, as a share of it.
const CLOSE: f64 = 1e-8;

/// After so many stretches the search ends.
const MOST_STRETCHES: usize = 2000;

/// The stress at a place of a section for a unit of each force, in Pa per N and Pa per N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointFactors {
    /// Normal stress of an axial force, tension positive.
    pub per_axial: f64,
    /// Normal stress of a moment about the x axis, sagging positive.
    pub per_moment_x: f64,
    /// Normal stress of a moment about the y axis, positive when it stretches the left.
    pub per_moment_y: f64,
    /// Shear stress of an upright shear force.
    pub per_shear: f64,
    /// Shear stress of a sideways shear force. It is added to that of the upright force by its
    /// magnitude, which is never less than the resultant of both.
    pub per_shear_sideways: f64,
}

/// The worst place along a beam for a place of the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstAlong {
    /// At least the stress of the worst place; above it by no more than `excess`.
    pub stress: Stress,
    /// The difference between the stress and that of the place.
    pub excess: Stress,
    /// The place found.
    pub at: Length,
}

/// A stretch with the highest stress that it can have.
#[derive(Clone, Copy)]
struct Stretch {
    from: f64,
    to: f64,
    bound: f64,
}

impl PointFactors {
    /// The highest stress that forces within their ranges can cause.
    ///
    /// It is reached where the ranges are single values. [`Equivalent::Least`] is told as a
    /// magnitude.
    pub fn highest(&self, equivalent: Equivalent, forces: &ForceRange) -> Stress {
        let Self {
            per_axial,
            per_moment_x,
            per_moment_y,
            per_shear,
            per_shear_sideways,
        } = *self;
        let axial = of_range(per_axial, forces.axial);
        let moment_x = of_range(per_moment_x, forces.moment_x);
        let moment_y = of_range(per_moment_y, forces.moment_y);
        let least = axial.0 + moment_x.0 + moment_y.0;
        let greatest = axial.1 + moment_x.1 + moment_y.1;
        let largest = |range: (f64, f64)| range.0.abs().max(range.1.abs());
        let shear = largest(of_range(per_shear, forces.shear))
            + largest(of_range(per_shear_sideways, forces.shear_sideways));
        // Of normal stresses the worst is at an end of their range.
        let ends = [least, greatest].map(|normal| equivalent.of(normal, shear));
        Stress::from_si(ends[0].max(ends[1]))
    }

    /// The highest stress along a beam between the first and the last of the stops, between which
    /// the forces vary smoothly; `None` where forces are not known.
    pub fn worst_along(
        &self,
        equivalent: Equivalent,
        stops: &[Length],
        forces: &dyn ForcesAlong,
    ) -> Option<WorstAlong> {
        let mut best: Option<(f64, f64)> = None;
        let mut look_at = |place: f64, before: bool| -> Option<(f64, f64)> {
            let range = forces.at(Length::from_si(place), before)?;
            let stress = self.highest(equivalent, &range).si();
            if best.is_none_or(|(known, _)| stress > known) {
                best = Some((stress, place));
            }
            best
        };
        let stretch = |from: f64, to: f64| {
            let hull = forces.over(Length::from_si(from), Length::from_si(to))?;
            let ends = hull.iter().map(|own| self.highest(equivalent, own).si());
            let bound = ends.fold(0.0, f64::max);
            Some(Stretch { from, to, bound })
        };
        let mut open = Vec::new();
        for pair in stops.windows(2) {
            let &[from, to] = pair else { continue };
            look_at(from.si(), false)?;
            look_at(to.si(), true)?;
            open.push(stretch(from.si(), to.si())?);
        }
        let mut looked_at = open.len();
        while let Some(index) = highest(&open) {
            let own = open.swap_remove(index);
            let middle = (own.from + own.to) / 2.0;
            let (known, at) = look_at(middle, false)?;
            if own.bound <= known * (1.0 + CLOSE) || looked_at >= MOST_STRETCHES {
                let stress = own.bound.max(known);
                return Some(WorstAlong {
                    stress: Stress::from_si(stress),
                    excess: Stress::from_si(stress - known),
                    at: Length::from_si(at),
                });
            }
            open.push(stretch(own.from, middle)?);
            open.push(stretch(middle, own.to)?);
            looked_at += 2;
        }
        None
    }
}

/// The least and the greatest of a force's stress.
fn of_range<Q: Typed>(factor: f64, range: (Q, Q)) -> (f64, f64) {
    let ends = (factor * range.0.si(), factor * range.1.si());
    (ends.0.min(ends.1), ends.0.max(ends.1))
}

/// The index of the stretch with the highest bound; of equal ones that nearest the start.
fn highest(open: &[Stretch]) -> Option<usize> {
    let order =
        |a: &Stretch, b: &Stretch| a.bound.total_cmp(&b.bound).then(b.from.total_cmp(&a.from));
    let best = open.iter().enumerate().max_by(|a, b| order(a.1, b.1));
    best.map(|(index, _)| index)
}
