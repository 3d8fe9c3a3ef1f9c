//! `sheet`: what the calculation is about and who answers for it. It has no results.

use super::context::BlockContext;
use super::{BlockMeaning, BlockOutcome, Model};

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    BlockOutcome {
        meaning: BlockMeaning {
            model: Some(Model::Sheet),
            ..BlockMeaning::unknown(context)
        },
        findings: Vec::new(),
    }
}
