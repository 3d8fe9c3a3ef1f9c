//! Zeds.

use haunch_quantity::typed::Length;

use super::corners::{outline, rounded, sharp};
use super::size::{SizeName, SizeProblem, at_most, less_than, not_negative, positive};
use crate::section::Outline;

/// A zed with equal parallel flanges: the bottom flange points to the right of the web, the top
/// flange to the left. Mirrored sideways it has its flanges the other way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zed {
    /// Overall, over both flanges.
    pub height: Length,
    /// Of each flange with the web: from the outer face of the web to the toe.
    pub width: Length,
    /// Thickness of the web.
    pub web_thickness: Length,
    /// Thickness of the flanges.
    pub flange_thickness: Length,
    /// Radius of the two corners between web and flanges.
    pub root_radius: Length,
}

impl Zed {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let height = positive(SizeName::Height, self.height)?;
        let width = positive(SizeName::Width, self.width)?;
        let web = positive(SizeName::WebThickness, self.web_thickness)?;
        let flange = positive(SizeName::FlangeThickness, self.flange_thickness)?;
        let radius = not_negative(SizeName::RootRadius, self.root_radius)?;
        less_than(SizeName::WebThickness, web, width)?;
        less_than(SizeName::FlangeThickness, flange, height / 2.0)?;
        let room = (width - web).min(height - 2.0 * flange);
        let largest = height.max(width);
        at_most(SizeName::RootRadius, radius, room, largest)?;

        let (left, right) = (width - web, width);
        let under = height - flange;
        Ok(outline(&[
            sharp(left, 0.0),
            sharp(left + width, 0.0),
            sharp(left + width, flange),
            rounded(right, flange, radius),
            sharp(right, height),
            sharp(0.0, height),
            sharp(0.0, under),
            rounded(left, under, radius),
        ]))
    }
}
