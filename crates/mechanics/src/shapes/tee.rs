//! Tees.

use haunch_quantity::typed::Length;

use super::corners::{outline, rounded, sharp};
use super::size::{SizeName, SizeProblem, at_most, less_than, not_negative, positive};
use crate::section::Outline;

/// A tee with the flange on top and the web in its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tee {
    /// Overall, with the flange.
    pub height: Length,
    /// Breadth of the flange, more than the web's thickness.
    pub width: Length,
    /// Thickness of the web.
    pub web_thickness: Length,
    /// Thickness of the flange.
    pub flange_thickness: Length,
    /// Radius of the two corners between web and flange; 0 for welded plates.
    pub root_radius: Length,
}

impl Tee {
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
        less_than(SizeName::FlangeThickness, flange, height)?;
        let room = ((width - web) / 2.0).min(height - flange);
        let largest = height.max(width);
        at_most(SizeName::RootRadius, radius, room, largest)?;

        let (web_left, web_right) = ((width - web) / 2.0, (width + web) / 2.0);
        let under = height - flange;
        Ok(outline(&[
            sharp(web_left, 0.0),
            sharp(web_right, 0.0),
            rounded(web_right, under, radius),
            sharp(width, under),
            sharp(width, height),
            sharp(0.0, height),
            sharp(0.0, under),
            rounded(web_left, under, radius),
        ]))
    }
}
