use crate::lines::{content, split_lines};
use crate::span::Range;

/// A replacement of a range of a file by a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced.
    pub range: Range,
    /// What takes its place.
    pub text: String,
}

/// An edit turned into whole physical lines: `removed` lines from `first` on are replaced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Splice {
    /// First physical line that changes.
    pub first: usize,
    /// How many lines go.
    pub removed: usize,
    /// The lines that come, each with its terminator.
    pub inserted: Vec<String>,
}

impl Edit {
    /// Turns the edit into whole lines. `line(n)` gives line `n` with its terminator, for
    /// `n < count`; `count` is at least 1. Places past the end of a line are its end, places past
    /// the last line the end of the file, columns inside a character its start.
    pub fn splice<'a>(&self, count: usize, line: impl Fn(usize) -> &'a str) -> Splice {
        let last = count.saturating_sub(1);
        let place = |position: crate::Position| {
            let number = position.line as usize;
            if number > last {
                return (last, line(last).len());
            }
            let text = content(line(number));
            let mut column = (position.column as usize).min(text.len());
            while !text.is_char_boundary(column) {
                column -= 1;
            }
            (number, column)
        };
        let start = place(self.range.start);
        let end = place(self.range.end).max(start);
        let mut first = start.0;
        let mut joined = String::new();
        // A lone CR at the end of the line above may become half of a CRLF.
        if first > 0 && line(first - 1).ends_with('\r') {
            first -= 1;
            joined.push_str(line(first));
        }
        joined.push_str(&line(start.0)[..start.1]);
        joined.push_str(&self.text);
        joined.push_str(&line(end.0)[end.1..]);
        let mut inserted: Vec<String> = split_lines(&joined).map(str::to_owned).collect();
        // The last piece is empty unless the replaced lines reach the end of the file.
        if end.0 < last {
            inserted.pop();
        }
        Splice {
            first,
            removed: end.0 + 1 - first,
            inserted,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Position;

    fn apply(text: &str, edit: &Edit) -> String {
        let mut lines: Vec<String> = split_lines(text).map(str::to_owned).collect();
        let splice = edit.splice(lines.len(), |n| &lines[n]);
        lines.splice(splice.first..splice.first + splice.removed, splice.inserted);
        let joined = lines.concat();
        assert_eq!(lines, split_lines(&joined).collect::<Vec<_>>());
        joined
    }

    fn edit(start: (u32, u32), end: (u32, u32), text: &str) -> Edit {
        let position = |(line, column)| Position { line, column };
        Edit {
            range: Range {
                start: position(start),
                end: position(end),
            },
            text: text.to_owned(),
        }
    }

    #[test]
    fn inside_a_line() {
        assert_eq!(apply("ab\ncd\n", &edit((0, 1), (0, 2), "X")), "aX\ncd\n");
    }

    #[test]
    fn over_lines_and_at_the_end() {
        assert_eq!(apply("ab\ncd\nef", &edit((0, 1), (2, 1), "-")), "a-f");
        assert_eq!(apply("ab\n", &edit((1, 0), (1, 0), "c")), "ab\nc");
        assert_eq!(apply("ab\ncd", &edit((0, 2), (9, 0), "")), "ab");
        assert_eq!(apply("", &edit((3, 3), (4, 4), "x\ny")), "x\ny");
    }

    #[test]
    fn a_carriage_return_meets_a_line_feed() {
        assert_eq!(apply("a\rX\nb", &edit((1, 0), (1, 1), "")), "a\r\nb");
        assert_eq!(apply("a\nb", &edit((0, 1), (0, 1), "\r")), "a\r\nb");
        assert_eq!(apply("a\rb", &edit((1, 0), (1, 0), "\n")), "a\r\nb");
    }

    #[test]
    fn inside_a_character_is_its_start() {
        assert_eq!(apply("é", &edit((0, 1), (0, 2), "x")), "x");
        assert_eq!(apply("é!", &edit((0, 1), (0, 1), "x")), "xé!");
    }

    #[test]
    fn a_reversed_range_is_an_insertion() {
        assert_eq!(apply("abc", &edit((0, 2), (0, 1), "x")), "abxc");
    }
}
