//! The shapes that a section is put together from.

use haunch_quantity::typed::{Length, Typed};

use super::outline::{Bounds, Outline, Point};
use super::problem::{ShapeProblem, Size};
use super::region::Region;

/// A shape in its place.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// An upright rectangle.
    Rectangle {
        /// x of the left side.
        left: Length,
        /// y of the lower side.
        bottom: Length,
        /// Breadth, more than 0.
        width: Length,
        /// Height, more than 0.
        height: Length,
    },
    /// A full circle.
    Circle {
        /// The centre.
        centre: Point,
        /// Diameter, more than 0.
        diameter: Length,
    },
    /// A round tube.
    Tube {
        /// The centre.
        centre: Point,
        /// Outer diameter, more than 0.
        diameter: Length,
        /// Wall thickness, more than 0 and at most half the diameter.
        thickness: Length,
    },
    /// A full ellipse whose axes are level and upright; drawn by circular arcs that follow it
    /// closely, see [`LONGEST_ELLIPSE`](super::LONGEST_ELLIPSE) for its proportions.
    Ellipse {
        /// The centre.
        centre: Point,
        /// The level axis, more than 0.
        width: Length,
        /// The upright axis, more than 0.
        height: Length,
    },
    /// Straight sides from corner to corner, either way round; the last corner joins the first.
    Polygon(Vec<Point>),
    /// Straight sides and circular arcs, with or without holes.
    Outline(Outline),
}

impl Shape {
    /// The shape moved to the right and up.
    #[must_use]
    pub fn moved(self, right: Length, up: Length) -> Self {
        let shift = |place: Point| Point::new(place.x + right, place.y + up);
        match self {
            Self::Rectangle {
                left,
                bottom,
                width,
                height,
            } => Self::Rectangle {
                left: left + right,
                bottom: bottom + up,
                width,
                height,
            },
            Self::Circle { centre, diameter } => Self::Circle {
                centre: shift(centre),
                diameter,
            },
            Self::Tube {
                centre,
                diameter,
                thickness,
            } => Self::Tube {
                centre: shift(centre),
                diameter,
                thickness,
            },
            Self::Ellipse {
                centre,
                width,
                height,
            } => Self::Ellipse {
                centre: shift(centre),
                width,
                height,
            },
            Self::Polygon(corners) => Self::Polygon(corners.into_iter().map(shift).collect()),
            Self::Outline(outline) => Self::Outline(outline.moved(right, up)),
        }
    }

    /// The outline, which can be turned and mirrored.
    ///
    /// # Errors
    /// A size that is not positive or not finite, a wall thicker than the radius, fewer than
    /// three corners.
    pub fn outline(&self) -> Result<Outline, ShapeProblem> {
        match self {
            Self::Rectangle {
                left,
                bottom,
                width,
                height,
            } => {
                positive(*width, Size::Width)?;
                positive(*height, Size::Height)?;
                let (right, top) = (*left + *width, *bottom + *height);
                Ok(Outline::starting_at(Point::new(*left, *bottom))
                    .line_to(Point::new(right, *bottom))
                    .line_to(Point::new(right, top))
                    .line_to(Point::new(*left, top))
                    .close())
            }
            Self::Circle { centre, diameter } => {
                positive(*diameter, Size::Diameter)?;
                Ok(Outline::circle(*centre, *diameter / 2.0))
            }
            Self::Tube {
                centre,
                diameter,
                thickness,
            } => {
                positive(*diameter, Size::Diameter)?;
                positive(*thickness, Size::Thickness)?;
                let inner = *diameter / 2.0 - *thickness;
                let outer = Outline::circle(*centre, *diameter / 2.0);
                // A wall as thick as the radius but for rounding makes a full circle.
                if inner.si().abs() <= 1e-12 * diameter.si() {
                    Ok(outer)
                } else if inner.si() < 0.0 {
                    Err(ShapeProblem::WallThickerThanRadius)
                } else {
                    Ok(outer.with_hole(Outline::circle(*centre, inner)))
                }
            }
            Self::Ellipse {
                centre,
                width,
                height,
            } => {
                positive(*width, Size::Width)?;
                positive(*height, Size::Height)?;
                Outline::ellipse(*centre, *width, *height)
            }
            Self::Polygon(corners) => match corners.as_slice() {
                [first, rest @ ..] if rest.len() >= 2 => Ok(rest
                    .iter()
                    .fold(Outline::starting_at(*first), |path, corner| {
                        path.line_to(*corner)
                    })
                    .close()),
                _ => Err(ShapeProblem::TooFewCorners),
            },
            Self::Outline(outline) => Ok(outline.clone()),
        }
    }

    /// The smallest upright rectangle round the shape.
    ///
    /// # Errors
    /// What is wrong with the shape, if anything.
    pub fn bounds(&self) -> Result<Bounds, ShapeProblem> {
        let region = self.region()?;
        let extent = region.extent().ok_or(ShapeProblem::NoArea)?;
        Ok(Bounds::from_extent(extent))
    }

    /// The region that the shape covers.
    pub(super) fn region(&self) -> Result<Region, ShapeProblem> {
        self.outline()?.checked()
    }
}

fn positive(length: Length, size: Size) -> Result<(), ShapeProblem> {
    match length.si() {
        value if !value.is_finite() => Err(ShapeProblem::NotFinite),
        value if value <= 0.0 => Err(ShapeProblem::NotPositive(size)),
        _ => Ok(()),
    }
}
