//! What would change in a file, line by line.

use std::fmt::Write;

use haunch_text::{Edit, content, split_lines};

/// The lines of a text that edits touch, before and after, with their numbers.
///
/// The edits change no words, so that a line is the same line before and after: those that go are
/// empty, and the one that an edit of several lines begins on.
pub(crate) fn changes(text: &str, edits: &[Edit]) -> String {
    let mut shown = String::new();
    let mut left = edits;
    for (number, line) in split_lines(text).enumerate() {
        let own = left
            .iter()
            .take_while(|edit| edit.range.start.line as usize <= number)
            .count();
        let (own, later) = left.split_at(own);
        left = later;
        if own.is_empty() {
            continue;
        }
        let line = content(line);
        let removed = own
            .iter()
            .map(|edit| (edit.range.end.line as usize).saturating_sub(number))
            .max()
            .unwrap_or(0);
        if removed > 0 {
            let lines = if removed == 1 { "line" } else { "lines" };
            // Writing to a text cannot fail.
            let _ = writeln!(shown, "{:>6}   {removed} empty {lines} less", number + 1);
            continue;
        }
        let after = with_edits(line, own);
        if content(&after) == line {
            let _ = writeln!(shown, "{:>6}   an end of line more", number + 1);
            continue;
        }
        let _ = writeln!(shown, "{:>6} - {}", number + 1, visible(line));
        let _ = writeln!(shown, "{:>6} + {}", "", visible(content(&after)));
    }
    shown
}

/// A line with edits made, all of them within it.
fn with_edits(line: &str, edits: &[Edit]) -> String {
    let mut after = line.to_owned();
    for edit in edits.iter().rev() {
        let range = edit.range.start.column as usize..edit.range.end.column as usize;
        if line.get(range.clone()).is_some() {
            after.replace_range(range, &edit.text);
        }
    }
    after
}

/// A line whose white space at the end and tabs can be seen.
fn visible(line: &str) -> String {
    let said = line.trim_end();
    let end = line.get(said.len()..).unwrap_or("");
    let end: String = end
        .chars()
        .map(|c| if c == '\t' { '→' } else { '·' })
        .collect();
    said.replace('\t', "→   ") + &end
}
