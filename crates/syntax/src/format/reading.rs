//! From a logical line that was read to its rows, and the proof that they are read in the same way.

use haunch_text::{content, split_lines};

use super::gaps::Gaps;
use super::row::{Piece, Row, RowKind, width};
use super::stops::Stops;
use super::{INDENT, LONGEST};
use crate::IsUnitWord;
use crate::read::read_line;
use crate::token::{Token, TokenKind, tokens};
use crate::tree::{Statement, Tree};

/// Adds the rows of a logical line, the first of which is physical line `first`.
pub(super) fn rows<'a>(
    text: &'a str,
    tree: &Tree,
    first: usize,
    is_unit_word: IsUnitWord,
    rows: &mut Vec<Row<'a>>,
) {
    let laid_out = if tree.errors.is_empty() && text.len() <= LONGEST {
        lay_out(text, tree, first)
    } else {
        None
    };
    match laid_out {
        Some(laid_out) if reads_the_same(text, tree, &laid_out, is_unit_word) => {
            rows.extend(laid_out);
        }
        _ => rows.extend(kept(text, first)),
    }
}

fn kept(text: &str, first: usize) -> impl Iterator<Item = Row<'_>> {
    physical_lines(text)
        .enumerate()
        .map(move |(at, line)| Row::kept(first + at, line))
}

/// The physical lines of a logical line, which has no empty one after its last terminator.
fn physical_lines(text: &str) -> impl Iterator<Item = &str> {
    let mut left = text.len();
    split_lines(text).enumerate().map_while(move |(at, line)| {
        let is_line = at == 0 || left > 0;
        left -= line.len();
        is_line.then_some(line)
    })
}

/// The rows of a line with a gap before every piece; none where the line is left as it is.
fn lay_out<'a>(text: &'a str, tree: &Tree, first: usize) -> Option<Vec<Row<'a>>> {
    let tokens = tokens(text);
    let mark = match tokens.first() {
        Some(token) if token.kind == TokenKind::ByteOrderMark => token.span.range().end,
        _ => 0,
    };
    // Only the first line of a file has a mark that is none of its words.
    if mark > 0 && first > 0 {
        return None;
    }
    let said: Vec<Token> = tokens
        .into_iter()
        .filter(|token| !token.kind.is_trivia() || token.kind == TokenKind::Comment)
        .collect();
    // A note of several lines is kept to the letter.
    if said
        .iter()
        .any(|token| token.span.text(text).contains(['\n', '\r']))
    {
        return None;
    }
    let gaps = Gaps::of(tree, &said);
    let mut rows = Vec::new();
    let mut start = 0;
    let mut next = 0;
    for (at, line) in physical_lines(text).enumerate() {
        let end = start + content(line).len();
        let count = said[next..]
            .iter()
            .take_while(|token| token.span.range().end <= end)
            .count();
        let indices = next..next + count;
        next += count;
        let pieces = indices.clone().map(|index| {
            let token = said[index];
            let written = token.span.text(text).trim_end();
            let from = token.span.range().start - start;
            let is_first = index == indices.start;
            Piece {
                start: from,
                end: from + written.len(),
                width: width(written),
                gap: if is_first {
                    let levels = usize::from(tree.indented) + usize::from(at > 0);
                    INDENT * levels
                } else {
                    gaps.before(index)
                },
            }
        });
        let pieces: Vec<Piece> = pieces.collect();
        rows.push(Row {
            number: first + at,
            text: line,
            start: if at == 0 { mark } else { 0 },
            kind: kind(tree, at, &pieces),
            stops: Stops::of(text, tree, &said, indices),
            pieces,
        });
        start += line.len();
    }
    Some(rows)
}

fn kind(tree: &Tree, at: usize, pieces: &[Piece]) -> RowKind {
    match tree.statement {
        Statement::Empty if pieces.is_empty() => RowKind::Blank,
        Statement::Empty => RowKind::Comment,
        _ if at == 0 => RowKind::Statement,
        _ => RowKind::Continuation,
    }
}

/// Whether the line says the same with its new gaps. What is read of a line depends on its words and
/// on which of them touch, not on the width of a gap: it is read again where words come to touch or
/// to stand apart.
fn reads_the_same(text: &str, tree: &Tree, rows: &[Row], is_unit_word: IsUnitWord) -> bool {
    let touching_stays = rows.iter().all(|row| {
        let mut pieces = row.pieces.iter().enumerate().skip(1);
        pieces.all(|(at, piece)| row.written_gap(at).is_empty() == (piece.gap == 0))
    });
    if touching_stays {
        return true;
    }
    let laid_out: String = rows.iter().map(Row::laid_out).collect();
    let again = read_line(&laid_out, is_unit_word);
    again.errors.is_empty()
        && again.indented == tree.indented
        && again.comment.is_some() == tree.comment.is_some()
        && words(&laid_out).eq(words(text))
        && again.outline() == tree.outline()
}

/// The tokens that say something, as written.
fn words(text: &str) -> impl Iterator<Item = (TokenKind, &str)> {
    tokens(text)
        .into_iter()
        .filter(|token| !token.kind.is_trivia())
        .map(move |token| (token.kind, token.span.text(text)))
}
