//! Text to tree and back: tokens (`logos`), grammar (`chumsky`), tree; no meaning.

mod ambiguity;
mod belonging;
mod brackets;
mod broken;
mod factors;
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

pub use factors::{Factor, Factors};
pub use format::{format, format_lines, on_one_row, with_edits};
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

    /// The block that a line names outside its expressions: after `of` or `on`, of a stretch, of a
    /// search.
    pub fn named_block(&self) -> Option<&Path> {
        match &self.statement {
            Statement::Heading(heading) => heading.of.as_ref(),
            Statement::Part(part) => part.of.as_ref(),
            Statement::SectionStretch(stretch) => Some(&stretch.section),
            Statement::Value(value) => match &value.body {
                ValueBody::Search(search) => Some(&search.block),
                ValueBody::Sizing(sizing) => Some(&sizing.block),
                _ => None,
            },
            _ => None,
        }
    }

    /// Every unit that the line writes: after numbers, in brackets, in a list of units for results.
    pub fn units(&self) -> impl Iterator<Item = &UnitText> {
        let literals = self
            .expressions
            .iter()
            .filter_map(|expression| match &expression.kind {
                ExpressionKind::Literal(literal) => Some(literal),
                _ => None,
            });
        let shown = match &self.statement {
            Statement::Value(value) => value.shown.as_ref(),
            Statement::Formula(formula) => formula.shown.as_ref(),
            _ => None,
        };
        let shown = shown.and_then(|shown| match &shown.kind {
            ShownKind::Unit(unit) => Some(unit),
            ShownKind::Any(_) => None,
        });
        let listed = match &self.statement {
            Statement::ResultsIn(results) => results.units.as_slice(),
            _ => &[],
        };
        literals
            .flat_map(|literal| &literal.parts)
            .filter_map(|part| part.unit.as_ref())
            .chain(shown)
            .chain(listed)
    }
}

impl Statement {
    /// The name that the line gives, where it can be read. A `use` line and a load give one in
    /// another way.
    pub fn given_name(&self) -> Option<&Name> {
        match self {
            Statement::Value(value) => Some(&value.name),
            Statement::Formula(formula) => Some(&formula.name),
            Statement::Heading(heading) => heading.name.as_ref(),
            Statement::Part(part) => Some(&part.name),
            Statement::Point(point) => Some(&point.name),
            Statement::Support(support) => support.name.as_ref(),
            Statement::Combination(combination) => Some(&combination.name),
            Statement::Broken { name, .. } => name.as_ref(),
            _ => None,
        }
    }
}
