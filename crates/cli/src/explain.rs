//! `haunch explain`: what a finding's code means.

use std::io::Write;

use anstyle::Style;
use haunch_calc::findings::{ALL, code, nearest};
use haunch_calc::page::Page;
use haunch_ide::{caption, silencing};

use crate::columns::harmless;
use crate::{HOLDS, NOT_DONE};

/// The longest line of running text.
const WIDTH: usize = 88;
const BOLD: Style = Style::new().bold();

/// Explains one code, or lists all. Returns the exit status.
pub(crate) fn explain(name: Option<&str>, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let text = match name {
        None => list(),
        Some(name) => match code(name) {
            Some(code) => page(code),
            None => {
                // With standard error closed there is nobody left to tell.
                let _ = writeln!(err, "haunch: {}", unknown(name));
                return NOT_DONE;
            }
        },
    };
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => HOLDS,
        Err(_) => NOT_DONE,
    }
}

fn list() -> String {
    let widest = ALL.iter().map(|code| code.name.len()).max().unwrap_or(0);
    let line = |code: &&haunch_calc::Code| {
        let name = format!("{:widest$}", code.name);
        format!("{BOLD}{name}{BOLD:#}  {}\n", code.summary)
    };
    ALL.iter().map(line).collect()
}

fn page(code: &haunch_calc::Code) -> String {
    let page = Page::read(code.page);
    let mut parts = vec![
        format!("{BOLD}{}{BOLD:#}\n", code.name),
        wrapped(page.meaning),
    ];
    parts.extend(page.paragraphs.iter().map(|paragraph| wrapped(paragraph)));
    for example in &page.examples {
        let indented: String = example
            .text
            .lines()
            .map(|line| format!("    {line}").trim_end().to_owned() + "\n")
            .collect();
        parts.push(format!("{}\n\n{indented}", caption(example.shows)));
    }
    parts.extend(silencing(code).map(|words| wrapped(&words)));
    parts.join("\n")
}

fn unknown(name: &str) -> String {
    let name = harmless(name);
    match nearest(&name).as_slice() {
        [] => format!("there is no finding {name}. `haunch explain` lists them all."),
        near => format!(
            "there is no finding {name}. The nearest: {}.",
            near.join(", ")
        ),
    }
}

/// Running text in lines of at most [`WIDTH`] characters. Marks around words of the notation are left
/// out, since a terminal shows them as they are.
fn wrapped(words: &str) -> String {
    let mut text = String::new();
    let mut column = 0;
    for word in words.replace('`', "").split_whitespace() {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > WIDTH {
            text.push('\n');
            column = 0;
        } else if column > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column += length;
    }
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_wrapped_between_words() {
        let text = wrapped(&"beam ".repeat(40));
        assert!(text.lines().all(|line| line.len() <= WIDTH));
        assert_eq!(text.lines().count(), 3);
    }

    #[test]
    fn no_fence_or_mark_is_shown() {
        for code in ALL.iter() {
            assert!(!page(code).contains('`'), "{}", code.name);
        }
    }
}
