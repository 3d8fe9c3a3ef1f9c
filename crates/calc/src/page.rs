//! The page that explains a finding's code.
//!
//! Pages are Markdown files beside the codes, all in one layout: a first line with the meaning, a
//! paragraph or two on why it matters, a file that gives the finding and a file that does not. A
//! test reads every page and checks its files.

/// A page, taken apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// What the finding means, in one sentence.
    pub meaning: &'static str,
    /// Why it matters, a paragraph each; every paragraph on one line.
    pub paragraphs: Vec<String>,
    /// The examples in their order.
    pub examples: Vec<Example>,
}

/// A file on a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Example {
    /// What it shows.
    pub shows: Shows,
    /// Its text.
    pub text: &'static str,
}

/// What an example shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shows {
    /// A file that gives the finding.
    Wrong,
    /// A file that would give it, cut short because it is too long for a page.
    Sketch,
    /// A file that does not give it.
    Right,
    /// Another file of this path, which the examples use.
    File(&'static str),
}

impl Page {
    /// Takes a page apart.
    pub fn read(text: &'static str) -> Page {
        let (meaning, rest) = text.split_once('\n').unwrap_or((text, ""));
        let mut page = Page {
            meaning,
            paragraphs: Vec::new(),
            examples: Vec::new(),
        };
        let mut pieces = rest.split("```");
        // Text and fenced blocks take turns; a block begins with the words behind its fence.
        while let Some(prose) = pieces.next() {
            page.paragraphs.extend(
                prose
                    .split("\n\n")
                    .map(|paragraph| paragraph.split_whitespace().collect::<Vec<_>>().join(" "))
                    .filter(|paragraph| !paragraph.is_empty()),
            );
            let Some((words, text)) = pieces.next().and_then(|block| block.split_once('\n')) else {
                break;
            };
            let shows = match words.strip_prefix("haunch ").unwrap_or(words) {
                "wrong" => Shows::Wrong,
                "sketch" => Shows::Sketch,
                "right" => Shows::Right,
                path => Shows::File(path),
            };
            page.examples.push(Example { shows, text });
        }
        page
    }
}
