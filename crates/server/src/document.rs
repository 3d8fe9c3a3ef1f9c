//! The text of an open document as the client has it.
//!
//! The server keeps the lines itself, because a change of a notification counts its columns in the
//! text after the change before it, and because the text must survive whatever happens to the core.

use haunch_text::{Edit, Encoding, Position, Range, column_from_encoding, content, split_lines};
use tower_lsp::lsp_types;

/// The lines of an open document.
#[derive(Debug, Clone)]
pub(crate) struct Document {
    lines: Vec<String>,
}

impl Document {
    /// A document with this text.
    pub(crate) fn new(text: &str) -> Document {
        Document {
            lines: split_lines(text).map(str::to_owned).collect(),
        }
    }

    /// The whole text.
    pub(crate) fn text(&self) -> String {
        self.lines.concat()
    }

    /// Turns a range of the client into lines and byte columns of the text as it is now.
    pub(crate) fn range(&self, range: lsp_types::Range, encoding: Encoding) -> Range {
        Range {
            start: self.position(range.start, encoding),
            end: self.position(range.end, encoding),
        }
    }

    fn position(&self, position: lsp_types::Position, encoding: Encoding) -> Position {
        let column = self.lines.get(position.line as usize).map_or(0, |line| {
            column_from_encoding(content(line), position.character, encoding)
        });
        Position {
            line: position.line,
            column,
        }
    }

    /// Replaces a range.
    pub(crate) fn apply(&mut self, edit: &Edit) {
        let splice = edit.splice(self.lines.len(), |number| {
            self.lines.get(number).map_or("", String::as_str)
        });
        let removed = splice.first..splice.first + splice.removed;
        self.lines.splice(removed, splice.inserted);
    }
}
