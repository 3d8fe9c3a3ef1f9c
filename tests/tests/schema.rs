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

/// J = π·d⁴/32 exactly; of the tee with its error and method; of two materials why not.
#[test]
fn torsion_is_added_when_it_is_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("torsion.haunch");
    let text = "material a\n    E = 10 GPa\nmaterial b\n    E = 200 GPa\n\
                section bar\n    circle rod 50 mm\n\
                section tee\n    rect flange 150 x 12 mm\n    rect stem 10 x 180 mm above flange\n\
                section both of a\n    rect r 60 x 20 mm\n    rect t 60 x 5 mm above r of b\n";
    fs::write(&path, text).expect("a file");
    let report = |arguments: &[&str]| -> Value {
        let path = path.to_string_lossy();
        let run = run(&[&["check", "--format", "json", &*path], arguments].concat());
        assert_eq!(run.status, 0, "{}", run.err);
        serde_json::from_str(&run.out).expect("the report is JSON")
    };
    let plain = report(&[]);
    assert!(
        plain
            .pointer("/files/0/values/bar.torsion_constant")
            .is_none()
    );
    assert!(plain.pointer("/files/0/without_value").is_none());
    let found = report(&["--with-torsion"]);
    let validator = jsonschema::validator_for(&schema()).expect("the schema compiles");
    assert!(validator.is_valid(&found), "{found}");
    let value = |name: &str| &found["files"][0]["values"][name];
    let exact = std::f64::consts::PI * 0.05 * 0.05 * 0.05 * 0.05 / 32.0;
    let bar = value("bar.torsion_constant");
    assert!((bar["si"].as_f64().unwrap() / exact - 1.0).abs() < 1e-12);
    assert!(bar["method"].as_str().unwrap().contains("exact") && bar.get("error").is_none());
    let tee = value("tee.warping_constant");
    assert!(tee["method"].as_str().unwrap().contains("finite elements"));
    let (own, error) = (tee["si"].as_f64().unwrap(), tee["error"].as_f64().unwrap());
    assert!(error > 0.0 && error < 0.05 * own, "{tee}");
    let why = &found["files"][0]["without_value"];
    assert!(
        why["both.shear_centre_x"]
            .as_str()
            .unwrap()
            .contains("one material alone")
    );
    assert!(
        why["tee.torsion_modulus"]
            .as_str()
            .unwrap()
            .contains("corners")
    );
    // Every other value is as it is without.
    for (name, value) in plain["files"][0]["values"].as_object().unwrap() {
        assert_eq!(value, &found["files"][0]["values"][name], "{name}");
    }
    let text = run(&["check", "--with-torsion", &path.to_string_lossy()]);
    assert_eq!(text.status, 2);
    assert!(text.err.contains("--format json"), "{}", text.err);
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
