//! Shapes for which Saint-Venant's problem is solved exactly.
//!
//! Sizes are positive; the results of others mean nothing.

use std::f64::consts::PI;

use haunch_quantity::typed::{
    FirstMomentOfArea, Length, Moment, SecondMomentOfArea, Stress, Typed, WarpingConstant,
};

/// A full rectangle under torsion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectangle {
    /// J
    pub torsion_constant: SecondMomentOfArea,
    /// The torque over the greatest shear stress, which is in the middle of the longer sides.
    pub torsion_modulus: FirstMomentOfArea,
}

/// Σ 1/n⁵ over odd n, 31/32·ζ(5).
const ODD_FIFTH_POWERS: f64 = 1.004_523_762_795_139_6;

impl Rectangle {
    /// A rectangle by its sides, in any order.
    ///
    /// With a ≥ b: J = a·b³/3·(1 − 192/π⁵·b/a·Σ tanh(nπa/2b)/n⁵) and τ = 2Gθ·b/2·(1 −
    /// 8/π²·Σ 1/(n²·cosh(nπa/2b))) over odd n (Timoshenko & Goodier, Theory of Elasticity, 3rd ed.,
    /// art. 109).
    pub fn new(width: Length, height: Length) -> Self {
        let (longer, shorter) = if width > height {
            (width.si(), height.si())
        } else {
            (height.si(), width.si())
        };
        let ratio = longer / shorter;
        let (mut fifth_powers, mut squares) = (ODD_FIFTH_POWERS, 0.0);
        // Terms fall like e^(−nπ): the last is below 1e-26 of the first.
        for odd in (1..=19).step_by(2) {
            let n = f64::from(odd);
            let n_square = n * n;
            // e^(−nπa/2b), with which 1 − tanh x = 2e²/(1 + e²) and 1/cosh x = 2e/(1 + e²).
            let decay = libm::exp(-n * PI * ratio / 2.0);
            let share = 2.0 * decay / (1.0 + decay * decay);
            fifth_powers -= share * decay / (n_square * n_square * n);
            squares += share / n_square;
        }
        let fifth = PI * PI * PI * PI * PI;
        let constant = longer * shorter * shorter * shorter / 3.0
            * (1.0 - 192.0 / fifth / ratio * fifth_powers);
        let stress = shorter * (1.0 - 8.0 / (PI * PI) * squares);
        Self {
            torsion_constant: SecondMomentOfArea::from_si(constant),
            torsion_modulus: FirstMomentOfArea::from_si(constant / stress),
        }
    }

    /// The greatest shear stress under a torque.
    pub fn greatest_shear_stress(&self, torque: Moment) -> Stress {
        torque / self.torsion_modulus
    }
}

/// J of a full circle, π·d⁴/32; the shear stress at the radius r is T·r/J.
pub fn circle(diameter: Length) -> SecondMomentOfArea {
    diameter * diameter * diameter * diameter * (PI / 32.0)
}

/// J of a round tube of any thickness, π·(D⁴ − d⁴)/32; the shear stress at the radius r is T·r/J.
///
/// As 2π·r·t·(r² + t²/4) with the radius r of the middle of the wall, which does not cancel
/// where the wall is thin.
pub fn tube(diameter: Length, thickness: Length) -> SecondMomentOfArea {
    let middle = (diameter - thickness) / 2.0;
    middle * thickness * (middle * middle + thickness * thickness / 4.0) * (2.0 * PI)
}

/// J of a full ellipse of semi-axes a and b, π·a³b³/(a² + b²); the greatest shear stress is
/// 2T/(π·a·b²) at the ends of the shorter axis, b ≤ a (Timoshenko & Goodier, art. 102).
pub fn ellipse(one: Length, other: Length) -> SecondMomentOfArea {
    let product = one * other;
    product * product * (product / (one * one + other * other)) * PI
}

/// The warping constant of a full ellipse of semi-axes a and b about its centre. The warping
/// function is ω = x·y·(b² − a²)/(a² + b²) (Timoshenko & Goodier, art. 102), and ∫x²y² dA =
/// π·a³b³/24.
pub fn ellipse_warping(one: Length, other: Length) -> WarpingConstant {
    let (first, second) = (one * one, other * other);
    let share = ((first - second) / (first + second)).si();
    let product = one * other;
    product * product * product * (PI / 24.0 * share * share)
}

/// J of an equilateral triangle, √3·a⁴/80; the greatest shear stress is 20T/a³ in the middle of
/// the sides (Timoshenko & Goodier, art. 102).
pub fn equilateral_triangle(side: Length) -> SecondMomentOfArea {
    side * side * side * side * (3.0_f64.sqrt() / 80.0)
}
