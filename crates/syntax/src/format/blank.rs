//! Empty lines and the end of a file: one empty line at most, none at either end, and a terminator
//! after the last line.

use haunch_text::{Edit, Range};

use super::row::{Row, RowKind};
use super::{edit, position};

/// The edits to empty lines.
pub(super) fn edits(rows: &[Row]) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut start = 0;
    while start < rows.len() {
        if rows[start].kind != RowKind::Blank {
            start += 1;
            continue;
        }
        let blank = rows[start..]
            .iter()
            .take_while(|row| row.kind == RowKind::Blank);
        let end = start + blank.count();
        stretch(rows, start, end, &mut edits);
        start = end;
    }
    edits
}

/// The edits to the empty rows `start..end`, between rows that are not empty.
fn stretch(rows: &[Row], start: usize, end: usize, edits: &mut Vec<Edit>) {
    let first = &rows[start];
    if end == rows.len() {
        // What comes before them ends the file. Of a file without a word its mark stays.
        let last = &rows[end - 1];
        let from = position(first.number, first.start);
        let to = position(last.number, last.content().len().max(last.start));
        if from < to {
            edits.push(Edit {
                range: Range {
                    start: from,
                    end: to,
                },
                text: String::new(),
            });
        }
        return;
    }
    if start == 0 && first.start == 0 {
        // A mark below would come to the start of the file, where it says something else.
        if !rows[end].text.starts_with('\u{FEFF}') {
            edits.push(lines_removed(0, end));
        }
        return;
    }
    let length = first.content().len();
    if first.start < length && !would_join(rows, start) {
        edits.push(edit(first.number, first.start, length, String::new()));
    }
    if start + 1 < end {
        edits.push(lines_removed(start + 1, end));
    }
}

fn lines_removed(from: usize, to: usize) -> Edit {
    Edit {
        range: Range {
            start: position(from, 0),
            end: position(to, 0),
        },
        text: String::new(),
    }
}

/// Whether a row without its white space would become the second half of the terminator above it.
fn would_join(rows: &[Row], at: usize) -> bool {
    let above = at.checked_sub(1).and_then(|above| rows.get(above));
    above.is_some_and(|row| row.terminator() == "\r") && rows[at].terminator() == "\n"
}

/// A terminator for a last line that has none, as the first line of the file has it.
pub(super) fn last_terminator(rows: &[Row]) -> Option<Edit> {
    let last = rows.last()?;
    let length = last.content().len();
    if last.kind == RowKind::Blank {
        return None;
    }
    let first = rows.first().map_or("", Row::terminator);
    let terminator = if first.is_empty() { "\n" } else { first };
    Some(edit(last.number, length, length, terminator.to_owned()))
}
