//! Plastic neutral axes, plastic moduli and shape factors.

use haunch_quantity::typed::{FirstMomentOfArea, Length, Ratio, Typed};

use super::levels::{Levels, Strip};
use super::problem::NoResult;
use super::{Section, Side};

/// Bending about one axis with the whole section at one yield stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plastic {
    /// Where the axis lies that halves the area: y for bending about the x axis, x for bending
    /// about the y axis. Where a stretch without material halves it, the middle of the stretch.
    pub neutral_axis: Length,
    /// The first moments of both halves about that axis, added: the plastic moment over the
    /// yield stress.
    pub modulus: FirstMomentOfArea,
    /// The plastic modulus over the smaller of the two elastic section moduli.
    pub shape_factor: Ratio,
}

impl Section {
    /// Plastic bending about the level axis.
    ///
    /// Bending is taken to be about that axis alone: where Ixy is not 0, a section held in this
    /// way needs a restraint sideways.
    ///
    /// # Errors
    /// [`NoResult::SeveralMaterials`] where modular ratios differ.
    pub fn plastic_x(&self) -> Result<Plastic, NoResult> {
        self.plastic(
            &self.levels,
            self.moments.centroid.y,
            [Side::Top, Side::Bottom],
        )
    }

    /// Plastic bending about the upright axis.
    ///
    /// # Errors
    /// As [`Section::plastic_x`].
    pub fn plastic_y(&self) -> Result<Plastic, NoResult> {
        self.plastic(
            &self.levels_sideways,
            self.moments.centroid.x,
            [Side::Left, Side::Right],
        )
    }

    fn plastic(&self, levels: &Levels, origin: f64, sides: [Side; 2]) -> Result<Plastic, NoResult> {
        let ratio = self.single_ratio().ok_or(NoResult::SeveralMaterials)?;
        let axis = halving_level(levels, self.moments.area / 2.0).ok_or(NoResult::Outside)?;
        let above = levels.at(axis).above.above;
        let moment_above = above.y - above.area * axis;
        // The whole area lies with its centroid at 0, so its moment about the axis is −A·axis.
        let modulus = (2.0 * moment_above + self.moments.area * axis) / ratio;
        let elastic = sides.map(|side| self.section_modulus(side).si() / ratio);
        Ok(Plastic {
            neutral_axis: Length::from_si(origin + axis),
            modulus: FirstMomentOfArea::from_si(modulus),
            shape_factor: Ratio::from_si(modulus / elastic[0].min(elastic[1])),
        })
    }
}

/// The level with this much area above it; `None` where nothing is cut.
fn halving_level(levels: &Levels, half: f64) -> Option<f64> {
    let strips = levels.strips();
    let excess = |strip: &Strip, y: f64| strip.cut(y).above.area - half;
    let least = 1e-13 * half;
    // Where levels halve the area but for rounding, the axis may lie anywhere between them.
    let ends = strips
        .iter()
        .flat_map(|strip| [strip.top, strip.bottom].map(|y| (excess(strip, y).abs(), y)));
    let halving: Vec<f64> = ends
        .filter(|(off, _)| *off <= least)
        .map(|(_, y)| y)
        .collect();
    if let (Some(high), Some(low)) = (halving.first(), halving.last()) {
        return Some((high + low) / 2.0);
    }
    let strip = strips
        .iter()
        .find(|strip| excess(strip, strip.bottom) > 0.0)?;
    Some(halving_within(strip, half))
}

/// Newton's method on the area above, whose slope is the width, kept within ever closer bounds.
fn halving_within(strip: &Strip, half: f64) -> f64 {
    let (mut low, mut high) = (strip.bottom, strip.top);
    let mut y = (low + high) / 2.0;
    // Bisection alone would use up the digits of a number in about 60 steps.
    for _ in 0..80 {
        let cut = strip.cut(y);
        let excess = cut.above.area - half;
        if excess > 0.0 {
            low = y;
        } else {
            high = y;
        }
        let step = y + excess / cut.weighted_width;
        let next = if step > low && step < high {
            step
        } else {
            (low + high) / 2.0
        };
        if next == y || excess == 0.0 {
            break;
        }
        y = next;
    }
    y
}
