//! Each thing that can be wrong, told once and at its place; then the beam has no results.

use crate::reading::{beam, file};

/// The beam's lines give this one finding, and no results.
#[track_caller]
fn refused(lines: &str, expected: &str) {
    let read = beam(lines, "");
    read.finds(&[expected]);
    let results: Vec<&String> = read
        .values
        .keys()
        .filter(|name| name.starts_with("b.R") || name.starts_with("b.M"))
        .collect();
    assert!(results.is_empty(), "{results:?}");
}

#[track_caller]
fn load_refused(load: &str, expected: &str) {
    refused(&format!("length = 3 m\n{load}"), expected);
}

#[track_caller]
fn support_refused(lines: &str, expected: &str) {
    refused(
        &format!("length = 3 m\n{lines}\nload a 1 kN at middle"),
        expected,
    );
}

#[test]
fn lengths() {
    refused("load a 1 kN at 1 m", "missing-length at \"b\"");
    refused(
        "length = 3 m\nspans = 1 m, 2 m",
        "length-given-twice at \"length = 3 m\"",
    );
    refused("length = 0 m", "value-not-positive at \"length = 0 m\"");
    refused("spans = 3 m, -1 m", "value-not-positive at \"-1 m\"");
    refused("length = 3 kN", "unit-mismatch at \"3 kN\"");
    refused(
        "length = 3 m\nlength = 3 m\n"
            .lines()
            .next()
            .unwrap_or_default()
            .replace("3 m", "L")
            .as_str(),
        "unknown-name at \"L\"",
    );
}

#[test]
fn an_unknown_field_takes_the_results() {
    refused("length = 3 m\nlenght = 4 m", "unknown-field at \"lenght\"");
}

#[test]
fn supports() {
    support_refused(
        "support fixd at start",
        "unknown-support at \"fixd\": fixd is not a kind of support. There are pin, roller, fixed and spring.",
    );
    support_refused(
        "support spring at start\nsupport pin at end",
        "missing-property at \"spring\"",
    );
    support_refused(
        "support spring 0 kN/m at start\nsupport pin at end",
        "value-not-positive at \"0 kN/m\"",
    );
    support_refused(
        "support spring 3 kN at start\nsupport pin at end",
        "unit-mismatch at \"3 kN\"",
    );
    support_refused(
        "support pin at start\nsupport pin at 4 m",
        "place-outside at \"4 m\": 4 m lies outside the beam, which is 3 m long.",
    );
    support_refused(
        "support pin at start\nsupport pin at 0 m\nsupport pin at end",
        "place-wrong at \"support pin at 0 m\": another support",
    );
}

#[test]
fn spans_that_meet_without_a_support() {
    refused(
        "spans = 3 m, 4 m\nsupport pin at start\nsupport pin at end\nload a 1 kN at 1 m",
        "support-missing at \"b\": two spans of b meet at 3 m",
    );
}

#[test]
fn mechanisms_say_what_is_missing() {
    support_refused(
        "support pin at 1 m",
        "mechanism at \"b\": b can turn about its only support, at 1 m. Add a second support, or make this one fixed.",
    );
    support_refused(
        "support pin at start\nsupport pin at end\nhinge at 1 m",
        "mechanism at \"b\": the hinge at 1 m lets the part of b from 0 m to 3 m move.",
    );
}

#[test]
fn hinges() {
    support_refused(
        "support fixed at start\nsupport fixed at end\nhinge at end",
        "place-wrong at \"hinge at end\"",
    );
    support_refused(
        "support fixed at start\nsupport fixed at end\nhinge at 1 m\nhinge at 1000 mm",
        "place-wrong at \"hinge at 1000 mm\"",
    );
    support_refused(
        "support fixed at 1 m\nsupport fixed at end\nhinge at 1 m",
        "place-wrong at \"hinge at 1 m\"",
    );
    support_refused(
        "support fixed at start\nsupport fixed at end\nhinge at 5 m",
        "place-outside at \"5 m\"",
    );
}

#[test]
fn kinds_of_load_and_their_places() {
    load_refused(
        "load a 6 kN throughout",
        "unit-mismatch at \"6 kN\": a load throughout has to be a force per length (kN/m), but 6 kN is a force (kN).",
    );
    load_refused("load a 6 kN from 1 m to end", "unit-mismatch at \"6 kN\"");
    load_refused("load a 6 kN/m at middle", "unit-mismatch at \"6 kN/m\"");
    load_refused(
        "load a 6 kN*m clockwise throughout",
        "unit-mismatch at \"6 kN*m\"",
    );
    load_refused("load a 6 at middle", "unit-mismatch at \"6\"");
    load_refused("load a 6 kg at middle", "unit-mismatch at \"6 kg\"");
    load_refused("load a 6 mm at middle", "place-wrong at \"6 mm\"");
    load_refused("load a 6 kN", "place-missing at \"6 kN\"");
    load_refused("load a 2 kN/m", "place-missing at \"2 kN/m\"");
    load_refused(
        "load a 0 kN/m to 2 kN/m",
        "place-missing at \"0 kN/m to 2 kN/m\"",
    );
    load_refused(
        "load a 0 kN/m to 2 kN/m at 1 m",
        "place-wrong at \"0 kN/m to 2 kN/m\"",
    );
    load_refused(
        "load a 1 kN to 2 kN throughout",
        "unit-mismatch at \"1 kN\"",
    );
    load_refused(
        "load a 1 kN/m to 2 kN throughout",
        "unit-mismatch at \"2 kN\"",
    );
    load_refused("load a 6 kN at 4 m", "place-outside at \"4 m\"");
    load_refused(
        "load a 2 kN/m from 2 m to 1 m",
        "place-wrong at \"2 m to 1 m\"",
    );
    load_refused("load a 2 kN/m on span 2", "place-wrong at \"2\"");
    refused(
        "spans = 1 m, 2 m\nload a 2 kN/m on span 3",
        "place-wrong at \"3\": there is no span 3: the beam has 2 spans, from 1.",
    );
}

#[test]
fn senses() {
    load_refused(
        "load a 2 kN*m at 1 m",
        "sense-missing at \"2 kN*m\": a couple needs the word that says which way it acts: clockwise or anticlockwise.",
    );
    load_refused("load a 2 kN*m hogging at 1 m", "sense-wrong at \"hogging\"");
    load_refused(
        "load a -2 kN*m clockwise at 1 m",
        "sense-wrong at \"-2 kN*m\"",
    );
    load_refused(
        "load a 2 kN clockwise at 1 m",
        "unit-mismatch at \"2 kN\": a load with the word clockwise has to be a moment (kN·m)",
    );
    load_refused("load a 2 kN*m clockwise at 1 m up", "place-wrong at \"up\"");
    load_refused("load a 2 kN*m clockwise", "place-missing at \"2 kN*m\"");
}

#[test]
fn tributary_widths() {
    load_refused("load a 2 kPa throughout", "tributary-missing at \"2 kPa\"");
    load_refused(
        "load a 2 kPa throughout tributary 0 m",
        "value-not-positive at \"0 m\"",
    );
    load_refused(
        "load a 2 kPa throughout tributary 3 kN",
        "unit-mismatch at \"3 kN\"",
    );
    load_refused(
        "load a 2 kN/m throughout tributary 3 m",
        "tributary-wrong at \"3 m\"",
    );
    load_refused(
        "load a 2 kN at 1 m tributary 3 m",
        "tributary-wrong at \"3 m\"",
    );
}

#[test]
fn self_weight() {
    load_refused(
        "load a self weight at 1 m",
        "place-wrong at \"self weight\"",
    );
    load_refused("load a self weight up", "place-wrong at \"up\"");
    let text = "material m\n    E = 1 GPa\nsection s of m\n    rect r 10 x 10 mm\nbeam b of s\n    length = 1 m\n    load a self weight\n";
    file(text).finds(&[
        "missing-property at \"self weight\": self weight needs the density of every material of s",
    ]);
}

#[test]
fn a_couple_at_a_hinge() {
    refused(
        "length = 3 m\nsupport fixed at start\nsupport pin at end\nhinge at 1 m\nload a 1 kN*m clockwise at 1 m",
        "place-wrong at \"load a 1 kN*m clockwise at 1 m\"",
    );
}

#[test]
fn without_its_section() {
    file("beam b\n    length = 3 m\n").finds(&["missing-property at \"b\""]);
    file("beam b of s\n    length = 3 m\n").finds(&["unknown-name at \"s\""]);
}

#[test]
fn independent_mistakes_are_all_told() {
    beam(
        "length = 3 m\nload a 6 kN throughout\nload c 2 kN*m at 1 m\nsupport fixd at start",
        "",
    )
    .finds(&[
        "unit-mismatch at \"6 kN\"",
        "sense-missing at \"2 kN*m\"",
        "unknown-support at \"fixd\"",
    ]);
}

#[test]
fn sizes_beyond_all_proportion() {
    let read = beam("length = 1e-200 m\nload a 1e200 kN at middle", "");
    assert!(!read.findings.is_empty() || read.values.values().all(|value| value.is_finite()));
    let read = beam("length = 1e100 m\nload a 1e100 kN/m throughout", "");
    assert!(
        read.findings
            .iter()
            .any(|finding| finding.starts_with("not-accurate")),
        "{:#?}",
        read.findings
    );
}
