//! Every finding has a page, and the page's files do what it says of them.

use haunch_calc::findings::ALL;
use haunch_calc::page::{Page, Shows};
use haunch_calc::{Change, Host, Severity};

/// Writes a file of so many parts.
type Whole = fn(usize) -> String;

/// Codes whose wrong file is too long for a page, which has a sketch of it, with what writes the whole for
/// a number of its parts.
const SKETCHED: [(&str, Whole); 3] = [
    ("too-deep", |count| {
        let (open, close) = ("(".repeat(count), ")".repeat(count));
        format!("a = {open}1 mm + 2 mm{close}\n")
    }),
    ("too-long", |count| {
        let rest = count.saturating_sub("note ".len());
        format!("note {}", "x".repeat(rest))
    }),
    ("too-many-continuations", |count| {
        format!("a = 1 mm{}\n", "\n    + 1 mm".repeat(count))
    }),
];

fn codes_of(text: &str, page: &Page) -> Vec<(&'static str, Severity)> {
    let mut host = Host::new();
    for example in &page.examples {
        if let Shows::File(path) = example.shows {
            host.apply(Change::SetText {
                path: path.to_owned(),
                text: example.text.to_owned(),
            });
        }
    }
    host.apply(Change::SetText {
        path: "page.haunch".to_owned(),
        text: text.to_owned(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file("page.haunch").expect("the page's file");
    let findings = snapshot.findings(file);
    findings
        .iter()
        .map(|finding| (finding.code.name, finding.severity))
        .collect()
}

#[test]
fn the_wrong_file_gives_its_finding_and_no_other() {
    let mut slips = Vec::new();
    for code in ALL.iter() {
        let page = Page::read(code.page);
        for example in page.examples.iter().filter(|e| e.shows == Shows::Wrong) {
            let found = codes_of(example.text, &page);
            if found.is_empty() || found.iter().any(|(name, _)| *name != code.name) {
                slips.push(format!("{}: {found:?}", code.name));
            }
        }
    }
    assert!(slips.is_empty(), "{}", slips.join("\n"));
}

#[test]
fn the_right_file_has_neither_the_finding_nor_an_error() {
    let mut slips = Vec::new();
    for code in ALL.iter() {
        let page = Page::read(code.page);
        for example in page.examples.iter().filter(|e| e.shows == Shows::Right) {
            let found = codes_of(example.text, &page);
            if found
                .iter()
                .any(|(name, severity)| *name == code.name || *severity == Severity::Error)
            {
                slips.push(format!("{}: {found:?}", code.name));
            }
        }
    }
    assert!(slips.is_empty(), "{}", slips.join("\n"));
}

#[test]
fn pages_have_one_layout() {
    for code in ALL.iter() {
        let page = Page::read(code.page);
        let name = code.name;
        assert!(page.meaning.ends_with('.'), "{name}: {}", page.meaning);
        assert!(!page.paragraphs.is_empty(), "{name} does not say why");
        let count = |shows| page.examples.iter().filter(|e| e.shows == shows).count();
        let sketched = SKETCHED.iter().any(|(own, _)| *own == name);
        assert_eq!(count(Shows::Wrong), usize::from(!sketched), "{name}");
        assert_eq!(count(Shows::Sketch), usize::from(sketched), "{name}");
        assert_eq!(count(Shows::Right), 1, "{name}");
    }
}

/// A sketch shows how its file begins and ends, and between `…` how many parts it has: so many give the
/// finding, and one less does not.
#[test]
fn the_whole_of_a_sketch_gives_its_finding_and_one_part_less_does_not() {
    for (name, whole) in SKETCHED {
        let code = ALL.iter().find(|code| code.name == name).expect(name);
        let page = Page::read(code.page);
        let sketch = page.examples.iter().find(|e| e.shows == Shows::Sketch);
        let sketch = sketch.expect(name).text;
        let pieces: Vec<&str> = sketch.split('…').collect();
        let [begin, words, end] = pieces.as_slice() else {
            panic!("{name}: {sketch}");
        };
        let digits: String = words.chars().filter(char::is_ascii_digit).collect();
        let count: usize = digits.parse().expect(name);
        let text = whole(count);
        assert!(text.starts_with(begin.trim_end()), "{name} begins");
        assert!(text.trim_end().ends_with(end.trim()), "{name} ends");
        let found = codes_of(&text, &page);
        assert_eq!(found, [(name, Severity::Error)], "{count} parts");
        assert_eq!(
            codes_of(&whole(count - 1), &page),
            [],
            "{name}, one part less"
        );
    }
}

/// A code that is not listed would be explained to nobody; its page tells of it.
#[test]
fn every_code_is_listed_and_every_page_is_a_code_s() {
    let source = concat!(env!("CARGO_MANIFEST_DIR"), "/src");
    let pages = std::fs::read_dir(format!("{source}/findings/pages")).expect("the pages");
    let mut pages: Vec<String> = pages
        .map(|entry| {
            entry
                .expect("a page")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    pages.sort();
    let listed: Vec<String> = ALL.iter().map(|code| format!("{}.md", code.name)).collect();
    assert_eq!(pages, listed);
}

/// The table of the language reference has a row for every code, in order.
#[test]
fn the_reference_lists_every_code() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/language/findings.md"
    );
    let reference = std::fs::read_to_string(path).expect("the reference can be read");
    let rows: Vec<&str> = reference
        .lines()
        .filter(|line| line.starts_with("| `"))
        .collect();
    let expected: Vec<String> = ALL
        .iter()
        .map(|code| {
            let kind = match code.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Information => "information",
            };
            let meaning = Page::read(code.page).meaning;
            format!("| `{}` | {kind} | {meaning} |", code.name)
        })
        .collect();
    assert_eq!(rows, expected);
}
