//! The places of a cross section at which stress is looked at, with what a unit of each force
//! gives there. Forces blocks, beams and capacity searches all judge stress through these.

use std::sync::Arc;

use haunch_quantity::Quantity;
use smol_str::SmolStr;

use super::material::MaterialLimit;
use crate::line::LineId;

/// A place at which normal stress is looked at. Stress is linear in the forces:
/// σ = N·`per_axial` + M·`per_moment` + My·`per_moment_y`, positive in tension, in the material's
/// own stress (not the transformed one).
#[derive(Debug, Clone, PartialEq)]
pub struct Fibre {
    /// Its name: a point's name, or `top`, `bottom`, `left`, `right` and the like.
    pub name: SmolStr,
    /// The line of the `point` that names it; none for an extreme fibre.
    pub point: Option<LineId>,
    /// Pa per N of axial force, tension positive.
    pub per_axial: f64,
    /// Pa per N·m of moment about the x axis, sagging positive.
    pub per_moment: f64,
    /// Pa per N·m of moment about the y axis, left in tension positive.
    pub per_moment_y: f64,
    /// The limits of its material.
    pub limits: Arc<[MaterialLimit]>,
}

/// The place of the largest shear stress in the parts of one material, from a shear force along y.
#[derive(Debug, Clone, PartialEq)]
pub struct ShearPlace {
    /// Height in the section's frame.
    pub y: Quantity,
    /// Pa per N of shear force, as a magnitude.
    pub per_shear: f64,
    /// Pa per N of sideways shear force, as a magnitude: the largest over the breadth, wherever it
    /// is; 0 where nothing acts sideways.
    pub per_shear_sideways: f64,
    /// The limits of its material.
    pub limits: Arc<[MaterialLimit]>,
}
