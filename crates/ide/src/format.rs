//! The layout of a file: edits of white space that change nothing of what it says.

use std::ops::Range;

use haunch_calc::{FileId, Snapshot};
use haunch_quantity::is_unit_word;
use haunch_syntax::format_lines;
use haunch_text::Edit;

/// What of a file is laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Extent {
    /// All of it.
    File,
    /// These physical lines, and those that belong to an expression with one of them.
    Lines(Range<usize>),
    /// The line above this one, on which somebody has begun to write: neither this line nor the
    /// number of lines changes.
    LineAbove(usize),
}

/// The edits that lay out a file or a part of it, in order, none overlapping another.
pub fn format(snapshot: &Snapshot, file: FileId, extent: &Extent) -> Vec<Edit> {
    let lines = snapshot.lines(file);
    let mut edits = format_lines(lines.map(|line| (line.text(), line.tree())), is_unit_word);
    match extent {
        Extent::File => {}
        Extent::Lines(lines) => {
            let lines = whole_lines(snapshot, file, lines);
            edits.retain(|edit| lines.contains(&(edit.range.start.line as usize)));
            edits.retain(|edit| ends_before(edit, lines.end));
        }
        Extent::LineAbove(line) => {
            let Some(above) = line.checked_sub(1) else {
                return Vec::new();
            };
            let lines = whole_lines(snapshot, file, &(above..*line));
            // Somebody writes in the middle of an expression.
            if lines.end > *line {
                return Vec::new();
            }
            edits.retain(|edit| {
                let range = edit.range;
                lines.contains(&(range.start.line as usize)) && range.start.line == range.end.line
            });
        }
    }
    edits
}

/// Whether an edit leaves line `end` and those after it alone.
fn ends_before(edit: &Edit, end: usize) -> bool {
    let last = edit.range.end;
    (last.line as usize) < end || last.line as usize == end && last.column == 0
}

/// The physical lines of all logical lines that a stretch touches.
fn whole_lines(snapshot: &Snapshot, file: FileId, lines: &Range<usize>) -> Range<usize> {
    let stretch = |number: usize| {
        let line = snapshot.line_at(file, number)?;
        let first = line.first_physical()?;
        Some(first..first + line.height())
    };
    let last = lines.end.saturating_sub(1).max(lines.start);
    let start = stretch(lines.start).map_or(lines.start, |line| line.start);
    let end = stretch(last).map_or(lines.end, |line| line.end);
    start..end.max(lines.end)
}
