//! Rows: the physical lines of a text with the gap that belongs before each of their pieces.

use haunch_text::{Edit, content, line_terminator};
use unicode_normalization::char::is_combining_mark;

use super::edit;
use super::stops::Stops;

/// A physical line.
#[derive(Debug)]
pub(super) struct Row<'a> {
    /// Its number, from 0.
    pub(super) number: usize,
    /// Its text with its terminator.
    pub(super) text: &'a str,
    /// Where its text begins: after a byte order mark.
    pub(super) start: usize,
    /// What it is.
    pub(super) kind: RowKind,
    /// What stands on it, in order. None on a line that is empty or left as it is.
    pub(super) pieces: Vec<Piece>,
    /// Which of the pieces stand in columns.
    pub(super) stops: Stops,
}

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RowKind {
    /// The first row of a line that says something.
    Statement,
    /// A row that goes on with the expression above it.
    Continuation,
    /// A comment alone.
    Comment,
    /// Nothing but white space.
    Blank,
    /// Left exactly as it is.
    Kept,
}

/// A stretch of a row without white space of its own, and the gap before it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    /// First byte in the row.
    pub(super) start: usize,
    /// One past its last byte.
    pub(super) end: usize,
    /// The columns that it takes.
    pub(super) width: usize,
    /// The spaces that belong before it.
    pub(super) gap: usize,
}

impl<'a> Row<'a> {
    /// A row that no edit touches.
    pub(super) fn kept(number: usize, text: &'a str) -> Row<'a> {
        Row {
            number,
            text,
            start: 0,
            kind: RowKind::Kept,
            pieces: Vec::new(),
            stops: Stops::default(),
        }
    }

    /// The row without its terminator.
    pub(super) fn content(&self) -> &'a str {
        content(self.text)
    }

    /// What ends the row.
    pub(super) fn terminator(&self) -> &'a str {
        line_terminator(self.text)
    }

    /// The column at which the gap before a piece begins.
    pub(super) fn width_before(&self, piece: usize) -> usize {
        let before = self.pieces.get(..piece).unwrap_or(&[]);
        let width: usize = before.iter().map(|piece| piece.gap + piece.width).sum();
        width
    }

    /// The column at which a piece is written.
    pub(super) fn written_column(&self, piece: usize) -> usize {
        let start = self.pieces.get(piece).map_or(0, |piece| piece.start);
        width(self.text.get(self.start..start).unwrap_or(""))
    }

    /// The columns that the whole row takes.
    pub(super) fn width(&self) -> usize {
        self.width_before(self.pieces.len())
    }

    /// The white space that is written before a piece.
    pub(super) fn written_gap(&self, piece: usize) -> &'a str {
        let before = piece.checked_sub(1).and_then(|at| self.pieces.get(at));
        let from = before.map_or(self.start, |piece| piece.end);
        let to = self.pieces.get(piece).map_or(from, |piece| piece.start);
        self.text.get(from..to).unwrap_or("")
    }

    /// The row with the gaps that belong in it.
    pub(super) fn laid_out(&self) -> String {
        let mut text = self.text.get(..self.start).unwrap_or("").to_owned();
        for piece in &self.pieces {
            text.extend(std::iter::repeat_n(' ', piece.gap));
            text.push_str(self.text.get(piece.start..piece.end).unwrap_or(""));
        }
        text + self.terminator()
    }

    /// The edits that make its gaps what they should be.
    pub(super) fn edits(&self, edits: &mut Vec<Edit>) {
        for (at, piece) in self.pieces.iter().enumerate() {
            let written = self.written_gap(at);
            if written.len() != piece.gap || written.bytes().any(|byte| byte != b' ') {
                let from = piece.start - written.len();
                edits.push(edit(self.number, from, piece.start, " ".repeat(piece.gap)));
            }
        }
        if let Some(last) = self.pieces.last()
            && last.end < self.content().len()
        {
            let end = self.content().len();
            edits.push(edit(self.number, last.end, end, String::new()));
        }
    }
}

/// The columns that a text takes: one for each character but for marks above and below others.
pub(super) fn width(text: &str) -> usize {
    if text.is_ascii() {
        return text.len();
    }
    text.chars().filter(|c| !is_combining_mark(*c)).count()
}
