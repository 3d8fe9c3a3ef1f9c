//! Fixtures for tests: files as text, with a marked cursor and marked stretches.
//!
//! In a fixture `‸` is the cursor and `«…»` a marked stretch; neither is part of the text. A line
//! `=== name` starts a file; without one there is a single file, `main.haunch`.
//!
//! ```
//! let fixture = haunch_testkit::fixture("=== a.haunch\nA = «b»*2\n=== b.haunch\nb = 3‸ mm\n");
//! assert_eq!(fixture[0].text, "A = b*2\n");
//! assert_eq!(fixture[0].marked(), ["b"]);
//! assert_eq!(fixture[1].cursor.unwrap().column, 5);
//! ```

use haunch_text::{Position, Range};

/// The name of a file that the fixture does not name.
pub const MAIN: &str = "main.haunch";
const CURSOR: char = '‸';
const OPEN: char = '«';
const CLOSE: char = '»';
const HEADER: &str = "=== ";

/// A file of a fixture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixtureFile {
    /// Its name.
    pub name: String,
    /// Its text without the marks.
    pub text: String,
    /// The cursor, in bytes.
    pub cursor: Option<Position>,
    /// The marked stretches in the order in which they begin, in bytes.
    pub marks: Vec<Range>,
}

impl FixtureFile {
    /// The texts of the marked stretches that lie in one line.
    pub fn marked(&self) -> Vec<&str> {
        let lines: Vec<&str> = haunch_text::split_lines(&self.text).collect();
        let within = |range: &Range| {
            let line = lines.get(range.start.line as usize)?;
            line.get(range.start.column as usize..range.end.column as usize)
        };
        self.marks
            .iter()
            .filter(|range| range.start.line == range.end.line)
            .filter_map(within)
            .collect()
    }
}

/// Reads a fixture.
///
/// # Panics
/// If a file has two cursors or a stretch is not closed: that is a mistake of the test.
#[track_caller]
pub fn fixture(text: &str) -> Vec<FixtureFile> {
    let mut files: Vec<(String, String)> = Vec::new();
    for line in haunch_text::split_lines(text) {
        match line.strip_prefix(HEADER) {
            Some(name) => files.push((name.trim().to_string(), String::new())),
            None => {
                if files.is_empty() {
                    files.push((MAIN.to_string(), String::new()));
                }
                if let Some((_, body)) = files.last_mut() {
                    body.push_str(line);
                }
            }
        }
    }
    files
        .into_iter()
        .map(|(name, body)| file(name, &body))
        .collect()
}

#[track_caller]
fn file(name: String, body: &str) -> FixtureFile {
    let mut text = String::new();
    let mut cursor = None;
    let mut marks: Vec<Range> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    for character in body.chars() {
        match character {
            CURSOR => {
                let before = cursor.replace(end_of(&text));
                assert!(before.is_none(), "{name}: two cursors");
            }
            OPEN => {
                let here = end_of(&text);
                open.push(marks.len());
                marks.push(Range {
                    start: here,
                    end: here,
                });
            }
            CLOSE => {
                let mark = open.pop().and_then(|index| marks.get_mut(index));
                mark.unwrap_or_else(|| panic!("{name}: a stretch ends that did not begin"))
                    .end = end_of(&text);
            }
            other => text.push(other),
        }
    }
    assert!(open.is_empty(), "{name}: a stretch does not end");
    FixtureFile {
        name,
        text,
        cursor,
        marks,
    }
}

/// The position at the end of a text.
fn end_of(text: &str) -> Position {
    let count = haunch_text::split_lines(text).count().saturating_sub(1);
    let last = haunch_text::split_lines(text).last().unwrap_or_default();
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Position {
        line: number(count),
        column: number(last.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_may_nest_and_files_are_told_apart() {
        let files = fixture("=== x.haunch\na = «b*«c»»\n\n=== y.haunch\nȳ‸ = 1\n");
        assert_eq!(files[0].text, "a = b*c\n\n");
        assert_eq!(files[0].marked(), ["b*c", "c"]);
        assert_eq!(
            files[1].cursor,
            Some(Position {
                line: 0,
                column: "ȳ".len() as u32
            })
        );
    }

    #[test]
    fn a_single_file_needs_no_header() {
        let files = fixture("a\r\nb‸");
        assert_eq!((files.len(), files[0].name.as_str()), (1, MAIN));
        assert_eq!(files[0].cursor, Some(Position { line: 1, column: 1 }));
    }

    #[test]
    #[should_panic(expected = "does not end")]
    fn an_open_stretch_is_a_mistake() {
        fixture("a «b");
    }
}
