//! Which pieces of a row stand in a column with those of the rows next to it.

use std::ops::Range;

use crate::token::{Token, TokenKind};
use crate::tree::{ExpressionKind, Part, PartPlace, Statement, Tree, Value};

/// The pieces of a row that stand in columns, as indices of its pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Stops {
    /// Which rows share its columns; none where none do.
    pub(super) shared_with: Option<Sharing>,
    /// The columns that only rows of the same kind share.
    pub(super) own: [Option<usize>; 2],
    /// A bare number at the first of them, which stands to the right of its column.
    pub(super) bare_number: bool,
    /// `[unit]`
    pub(super) unit: Option<usize>,
    /// A comment after something else.
    pub(super) comment: Option<usize>,
}

/// Rows of one kind next to each other share their columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Sharing {
    statement: Kind,
    indented: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Value,
    Limit,
    Part { deduct: bool },
    Point,
    Support,
    Load,
    Combination,
}

impl Stops {
    /// Of the row that holds the tokens `row` of a line.
    pub(super) fn of(text: &str, tree: &Tree, tokens: &[Token], row: Range<usize>) -> Stops {
        let row_tokens = tokens.get(row.clone()).unwrap_or(&[]);
        let index = |start: u32| {
            let found = row_tokens.binary_search_by_key(&start, |token| token.span.start);
            found.ok().filter(|index| *index > 0)
        };
        let comment = row_tokens
            .len()
            .checked_sub(1)
            .filter(|&last| last > 0 && row_tokens[last].kind == TokenKind::Comment);
        let mut stops = Stops {
            unit: shown(tree).and_then(index),
            comment,
            ..Stops::default()
        };
        if row.start > 0 {
            return stops;
        }
        let after = |end: u32| {
            let index = row_tokens.partition_point(|token| token.span.start < end);
            row_tokens.get(index).map(|token| token.span.start)
        };
        let equals = row_tokens
            .iter()
            .find(|token| token.kind == TokenKind::Equals)
            .map(|token| token.span.start);
        let word_before = |place: u32, word: &str| {
            let index = row_tokens.partition_point(|token| token.span.start < place);
            let before = row_tokens.get(index.checked_sub(1)?)?;
            (before.span.text(text) == word).then_some(before.span.start)
        };
        let (statement, places) = match &tree.statement {
            Statement::Value(_) | Statement::Formula(_) => (Kind::Value, [equals, None]),
            Statement::Combination(_) => (Kind::Combination, [equals, None]),
            Statement::Limit(limit) => (Kind::Limit, [Some(limit.relation_span.start), None]),
            Statement::Point(point) => (Kind::Point, [after(point.name.span.end), None]),
            Statement::Load(load) => (Kind::Load, [after(load.case.span.end), None]),
            Statement::Support(support) => {
                let name = support.name.as_ref().map(|name| name.span.start);
                let places = [
                    word_before(support.at.span.start, "at"),
                    name.and_then(|start| word_before(start, "as")),
                ];
                (Kind::Support, places)
            }
            Statement::Part(part) => {
                stops.bare_number = starts_with_bare_number(part, tree);
                let deduct = part.deduct.is_some();
                let places = [after(part.name.span.end), place(part)];
                (Kind::Part { deduct }, places)
            }
            _ => return stops,
        };
        stops.shared_with = Some(Sharing {
            statement,
            indented: tree.indented,
        });
        stops.own = places.map(|place| place.and_then(index));
        // A part that goes without a size ends with its place.
        if stops.own[0] >= stops.own[1] && stops.own[1].is_some() {
            stops.own[1] = None;
        }
        stops
    }

    /// Whether a piece of its own columns has two spaces before it: the place of a part.
    pub(super) fn is_wide(&self, column: usize) -> bool {
        let is_part = self
            .shared_with
            .is_some_and(|sharing| matches!(sharing.statement, Kind::Part { .. }));
        is_part && column == 1
    }
}

/// Where the `[` at the end of a formula stands.
fn shown(tree: &Tree) -> Option<u32> {
    let shown = match &tree.statement {
        Statement::Value(Value { shown, .. }) => shown,
        Statement::Formula(formula) => &formula.shown,
        _ => return None,
    };
    Some(shown.as_ref()?.span.start)
}

fn place(part: &Part) -> Option<u32> {
    match &part.place {
        PartPlace::Unplaced => None,
        PartPlace::At { span, .. } => Some(span.start),
        PartPlace::Relative { relation_span, .. } => Some(relation_span.start),
    }
}

fn starts_with_bare_number(part: &Part, tree: &Tree) -> bool {
    let first = part
        .sizes
        .first()
        .and_then(|id| tree.expressions.get(id.0 as usize));
    match first.map(|expression| &expression.kind) {
        Some(ExpressionKind::Literal(literal)) => {
            part.sizes.len() > 1 && literal.parts.iter().all(|part| part.unit.is_none())
        }
        _ => false,
    }
}
