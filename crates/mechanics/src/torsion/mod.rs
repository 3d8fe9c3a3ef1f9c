//! Torsion of sections.
mod saint_venant;

pub use saint_venant::{NoTorsion, SaintVenant, saint_venant};
