//! Triangles, trapeziums, ellipses and quarter fillets.

use haunch_quantity::typed::{Length, Typed};

use super::corners::{outline, point, sharp};
use super::size::{SizeName, SizeProblem, at_most, finite, positive};
use crate::section::{LONGEST_ELLIPSE, Outline, Sense, Shape};

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

/// A trapezium with two level sides and an upright axis of symmetry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trapezium {
    /// Length of the lower level side.
    pub width: Length,
    /// Length of the upper level side.
    pub top_width: Length,
    /// From one to the other.
    pub height: Length,
}

impl Trapezium {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let width = positive(SizeName::Width, self.width)?;
        let top = positive(SizeName::TopWidth, self.top_width)?;
        let height = positive(SizeName::Height, self.height)?;
        let widest = width.max(top);
        let (below, above) = ((widest - width) / 2.0, (widest - top) / 2.0);
        Ok(outline(&[
            sharp(below, 0.0),
            sharp(below + width, 0.0),
            sharp(above + top, height),
            sharp(above, height),
        ]))
    }
}

/// A full ellipse whose axes are level and upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// The level axis.
    pub width: Length,
    /// The upright axis.
    pub height: Length,
}

impl Ellipse {
    /// The shape.
    ///
    /// # Errors
    /// The size that is impossible: one axis may be at most [`LONGEST_ELLIPSE`] times the other.
    pub fn shape(&self) -> Result<Shape, SizeProblem> {
        let width = positive(SizeName::Width, self.width)?;
        let height = positive(SizeName::Height, self.height)?;
        at_most(SizeName::Width, width, LONGEST_ELLIPSE * height, width)?;
        at_most(SizeName::Height, height, LONGEST_ELLIPSE * width, height)?;
        Ok(Shape::Ellipse {
            centre: point((width / 2.0, height / 2.0)),
            width: self.width,
            height: self.height,
        })
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
