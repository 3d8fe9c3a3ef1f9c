//! Why a beam could not be computed. Indices refer to the lists of the caller.

use haunch_quantity::typed::Length;

/// Why there is no result. The words for people are made by the caller, who knows the names.
#[derive(Debug, Clone, PartialEq)]
pub enum BeamError {
    /// The length is zero, negative or not finite.
    Length,
    /// A support's place is not finite, or outside the beam.
    SupportOutside {
        /// Index of the support.
        support: usize,
    },
    /// Two supports at one place.
    SupportsCoincide {
        /// The lower index.
        first: usize,
        /// The higher index.
        second: usize,
    },
    /// A spring's stiffness is zero, negative or not finite.
    SpringNotPositive {
        /// Index of the support.
        support: usize,
    },
    /// A hinge's place is not finite, outside the beam or at one of its ends.
    HingeNotInside {
        /// Index of the hinge.
        hinge: usize,
    },
    /// Two hinges at one place.
    HingesCoincide {
        /// The lower index.
        first: usize,
        /// The higher index.
        second: usize,
    },
    /// A hinge at a fixed support: it is not said which side is held.
    HingeAtFixedSupport {
        /// Index of the hinge.
        hinge: usize,
        /// Index of the support.
        support: usize,
    },
    /// A flexural rigidity is zero, negative or not finite.
    RigidityNotPositive {
        /// Index of the stretch; 0 for a uniform beam.
        stretch: usize,
    },
    /// A stretch is not finite, leaves the beam, or does not end after it begins.
    StretchPlace {
        /// Index of the stretch.
        stretch: usize,
    },
    /// Two stretches give a rigidity for the same place.
    StretchesOverlap {
        /// The lower index.
        first: usize,
        /// The higher index.
        second: usize,
    },
    /// No stretch gives the rigidity here.
    RigidityGap {
        /// Where the gap begins.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// Some motion of the beam is held by nothing.
    Mechanism(Mechanism),
    /// Forces depend on the flexural rigidity, which is not known: the beam has more supports
    /// than statics needs, and its rigidity may vary or it stands on springs.
    RigidityNeeded,
    /// Forces depend on the flexural rigidity, which is not known, because this action (a
    /// settlement or a curvature) is resisted by more supports than statics needs.
    RigidityNeededFor {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
    },
    /// A number of this action is not finite.
    LoadNotFinite {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
    },
    /// The action lies outside the beam, wholly or in part.
    LoadOutside {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
    },
    /// The action's stretch does not end after it begins.
    LoadStretch {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
    },
    /// A couple at a hinge: it is not said on which side it acts.
    CoupleAtHinge {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
        /// Index of the hinge.
        hinge: usize,
    },
    /// A settlement of a support that does not exist.
    NoSuchSupport {
        /// Index of the loading.
        loading: usize,
        /// Index of the action.
        load: usize,
    },
    /// The result would not be accurate: the beam is close to a mechanism, or its lengths,
    /// rigidities and springs differ by too many orders of magnitude.
    IllConditioned,
}

/// A motion that nothing holds: what would move, so that the reader sees what is missing.
#[derive(Debug, Clone, PartialEq)]
pub enum Mechanism {
    /// No support at all holds the beam up.
    NothingHolds,
    /// The whole beam turns about its only support, which is neither fixed nor has a partner.
    TurnsAbout {
        /// Index of the support.
        support: usize,
    },
    /// Hinges let a part of the beam move.
    Hinges {
        /// Where the part begins that moves.
        from: Length,
        /// Where it ends.
        to: Length,
        /// Indices of the hinges that let it: those inside the part and at its ends, in order
        /// along the beam.
        hinges: Vec<usize>,
    },
}
