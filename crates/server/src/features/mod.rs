//! Editor features in the protocol's shapes. Each takes a request's view and gives its answer.

pub(crate) mod actions;
pub(crate) mod completion;
pub(crate) mod diagnostics;
pub(crate) mod edits;
pub(crate) mod format;
pub(crate) mod hints;
pub(crate) mod lens;
pub(crate) mod names;
pub(crate) mod outline;
pub(crate) mod reading;
pub(crate) mod tokens;
pub(crate) mod uses;
