//! A line as the search sees it: its expressions and what is known of each.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind, Tree};
use haunch_text::Span;

use crate::state::Cell;
use crate::value::{Evaluated, Kind};

/// Expressions of one line with their kinds.
#[derive(Clone, Copy)]
pub(crate) struct Line<'a> {
    pub(crate) tree: &'a Tree,
    pub(crate) text: &'a str,
    pub(crate) evaluated: &'a [Evaluated],
}

impl<'a> Line<'a> {
    pub(super) fn of(cell: &'a Cell) -> Line<'a> {
        Line {
            tree: &cell.tree,
            text: &cell.text,
            evaluated: &cell.outcome.expressions,
        }
    }

    pub(super) fn kind(&self, id: ExpressionId) -> Option<&'a ExpressionKind> {
        self.tree.expressions.get(id.0 as usize).map(|e| &e.kind)
    }

    pub(super) fn span(&self, id: ExpressionId) -> Span {
        self.tree
            .expressions
            .get(id.0 as usize)
            .map_or(Span::default(), |e| e.span)
    }

    pub(super) fn source(&self, id: ExpressionId) -> &'a str {
        self.span(id).text(self.text)
    }

    /// The dimension of an expression as it stands.
    pub(super) fn found(&self, id: ExpressionId) -> Option<Dimension> {
        match self.evaluated.get(id.0 as usize)?.kind {
            Kind::Quantity(dimension) => Some(dimension),
            _ => None,
        }
    }
}
