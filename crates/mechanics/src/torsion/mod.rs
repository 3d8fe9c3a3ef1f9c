//! Torsion of sections: torsion constant, shear centre, warping constant and shear stress.
//!
//! - Exact solutions of Saint-Venant's problem: [`Rectangle`], [`circle`], [`tube`], [`ellipse`],
//!   [`equilateral_triangle`].
//! - Any section of one material, numerically and with bounds: [`saint_venant`].
//! - Thin walls: single strips and one cell ([`open_strips`], [`Cell`]), any system of straight
//!   walls, open or closed ([`Walls`]), and the closed forms of the usual open shapes
//!   ([`OpenShape`]). How thin the walls are comes with each result: [`Thinness`].
//! - What tables of rolled sections print where they use a formula of their own: [`tabulated`].
//!
//! Twist per length is T/(G·J) where warping is free. Shear stresses are those of free warping.

mod dissection;
mod equations;
mod exact;
mod open_shapes;
mod saint_venant;
pub mod tabulated;
mod thin_walls;
mod walls;

pub use exact::{Rectangle, circle, ellipse, ellipse_warping, equilateral_triangle, tube};
pub use open_shapes::OpenShape;
pub use saint_venant::{NoTorsion, SaintVenant, saint_venant};
pub use thin_walls::{Cell, Thinness, open_strips};
pub use walls::{ThinWalled, Wall, Walls, WallsProblem};
