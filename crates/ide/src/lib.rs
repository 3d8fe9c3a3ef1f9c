//! Editor features as plain data: what to show and where, in lines and byte columns.
//!
//! Each feature is a function from a [`Snapshot`](haunch_calc::Snapshot) and a place to values of its own
//! types. Nothing here knows of a protocol, of JSON or of a client.

mod actions;
mod asked_dimension;
mod beam_call;
mod completion;
mod cursor;
mod definition;
mod drawing;
mod explain;
mod folding;
mod format;
mod hand_calculation;
mod highlighting;
mod hints;
mod hover;
mod lens;
mod links;
mod mention;
mod moved_files;
mod narrowing;
mod needed;
mod parts_table;
mod references;
mod rename;
mod rewrite;
mod section_working;
mod selection;
mod show;
mod signature;
mod statement_words;
mod symbols;
mod template;
mod trial;
mod type_definition;
mod used_names;
mod uses;
mod wheels;
mod working;
mod workspace_symbols;

pub use actions::{Action, actions};
pub use completion::{About, Completion, CompletionKind, Completions, completions, describe};
pub use definition::{Target, definition};
pub use drawing::drawing;
pub use explain::{caption, codes, explain, silencing};
pub use folding::{Fold, FoldKind, folds};
pub use format::{Extent, format};
pub use highlighting::{Highlight, HighlightKind, highlighting};
pub use hints::{Hint, HintKind, HintOptions, hint_source, hint_tooltip, hints, hints_with};
pub use hover::{Hover, hover};
pub use lens::{Lens, LensKind, lens_words, lenses};
pub use links::{Link, links};
pub use moved_files::moved_files;
pub use narrowing::MOST_OFFERED;
pub use references::{Reference, highlights, linked, references};
pub use rename::{FileEdit, prepare_rename, rename};
pub use rewrite::{Rewrite, RewriteKind, line_ending, rewrites};
pub use selection::selections;
pub use signature::{Signature, signature};
pub use symbols::{Symbol, SymbolKind, symbols};
pub use template::Piece;
pub use type_definition::type_definition;
pub use used_names::{UsedName, used_names};
pub use uses::{Item, Use, item_at, used_by_item, users_of_item};
pub use workspace_symbols::{FoundSymbol, workspace_symbols};
