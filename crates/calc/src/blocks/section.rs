//! `section`: parts, points and the properties of the whole.

use haunch_quantity::{Dimension, Quantity};

use super::context::BlockContext;
use super::fibre::{Fibre, ShearPlace};
use super::{Argument, BlockMeaning, BlockOutcome, CallError};
use crate::value::Evaluated;

/// A cross section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionModel {
    /// The places at which normal stress is looked at: every extreme corner or fibre of the parts
    /// of each material, then the named points.
    pub fibres: Vec<Fibre>,
    /// Where shear stress is largest, for each material.
    pub shear: Vec<ShearPlace>,
    /// Flexural rigidity about the x axis, E·Ixx (transformed for several materials); none without E.
    pub flexural_rigidity: Option<Quantity>,
    /// Mass per length; none where a material has no density.
    pub mass_per_length: Option<Quantity>,
    /// Depth over all.
    pub depth: Quantity,
}

/// The functions that give a result at a place.
pub(super) const FUNCTIONS: &[&str] = &["first_moment"];

/// What is known of a shape from its sizes alone.
pub(crate) struct OwnProperties {}

impl OwnProperties {
    pub(crate) fn get(&self, _member: &str) -> Option<Quantity> {
        None
    }
}

pub(crate) fn own_properties(_shape: &str, _sizes: &[Quantity]) -> Option<OwnProperties> {
    None
}

pub(super) fn member_dimension(_member: &str) -> Option<Dimension> {
    None
}

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    BlockOutcome {
        meaning: BlockMeaning::unknown(context),
        findings: Vec::new(),
    }
}

pub(super) fn call(
    _block: &BlockMeaning,
    _name: &str,
    _arguments: &[Argument],
) -> Result<Evaluated, CallError> {
    Err(CallError::Unknown)
}
