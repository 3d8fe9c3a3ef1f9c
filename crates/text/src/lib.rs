//! Text as the rest of the house sees it: byte spans, physical lines, positions and edits.
//!
//! Positions are a line's number and a byte column in it, not an offset into the whole file: an
//! edit elsewhere in the file then shifts line numbers only, and a column can be converted to
//! another encoding from its own line alone.

mod column;
mod difference;
mod edit;
mod lines;
mod span;

pub use column::{Encoding, column_from_encoding, column_to_encoding};
pub use difference::edits_between;
pub use edit::{Edit, Splice};
pub use lines::{content, line_terminator, split_lines};
pub use span::{Position, Range, Span};
