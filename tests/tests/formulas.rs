//! The catalogue of formulas: its tables in the language reference, and that no right line is warned of.

use std::fs;
use std::path::{Path, PathBuf};

use haunch_calc::catalogue::{entries, symbols::letters};
use haunch_tests::page::cases;
use haunch_tests::{open, repository};

const CODE: &str = "looks-like-formula";

#[track_caller]
fn check_table(head: &str, rows: Vec<String>) {
    let page = fs::read_to_string(repository("tests/language/formulas.md")).expect("the page");
    let written: Vec<&str> = page
        .lines()
        .skip_while(|line| *line != head)
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .collect();
    assert_eq!(written, rows, "the table should be\n{}", rows.join("\n"));
}

#[test]
fn the_reference_lists_every_formula() {
    let rows = entries().map(|entry| {
        let formulas: Vec<String> = entry.formulas.iter().map(|f| format!("`{f}`")).collect();
        let shape = entry.shape.words();
        format!(
            "| {} | {} | {shape} | {} |",
            formulas.join(", "),
            entry.name,
            entry.source
        )
    });
    check_table("| formula | what it is | of | source |", rows.collect());
}

#[test]
fn the_reference_lists_every_letter() {
    let rows = letters().iter().map(|letter| {
        let dimension = letter.dimension.name_or_units();
        format!("| `{}` | {} | {dimension} |", letter.text, letter.words)
    });
    check_table(
        "| letter | what it stands for | dimension |",
        rows.collect(),
    );
}

/// Every file of the repository that is right, or wrong in another way.
fn files() -> Vec<(String, String)> {
    let mut files = Vec::new();
    let mut folders = vec![repository("examples"), repository("tests")];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(folder).expect("a folder can be listed");
        let mut paths: Vec<PathBuf> = entries
            .map(|entry| entry.expect("an entry").path())
            .collect();
        paths.sort();
        for path in paths {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "haunch") {
                let text = fs::read_to_string(&path).expect("a file can be read");
                files.push((path.display().to_string(), text.replace(['«', '»'], "")));
            } else if path.extension().is_some_and(|ending| ending == "md")
                && path
                    .parent()
                    .is_some_and(|parent| parent.ends_with("language"))
            {
                files.extend(of_page(&path));
            }
        }
    }
    files
}

/// The files of a page of the reference that do not show the warning itself.
fn of_page(path: &Path) -> Vec<(String, String)> {
    let page = fs::read_to_string(path).expect("a page can be read");
    cases(&page)
        .into_iter()
        .filter(|case| !case.expected.iter().any(|(_, line)| line.contains(CODE)))
        .map(|case| (format!("{}:{}", path.display(), case.line), case.text))
        .collect()
}

#[test]
fn no_right_line_is_warned_of() {
    let files = files();
    assert!(files.len() > 200, "{}", files.len());
    let mut alarms = Vec::new();
    for (name, text) in files {
        let (snapshot, file) = open(&text);
        let findings = snapshot.findings(file).into_iter();
        alarms.extend(
            findings
                .filter(|finding| finding.code.name == CODE)
                .map(|finding| format!("{name}: {}", finding.message)),
        );
    }
    assert_eq!(alarms, [""; 0]);
}
