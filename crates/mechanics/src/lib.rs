//! Sections and beams as pure, typed numerics.
//!
//! - [`beam`]: reactions, shear, moment and deflection of straight beams.
//! - [`section`]: properties of cross sections and stresses in them.
//! - [`shapes`]: made-up and rolled shapes by their dimensions.
//! - [`torsion`]: torsion constant, shear centre and warping constant.
//!
//! Numbers at the public edge carry their dimension in their type
//! ([`haunch_quantity::typed`]); inside a computation they are plain SI values. Nothing here
//! knows names, text or files: parts are known by their index, and what is wrong is an enum.

pub mod beam;
pub mod section;
pub mod shapes;
pub mod torsion;
