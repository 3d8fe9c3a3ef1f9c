//! Supports that settle and temperature differences over the depth.

use crate::reading::{BAR, EI, beam, file as read};

/// Two equal spans, the middle support going down by d: its reaction falls by 6·EI·d/L³ where L is
/// one span (force for a deflection d in the middle of a simple beam of 2·L: 48·EI·d/(2·L)³).
#[test]
fn a_middle_support_that_settles() {
    let read = beam(
        "spans = 3 m, 3 m\nload sinking 5 mm at 3 m",
        "down = b.deflection(3 m)\n",
    );
    read.finds(&[]);
    let reaction = -6.0 * EI * 0.005 / 27.0;
    let close = |name: &str, expected: f64| {
        let found = read.value(name);
        assert!(
            (found / expected - 1.0).abs() < 1e-11,
            "{name}: {found} {expected}"
        );
    };
    close("b.R2", reaction);
    close("b.R1", -reaction / 2.0);
    close("b.M_max", -reaction / 2.0 * 3.0);
    close("down", 0.005);
}

#[test]
fn a_settlement_does_nothing_to_a_simple_beam_but_tilt_it() {
    let read = beam(
        "length = 3 m\nload sinking 6 mm at end",
        "middle = b.deflection(1.5 m)\n",
    );
    read.finds(&[]);
    assert_eq!(read.value("b.M_max"), 0.0);
    assert!((read.value("middle") / 0.003 - 1.0).abs() < 1e-12);
}

fn with_expansion(lines: &str, after: &str) -> crate::reading::Read {
    let material = BAR.replace(
        "E = 205 GPa",
        "E = 205 GPa\n    thermal_expansion = 1.2e-5/(1 K)",
    );
    let beam: String = lines.lines().map(|line| format!("    {line}\n")).collect();
    read(&format!("{material}beam b of bar\n{beam}{after}"))
}

/// A simple beam takes up the curvature k = α·ΔT/h freely: v = k·L²/8 in the middle, up where the
/// top is warmer. Held at both ends M = EI·k all along, the warmer side in compression.
#[test]
fn a_temperature_difference_over_the_depth() {
    let curvature = 1.2e-5 * 20.0 / 0.12;
    let free = with_expansion(
        "length = 4 m\nload sun 20 K top warmer throughout",
        "middle = b.deflection(2 m)\n",
    );
    free.finds(&[]);
    assert_eq!(free.value("b.M_max"), 0.0);
    assert!((free.value("middle") / (-curvature * 16.0 / 8.0) - 1.0).abs() < 1e-11);
    let held = with_expansion(
        "length = 4 m\nsupport fixed at start\nsupport fixed at end\n\
         load sun 20 K top warmer throughout",
        "top = b.stress(high, 1 m)\n",
    );
    held.finds(&[]);
    assert!((held.value("b.M_max") / (EI * curvature) - 1.0).abs() < 1e-11);
    assert!(held.value("top") < 0.0);
}

#[test]
fn what_is_missing_is_told() {
    let refused = |load: &str, finding: &str| {
        let read = with_expansion(&format!("length = 4 m\n{load}"), "x = b.M_max\n");
        read.finds(&[finding]);
        assert!(!read.values.contains_key("x"));
    };
    refused("load sun 20 K throughout", "sense-missing at \"20 K\"");
    refused("load sun 20 K top warmer", "place-missing at \"20 K\"");
    refused(
        "load sun 20 K top warmer at 1 m",
        "place-missing at \"20 K\"",
    );
    refused(
        "load sun 20 K clockwise throughout",
        "unit-mismatch at \"20 K\"",
    );
    refused("load sink 5 mm at 1 m", "place-wrong at \"5 mm\"");
    refused("load sink 5 mm throughout", "place-wrong at \"5 mm\"");
    let read = beam("length = 4 m\nload sun 20 K top warmer throughout", "");
    read.finds(&["missing-property at \"20 K\""]);
    let text = BAR.replace("    E = 205 GPa\n", "");
    let read = crate::reading::file(&format!(
        "{text}beam b of bar\n    spans = 3 m, 3 m\n    load sinking 5 mm at 3 m\n"
    ));
    read.finds(&["missing-property at \"load sinking 5 mm at 3 m\""]);
}
