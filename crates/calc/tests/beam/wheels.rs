//! Wheels that run along a beam.

use crate::reading::{Read, W, beam};

/// To 9 digits: the place of the wheels is found by enclosure.
#[track_caller]
fn close(read: &Read, expected: &[(&str, f64)]) {
    assert_eq!(read.findings, Vec::<String>::new());
    for (name, expected) in expected {
        let value = read.value(name);
        let allowed = 1e-9 * expected.abs().max(1.0);
        assert!(
            (value - expected).abs() <= allowed,
            "{name} is {value}, not {expected}"
        );
    }
}

/// P·L/4, P, P·L³/(48·EI) (AISC *Steel Construction Manual*, table 3-23, from memory); under the
/// place asked for P·x·(L − x)/L, and P·(L − x)/L or P·x/L beside it.
#[test]
fn one_wheel() {
    let read = beam(
        "length = 6 m\nload crane 8 kN moving\nlimit tension <= 200 MPa",
        "m2 = b.M(2 m)\nv2 = b.V(2 m)\nd3 = b.deflection(3 m)\nF = largest crane of b [kN]\n\
         s = b.stress(low)\ns2 = b.stress(low, 2 m)\n",
    );
    let ei = crate::reading::EI;
    close(
        &read,
        &[
            ("b.M_max", 8e3 * 6.0 / 4.0),
            ("b.M_min", 0.0),
            ("b.V_max", 8e3),
            ("b.V_min", -8e3),
            ("b.R1", 8e3),
            ("b.R1_min", 0.0),
            ("b.deflection_max", 8e3 * 216.0 / (48.0 * ei)),
            ("m2", 8e3 * 2.0 * 4.0 / 6.0),
            ("v2", 8e3 * 4.0 / 6.0),
            ("d3", 8e3 * 216.0 / (48.0 * ei)),
            ("F", 200e6 * W * 4.0 / 6.0),
            ("s2", 8e3 * 2.0 * 4.0 / 6.0 / W),
        ],
    );
    let tension = read.check("b.tension");
    assert_eq!(tension.place.as_deref(), Some("low, at 3 m, crane at 3 m"));
}

/// P/(2L)·(L − a/2)², P·(2 − a/L) (AISC table 3-23, two equal moving loads, from memory), with a
/// permanent load that acts besides in one combination only.
#[test]
fn two_wheels_in_combinations() {
    let (p, a, l, w): (f64, f64, f64, f64) = (12e3, 1.8, 6.0, 1e3);
    let read = beam(
        "length = 6 m\nload dead 1 kN/m throughout\n\
         load trolley 12 kN, 12 kN at 0 m, 1.8 m moving\n\
         combination strength = 1.35*dead + 1.5*trolley\ncombination service = 0*dead + trolley\n\
         limit tension <= 400 MPa under service",
        "k = largest trolley of b\n",
    );
    let moment = p / (2.0 * l) * (l - a / 2.0) * (l - a / 2.0);
    close(
        &read,
        &[
            ("b.service.M_max", moment),
            ("b.service.V_max", p * (2.0 - a / l)),
            (
                "b.strength.V_max",
                1.5 * p * (2.0 - a / l) + 1.35 * w * l / 2.0,
            ),
            ("b.strength.R1_min", 1.35 * w * l / 2.0),
            ("k", 400e6 * W / moment),
        ],
    );
    // Under a wheel at x: R·x with the train's resultant, and the permanent load's own.
    let x: f64 = {
        let lever = l - a / 2.0;
        let slope = 1.5 * 2.0 * p * lever / l + 1.35 * w * l / 2.0;
        slope / (2.0 * (1.5 * 2.0 * p / l + 1.35 * w / 2.0))
    };
    let train = 1.5 * 2.0 * p * x * (l - a / 2.0 - x) / l;
    let dead = 1.35 * w * x * (l - x) / 2.0;
    close(&read, &[("b.strength.M_max", train + dead)]);
}

/// One way only: the lighter wheel ahead at the start. P1 + P2·(L − a)/L either way round.
#[test]
fn one_way() {
    let (p1, p2, a, l) = (20e3, 8e3, 2.0, 7.0);
    let line = "load trolley 8 kN, 20 kN at 0 m, 2 m moving";
    let either = beam(&format!("length = 7 m\n{line}"), "");
    close(&either, &[("b.V_max", p1 + p2 * (l - a) / l)]);
    let only = beam(&format!("length = 7 m\n{line} one way"), "");
    close(
        &only,
        &[
            ("b.V_max", p2 + p1 * (l - a) / l),
            ("b.V_min", -(p1 + p2 * (l - a) / l)),
        ],
    );
}

/// The largest load beside a permanent one: the train's worst place moves as it grows. With half of
/// the beam loaded, M = R·x − w·x²/2 + P·x·(L − x)/L in the loaded half; the file's own answer put
/// in gives the limit.
#[test]
fn the_place_is_sought_at_each_size() {
    let lines = |crane: &str| {
        format!(
            "length = 6 m\nload dead 4 kN/m from start to middle\nload crane {crane} moving\n\
             limit tension <= 150 MPa"
        )
    };
    let read = beam(&lines("1 kN"), "F = largest crane of b [kN]\n");
    let force = read.value("F");
    let (w, l, limit) = (4e3, 6.0, 150e6 * W);
    let slope = 3.0 * w * l / 8.0 + force;
    let curve = w / 2.0 + force / l;
    assert!((slope * slope / (4.0 * curve) / limit - 1.0).abs() < 1e-9);
    let again = beam(&lines(&format!("{force} N")), "");
    let used = again.check("b.tension").utilisation.expect("known");
    assert!((used - 1.0).abs() < 1e-9);
}

/// Together with loads on any spans each of both finds its own worst: 0.0962·P·L and w·L²/8 over the
/// middle support of two equal spans (influence tables and AISC table 3-23, from memory).
#[test]
fn with_loads_on_any_spans() {
    let read = beam(
        "spans = 5 m, 5 m\nload live 2 kN/m on any spans\nload crane 10 kN moving\n\
         limit compression <= 300 MPa",
        "",
    );
    let (p, w, l) = (10e3, 2e3, 5.0);
    let hogging = -(p * l / (6.0 * 3.0_f64.sqrt()) + w * l * l / 8.0);
    close(
        &read,
        &[("b.M_min", hogging), ("b.R2_max", p + 1.25 * w * l)],
    );
    let place = read.check("b.compression").place.clone().expect("known");
    assert!(
        place.contains("live on span") && place.contains(" and crane at "),
        "{place}"
    );
}

#[test]
fn what_makes_no_wheels_is_told() {
    let refused = |load: &str, finding: &str| {
        let read = beam(&format!("length = 6 m\n{load}"), "");
        read.finds(&[finding]);
        assert!(!read.values.contains_key("b.M_max"));
    };
    refused(
        "load a 2 kN, 3 kN at 0 m moving",
        "place-wrong at \"0 m\": 2 wheels need",
    );
    refused(
        "load a 2 kN, 3 kN moving",
        "place-wrong at \"moving\": 2 wheels need",
    );
    refused(
        "load a 2 kN, 3 kN at middle",
        "place-wrong at \"2 kN, 3 kN\": several loads",
    );
    refused(
        "load a 2 kN, 3 kN at 1 m, 3 m moving",
        "place-wrong at \"1 m\": the distances",
    );
    refused(
        "load a 2 kN, 3 kN at 0 m, 0 m moving",
        "place-wrong at \"0 m\": the distances",
    );
    refused(
        "load a 2 kN at middle moving",
        "place-wrong at \"middle\": wheels stand",
    );
    refused("load a 2 kN/m moving", "unit-mismatch at \"2 kN/m\"");
    refused(
        "load a 2 kN, 3 m at 0 m, 2 m moving",
        "unit-mismatch at \"3 m\"",
    );
    refused("load a -2 kN moving", "value-not-positive at \"-2 kN\"");
    refused(
        "load a 2 kN moving up",
        "place-wrong at \"up\": a wheel presses down",
    );
    refused(
        "load a self weight moving",
        "place-wrong at \"self weight\"",
    );
    refused(
        "load a 1 kN moving\nload a 2 kN moving",
        "not-supported-yet at \"load a 2 kN moving\"",
    );
    refused(
        "load a 1 kN moving\nload b 2 kN moving",
        "not-supported-yet at \"b\"",
    );
}

/// Both together are not worst where each alone is.
#[test]
fn limits_on_normal_and_shear_stress_together_are_not_judged() {
    let lines =
        "length = 6 m\nload a 2 kN moving\nlimit von_mises <= 100 MPa\nlimit tension <= 100 MPa";
    let read = beam(lines, "");
    read.finds(&["not-supported-yet at \"limit von_mises <= 100 MPa\""]);
    assert_eq!(read.check("b.von_mises").holds, None);
    assert_eq!(read.check("b.tension").holds, Some(true));
}
