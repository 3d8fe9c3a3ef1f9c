//! Angles.

use haunch_quantity::typed::Length;

use super::corners::{outline, rounded, sharp};
use super::size::{SizeName, SizeProblem, at_most, less_than, not_negative, positive};
use crate::section::Outline;

/// An angle, its heel at the origin: one leg up, the other to the right, of one thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Angle {
    /// Overall length of the upright leg.
    pub height: Length,
    /// Overall length of the level leg.
    pub width: Length,
    /// Of both legs.
    pub thickness: Length,
    /// Radius of the inner corner.
    pub root_radius: Length,
    /// Radius of the inner edges of both toes; half the root radius for rolled angles of
    /// EN 10056-1.
    pub toe_radius: Length,
}

impl Angle {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let height = positive(SizeName::Height, self.height)?;
        let width = positive(SizeName::Width, self.width)?;
        let thickness = positive(SizeName::Thickness, self.thickness)?;
        let root = not_negative(SizeName::RootRadius, self.root_radius)?;
        let toe = not_negative(SizeName::ToeRadius, self.toe_radius)?;
        let shorter = height.min(width);
        less_than(SizeName::Thickness, thickness, shorter)?;
        let largest = height.max(width);
        at_most(
            SizeName::ToeRadius,
            toe,
            thickness.min(shorter - thickness),
            largest,
        )?;
        at_most(
            SizeName::RootRadius,
            root,
            shorter - thickness - toe,
            largest,
        )?;

        Ok(outline(&[
            sharp(0.0, 0.0),
            sharp(width, 0.0),
            rounded(width, thickness, toe),
            rounded(thickness, thickness, root),
            rounded(thickness, height, toe),
            sharp(0.0, height),
        ]))
    }
}
