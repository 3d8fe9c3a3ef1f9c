//! Right files, on which nothing may be said: see `tests/right/README.md`.

use std::fs;
use std::path::{Path, PathBuf};

use haunch_tests::{open, repository};

/// The files of a folder in the order of their names.
fn files(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(repository(folder)).expect("the folder can be read");
    let paths = entries.map(|entry| entry.expect("an entry can be read").path());
    let mut files: Vec<PathBuf> = paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "haunch"))
        .collect();
    files.sort();
    files
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).expect("a right file can be read")
}

/// What is said about a text, each with the line that it stands at.
fn said(text: &str) -> Vec<String> {
    let (snapshot, file) = open(text);
    let findings = snapshot.findings(file).into_iter();
    findings
        .map(|finding| {
            let line = snapshot.line(finding.place.line);
            let line = line.map_or("", |line| line.text()).trim();
            format!("{line}: {} {}", finding.code.name, finding.message)
        })
        .collect()
}

#[test]
fn nothing_is_said_about_right_files() {
    let mut formulas = 0;
    let mut alarms = Vec::new();
    for path in files("tests/right") {
        let text = read(&path);
        formulas += text.lines().filter(|line| line.contains(" = ")).count();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        alarms.extend(said(&text).iter().map(|alarm| format!("{name}: {alarm}")));
    }
    assert_eq!(alarms, [""; 0]);
    assert!(formulas > 1000, "{formulas}");
}

#[test]
fn nothing_is_said_about_right_lines() {
    let mut alarms = Vec::new();
    let mut formulas = 0;
    for path in files("tests/right/alone") {
        let text = read(&path);
        let (values, lines) = text.split_once("\nnote ").expect("values and a note");
        for line in lines.lines().skip(1) {
            let gives = |given: &&str| given.split(" = ").next() == line.split(" = ").next();
            let others: Vec<&str> = values.lines().filter(|given| !gives(given)).collect();
            alarms.extend(said(&format!("{}\n{line}\n", others.join("\n"))));
            formulas += 1;
        }
    }
    assert_eq!(alarms, [""; 0]);
    assert!(formulas > 500, "{formulas}");
}
