//! The README's picture of an editor is what the language server sends.

use std::fs;

use haunch_calc::{Change, Host};
use haunch_tests::repository;

/// The lines of an example with the hints between `⟨` and `⟩` where an editor shows them.
fn picture(path: &str, first: usize, last: usize) -> Vec<String> {
    let mut host = Host::new();
    for entry in fs::read_dir(repository("examples")).expect("the examples can be listed") {
        let file = entry.expect("an entry").path();
        let name = file
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let text = fs::read_to_string(&file).expect("an example can be read");
        host.apply(Change::SetText {
            path: format!("examples/{name}"),
            text,
        });
    }
    let snapshot = host.snapshot();
    let file = snapshot.file(path).expect("the example is there");
    let hints = haunch_ide::hints(&snapshot, file, first - 1..last, &|| false);
    let mut lines: Vec<String> = Vec::new();
    for number in first - 1..last {
        let mut line = haunch_text::content(snapshot.physical_line(file, number)).to_string();
        let mut here: Vec<_> = hints
            .iter()
            .filter(|hint| hint.at.line as usize == number)
            .collect();
        here.sort_by_key(|hint| hint.at.column);
        // From the end, so that the columns of the hints before stay as they are.
        for hint in here.into_iter().rev() {
            line.insert_str(hint.at.column as usize, &format!("⟨{}⟩", hint.label));
        }
        lines.push(line.trim_end().to_string());
    }
    lines
}

#[test]
fn the_picture_is_what_an_editor_shows() {
    let readme = fs::read_to_string(repository("README.md")).expect("the README is there");
    let mut lines = readme
        .lines()
        .skip_while(|line| !line.starts_with("```picture "));
    let words: Vec<&str> = lines
        .next()
        .expect("a picture")
        .split_whitespace()
        .collect();
    let [_, path, first, last] = words.as_slice() else {
        panic!("```picture PATH FIRST-LINE LAST-LINE");
    };
    let number = |word: &str| word.parse().expect("a line number");
    let written: Vec<&str> = lines.take_while(|line| !line.starts_with("```")).collect();
    let shown = picture(path, number(first), number(last));
    assert_eq!(
        written,
        shown,
        "the picture should be\n{}",
        shown.join("\n")
    );
}
