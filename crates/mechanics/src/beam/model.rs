//! What a beam is and what acts on it, as the caller states it.

use haunch_quantity::typed::{Curvature, FlexuralRigidity, Force, ForcePerLength, Length, Moment};

/// A straight beam along `x = 0 … length`, bending in one plane.
#[derive(Debug, Clone, PartialEq)]
pub struct Beam {
    /// The whole length, overhangs included.
    pub length: Length,
    /// In any order; results refer to supports by their index here.
    pub supports: Vec<Support>,
    /// Places strictly between the ends where the beam passes on shear but no moment.
    pub hinges: Vec<Length>,
    /// What is known of the flexural rigidity.
    pub stiffness: Stiffness,
}

/// Something that holds the beam at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Distance from the start.
    pub at: Length,
    /// What it holds.
    pub kind: SupportKind,
}

/// What a support holds. All kinds hold up and down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SupportKind {
    /// No deflection; free to turn.
    Pin,
    /// As [`Pin`](Self::Pin): the two differ only along the beam, where nothing acts here.
    Roller,
    /// No deflection and no turning.
    Fixed,
    /// Gives way in proportion to its reaction; free to turn. The stiffness is above zero.
    Spring(ForcePerLength),
}

/// What is known of the flexural rigidity `EI`.
#[derive(Debug, Clone, PartialEq)]
pub enum Stiffness {
    /// The same all along the beam.
    Uniform(FlexuralRigidity),
    /// Changing from stretch to stretch. The stretches cover the beam without gap or overlap, in
    /// any order.
    Stepped(Vec<Stretch>),
    /// The same all along the beam, its value not known: no slope and no deflection; forces and
    /// moments wherever they do not depend on the value.
    UnknownUniform,
    /// Not known at all: forces and moments only where statics alone gives them.
    Unknown,
}

/// A stretch of one flexural rigidity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Where it begins.
    pub from: Length,
    /// Where it ends, after `from`.
    pub to: Length,
    /// `EI`, above zero.
    pub rigidity: FlexuralRigidity,
}

/// The actions of one load case. Their order never matters, not even in the last bit.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Loading {
    /// What acts, in any order.
    pub loads: Vec<Load>,
}

/// One action on the beam. Downward forces are positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Load {
    /// A force at one place.
    Force {
        /// Distance from the start.
        at: Length,
        /// Positive downward.
        down: Force,
    },
    /// A couple at one place.
    Couple {
        /// Distance from the start.
        at: Length,
        /// Its size; a negative one turns the other way.
        moment: Moment,
        /// Which way it turns the beam, seen with `x` running to the right.
        sense: Sense,
    },
    /// A load over a stretch, changing linearly between its ends.
    Distributed {
        /// Where it begins.
        from: Length,
        /// Where it ends, after `from`.
        to: Length,
        /// Intensity at `from`, positive downward.
        down_at_from: ForcePerLength,
        /// Intensity at `to`, positive downward.
        down_at_to: ForcePerLength,
    },
    /// A support's ground that goes down.
    Settlement {
        /// Index of the support in [`Beam::supports`].
        support: usize,
        /// Positive downward.
        down: Length,
    },
    /// A curvature that the stretch would take up if nothing held it: from a temperature
    /// difference over the depth, `κ₀ = α·(T_bottom − T_top)/h`, or from shrinkage.
    Curvature {
        /// Where it begins.
        from: Length,
        /// Where it ends, after `from`.
        to: Length,
        /// Positive sagging: the bottom grows longer than the top.
        sagging: Curvature,
    },
}

/// The way a couple turns the beam, seen with `x` running to the right and down being down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// As the hands of a clock.
    Clockwise,
    /// Against the hands of a clock.
    Anticlockwise,
}
