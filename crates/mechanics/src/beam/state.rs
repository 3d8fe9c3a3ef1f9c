//! Deflection, slope, moment and shear at one place, and how they change along a piece.
//!
//! Euler-Bernoulli: `M' = V`, `V' = −q`, `w'' = −(M/EI + κ₀)` with deflection `w` positive down,
//! moment positive sagging and load `q` positive down.

use super::action::{Piece, PlaceAction};

/// The four quantities at one place, scaled by [`Scale`].
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct State {
    pub(super) deflection: f64,
    pub(super) slope: f64,
    pub(super) moment: f64,
    pub(super) shear: f64,
}

impl State {
    pub(super) fn dot(&self, other: &Self) -> f64 {
        self.deflection * other.deflection
            + self.slope * other.slope
            + self.moment * other.moment
            + self.shear * other.shear
    }

    pub(super) fn map(&self, f: impl Fn(f64) -> f64) -> Self {
        Self {
            deflection: f(self.deflection),
            slope: f(self.slope),
            moment: f(self.moment),
            shear: f(self.shear),
        }
    }

    /// The larger of each, without signs.
    pub(super) fn larger(&self, other: &Self) -> Self {
        Self {
            deflection: self.deflection.abs().max(other.deflection.abs()),
            slope: self.slope.abs().max(other.slope.abs()),
            moment: self.moment.abs().max(other.moment.abs()),
            shear: self.shear.abs().max(other.shear.abs()),
        }
    }

    /// The state at the end of a piece, given the one at its beginning.
    pub(super) fn after(&self, piece: &Piece) -> Self {
        let h = piece.length;
        let (load, more) = (piece.load_left, piece.load_right - piece.load_left);
        let bend = 1.0 / piece.rigidity;
        let curvature = piece.free_curvature;
        Self {
            deflection: self.deflection + h * self.slope
                - h * h
                    * bend
                    * (self.moment / 2.0 + h * self.shear / 6.0
                        - h * h * (load / 24.0 + more / 120.0))
                - h * h * curvature / 2.0,
            slope: self.slope
                - h * bend
                    * (self.moment + h * self.shear / 2.0 - h * h * (load / 6.0 + more / 24.0))
                - h * curvature,
            moment: self.moment + h * self.shear - h * h * (load / 2.0 + more / 6.0),
            shear: self.shear - h * (load + more / 2.0),
        }
    }

    /// The size of the numbers that go into [`after`](Self::after): their rounding is what the
    /// result cannot be trusted below.
    pub(super) fn size_along(&self, piece: &Piece) -> Self {
        let h = piece.length;
        let load = h * piece.load_left.abs().max(piece.load_right.abs());
        let shear = self.shear.abs() + load;
        let moment = self.moment.abs() + h * shear;
        let slope = self.slope.abs() + h * (moment / piece.rigidity + piece.free_curvature.abs());
        let deflection = self.deflection.abs() + h * slope;
        Self {
            deflection,
            slope,
            moment,
            shear,
        }
    }

    /// The state just after a force and a couple.
    pub(super) fn past(&self, action: &PlaceAction) -> Self {
        Self {
            moment: self.moment + action.couple,
            shear: self.shear - action.force,
            ..*self
        }
    }
}

/// Units that bring the numbers of a beam near 1. Both are powers of two, so that scaling is exact.
///
/// Shear stays in N; moments are divided by the length, slopes by length²/rigidity, deflections
/// by length³/rigidity. Forces then never depend on the size of the rigidity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    pub(super) length: f64,
    pub(super) rigidity: f64,
}

impl Scale {
    pub(super) fn piece(&self, piece: &Piece) -> Piece {
        Piece {
            length: piece.length / self.length,
            rigidity: piece.rigidity / self.rigidity,
            load_left: piece.load_left * self.length,
            load_right: piece.load_right * self.length,
            free_curvature: piece.free_curvature * self.rigidity / self.length,
        }
    }

    pub(super) fn place(&self, action: &PlaceAction) -> PlaceAction {
        PlaceAction {
            x: action.x / self.length,
            force: action.force,
            couple: action.couple / self.length,
            settlement: action.settlement / self.deflection(),
        }
    }

    /// N per m, in units of this scale.
    pub(super) fn spring(&self, stiffness: f64) -> f64 {
        stiffness * self.deflection()
    }

    /// One unit of scaled deflection for a shear of 1 N, in m.
    pub(super) fn deflection(&self) -> f64 {
        self.length * self.length * self.length / self.rigidity
    }

    /// One unit of scaled slope, in rad.
    pub(super) fn slope(&self) -> f64 {
        self.length * self.length / self.rigidity
    }
}
