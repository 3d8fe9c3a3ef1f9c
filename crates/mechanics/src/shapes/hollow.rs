//! Boxes, hollow rectangles and pipes.

use haunch_quantity::typed::{Length, Typed};

use super::corners::{outline, point, rounded};
use super::size::{SizeName, SizeProblem, at_most, less_than, not_negative, positive};
use crate::section::Outline;

/// A box or hollow rectangle, its corners sharp or rounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HollowRectangle {
    /// Overall.
    pub height: Length,
    /// Overall.
    pub width: Length,
    /// Of both upright walls.
    pub web_thickness: Length,
    /// Of both level walls.
    pub flange_thickness: Length,
    /// Of the four outer corners.
    pub outer_radius: Length,
    /// Of the four inner corners.
    pub inner_radius: Length,
}

impl HollowRectangle {
    /// A hollow rectangle with walls of one thickness.
    pub fn with_equal_walls(
        height: Length,
        width: Length,
        thickness: Length,
        outer_radius: Length,
        inner_radius: Length,
    ) -> Self {
        Self {
            height,
            width,
            web_thickness: thickness,
            flange_thickness: thickness,
            outer_radius,
            inner_radius,
        }
    }

    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible. The outer radius is also limited by the wall that it leaves
    /// at the corners.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let height = positive(SizeName::Height, self.height)?;
        let width = positive(SizeName::Width, self.width)?;
        let web = positive(SizeName::WebThickness, self.web_thickness)?;
        let flange = positive(SizeName::FlangeThickness, self.flange_thickness)?;
        let outer = not_negative(SizeName::OuterRadius, self.outer_radius)?;
        let inner = not_negative(SizeName::InnerRadius, self.inner_radius)?;
        less_than(SizeName::WebThickness, web, width / 2.0)?;
        less_than(SizeName::FlangeThickness, flange, height / 2.0)?;
        let (hole_width, hole_height) = (width - 2.0 * web, height - 2.0 * flange);
        let largest = height.max(width);
        at_most(
            SizeName::OuterRadius,
            outer,
            width.min(height) / 2.0,
            largest,
        )?;
        at_most(
            SizeName::InnerRadius,
            inner,
            hole_width.min(hole_height) / 2.0,
            largest,
        )?;
        less_than(
            SizeName::OuterRadius,
            outer,
            largest_outer_radius(web, flange, inner),
        )?;

        let ring = |left: f64, bottom: f64, right: f64, top: f64, radius: f64| {
            outline(&[
                rounded(left, bottom, radius),
                rounded(right, bottom, radius),
                rounded(right, top, radius),
                rounded(left, top, radius),
            ])
        };
        let hole = ring(web, flange, width - web, height - flange, inner);
        Ok(ring(0.0, 0.0, width, height, outer).with_hole(hole))
    }
}

/// The outer radius R at which the outer arc would touch the inner: the distance of their centres
/// is R − r, hence (R−r−t₁)² + (R−r−t₂)² = (R−r)².
fn largest_outer_radius(web: f64, flange: f64, inner: f64) -> f64 {
    inner + web + flange + (2.0 * web * flange).sqrt()
}

/// A pipe or round tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Outer diameter.
    pub diameter: Length,
    /// Of the wall, less than half the diameter.
    pub thickness: Length,
}

impl Pipe {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let diameter = positive(SizeName::Diameter, self.diameter)?;
        let thickness = positive(SizeName::Thickness, self.thickness)?;
        less_than(SizeName::Thickness, thickness, diameter / 2.0)?;
        let centre = point((diameter / 2.0, diameter / 2.0));
        let radius = |value: f64| Length::from_si(value);
        let hole = Outline::circle(centre, radius(diameter / 2.0 - thickness));
        Ok(Outline::circle(centre, radius(diameter / 2.0)).with_hole(hole))
    }
}
