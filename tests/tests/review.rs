//! Reports for other programs against their schemas, and what a comparison says of files that mean the
//! same.

use std::fs;
use std::path::Path;

use haunch_quantity::is_unit_word;
use haunch_syntax::{format, with_edits};
use haunch_tests::program::run;
use haunch_tests::repository;
use serde_json::Value;

fn read_json(path: &str) -> Value {
    let text = fs::read_to_string(repository(path)).expect("it is there");
    serde_json::from_str(&text).expect("it is JSON")
}

#[track_caller]
fn fits(schema: &Value, report: &Value) {
    let validator = jsonschema::validator_for(schema).expect("the schema compiles");
    let wrong: Vec<String> = validator
        .iter_errors(report)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// `tests/schema/sarif-2.1.0.json` is the schema of the standard as the package `@microsoft/jest-sarif`
/// 1.0.0-beta.0 carries it (MIT licence).
#[test]
fn sarif_fits_its_schema() {
    let examples = repository("examples");
    let run = run(&["check", "--format", "sarif", &examples.to_string_lossy()]);
    let log: Value = serde_json::from_str(&run.out).expect("the log is JSON");
    // A bracket that stands for itself, which only some readers of patterns take without its stroke.
    let schema = fs::read_to_string(repository("tests/schema/sarif-2.1.0.json"))
        .expect("it is there")
        .replace("]?$\"", "\\\\]?$\"");
    let schema = serde_json::from_str(&schema).expect("it is JSON");
    fits(&schema, &log);
    let results = log["runs"][0]["results"].as_array().expect("results");
    assert!(!results.is_empty());
    let rules = log["runs"][0]["tool"]["driver"]["rules"]
        .as_array()
        .expect("rules");
    for result in results {
        let index = result["ruleIndex"].as_u64().expect("an index") as usize;
        assert_eq!(rules[index]["id"], result["ruleId"]);
    }
}

#[test]
fn a_failed_check_is_in_every_report() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a & b.haunch");
    fs::write(&path, "t = 6 mm\nverify t >= 8 mm\nu = 1 mm + 1 s\n").expect("it is written");
    let report = |format: &str| run(&["check", "--format", format, &path.to_string_lossy()]);
    let junit = report("junit");
    assert_eq!(junit.status, 1);
    assert!(
        junit.out.contains("failures=\"1\" errors=\"1\""),
        "{}",
        junit.out
    );
    assert!(junit.out.contains("name=\"t &gt;= 8 mm\"") && junit.out.contains("a &amp; b.haunch"));
    assert!(
        junit
            .out
            .contains("does not hold: 133 %, 6.000 mm &gt;= 8.000 mm"),
        "{}",
        junit.out
    );
    let github = report("github");
    assert!(
        github.out.contains("::error file=") && github.out.contains("title=verify-fails::"),
        "{}",
        github.out
    );
    assert!(github.out.contains("a & b.haunch,line=2"), "{}", github.out);
    let sarif = report("sarif");
    assert!(
        sarif.out.contains("a%20&%20b.haunch") && sarif.out.contains("verify-fails"),
        "{}",
        sarif.out
    );
}

/// The files of the language reference.
fn files_of_the_reference() -> Vec<String> {
    let mut files = Vec::new();
    for entry in fs::read_dir(repository("tests/language")).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|ending| ending != "md") {
            continue;
        }
        let page = fs::read_to_string(&path).expect("it can be read");
        let mut blocks = page.split("\n```");
        while let (Some(_), Some(block)) = (blocks.next(), blocks.next()) {
            if let Some((mark, text)) = block.split_once('\n')
                && mark.starts_with("haunch")
            {
                files.push(text.to_owned());
            }
        }
    }
    assert!(files.len() > 100);
    files
}

fn diff(old: &Path, new: &Path) -> (u8, Value) {
    let run = run(&[
        "diff",
        "--format",
        "json",
        &old.to_string_lossy(),
        &new.to_string_lossy(),
    ]);
    let review = serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}", run.err));
    (run.status, review)
}

fn is_silent(review: &Value) -> bool {
    [
        "changes", "results", "checks", "concerns", "findings", "files",
    ]
    .iter()
    .all(|part| review[*part].as_array().is_some_and(Vec::is_empty))
}

#[test]
fn a_file_laid_out_anew_is_the_same_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let (old, new) = (folder.path().join("old"), folder.path().join("new"));
    for side in [&old, &new] {
        fs::create_dir(side).expect("it is made");
    }
    for (index, text) in files_of_the_reference().iter().enumerate() {
        let name = format!("{index}.haunch");
        fs::write(old.join(&name), text).expect("it is written");
        fs::write(
            new.join(&name),
            with_edits(text, &format(text, is_unit_word)),
        )
        .expect("it is written");
    }
    for (a, b) in [(&old, &new), (&new, &old), (&old, &old)] {
        let (status, review) = diff(a, b);
        assert!(status == 0 && is_silent(&review), "{review:#}");
    }
}

#[test]
fn a_review_fits_its_schema() {
    let schema = read_json("tests/schema/diff.schema.json");
    assert!(jsonschema::meta::is_valid(&schema));
    let folder = tempfile::tempdir().expect("a folder");
    let new = folder.path();
    for entry in fs::read_dir(repository("examples")).expect("the examples can be listed") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|ending| ending != "haunch") {
            continue;
        }
        let text = fs::read_to_string(&path).expect("it can be read");
        let text = text
            .replace("thin  = 6 mm", "thin  = 4 mm")
            .replace("span/400", "span/300")
            .replace("verify lost <= 15 %", "")
            .replace("bearing <= 250 psi", "bearing <= 260 psi")
            .replace("boards ", "boarding ");
        fs::write(new.join(path.file_name().expect("a name")), text).expect("it is written");
    }
    let (status, review) = diff(&repository("examples"), new);
    assert_eq!(status, 1);
    fits(&schema, &review);
    for part in ["changes", "results", "checks", "concerns"] {
        assert!(!review[part].as_array().expect(part).is_empty(), "{part}");
    }
}
