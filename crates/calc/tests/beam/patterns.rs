//! Loads on whichever spans are worst.

use crate::reading::{W, beam, file};

/// Two equal spans: one loaded gives 49·w·L²/512 in it and 7·w·L/16 at its end, −w·L/16 at the far
/// end; both loaded −w·L²/8, 5·w·L/8 and 5·w·L/4 in the middle (AISC table 3-23, from memory; the
/// moment in the span is R²/2w).
#[test]
fn two_spans() {
    let (w, l) = (2e3, 3.0);
    let read = beam(
        "spans = 3 m, 3 m\nload live 2 kN/m on any spans\nlimit uplift <= 1 kN\nlimit tension <= 100 MPa",
        "w = largest live of b [kN/m]\n",
    );
    read.agrees(&[
        ("b.M_max", 49.0 * w * l * l / 512.0),
        ("b.M_min", -w * l * l / 8.0),
        ("b.V_max", 5.0 * w * l / 8.0),
        ("b.R1", 7.0 * w * l / 16.0),
        ("b.R2", 5.0 * w * l / 4.0),
    ]);
    let uplift = read.check("b.uplift");
    assert!((uplift.utilisation.expect("known") - w * l / 16.0 / 1e3).abs() < 1e-11);
    let place = uplift.place.as_deref().expect("known");
    assert!(
        place == "at 0 m, live on span 2" || place == "at 6 m, live on span 1",
        "{place}"
    );
    let tension = read.check("b.tension");
    let stress = w * l * l / 8.0 / W;
    assert!((tension.utilisation.expect("known") - stress / 100e6).abs() < 1e-11);
    assert_eq!(
        tension.place.as_deref(),
        Some("high, at 3 m, live on spans 1, 2")
    );
    assert!((read.value("w") / (1e3 * 16.0 / l) - 1.0).abs() < 1e-9);
}

/// Three equal spans with a permanent load: 0.08·g + 0.1013·q in an end span, 0.025·g + 0.075·q in
/// the middle one, −(0.1·g + 0.1167·q) at a support (continuous-beam coefficients, in every table
/// book, from memory, three digits).
#[test]
fn three_spans_with_a_permanent_load() {
    let read = beam(
        "spans = 3 m, 3 m, 3 m\nload dead 1 kN/m throughout\nload live 2 kN/m on any spans\n\
         combination strength = 1.35*dead + 1.5*live\ncombination service = dead + live",
        "middle = b.strength.M(4.5 m)\n",
    );
    read.finds(&[]);
    let close = |name: &str, dead: f64, live: f64, gamma: (f64, f64)| {
        let expected = (gamma.0 * dead * 1e3 + gamma.1 * live * 2e3) * 9.0;
        let found = read.value(name);
        assert!(
            (found / expected - 1.0).abs() < 2e-3,
            "{name}: {found} {expected}"
        );
    };
    close("b.strength.M_min", -0.1, -0.11667, (1.35, 1.5));
    close("b.M_min", -0.1, -0.11667, (1.35, 1.5));
    close("b.service.M_min", -0.1, -0.11667, (1.0, 1.0));
    close("middle", 0.025, 0.075, (1.35, 1.5));
}

/// An overhang is a span of its own.
#[test]
fn an_overhang() {
    let read = beam(
        "length = 4 m\nsupport pin at start\nsupport roller at 3 m\nload live 2 kN/m on any spans",
        "",
    );
    read.agrees(&[
        ("b.M_max", 2e3 * 9.0 / 8.0),
        ("b.M_min", -2e3 * 1.0 / 2.0),
        ("b.R1", 2e3 * 3.0 / 2.0),
    ]);
}

#[test]
fn what_cannot_be_parted_is_told() {
    let refused = |load: &str, finding: &str| {
        let read = beam(&format!("spans = 3 m, 3 m\n{load}"), "");
        read.finds(&[finding]);
        assert!(!read.values.contains_key("b.M_max"));
    };
    refused("load a 2 kN on any spans", "unit-mismatch at \"2 kN\"");
    refused(
        "load a 1 kN/m to 2 kN/m on any spans",
        "place-wrong at \"any spans\"",
    );
}

/// Normal and shear stress together: the worst of all patterns, each written out as loads on spans.
#[test]
fn stresses_together_take_the_worst_of_all_patterns() {
    let used = |live: &str| {
        let text = format!(
            "material steel\n    E = 205 GPa\nsection s of steel\n    rect low 100 x 10 mm\n    \
             rect web 4 x 180 mm above low\n    rect high 100 x 10 mm above web\n    point edge at top \
             of web\nbeam b of s\n    spans = 1 m, 0.6 m, 1.4 m\n    load dead 30 kN/m throughout\n\
             {live}    limit von_mises <= 200 MPa\nat_edge = b.von_mises(edge)\n\
             there = b.von_mises(edge, 1.1 m)\n"
        );
        let read = file(&text);
        let used = read.check("b.von_mises").utilisation.expect("known");
        [used, read.value("at_edge"), read.value("there")]
    };
    let mut worst = [0.0_f64; 3];
    for pattern in 0..8 {
        let lines: String = (0..3)
            .filter(|span| pattern >> span & 1 == 1)
            .map(|span| format!("    load live 120 kN/m on span {}\n", span + 1))
            .collect();
        for (worst, own) in worst.iter_mut().zip(used(&lines)) {
            *worst = worst.max(own);
        }
    }
    let any = used("    load live 120 kN/m on any spans\n");
    for (any, worst) in any.into_iter().zip(worst) {
        assert!((any / worst - 1.0).abs() < 1e-7, "{any} {worst}");
    }
}
