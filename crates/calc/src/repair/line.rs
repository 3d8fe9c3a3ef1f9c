//! A line as the search sees it: its expressions and what is known of each.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind, Tree};
use haunch_text::Span;

use crate::state::Cell;
use crate::value::{Evaluated, Kind};

/// A text with replacements made in it; none where they meet or reach beyond it.
pub(super) fn edited(text: &str, edits: &[(Span, String)]) -> Option<String> {
    let mut sorted: Vec<&(Span, String)> = edits.iter().collect();
    sorted.sort_by_key(|(span, _)| (span.start, span.end));
    let mut out = String::with_capacity(text.len() + 16);
    let mut at = 0;
    for (span, replacement) in sorted {
        out.push_str(text.get(at..span.start as usize)?);
        out.push_str(replacement);
        at = span.end as usize;
    }
    out.push_str(text.get(at..)?);
    Some(out)
}

/// What of a text stands outside its parentheses; none where one of them opens or closes elsewhere.
pub(super) fn outside_parentheses(text: &str) -> Option<String> {
    let mut outside = String::new();
    let mut depth = 0_u32;
    for character in text.chars() {
        match character {
            '(' => depth += 1,
            ')' => depth = depth.checked_sub(1)?,
            _ if depth == 0 => outside.push(character),
            _ => {}
        }
    }
    (depth == 0).then_some(outside)
}

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

    /// The text of an expression with replacements made in it.
    pub(super) fn source_with(&self, id: ExpressionId, edits: &[(Span, String)]) -> String {
        let start = self.span(id).start;
        let within = |span: Span| Span {
            start: span.start - start,
            end: span.end - start,
        };
        let moved: Vec<(Span, String)> = edits
            .iter()
            .map(|(span, new)| (within(*span), new.clone()))
            .collect();
        edited(self.source(id), &moved).unwrap_or_default()
    }

    /// The dimension of an expression as it stands.
    pub(super) fn found(&self, id: ExpressionId) -> Option<Dimension> {
        match self.evaluated.get(id.0 as usize)?.kind {
            Kind::Quantity(dimension) => Some(dimension),
            _ => None,
        }
    }
}
