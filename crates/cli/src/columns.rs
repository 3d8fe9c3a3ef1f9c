//! A source line on a terminal: tabs and control characters made visible, a long line cut to the part
//! that matters, and marks under a stretch of it.

use std::ops::Range;

use unicode_width::UnicodeWidthChar;

/// Cells that a shown line may take.
const WIDEST: usize = 160;
/// Cells shown before a stretch that starts far to the right.
const CONTEXT: usize = 40;
/// The mark under the stretch.
const MARK: char = '‾';
const TAB: &str = "    ";
/// Stands for what was cut off.
const CUT: char = '…';

/// A line as it is shown, and the marks under it.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Shown {
    pub(crate) line: String,
    pub(crate) marks: String,
}

/// Shows a line with marks under a stretch of its characters; at least one mark, so that an empty
/// stretch is seen too.
pub(crate) fn shown(line: &str, stretch: Range<usize>) -> Shown {
    let first = if stretch.start > WIDEST / 2 {
        stretch.start - CONTEXT
    } else {
        0
    };
    let mut text = String::new();
    let mut cells = 0;
    let (mut before, mut under) = (0, 0);
    if first > 0 {
        text.push(CUT);
        cells += 1;
        before += 1;
    }
    for (index, character) in line.chars().enumerate().skip(first) {
        let width = push(&mut text, character);
        cells += width;
        if index < stretch.start {
            before += width;
        } else if index < stretch.end {
            under += width;
        }
        if cells >= WIDEST {
            text.push(CUT);
            break;
        }
    }
    let marks = format!(
        "{}{}",
        " ".repeat(before),
        MARK.to_string().repeat(under.max(1))
    );
    Shown { line: text, marks }
}

/// Adds a character as it is shown; returns the cells that it takes.
fn push(text: &mut String, character: char) -> usize {
    match character {
        '\t' => {
            text.push_str(TAB);
            TAB.len()
        }
        _ if character.is_control() => {
            text.push(char::REPLACEMENT_CHARACTER);
            1
        }
        _ => {
            text.push(character);
            character.width().unwrap_or(0)
        }
    }
}

/// Words from a file or about it, without what would move a terminal's cursor or change its colours.
pub(crate) fn harmless(words: &str) -> String {
    let visible = |c: char| {
        if c.is_control() && c != '\n' {
            char::REPLACEMENT_CHARACTER
        } else {
            c
        }
    };
    words.chars().map(visible).collect()
}

/// The cells that a text takes.
pub(crate) fn width(text: &str) -> usize {
    unicode_width::UnicodeWidthStr::width(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(line: &str, stretch: Range<usize>, shown_line: &str, marks: &str) {
        let shown = shown(line, stretch);
        assert_eq!(
            (shown.line.as_str(), shown.marks.as_str()),
            (shown_line, marks)
        );
    }

    #[test]
    fn marks_stand_under_the_stretch() {
        check("a = b + c", 4..9, "a = b + c", "    ‾‾‾‾‾");
        check("a = ", 4..4, "a = ", "    ‾");
    }

    #[test]
    fn wide_and_combining_characters_and_tabs() {
        check("梁 = y", 4..5, "梁 = y", "     ‾");
        check("y\u{304} = k", 5..6, "y\u{304} = k", "    ‾");
        check("\ty = k", 1..2, "    y = k", "    ‾");
    }

    #[test]
    fn control_characters_do_not_reach_the_terminal() {
        check("a\u{1b}[2J", 0..1, "a\u{fffd}[2J", "‾");
        assert_eq!(harmless("x\u{7}\ny"), "x\u{fffd}\ny");
    }

    #[test]
    fn a_long_line_is_cut_to_the_stretch() {
        let line = format!("{}KEY{}", "a".repeat(1000), "b".repeat(100_000));
        let shown = shown(&line, 1000..1003);
        assert!(shown.line.starts_with('…') && shown.line.ends_with('…'));
        assert!(width(&shown.line) <= WIDEST + 1);
        let at = shown.marks.chars().position(|c| c == MARK).unwrap();
        let marked: String = shown.line.chars().skip(at).take(3).collect();
        assert_eq!(marked, "KEY");
    }
}
