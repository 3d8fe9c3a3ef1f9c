//! Limits on reactions, and limits on one span.

use crate::reading::{W, beam};

/// Two equal spans, one loaded: 7·w·L/16, 5·w·L/8, −w·L/16 (AISC table 3-23, from memory).
const TWO: &str = "spans = 3 m, 3 m\nsupport pin at start as west\nsupport roller at 3 m as mid\n\
                   support roller at end as east\nload a 2 kN/m on span 1\n";

#[test]
fn reactions_and_uplift() {
    let read = beam(
        &format!(
            "{TWO}limit reaction <= 5 kN\nlimit reaction at west <= 3 kN\nlimit uplift at end <= 0.5 kN"
        ),
        "w = largest a of b [kN/m]\n",
    );
    read.finds(&[]);
    let used = |name: &str, expected: f64, place: &str| {
        let check = read.check(name);
        let found = check.utilisation.expect("known");
        assert!((found / expected - 1.0).abs() < 1e-11, "{name} {found}");
        assert_eq!(check.place.as_deref(), Some(place));
    };
    used("b.reaction", 3.75 / 5.0, "mid, at 3 m");
    used("b.reaction.2", 2.625 / 3.0, "west, at 0 m");
    used("b.uplift", 0.375 / 0.5, "east, at 6 m");
    assert!((read.value("w") / (2e3 * 3.0 / 2.625) - 1.0).abs() < 1e-9);
}

#[test]
fn uplift_that_is_too_much() {
    let read = beam(&format!("{TWO}limit uplift <= 0.3 kN"), "");
    read.finds(&[
        "limit-exceeded at \"limit uplift <= 0.3 kN\": the uplift is 0.3750 kN (east, at 6 m)",
    ]);
}

/// The limit on span 2 does not see span 1, where the moment is larger.
#[test]
fn a_limit_on_one_span() {
    let read = beam(
        &format!("{TWO}limit tension on span 2 <= 100 MPa\nlimit deflection on span 2 <= span/300"),
        "",
    );
    read.finds(&[]);
    // At the middle support the moment is −w·L²/16.
    let expected = 2e3 * 9.0 / 16.0 / W / 100e6;
    let found = read.check("b.tension").utilisation.expect("known");
    assert!((found / expected - 1.0).abs() < 1e-11, "{found}");
    let place = read.check("b.deflection").place.clone().expect("known");
    let x: f64 = place
        .trim_start_matches("at ")
        .trim_end_matches(" m")
        .parse()
        .expect("a number");
    assert!(x > 3.0 && x < 6.0, "{place}");
}

#[test]
fn what_is_wrong_is_told() {
    let told = |line: &str, finding: &str| {
        let read = beam(&format!("{TWO}{line}"), "");
        read.finds(&[finding]);
        assert!(read.values.contains_key("b.M_max"), "{line}");
    };
    told(
        "limit reaction at north <= 3 kN",
        "unknown-name at \"north\"",
    );
    told("limit reaction at 1 m <= 3 kN", "place-wrong at \"1 m\"");
    told("limit reaction <= 3 kN/m", "unit-mismatch at \"3 kN/m\"");
    told("limit reaction on span 1 <= 3 kN", "unknown-limit at \"1\"");
    told(
        "limit tension at west <= 3 MPa",
        "unknown-limit at \"west\"",
    );
    told("limit tension on span 3 <= 3 MPa", "place-wrong at \"3\"");
}
