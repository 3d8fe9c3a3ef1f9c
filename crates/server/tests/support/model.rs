//! A document as plain text, with the protocol's positions counted the plain way.

use serde_json::{Value, json};

use super::dice::Dice;

#[derive(Clone)]
pub(crate) struct Model {
    text: String,
}

/// A length in the client's count.
pub(crate) fn width(text: &str, encoding: &str) -> usize {
    match encoding {
        "utf-8" => text.len(),
        "utf-16" => text.encode_utf16().count(),
        _ => text.chars().count(),
    }
}

impl Model {
    pub(crate) fn new(text: &str) -> Model {
        Model {
            text: text.to_owned(),
        }
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// What ends the first line.
    pub(crate) fn ending(&self) -> &'static str {
        match self.text.find('\n') {
            Some(at) if self.text[..at].ends_with('\r') => "\r\n",
            _ => "\n",
        }
    }

    /// Where each line starts. `\n`, `\r\n` and `\r` end lines.
    fn starts(&self) -> Vec<usize> {
        let bytes = self.text.as_bytes();
        let ends = (0..bytes.len()).filter(|&at| {
            bytes[at] == b'\n' || (bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n'))
        });
        std::iter::once(0).chain(ends.map(|at| at + 1)).collect()
    }

    /// An offset between two characters that is not inside an end of line.
    pub(crate) fn any_offset(&self, dice: &mut Dice) -> usize {
        self.offset_after(dice.roll(self.text.len() + 1), 0)
    }

    /// The offset so many characters further, moved on to one that a position can name.
    pub(crate) fn offset_after(&self, offset: usize, characters: usize) -> usize {
        let mut at = offset;
        let mut left = characters;
        while at < self.text.len() {
            let inside = self.text[..].is_char_boundary(at) && !self.is_in_ending(at);
            if inside && left == 0 {
                break;
            }
            left = left.saturating_sub(usize::from(inside));
            at += 1;
        }
        at
    }

    fn is_in_ending(&self, at: usize) -> bool {
        self.text[..at].ends_with('\r') && self.text[at..].starts_with('\n')
    }

    pub(crate) fn line_start(&self, offset: usize) -> usize {
        let starts = self.starts();
        starts[starts.partition_point(|&start| start <= offset) - 1]
    }

    /// The start of the line after the one that starts at `start`.
    pub(crate) fn next_line(&self, start: usize) -> usize {
        let starts = self.starts();
        let next = starts.partition_point(|&one| one <= start);
        starts.get(next).copied().unwrap_or(self.text.len())
    }

    pub(crate) fn position(&self, offset: usize, encoding: &str) -> Value {
        let starts = self.starts();
        let line = starts.partition_point(|&start| start <= offset) - 1;
        let before = &self.text[starts[line]..offset];
        json!({"line": line, "character": width(before, encoding)})
    }

    /// The offset of a position.
    fn offset(&self, position: &Value, encoding: &str) -> usize {
        let starts = self.starts();
        let line = position["line"].as_u64().expect("a line") as usize;
        let character = position["character"].as_u64().expect("a column") as usize;
        let Some(&start) = starts.get(line) else {
            return self.text.len();
        };
        let rest = &self.text[start..];
        let before = rest
            .char_indices()
            .map(|(at, _)| at)
            .chain([rest.len()])
            .take_while(|&at| width(&rest[..at], encoding) <= character);
        start + before.last().unwrap_or(0)
    }

    /// Makes the edits of an answer, which all count in the text as it is.
    pub(crate) fn apply(&mut self, edits: &Value, encoding: &str) {
        let edits = edits.as_array().expect("edits").iter().map(|edit| {
            let at = |end: &str| self.offset(&edit["range"][end], encoding);
            let text = edit["newText"].as_str().expect("a text");
            (at("start"), at("end"), text.to_owned())
        });
        let mut edits: Vec<_> = edits.collect();
        // Of edits at one place the first in the list comes first in the text.
        edits.sort_by_key(|(start, end, _)| (*start, *end));
        for (start, end, text) in edits.into_iter().rev() {
            self.replace(start, end, &text);
        }
    }

    /// The width of a line without its end.
    pub(crate) fn width(&self, line: usize, encoding: &str) -> usize {
        let starts = self.starts();
        let end = starts.get(line + 1).copied().unwrap_or(self.text.len());
        let line = &self.text[starts[line]..end];
        width(line.trim_end_matches(['\r', '\n']), encoding)
    }

    pub(crate) fn replace(&mut self, from: usize, to: usize, piece: &str) {
        self.text.replace_range(from..to, piece);
    }
}
