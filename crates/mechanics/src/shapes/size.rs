//! The sizes of shapes, and what makes one impossible.

use haunch_quantity::typed::{Length, Ratio, Typed};

/// A size of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeName {
    /// From the bottom to the top.
    Height,
    /// From the left to the right.
    Width,
    /// Breadth of the top flange.
    TopWidth,
    /// Breadth of the bottom flange.
    BottomWidth,
    /// Thickness of the walls, or of both legs of an angle.
    Thickness,
    /// Thickness of the web, or of both upright walls of a box.
    WebThickness,
    /// Thickness of the flanges, or of both level walls of a box.
    FlangeThickness,
    /// Thickness of the top flange.
    TopThickness,
    /// Thickness of the bottom flange.
    BottomThickness,
    /// Radius of the concave corner between flange and web, or between two legs.
    RootRadius,
    /// Radius of the rounded inner edge at the end of a flange or leg.
    ToeRadius,
    /// Outer corner radius.
    OuterRadius,
    /// Inner corner radius.
    InnerRadius,
    /// Radius of a fillet.
    Radius,
    /// Outer diameter.
    Diameter,
    /// Slope of the inner faces of flanges, a rise over a run.
    Slope,
    /// Where the thickness of a tapered flange is measured, from the back of the web.
    MeasuredAt,
    /// x of the apex of a triangle.
    Apex,
}

/// Why a shape cannot have one of its sizes.
///
/// Limits are in metres, or plain numbers for a slope, given the other sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SizeProblem {
    /// It is not a finite number.
    NotFinite(SizeName),
    /// It is zero or negative.
    NotPositive(SizeName),
    /// It is negative.
    Negative(SizeName),
    /// It must be less than the limit.
    NotLessThan {
        /// The size.
        size: SizeName,
        /// In SI units.
        limit: f64,
    },
    /// It may be at most the limit.
    MoreThan {
        /// The size.
        size: SizeName,
        /// In SI units.
        limit: f64,
    },
}

impl SizeProblem {
    /// The size that is wrong.
    pub fn size(&self) -> SizeName {
        match *self {
            Self::NotFinite(size)
            | Self::NotPositive(size)
            | Self::Negative(size)
            | Self::NotLessThan { size, .. }
            | Self::MoreThan { size, .. } => size,
        }
    }
}

/// The SI value of a length that must be positive.
pub(super) fn positive(size: SizeName, length: Length) -> Result<f64, SizeProblem> {
    match finite(size, length.si())? {
        value if value > 0.0 => Ok(value),
        _ => Err(SizeProblem::NotPositive(size)),
    }
}

/// The SI value of a length that must not be negative.
pub(super) fn not_negative(size: SizeName, length: Length) -> Result<f64, SizeProblem> {
    not_negative_number(size, length.si())
}

/// A plain number that must not be negative.
pub(super) fn not_negative_ratio(size: SizeName, ratio: Ratio) -> Result<f64, SizeProblem> {
    not_negative_number(size, ratio.si())
}

fn not_negative_number(size: SizeName, value: f64) -> Result<f64, SizeProblem> {
    match finite(size, value)? {
        value if value >= 0.0 => Ok(value),
        _ => Err(SizeProblem::Negative(size)),
    }
}

/// A number that must be finite.
pub(super) fn finite(size: SizeName, value: f64) -> Result<f64, SizeProblem> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(SizeProblem::NotFinite(size))
    }
}

/// Refuses a value that is not less than the limit.
pub(super) fn less_than(size: SizeName, value: f64, limit: f64) -> Result<(), SizeProblem> {
    if value < limit {
        Ok(())
    } else {
        Err(SizeProblem::NotLessThan { size, limit })
    }
}

/// Refuses a value that is more than the limit by more than rounding. The limit is a difference of
/// other sizes, and so precise as the largest of them.
pub(super) fn at_most(
    size: SizeName,
    value: f64,
    limit: f64,
    largest: f64,
) -> Result<(), SizeProblem> {
    if value <= limit + 3e-14 * largest {
        Ok(())
    } else {
        Err(SizeProblem::MoreThan { size, limit })
    }
}
