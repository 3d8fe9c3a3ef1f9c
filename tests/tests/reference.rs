//! Published numbers as whole files: see `tests/reference/README.md`.

use std::fs;
use std::path::Path;

use haunch_tests::program::{FileOut, check};
use haunch_tests::repository;
use serde::Deserialize;

#[derive(Deserialize)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    source: String,
    file: String,
    expected: Vec<Expected>,
}

#[derive(Deserialize)]
struct Expected {
    name: String,
    item: String,
    published: String,
    si: f64,
    rel_tol: f64,
}

/// A published 0 has no relative tolerance: what is left of it must be far below the other numbers
/// (N, m) of these cases.
const ZERO: f64 = 1e-9;

#[track_caller]
fn check_cases(path: &str, at_least: usize) {
    let text = fs::read_to_string(repository(path)).expect("the cases can be read");
    let cases: Cases = toml::from_str(&text).expect("the cases are well formed");
    let folder = tempfile::tempdir().expect("a folder for the files");
    let items: usize = cases.case.iter().map(|case| case.expected.len()).sum();
    assert!(
        items >= at_least,
        "{path} has {items} items, not {at_least}"
    );
    let wrong: Vec<String> = cases
        .case
        .iter()
        .flat_map(|case| disagreements(case, folder.path()))
        .collect();
    assert!(
        wrong.is_empty(),
        "{path}: {} of {items}\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn disagreements(case: &Case, folder: &Path) -> Vec<String> {
    let file = checked(&case.id, &case.file, folder);
    let findings = file.findings.iter().map(|finding| {
        format!(
            "{}: line {}: {}: {}",
            case.id, finding.line, finding.code, finding.message
        )
    });
    let numbers = case.expected.iter().filter_map(|expected| {
        let at = format!(
            "{}: {} (published {}; {})",
            case.id, expected.item, expected.published, case.source
        );
        let Some(value) = file
            .values
            .get(&expected.name)
            .and_then(|value| value.si.as_f64())
        else {
            return Some(format!("{at}: no value"));
        };
        let allowed = if expected.si == 0.0 {
            ZERO
        } else {
            expected.rel_tol * expected.si.abs()
        };
        let off = (value - expected.si).abs();
        (off > allowed).then(|| format!("{at}: {value}, not {} within {allowed} (SI)", expected.si))
    });
    findings.chain(numbers).collect()
}

fn checked(id: &str, text: &str, folder: &Path) -> FileOut {
    let path = folder.join(format!("{id}.haunch"));
    fs::write(&path, text).expect("the file can be written");
    check(&path).0
}

#[test]
fn sections() {
    check_cases("tests/reference/sections.toml", 45);
}

#[test]
fn stress() {
    check_cases("tests/reference/stress.toml", 95);
}

#[test]
fn beams() {
    check_cases("tests/reference/beams.toml", 145);
}

#[derive(Deserialize)]
struct Mistakes {
    case: Vec<Mistake>,
}

#[derive(Deserialize)]
struct Mistake {
    id: String,
    title: String,
    dimension_sees_it: bool,
    wrong: String,
    right: String,
}

/// A wrong formula that a dimension check can see has exactly one finding and no value; any other wrong
/// one, and every right one, has none.
#[test]
fn mistakes() {
    let text = fs::read_to_string(repository("tests/reference/mistakes.toml"))
        .expect("the cases can be read");
    let mistakes: Mistakes = toml::from_str(&text).expect("the cases are well formed");
    assert!(mistakes.case.len() >= 35);
    let folder = tempfile::tempdir().expect("a folder for the files");
    let mut wrong = Vec::new();
    for mistake in &mistakes.case {
        let codes = |text: &str| -> Vec<String> {
            let file = checked(&mistake.id, text, folder.path());
            file.findings
                .into_iter()
                .map(|finding| finding.code)
                .collect()
        };
        let expected: &[&str] = if mistake.dimension_sees_it {
            &["unit-mismatch"]
        } else {
            &[]
        };
        let (of_wrong, of_right) = (codes(&mistake.wrong), codes(&mistake.right));
        if of_wrong != expected {
            wrong.push(format!(
                "{} {}: {of_wrong:?}, not {expected:?}",
                mistake.id, mistake.title
            ));
        }
        if !of_right.is_empty() {
            wrong.push(format!("{} right version: {of_right:?}", mistake.id));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
