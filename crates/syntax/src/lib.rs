//! Text to tree and back: tokens (`logos`), grammar (`chumsky`), tree; no meaning.

pub mod tree;

pub use tree::*;
