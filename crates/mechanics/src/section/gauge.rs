//! Normal and shear stress together in a whole section, told for any moment and shear.
//!
//! The worst stress of a section grows in proportion to the forces and is convex in them, so that the
//! forces that cause the same stress lie on a convex curve. A polygon inside that curve gives a stress
//! that is never too small: between two of its corners the stress is at most the sum of theirs.

use haunch_quantity::typed::{Force, Length, Moment, Stress, Typed};

use super::Section;
use super::critical::{Equivalent, ForceRange};
use super::stress::Forces;

/// The worst stress of some parts of a section under an upright moment and shear force: never too
/// small, and too large by [`StressGauge::EXCESS`] at most.
#[derive(Clone, Debug, PartialEq)]
pub struct StressGauge {
    /// In N·m and N: what brings each axis of the polygon to about 1.
    scale: (f64, f64),
    /// Moments and shears that cause a stress of 1 Pa, from the positive moment to the negative one.
    corners: Vec<(f64, f64)>,
}

/// How near the stress of each corner comes to that of a place.
const CLOSE: f64 = 0.05 * StressGauge::EXCESS;

/// More corners than this mean that the curve is not found.
const MOST_CORNERS: usize = 400;

impl StressGauge {
    /// What the stress is too large by at most, as a share of it.
    pub const EXCESS: f64 = 1e-3;

    /// The stress. Of the shear only its magnitude counts.
    pub fn stress(&self, moment: Moment, shear: Force) -> Stress {
        let forces = (moment.si() / self.scale.0, shear.si().abs() / self.scale.1);
        // The corners run round the origin from a positive moment to a negative one.
        let next = self
            .corners
            .partition_point(|own| across(*own, forces) > 0.0);
        let next = next.clamp(1, self.corners.len() - 1);
        let (one, other) = (self.corners[next - 1], self.corners[next]);
        let whole = across(one, other);
        Stress::from_si((across(forces, other) + across(one, forces)) / whole)
    }
}

/// The area that two vectors span, positive where the second lies to the left of the first.
fn across(one: (f64, f64), other: (f64, f64)) -> f64 {
    one.0 * other.1 - one.1 * other.0
}

impl Section {
    /// The worst stress of some parts under any moment and shear; `None` where a shear stress is not
    /// known or the stress cannot be told that closely.
    pub fn stress_gauge(&self, parts: &[usize], equivalent: Equivalent) -> Option<StressGauge> {
        let stress = |moment: f64, shear: f64| {
            let forces = Forces::bending(Moment::from_si(moment));
            let range = ForceRange::constant(&forces, Force::from_si(shear));
            let stops = [Length::from_si(0.0); 2];
            let found = self.critical_stress_within(parts, equivalent, &stops, &range, CLOSE);
            let found = found.ok()?;
            let (stress, excess) = (found.stress.si(), found.excess.si());
            let is_known = stress > 0.0 && excess <= 0.1 * StressGauge::EXCESS * stress;
            is_known.then_some(stress)
        };
        let scale = (
            1.0 / stress(1.0, 0.0)?.max(stress(-1.0, 0.0)?),
            1.0 / stress(0.0, 1.0)?,
        );
        let corner = |(a, b): (f64, f64)| {
            let found = stress(a * scale.0, b * scale.1)?;
            Some((a / found, b / found))
        };
        let mut waiting = vec![corner((-1.0, 0.0))?, corner((0.0, 1.0))?];
        let mut corners = vec![corner((1.0, 0.0))?];
        while let (Some(&one), Some(&other)) = (corners.last(), waiting.last()) {
            let middle = (0.5 * (one.0 + other.0), 0.5 * (one.1 + other.1));
            let between = corner(middle)?;
            // How far the stress falls below 1 in the middle of the chord; nowhere along it does
            // it fall by more than twice of that, since it is convex.
            let sag = 1.0 - middle.0.abs().max(middle.1) / between.0.abs().max(between.1);
            if sag <= 0.4 * StressGauge::EXCESS {
                corners.push(other);
                waiting.pop();
            } else if corners.len() + waiting.len() < MOST_CORNERS {
                waiting.push(between);
            } else {
                return None;
            }
        }
        Some(StressGauge { scale, corners })
    }
}
