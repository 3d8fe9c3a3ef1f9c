//! Editor features as plain data: what to show and where, in lines and byte columns.
//!
//! Each feature is a function from a [`Snapshot`](haunch_calc::Snapshot) and a place to values of its own
//! types. Nothing here knows of a protocol, of JSON or of a client.

mod actions;
mod completion;
mod cursor;
mod definition;
mod explain;
mod format;
mod hints;
mod hover;
mod parts_table;
mod show;
mod statement_words;
mod symbols;
mod working;

pub use actions::{Action, actions};
pub use completion::{Completion, CompletionKind, completions};
pub use definition::{Target, definition};
pub use explain::{caption, explain, silencing};
pub use format::{Extent, format};
pub use hints::{Hint, HintKind, hints};
pub use hover::{Hover, hover};
pub use symbols::{Symbol, SymbolKind, symbols};
