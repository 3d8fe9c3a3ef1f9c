//! Closed forms for the usual open shapes, taken as thin-walled.
//!
//! Lengths of walls are those of their middle lines. Root and toe radii and the taper of flanges
//! are left aside: rolled shapes have a larger torsion constant, see
//! [`saint_venant`](super::saint_venant) for the true one.

use haunch_quantity::typed::{Length, SecondMomentOfArea, Typed, WarpingConstant};

use super::thin_walls::Thinness;
use crate::section::Point;
use crate::shapes::{Angle, Channel, IShape, SizeProblem, Tee, Zed};

/// Torsion and warping of an open shape with thin walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenShape {
    /// Σ l·t³/3
    pub torsion_constant: SecondMomentOfArea,
    /// The shear centre, where the shape's outline has it.
    pub shear_centre: Point,
    /// The warping constant about the shear centre.
    pub warping_constant: WarpingConstant,
    /// How thin the walls are.
    pub thinness: Thinness,
}

/// Walls by length and thickness, the shear centre, and the warping constant.
fn open_shape(walls: &[(f64, f64)], shear_centre: [f64; 2], warping_constant: f64) -> OpenShape {
    let constant = walls
        .iter()
        .map(|(length, thickness)| length * thickness * thickness * thickness / 3.0)
        .sum();
    let thinness = walls.iter().map(|(length, thickness)| thickness / length);
    let [x, y] = shear_centre.map(Length::from_si);
    OpenShape {
        torsion_constant: SecondMomentOfArea::from_si(constant),
        shear_centre: Point::new(x, y),
        warping_constant: WarpingConstant::from_si(warping_constant),
        thinness: Thinness::new(thinness.fold(0.0, f64::max)),
    }
}

fn cube(value: f64) -> f64 {
    value * value * value
}

impl IShape {
    /// The shape as thin-walled, with I₁, I₂ = t·b³/12 of the flanges and h between their middles:
    /// the shear centre lies h·I₂/(I₁ + I₂) from the middle of flange 1; I_w = h²·I₁·I₂/(I₁ + I₂),
    /// with equal flanges t·b³·h²/24 (Timoshenko & Gere, Theory of Elastic Stability, table of
    /// warping constants; from memory, checked by sectorial integration).
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn thin_walled(&self) -> Result<OpenShape, SizeProblem> {
        self.outline()?;
        let [top, bottom, web] = [
            self.top_thickness,
            self.bottom_thickness,
            self.web_thickness,
        ]
        .map(Typed::si);
        let [top_width, bottom_width] = [self.top_width, self.bottom_width].map(Typed::si);
        let between = self.height.si() - (top + bottom) / 2.0;
        let of_top = top * cube(top_width) / 12.0;
        let of_bottom = bottom * cube(bottom_width) / 12.0;
        let up = between * of_top / (of_top + of_bottom);
        Ok(open_shape(
            &[(top_width, top), (bottom_width, bottom), (between, web)],
            [top_width.max(bottom_width) / 2.0, bottom / 2.0 + up],
            between * between * of_top * of_bottom / (of_top + of_bottom),
        ))
    }
}

impl Channel {
    /// The shape as thin-walled, with b from the middle of the web to the toe and h between the
    /// middles of the flanges: the shear centre lies e = 3b²t_f/(6b·t_f + h·t_w) behind the middle
    /// of the web; I_w = t_f·b³h²/12·(3b·t_f + 2h·t_w)/(6b·t_f + h·t_w) (Timoshenko & Gere, Theory
    /// of Elastic Stability, table of warping constants; from memory, checked by sectorial
    /// integration).
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn thin_walled(&self) -> Result<OpenShape, SizeProblem> {
        self.outline()?;
        let [web, flange] = [self.web_thickness, self.flange_thickness].map(Typed::si);
        let reach = self.width.si() - web / 2.0;
        let between = self.height.si() - flange;
        let (flanges, of_web) = (reach * flange, between * web);
        let behind = 3.0 * reach * flanges / (6.0 * flanges + of_web);
        let warping = flange * cube(reach) * between * between / 12.0
            * (3.0 * flanges + 2.0 * of_web)
            / (6.0 * flanges + of_web);
        Ok(open_shape(
            &[(reach, flange), (reach, flange), (between, web)],
            [web / 2.0 - behind, self.height.si() / 2.0],
            warping,
        ))
    }
}

impl Zed {
    /// The shape as thin-walled, with b from the middle of the web to the toe and h between the
    /// middles of the flanges: the shear centre is the centroid; I_w = t_f·b³h²/12·(b·t_f +
    /// 2h·t_w)/(2b·t_f + h·t_w) (Timoshenko & Gere, Theory of Elastic Stability, table of warping
    /// constants, for one thickness; from memory, checked by sectorial integration).
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn thin_walled(&self) -> Result<OpenShape, SizeProblem> {
        self.outline()?;
        let [web, flange] = [self.web_thickness, self.flange_thickness].map(Typed::si);
        let reach = self.width.si() - web / 2.0;
        let between = self.height.si() - flange;
        let (flanges, of_web) = (reach * flange, between * web);
        let warping = flange * cube(reach) * between * between / 12.0 * (flanges + 2.0 * of_web)
            / (2.0 * flanges + of_web);
        Ok(open_shape(
            &[(reach, flange), (reach, flange), (between, web)],
            [self.width.si() - web / 2.0, self.height.si() / 2.0],
            warping,
        ))
    }
}

impl Tee {
    /// The shape as thin-walled: the shear centre is where the middle lines meet; I_w = (b³t_f³/4 +
    /// h³t_w³)/36 from warping over the thickness, with h from the middle of the flange to the end
    /// of the web (Bleich 1952, Buckling Strength of Metal Structures; from memory, confirmed by
    /// the published constants of rolled tees).
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn thin_walled(&self) -> Result<OpenShape, SizeProblem> {
        self.outline()?;
        let [web, flange] = [self.web_thickness, self.flange_thickness].map(Typed::si);
        let (width, depth) = (self.width.si(), self.height.si() - flange / 2.0);
        Ok(open_shape(
            &[(width, flange), (depth, web)],
            [width / 2.0, depth],
            (cube(width * flange) / 4.0 + cube(depth * web)) / 36.0,
        ))
    }
}

impl Angle {
    /// The shape as thin-walled: the shear centre is where the middle lines meet; I_w = t³(h³ +
    /// b³)/36 from warping over the thickness, with both legs from there to their ends (Bleich
    /// 1952, Buckling Strength of Metal Structures; from memory).
    ///
    /// # Errors
    /// The size that is impossible.
    pub fn thin_walled(&self) -> Result<OpenShape, SizeProblem> {
        self.outline()?;
        let thickness = self.thickness.si();
        let middle = thickness / 2.0;
        let [up, right] = [self.height, self.width].map(|own| own.si() - middle);
        Ok(open_shape(
            &[(up, thickness), (right, thickness)],
            [middle, middle],
            (cube(up * thickness) + cube(right * thickness)) / 36.0,
        ))
    }
}
