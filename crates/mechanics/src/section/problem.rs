//! What can be wrong with the geometry of a section.

use haunch_quantity::typed::{Area, Length};

/// A size of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Breadth of a rectangle.
    Width,
    /// Height of a rectangle.
    Height,
    /// Diameter of a circle, outer diameter of a tube.
    Diameter,
    /// Wall thickness of a tube.
    Thickness,
}

/// What can be wrong with one shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShapeProblem {
    /// A size or coordinate is not a finite number.
    NotFinite,
    /// A size is zero or negative.
    NotPositive(Size),
    /// The wall of a tube is thicker than its outer radius.
    WallThickerThanRadius,
    /// A polygon has fewer than three corners.
    TooFewCorners,
    /// The longer side is not between 1e-12 m and 1e12 m, where the results would over- or
    /// underflow.
    SizeOutOfRange,
    /// The outline encloses nothing.
    NoArea,
    /// Two corners lie within 1e-8 of the shape's size of each other.
    CornersTooClose,
    /// Sides of the outline cross or touch each other.
    CrossesItself,
    /// An arc's ends do not lie on one circle about its centre.
    ArcDoesNotFit,
    /// A hole does not lie in the material of its outline.
    HoleOutside,
    /// It was moved, turned or mirrored farther than 1e5 times its size: too few digits of the
    /// coordinates are left for its shape.
    TooFarAway,
    /// An arc's radius is more than 1e3 times the size of the shape: its course is lost in the
    /// rounding of its centre. A straight line is the same to the eye.
    ArcTooFlat,
}

/// What can be wrong with the geometry of a section.
///
/// Parts are known by their position in the list that the section was made from. Lengths up to
/// 1e-9 of the section's size count as nothing, and areas up to that length times the size of the
/// smaller of the shapes concerned.
#[derive(Clone, Debug, PartialEq)]
pub enum Problem {
    /// One part's shape is not sound.
    Shape {
        /// The part or deduction.
        part: usize,
        /// What is wrong with it.
        problem: ShapeProblem,
    },
    /// A modular ratio is not a positive finite number.
    ModularRatio {
        /// The part.
        part: usize,
    },
    /// There is no material: no part, or every part is deducted away.
    NoMaterial,
    /// The section lies more than 1e5 times its size away from the origin: too few digits of the
    /// coordinates are left for its shape.
    TooFarAway,
    /// A part, or what deductions leave of it, is thinner than 1e-5 of the section's size.
    TooThin {
        /// The part or deduction.
        part: usize,
    },
    /// Two parts cover the same area, which would count twice.
    Overlap {
        /// The part that comes first in the list.
        first: usize,
        /// The part that comes later.
        second: usize,
        /// The area that both cover.
        area: Area,
    },
    /// A deduction lies outside the material, wholly or in part.
    DeductionOutside {
        /// The deduction.
        deduction: usize,
        /// The part of its area that lies outside.
        area: Area,
        /// Nothing of it lies in the material.
        wholly: bool,
    },
    /// Deductions leave nothing of a part.
    NothingLeft {
        /// The part.
        part: usize,
    },
    /// Two deductions overlap; their common area is removed once.
    DeductionsOverlap {
        /// The deduction that comes first in the list.
        first: usize,
        /// The deduction that comes later.
        second: usize,
    },
    /// The material is in pieces that do not touch each other.
    NotConnected {
        /// The parts of each piece, ascending; the pieces by their first part. A part that a
        /// deduction cuts apart stands in more than one piece.
        pieces: Vec<Vec<usize>>,
    },
}

impl Problem {
    /// Whether a section with this problem has no properties.
    ///
    /// A section in pieces and deductions that overlap have well-defined properties: these are
    /// reported beside the section, as warnings.
    pub fn is_error(&self) -> bool {
        !matches!(
            self,
            Self::DeductionsOverlap { .. } | Self::NotConnected { .. }
        )
    }
}

/// Why a stress or another result at a place does not exist.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoResult {
    /// The place lies outside the section.
    Outside,
    /// The level cuts parts of different materials side by side, for which the shear stress is
    /// not V·Q/(I·b); only the shear flow is known.
    SeveralMaterialsSideBySide {
        /// The level.
        y: Length,
    },
    /// The level cuts the section at a width below 1e-6 of its size while a shear flow has to
    /// cross it: parts that do not touch or touch in a point.
    NoWidth {
        /// The level.
        y: Length,
    },
    /// Parts of different materials: the plastic modulus is not defined without yield stresses.
    SeveralMaterials,
}
