//! The layout of a file: where a careful person puts white space. Text to edits, no meaning.
//!
//! Edits replace white space by white space, and nothing else; a line that would be read in another
//! way afterwards, or that cannot be read at all, is left exactly as it is. The rules are told in
//! `tests/language/layout.md`.
//!
//! A logical line becomes rows, one for each physical line, with the gap that belongs before each of
//! their pieces (`row`, `gaps`). Rows next to each other are then brought into columns, which only
//! widens gaps (`stops`, `columns`), and empty lines are counted (`blank`).

mod blank;
mod columns;
mod gaps;
mod reading;
mod row;
mod stops;
#[cfg(test)]
mod tests;

use haunch_text::{Edit, Position, Range, Span, split_lines};

use crate::read::read_line;
use crate::token::{Token, can_be_continued, is_continuation, tokens};
use crate::tree::Tree;
use crate::{IsUnitWord, MAXIMUM_LINE_LENGTH};
use gaps::Gaps;
use row::Row;

/// White space at the start of a line under a heading, and more of it before a continuation.
const INDENT: usize = 4;

/// A logical line longer than this many bytes is left as it is: with wider gaps it could become too
/// long to be read.
const LONGEST: usize = MAXIMUM_LINE_LENGTH / 2;

/// The edits that lay a text out, in order, none overlapping another. None where it is laid out.
pub fn format(text: &str, is_unit_word: IsUnitWord) -> Vec<Edit> {
    let lines: Vec<(&str, Tree)> = logical_lines(text)
        .into_iter()
        .map(|line| (line, read_line(line, is_unit_word)))
        .collect();
    format_lines(lines.iter().map(|(line, tree)| (*line, tree)), is_unit_word)
}

/// The same for a text whose logical lines have been read: each with its terminators, in order, the
/// empty one after the last terminator included.
pub fn format_lines<'a>(
    lines: impl Iterator<Item = (&'a str, &'a Tree)>,
    is_unit_word: IsUnitWord,
) -> Vec<Edit> {
    let mut rows: Vec<Row> = Vec::new();
    let mut last_length = 0;
    for (text, tree) in lines {
        let first = rows.len();
        last_length = text.len();
        reading::rows(text, tree, first, is_unit_word, &mut rows);
    }
    columns::align(&mut rows);
    let mut edits = blank::edits(&rows);
    if last_length <= LONGEST {
        edits.extend(blank::last_terminator(&rows));
    }
    for row in &rows {
        row.edits(&mut edits);
    }
    edits.sort_by_key(|edit| (edit.range.start, edit.range.end));
    edits
}

/// What stands at a stretch of a logical line, laid out, on one row and without comments: the same
/// whatever white space it is written with.
pub fn on_one_row(text: &str, tree: &Tree, span: Span) -> String {
    let tokens: Vec<Token> = tokens(text)
        .into_iter()
        .filter(|token| !token.kind.is_trivia())
        .collect();
    let gaps = Gaps::of(tree, &tokens);
    let mut row = String::with_capacity(span.range().len());
    for (at, token) in tokens.iter().enumerate() {
        if token.span.start < span.start || token.span.end > span.end {
            continue;
        }
        if !row.is_empty() {
            row.extend(std::iter::repeat_n(' ', gaps.before(at)));
        }
        row.push_str(token.span.text(text).trim_end());
    }
    row
}

/// A text with edits made, which are in order and do not overlap.
pub fn with_edits(text: &str, edits: &[Edit]) -> String {
    let mut starts = vec![0];
    for line in split_lines(text) {
        starts.push(starts[starts.len() - 1] + line.len());
    }
    let offset = |position: Position| {
        let start = starts
            .get(position.line as usize)
            .copied()
            .unwrap_or(text.len());
        (start + position.column as usize).min(text.len())
    };
    let mut laid_out = String::with_capacity(text.len() + 64);
    let mut done = 0;
    for edit in edits {
        laid_out.push_str(text.get(done..offset(edit.range.start)).unwrap_or(""));
        laid_out.push_str(&edit.text);
        done = offset(edit.range.end);
    }
    laid_out.push_str(text.get(done..).unwrap_or(""));
    laid_out
}

/// The logical lines of a text: each with its continuations and terminators.
fn logical_lines(text: &str) -> Vec<&str> {
    let mut lines = Vec::new();
    let (mut start, mut end) = (0, 0);
    for physical in split_lines(text) {
        let head = &text[start..end];
        let continues = end > start && is_continuation(physical) && can_be_continued(head);
        if !continues && end > 0 {
            lines.push(head);
            start = end;
        }
        end += physical.len();
    }
    lines.push(&text[start..end]);
    lines
}

/// An edit within one physical line.
fn edit(line: usize, from: usize, to: usize, text: String) -> Edit {
    Edit {
        range: Range {
            start: position(line, from),
            end: position(line, to),
        },
        text,
    }
}

fn position(line: usize, column: usize) -> Position {
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Position {
        line: number(line),
        column: number(column),
    }
}
