//! Files laid out: the page of the language reference, the examples, and what every file of the
//! reference comes to before and after.

use std::fs;

use haunch_quantity::is_unit_word;
use haunch_syntax::{TokenKind, format, tokens, with_edits};
use haunch_tests::{open, repository};

fn laid_out(text: &str) -> String {
    with_edits(text, &format(text, is_unit_word))
}

/// The blocks of a page: their mark and their text.
fn blocks(page: &str) -> Vec<(String, String)> {
    let mut blocks: Vec<(String, String)> = Vec::new();
    let mut is_open = false;
    for line in page.split_inclusive('\n') {
        match (line.strip_prefix("```"), blocks.last_mut()) {
            (Some(_), _) if is_open => is_open = false,
            (Some(mark), _) => {
                is_open = true;
                blocks.push((mark.trim().to_owned(), String::new()));
            }
            (None, Some((_, text))) if is_open => text.push_str(line),
            _ => {}
        }
    }
    blocks
}

#[test]
fn the_page_shows_what_files_become() {
    let page = fs::read_to_string(repository("tests/language/layout.md")).expect("the page");
    let blocks = blocks(&page);
    let (pairs, rest) = blocks.as_chunks::<2>();
    assert!(rest.is_empty() && pairs.len() > 3);
    for [(mark, before), (other, after)] in pairs {
        assert_eq!((mark.as_str(), other.as_str()), ("written", "layout"));
        assert_eq!(laid_out(before), *after);
        assert_eq!(laid_out(after), *after, "laid out twice");
    }
}

#[test]
fn the_examples_are_laid_out() {
    let starter = repository("crates/cli/src/starter.haunch");
    let text = fs::read_to_string(starter).expect("it can be read");
    assert_eq!(laid_out(&text), text, "what `haunch new` writes");
    for entry in fs::read_dir(repository("examples")).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("it can be read");
        assert_eq!(laid_out(&text), text, "{}", path.display());
    }
}

/// What a file comes to, apart from where it stands.
fn comes_to(text: &str) -> String {
    let (snapshot, file) = open(text);
    let mut told = String::new();
    for value in snapshot.values(file) {
        told += &format!("{} {:?} {:?}\n", value.name, value.evaluated, value.unit);
    }
    for check in snapshot.checks(file) {
        told += &format!(
            "{} {} {:?} {:?} {:?}\n",
            check.kind, check.name, check.utilisation, check.holds, check.place
        );
    }
    for finding in snapshot.findings(file) {
        told += &format!("{} {:?}\n", finding.code.name, finding.name);
    }
    told
}

#[test]
fn every_file_of_the_reference_comes_to_the_same() {
    let mut count = 0;
    for entry in fs::read_dir(repository("tests/language")).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|ending| ending != "md") {
            continue;
        }
        let page = fs::read_to_string(&path).expect("it can be read");
        for (_, text) in blocks(&page)
            .iter()
            .filter(|(mark, _)| mark.starts_with("haunch"))
        {
            count += 1;
            let after = laid_out(text);
            assert_eq!(comes_to(text), comes_to(&after), "{text}\nbecame\n{after}");
        }
    }
    assert!(count > 100);
}

/// Numbers that look random and are the same on every run (a linear congruential generator).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % count
    }
}

/// A file with other white space wherever there is some: between words, at the start of an indented
/// line, at the end of a line, and where lines are empty.
fn disturbed(text: &str, numbers: &mut Numbers) -> String {
    let mut out = String::new();
    for line in text.lines() {
        if line.is_empty() {
            out.push_str(["\n", "\n\n", "  \n", "\n \t\n"][numbers.below(4) as usize]);
            continue;
        }
        let mut end = 0;
        for token in tokens(line) {
            if token.kind == TokenKind::Space {
                let spaces = [" ", "  ", "\t", "     ", " \t "];
                out.push_str(spaces[numbers.below(5) as usize]);
            } else {
                out.push_str(token.span.text(line));
            }
            end = token.span.end as usize;
        }
        out.push_str(&line[end..]);
        out.push_str(["\n", "\n", " \n", "\t \n"][numbers.below(4) as usize]);
    }
    out
}

#[test]
fn whatever_white_space_an_example_has_it_says_the_same_and_is_laid_out_at_once() {
    let words = |text: &str| -> String { text.split_whitespace().collect() };
    // A check without a name goes by what is written.
    let comes_to = |text: &str| words(&comes_to(text));
    let mut numbers = Numbers(20_261_128);
    for entry in fs::read_dir(repository("examples")).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("it can be read");
        let meaning = comes_to(&text);
        for _ in 0..12 {
            let other = disturbed(&text, &mut numbers);
            let after = laid_out(&other);
            assert_eq!(words(&after), words(&text), "{}\n{other}", path.display());
            // Units and comments stay in the column of most of their run, which is another one here.
            assert_eq!(laid_out(&after), after, "{} twice", path.display());
            assert_eq!(comes_to(&other), meaning, "{}\n{other}", path.display());
            assert_eq!(comes_to(&after), meaning, "{}\n{after}", path.display());
        }
    }
}
