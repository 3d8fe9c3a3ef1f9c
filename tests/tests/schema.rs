//! `check --format json` against its JSON Schema, with a general validator.

use std::fs;

use haunch_tests::program::run;
use haunch_tests::repository;
use serde_json::{Value, json};

fn schema() -> Value {
    let text = fs::read_to_string(repository("tests/schema/check.schema.json"))
        .expect("the schema is there");
    serde_json::from_str(&text).expect("the schema is JSON")
}

#[test]
fn the_schema_is_a_schema() {
    assert!(jsonschema::meta::is_valid(&schema()));
}

#[test]
fn the_report_of_every_example_fits() {
    let validator = jsonschema::validator_for(&schema()).expect("the schema compiles");
    let examples = repository("examples");
    let run = run(&["check", "--format", "json", &examples.to_string_lossy()]);
    let report: Value = serde_json::from_str(&run.out).expect("the report is JSON");
    let wrong: Vec<String> = validator
        .iter_errors(&report)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let some = |pointer: &str| {
        let files = report["files"].as_array().expect("a list of files");
        files
            .iter()
            .filter_map(|file| file.pointer(pointer))
            .any(|part| !part.as_array().is_some_and(Vec::is_empty))
    };
    assert!(
        some("/checks")
            && some("/findings")
            && some("/findings/0/related")
            && some("/findings/0/repairs")
    );
}

#[test]
fn the_schema_refuses_another_shape() {
    let validator = jsonschema::validator_for(&schema()).expect("the schema compiles");
    let report = |check: Value| {
        json!({"haunch": "0", "schema": 1, "files": [
            {"path": "a", "values": {}, "checks": [check], "findings": []}
        ]})
    };
    let good = json!({"kind": "tension", "name": "a.tension", "utilisation": null, "holds": null, "where": null, "line": 1});
    assert!(validator.is_valid(&report(good.clone())));
    for (field, value) in [
        ("holds", json!("no")),
        ("line", json!(0)),
        ("extra", json!(1)),
    ] {
        let mut bad = good.clone();
        bad[field] = value;
        assert!(!validator.is_valid(&report(bad)), "{field}");
    }
}
