//! I shapes.

use haunch_quantity::typed::Length;

use super::corners::{outline, rounded, sharp};
use super::size::{SizeName, SizeProblem, at_most, less_than, not_negative, positive};
use crate::section::Outline;

/// An I shape with parallel flanges, equal or not, the web upright and in the middle of both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IShape {
    /// Overall, over both flanges.
    pub height: Length,
    /// Breadth of the top flange, more than the web's thickness.
    pub top_width: Length,
    /// Thickness of the top flange.
    pub top_thickness: Length,
    /// Breadth of the bottom flange, more than the web's thickness.
    pub bottom_width: Length,
    /// Thickness of the bottom flange.
    pub bottom_thickness: Length,
    /// Thickness of the web.
    pub web_thickness: Length,
    /// Radius of the four corners between web and flanges; 0 for welded plates.
    pub root_radius: Length,
}

impl IShape {
    /// An I shape with two equal flanges.
    pub fn with_equal_flanges(
        height: Length,
        width: Length,
        web_thickness: Length,
        flange_thickness: Length,
        root_radius: Length,
    ) -> Self {
        Self {
            height,
            top_width: width,
            top_thickness: flange_thickness,
            bottom_width: width,
            bottom_thickness: flange_thickness,
            web_thickness,
            root_radius,
        }
    }

    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let height = positive(SizeName::Height, self.height)?;
        let top_width = positive(SizeName::TopWidth, self.top_width)?;
        let bottom_width = positive(SizeName::BottomWidth, self.bottom_width)?;
        let top = positive(SizeName::TopThickness, self.top_thickness)?;
        let bottom = positive(SizeName::BottomThickness, self.bottom_thickness)?;
        let web = positive(SizeName::WebThickness, self.web_thickness)?;
        let radius = not_negative(SizeName::RootRadius, self.root_radius)?;
        less_than(SizeName::TopThickness, top, height)?;
        less_than(SizeName::BottomThickness, bottom, height - top)?;
        let narrower = top_width.min(bottom_width);
        less_than(SizeName::WebThickness, web, narrower)?;
        let room = ((narrower - web) / 2.0).min((height - top - bottom) / 2.0);
        let largest = height.max(narrower);
        at_most(SizeName::RootRadius, radius, room, largest)?;

        let middle = top_width.max(bottom_width) / 2.0;
        let (web_left, web_right) = (middle - web / 2.0, middle + web / 2.0);
        let (left, right) = (middle - bottom_width / 2.0, middle + bottom_width / 2.0);
        let (top_left, top_right) = (middle - top_width / 2.0, middle + top_width / 2.0);
        let under = height - top;
        Ok(outline(&[
            sharp(left, 0.0),
            sharp(right, 0.0),
            sharp(right, bottom),
            rounded(web_right, bottom, radius),
            rounded(web_right, under, radius),
            sharp(top_right, under),
            sharp(top_right, height),
            sharp(top_left, height),
            sharp(top_left, under),
            rounded(web_left, under, radius),
            rounded(web_left, bottom, radius),
            sharp(left, bottom),
        ]))
    }
}
