/// The physical lines of a text, each with its terminator (LF, CRLF or CR). A text that ends with a
/// terminator has an empty last line, as editors count them; an empty text has one empty line.
pub fn split_lines(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let current = rest?;
        let bytes = current.as_bytes();
        match bytes.iter().position(|&b| b == b'\n' || b == b'\r') {
            Some(at) => {
                let crlf = bytes[at] == b'\r' && bytes.get(at + 1) == Some(&b'\n');
                let end = if crlf { at + 2 } else { at + 1 };
                let (line, tail) = current.split_at(end);
                rest = Some(tail);
                Some(line)
            }
            None => {
                rest = None;
                Some(current)
            }
        }
    })
}

/// A line without its terminator.
pub fn content(line: &str) -> &str {
    line.trim_end_matches(['\n', '\r'])
}

/// The terminator of a line; empty for the last line of a file.
pub fn line_terminator(line: &str) -> &str {
    &line[content(line).len()..]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_terminators_end_a_line() {
        let lines: Vec<_> = split_lines("a\nb\r\nc\rd").collect();
        assert_eq!(lines, ["a\n", "b\r\n", "c\r", "d"]);
    }

    #[test]
    fn a_final_terminator_leaves_an_empty_line() {
        assert_eq!(split_lines("a\n").collect::<Vec<_>>(), ["a\n", ""]);
        assert_eq!(split_lines("").collect::<Vec<_>>(), [""]);
    }

    #[test]
    fn content_has_no_terminator() {
        assert_eq!(content("a \r\n"), "a ");
        assert_eq!(line_terminator("a\r\n"), "\r\n");
    }
}
