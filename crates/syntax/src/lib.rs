//! Text to tree and back: tokens (`logos`), grammar (`chumsky`), tree; no meaning.

mod ambiguity;
mod brackets;
mod broken;
mod format;
mod grammar;
mod keyword;
mod lexeme;
mod messages;
mod mistakes;
mod outline;
mod read;
mod repair;
mod statement;
#[cfg(test)]
mod tests;
mod token;
pub mod tree;
pub mod words;

pub use format::{format, format_lines, with_edits};
pub use read::read_line;
pub use token::{Token, TokenKind, can_be_continued, is_continuation, tokens};
pub use tree::*;

/// Tells whether a word is the spelling of a unit, e.g. `kN`, `kip-ft`, `%`; without any power.
pub type IsUnitWord = fn(&str) -> bool;

/// How many continuations a line may have.
pub const MAXIMUM_CONTINUATIONS: usize = 64;

/// How deep parentheses and choices may be nested.
pub const MAXIMUM_DEPTH: usize = 256;

/// How many bytes a logical line may have.
pub const MAXIMUM_LINE_LENGTH: usize = 64 * 1024;

impl Tree {
    /// The expression of an id of this tree.
    ///
    /// # Panics
    /// On an id of another tree.
    pub fn expression(&self, id: ExpressionId) -> &Expression {
        &self.expressions[id.0 as usize]
    }

    /// Every path that the line's expressions use; of a broken line, every path that could be
    /// read. The dotted names of headings, materials and searches are not among them.
    pub fn paths(&self) -> impl Iterator<Item = &Path> {
        let broken: &[Path] = match &self.statement {
            Statement::Broken { paths, .. } => paths,
            _ => &[],
        };
        self.expressions
            .iter()
            .filter_map(|expression| match &expression.kind {
                ExpressionKind::Path(path) => Some(path),
                _ => None,
            })
            .chain(broken)
    }
}
