//! `beam`.

use haunch_quantity::Dimension;

use super::context::BlockContext;
use super::{Argument, BlockMeaning, BlockOutcome, CallError};
use crate::value::Evaluated;

/// A beam.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamModel {}

/// The functions that give a result at a place.
pub(super) const FUNCTIONS: &[&str] = &["stress"];

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
