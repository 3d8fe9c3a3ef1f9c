//! Single thin strips and one thin-walled cell.

use haunch_quantity::typed::{Area, Length, Moment, Ratio, SecondMomentOfArea, Stress, Typed};

/// How thin walls are for a formula that takes them as thin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thinness {
    /// The thickness over the length of a wall, the largest of all; in a cell over its width,
    /// 4·A/perimeter.
    pub ratio: Ratio,
    /// What is usually taken as thin.
    pub limit: Ratio,
}

impl Thinness {
    /// A tenth: common practice. The torsion constant Σ l·t³/3 of one strip is then 6.7 % too
    /// large, by the exact solution for a rectangle, and Bredt's for a round tube 1 % too small.
    const USUAL: f64 = 0.1;

    pub(super) fn new(ratio: f64) -> Self {
        Self {
            ratio: Ratio::from_si(ratio),
            limit: Ratio::from_si(Self::USUAL),
        }
    }

    /// Whether the walls are thin enough.
    pub fn is_met(&self) -> bool {
        self.ratio <= self.limit
    }
}

/// J of thin strips that form no cell, by their lengths and thicknesses: Σ l·t³/3, and how thin
/// they are. The greatest shear stress is T·t/J in the thickest strip (common practice, as in
/// Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 109).
///
/// `None` without strips, or where a size is not a positive number.
pub fn open_strips(strips: &[(Length, Length)]) -> Option<(SecondMomentOfArea, Thinness)> {
    let (_, ratio) = sums(strips, |length, thickness| length / thickness)?;
    let (constant, _) = sums(strips, |length, thickness| {
        length * thickness * thickness * thickness / 3.0
    })?;
    Some((SecondMomentOfArea::from_si(constant), Thinness::new(ratio)))
}

/// One thin-walled cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// The area inside the middle line of the walls.
    pub enclosed_area: Area,
    /// J = 4·A²/Σ(l/t)
    pub torsion_constant: SecondMomentOfArea,
    /// How thin the walls are.
    pub thinness: Thinness,
}

impl Cell {
    /// A cell by the area inside the middle line of its walls, and their lengths and thicknesses
    /// (Bredt's second formula; Timoshenko & Goodier, art. 116).
    ///
    /// `None` without walls, or where a size is not a positive number.
    pub fn new(enclosed_area: Area, walls: &[(Length, Length)]) -> Option<Self> {
        let area = enclosed_area.si();
        if !(area.is_finite() && area > 0.0) {
            return None;
        }
        let (lengths_over_thickness, _) = sums(walls, |length, thickness| length / thickness)?;
        let (perimeter, _) = sums(walls, |length, _| length)?;
        let thickest = walls.iter().map(|wall| wall.1.si()).fold(0.0, f64::max);
        let constant = 4.0 * area * area / lengths_over_thickness;
        Some(Self {
            enclosed_area,
            torsion_constant: SecondMomentOfArea::from_si(constant),
            thinness: Thinness::new(thickest * perimeter / (4.0 * area)),
        })
    }

    /// The shear stress in a wall under a torque, τ = T/(2·A·t) (Bredt's first formula).
    pub fn shear_stress(&self, torque: Moment, thickness: Length) -> Stress {
        torque / (self.enclosed_area * thickness) / 2.0
    }
}

/// The sum over walls, and the greatest thickness over length.
fn sums(walls: &[(Length, Length)], f: impl Fn(f64, f64) -> f64) -> Option<(f64, f64)> {
    let sound = |value: f64| value.is_finite() && value > 0.0;
    if walls.is_empty() {
        return None;
    }
    let mut sum = 0.0;
    let mut ratio: f64 = 0.0;
    for (length, thickness) in walls {
        let (length, thickness) = (length.si(), thickness.si());
        if !sound(length) || !sound(thickness) {
            return None;
        }
        sum += f(length, thickness);
        ratio = ratio.max(thickness / length);
    }
    Some((sum, ratio))
}
