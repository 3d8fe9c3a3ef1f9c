//! Triangles and quarter fillets.

use haunch_quantity::typed::{Length, Typed};

use super::corners::{outline, point, sharp};
use super::size::{SizeName, SizeProblem, finite, positive};
use crate::section::{Outline, Sense};

/// A triangle that stands on a level side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Triangle {
    /// Length of the level side.
    pub width: Length,
    /// Height of the apex above it.
    pub height: Length,
    /// How far the apex lies to the right of the left end of the level side; 0 for a right angle
    /// on the left. It may lie beyond the ends: the shape then reaches to the left of x = 0 or to
    /// the right of the width.
    pub apex: Length,
}

impl Triangle {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let width = positive(SizeName::Width, self.width)?;
        let height = positive(SizeName::Height, self.height)?;
        let apex = finite(SizeName::Apex, self.apex.si())?;
        Ok(outline(&[
            sharp(0.0, 0.0),
            sharp(width, 0.0),
            sharp(apex, height),
        ]))
    }
}

/// What fills a right-angled inner corner up to a quarter of a circle that touches both sides:
/// the corner at the origin, its sides along the axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct QuarterFillet {
    /// Radius of the circle, and length of both sides.
    pub radius: Length,
}

impl QuarterFillet {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let radius = positive(SizeName::Radius, self.radius)?;
        Ok(Outline::starting_at(point((0.0, 0.0)))
            .line_to(point((radius, 0.0)))
            .arc_to(
                point((0.0, radius)),
                point((radius, radius)),
                Sense::Clockwise,
            )
            .close())
    }
}
