//! Normal and shear stress together at a point.

use haunch_quantity::typed::{Ratio, Stress, Typed};

/// The stress at a point of a beam: along the beam, and in shear across it. No other stress acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CombinedStress {
    /// Along the beam, tension positive.
    pub normal: Stress,
    /// Across the beam; of two directions the resultant, √(τ_x² + τ_y²).
    pub shear: Stress,
}

/// Principal stresses at a point; the third one is 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrincipalStresses {
    /// The greatest normal stress in any direction, never negative.
    pub greatest: Stress,
    /// The least, never positive.
    pub least: Stress,
    /// Half their difference: the greatest shear stress in any direction.
    pub greatest_shear: Stress,
    /// The angle in radians from the beam's axis to the direction of the greatest stress, towards
    /// the direction of the shear stress on the face whose outward normal is the beam's axis; more
    /// than −π/2 and at most π/2.
    pub angle: Ratio,
}

impl CombinedStress {
    /// σ₁,₂ = σ/2 ± √((σ/2)² + τ²), tan 2θ = 2τ/σ (Gere & Goodno, Mechanics of Materials, 7th ed.,
    /// section 7.3, for σ_y = 0).
    pub fn principal(&self) -> PrincipalStresses {
        let (normal, shear) = (self.normal.si(), self.shear.si());
        let half = normal / 2.0;
        let radius = (half * half + shear * shear).sqrt();
        // Of the two the one whose parts have one sign; the product of both is −τ².
        let larger = if half < 0.0 {
            half - radius
        } else {
            half + radius
        };
        let other = if larger == 0.0 {
            0.0
        } else {
            -shear * (shear / larger)
        };
        let angle = libm::atan2(2.0 * shear + 0.0, normal) / 2.0;
        PrincipalStresses {
            greatest: Stress::from_si(larger.max(other)),
            least: Stress::from_si(larger.min(other)),
            greatest_shear: Stress::from_si(radius),
            angle: Ratio::from_si(if radius == 0.0 { 0.0 } else { angle }),
        }
    }

    /// The equivalent stress √(σ² + 3τ²) of von Mises (Timoshenko, Strength of Materials, part II;
    /// distortion energy: common practice).
    pub fn von_mises(&self) -> Stress {
        let (normal, shear) = (self.normal.si(), self.shear.si());
        Stress::from_si((normal * normal + 3.0 * shear * shear).sqrt())
    }
}
