//! Channels.

use haunch_quantity::typed::{Length, Ratio, Typed};

use super::corners::{outline, rounded, sharp};
use super::size::{
    SizeName, SizeProblem, at_most, less_than, not_negative, not_negative_ratio, positive,
};
use crate::section::Outline;

/// A channel with equal flanges that point to the right, the back of the web at x = 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Channel {
    /// Overall, over both flanges.
    pub height: Length,
    /// Overall, from the back of the web to the toes.
    pub width: Length,
    /// Thickness of the web.
    pub web_thickness: Length,
    /// Thickness of the flanges; where they taper, at the place that the taper names.
    pub flange_thickness: Length,
    /// How the flanges taper; `None` for parallel flanges.
    pub taper: Option<Taper>,
    /// Radius of the corners between web and flanges.
    pub root_radius: Length,
    /// Radius of the inner edges of the toes.
    pub toe_radius: Length,
}

/// How flanges grow thicker from the toe towards the web.
///
/// Rolled channels of EN 10365 with tapered flanges (formerly DIN 1026-1) have a slope of 8 % and
/// their nominal thickness at half the overall width up to a height of 300 mm; above, 5 % and the
/// thickness at half the clear width from the toe. From memory, confirmed by the published areas
/// of heights up to 240 mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taper {
    /// Slope of the inner faces against the outer, 0.08 for 8 %.
    pub slope: Ratio,
    /// Where the flange has its stated thickness: a distance from the back of the web.
    pub measured_at: Length,
}

impl Channel {
    /// The outline.
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn outline(&self) -> Result<Outline, SizeProblem> {
        let height = positive(SizeName::Height, self.height)?;
        let width = positive(SizeName::Width, self.width)?;
        let web = positive(SizeName::WebThickness, self.web_thickness)?;
        let flange = positive(SizeName::FlangeThickness, self.flange_thickness)?;
        let root = not_negative(SizeName::RootRadius, self.root_radius)?;
        let toe = not_negative(SizeName::ToeRadius, self.toe_radius)?;
        less_than(SizeName::WebThickness, web, width)?;
        let taper = self.taper.unwrap_or(Taper {
            slope: Ratio::from_si(0.0),
            measured_at: self.width,
        });
        let slope = not_negative_ratio(SizeName::Slope, taper.slope)?;
        let measured_at = not_negative(SizeName::MeasuredAt, taper.measured_at)?;
        let largest = height.max(width);
        at_most(SizeName::MeasuredAt, measured_at, width, largest)?;
        let thickness_at = |x: f64| flange + slope * (measured_at - x);
        let (at_web, at_toe) = (thickness_at(web), thickness_at(width));
        if at_toe <= 0.0 {
            let limit = flange / (width - measured_at);
            return Err(SizeProblem::NotLessThan {
                size: SizeName::Slope,
                limit,
            });
        }
        let thickest = height / 2.0 - slope * (measured_at - web);
        less_than(SizeName::FlangeThickness, flange, thickest)?;
        // Root and toe turn by the same angle, a right angle less that of the slope: the set-back
        // of an arc over its radius is tan(θ/2) = 1/(√(1 + s²) + s).
        let face = (1.0 + slope * slope).sqrt();
        let set_back = 1.0 / (face + slope);
        at_most(SizeName::ToeRadius, toe, at_toe / set_back, largest)?;
        let along_face = (width - web) * face;
        at_most(SizeName::ToeRadius, toe, along_face / set_back, largest)?;
        let room = (height / 2.0 - at_web).min(along_face - toe * set_back);
        at_most(SizeName::RootRadius, root, room / set_back, largest)?;

        Ok(outline(&[
            sharp(0.0, 0.0),
            sharp(width, 0.0),
            rounded(width, at_toe, toe),
            rounded(web, at_web, root),
            rounded(web, height - at_web, root),
            rounded(width, height - at_toe, toe),
            sharp(width, height),
            sharp(0.0, height),
        ]))
    }
}
