//! Published numbers as whole files: see `tests/reference/README.md`.

use std::collections::BTreeMap;
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
    // A rectangle that stands for a published second moment of area may be as thin as a thread.
    let meant = |code: &str| code == "unlikely-sizes";
    let findings = file.findings.iter().filter(|own| !meant(&own.code));
    let findings = findings.map(|finding| {
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

/// The published cases of beams, each with how many of its numbers are checked.
const BEAMS: [(&str, usize); 41] = [
    ("E01", 7),
    ("E02", 4),
    ("E03", 6),
    ("E04", 4),
    ("E07", 4),
    ("E08", 6),
    ("E09", 3),
    ("E10", 7),
    ("E11", 4),
    ("E13", 5),
    ("E14", 3),
    ("E15", 3),
    ("E17", 3),
    ("E18", 6),
    ("E21", 7),
    ("E23", 5),
    ("E25", 8),
    ("E26", 4),
    ("E27", 3),
    ("E28", 3),
    ("E31", 5),
    ("E33", 3),
    ("E35", 5),
    ("E36", 5),
    ("E40", 3),
    ("E41", 5),
    ("E42", 4),
    ("E43", 4),
    ("E44", 6),
    ("E46", 2),
    ("E47", 2),
    ("E48", 2),
    ("E49", 4),
    ("E52", 1),
    ("E53", 1),
    ("E54", 3),
    ("E55", 1),
    ("E56", 2),
    ("E59", 1),
    ("E61", 4),
    ("E62", 1),
];

/// No case of a beam is left out, nor one of its numbers, and each is worked out by a beam of its file.
#[test]
fn every_case_of_a_beam_is_covered() {
    let text = fs::read_to_string(repository("tests/reference/beams.toml"));
    let text = text.expect("the cases can be read");
    let cases: Cases = toml::from_str(&text).expect("the cases are well formed");
    let covered: Vec<(&str, usize)> = cases
        .case
        .iter()
        .map(|case| (case.id.as_str(), case.expected.len()))
        .collect();
    assert_eq!(covered, BEAMS);
    for case in &cases.case {
        let by_beam = case.file.lines().any(|line| line.starts_with("beam "));
        assert!(by_beam, "{} has no beam", case.id);
        for expected in &case.expected {
            let line = format!("{} = ", expected.name);
            let is_there = case.file.lines().any(|own| own.starts_with(&line));
            assert!(is_there, "{}: {} is not asked for", case.id, expected.item);
        }
    }
}

#[test]
fn torsion() {
    check_cases("tests/reference/torsion.toml", 29);
}

#[test]
fn rolled() {
    check_cases("tests/reference/rolled.toml", 503);
}

/// Every published item of the collection is an item of a case here, or is left out with its reason.
#[test]
fn no_published_item_is_lost() {
    let read = |path: &str| fs::read_to_string(repository(path)).expect("a file of the repository");
    let readme = read("tests/reference/README.md");
    let left: Vec<&str> = readme
        .lines()
        .filter(|line| line.starts_with("| "))
        .collect();
    let mut known: BTreeMap<String, Vec<(String, String)>> = BTreeMap::new();
    for file in ["sections", "stress", "torsion", "rolled", "beams"] {
        let path = format!("tests/reference/{file}.toml");
        let cases: Cases = toml::from_str(&read(&path)).expect("the cases are well formed");
        let items = cases.case.into_iter().flat_map(|case| {
            let id = case.id;
            let items = case.expected.into_iter();
            items.map(move |expected| (id.clone(), expected.item))
        });
        known.insert(format!("{file}.toml"), items.collect());
    }
    let mistakes: Mistakes =
        toml::from_str(&read("tests/reference/mistakes.toml")).expect("the cases are well formed");
    let mistaken = |id: &str| mistakes.case.iter().any(|case| case.id == id);
    let collection = read("tests/reference/collection.tsv");
    let mut count = 0;
    for row in collection.lines().filter(|line| !line.starts_with('#')) {
        let cells: Vec<&str> = row.split('\t').collect();
        let [file, id, item] = cells.as_slice() else {
            panic!("three cells: {row}");
        };
        let is_here = match known.get(*file) {
            Some(items) => items
                .iter()
                .any(|own| own == &(id.to_string(), item.to_string())),
            None => mistaken(id),
        };
        let is_left = left
            .iter()
            .any(|line| line.starts_with(&format!("| {id} | ")));
        assert!(is_here || is_left, "{file}: {id} {item} is nowhere");
        count += 1;
    }
    assert_eq!(count, 849, "items of the collection");
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
/// one has none, or the hint that it is nearly a formula of the trade; every right one has none.
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
        let is_hinted = !mistake.dimension_sees_it && of_wrong == ["looks-like-formula"];
        if of_wrong != expected && !is_hinted {
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
