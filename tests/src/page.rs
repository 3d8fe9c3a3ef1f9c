//! A literate page: the files in it, and what is expected of each.

use std::fs;

use crate::repository;

/// A file on a page with what is expected of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Case {
    /// The page's line on which the file's block starts.
    pub line: usize,
    /// The file's name; other files of the page may `use` it.
    pub name: String,
    /// Its text as it is stored.
    pub text: String,
    /// Expected lines with their line on the page.
    pub expected: Vec<(usize, String)>,
}

struct Block<'a> {
    line: usize,
    words: Vec<&'a str>,
    lines: Vec<(usize, &'a str)>,
}

/// Every file of a page, in order.
///
/// # Panics
/// If a block stands where it has no sense: that is a mistake of the page.
pub fn cases(page: &str) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    let mut open = false;
    for block in blocks(page) {
        match block.words.as_slice() {
            ["haunch", words @ ..] => {
                cases.push(case(&block, words, cases.len()));
                open = true;
            }
            ["expect"] => {
                assert!(open, "line {}: an expect block without a file", block.line);
                let lines = block
                    .lines
                    .iter()
                    .filter(|(_, line)| !line.trim().is_empty());
                let last = cases.last_mut().expect("a file came before");
                last.expected = lines
                    .map(|(number, line)| (*number, line.trim().to_string()))
                    .collect();
                open = false;
            }
            ["working"] => {}
            _ => open = false,
        }
    }
    cases
}

fn case(block: &Block, words: &[&str], index: usize) -> Case {
    let mut name = format!("page_{}.haunch", index + 1);
    let mut mark = "";
    let mut end = "\n";
    for word in words {
        match *word {
            "bom" => mark = "\u{feff}",
            "crlf" => end = "\r\n",
            "cr" => end = "\r",
            file if file.contains('/') => return example(block, file),
            file if file.ends_with(".haunch") => name = file.to_string(),
            other => panic!("line {}: `{other}` after `haunch` is not known", block.line),
        }
    }
    let body: String = block
        .lines
        .iter()
        .map(|(_, line)| format!("{line}{end}"))
        .collect();
    Case {
        line: block.line,
        name,
        text: format!("{mark}{body}"),
        expected: Vec::new(),
    }
}

/// A file of the repository, named by its path in an empty block.
fn example(block: &Block, path: &str) -> Case {
    assert!(
        block.lines.is_empty(),
        "line {}: the block of {path} is not empty",
        block.line
    );
    let text =
        fs::read_to_string(repository(path)).unwrap_or_else(|failure| panic!("{path}: {failure}"));
    let name = path.rsplit('/').next().unwrap_or(path).to_string();
    Case {
        line: block.line,
        name,
        text,
        expected: Vec::new(),
    }
}

fn blocks(page: &str) -> Vec<Block<'_>> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut inside = false;
    for (number, line) in (1..).zip(page.lines()) {
        match line.strip_prefix("```") {
            Some(words) if !inside => {
                let words = words.split_whitespace().collect();
                blocks.push(Block {
                    line: number,
                    words,
                    lines: Vec::new(),
                });
                inside = true;
            }
            Some(_) => inside = false,
            None if inside => {
                if let Some(block) = blocks.last_mut() {
                    block.lines.push((number, line));
                }
            }
            None => {}
        }
    }
    assert!(!inside, "the page's last block is not closed");
    blocks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_and_what_is_expected() {
        let page = "words\n```haunch crlf p.haunch\na = 1\nb = 2\n```\n```working\nx\n```\n```expect\n\na = 1\n```\n```haunch\n```\n";
        let cases = cases(page);
        assert_eq!(cases.len(), 2);
        assert_eq!(cases[0].text, "a = 1\r\nb = 2\r\n");
        assert_eq!((cases[0].name.as_str(), cases[0].line), ("p.haunch", 2));
        assert_eq!(cases[0].expected, [(11, "a = 1".to_string())]);
        assert!(cases[1].expected.is_empty());
    }
}
