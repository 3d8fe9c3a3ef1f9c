//! A beam whose section changes along its length.

use crate::reading::{EI, W, WEIGHT, file as read};

/// The bar of the other tests, and one of twice its depth.
fn stepped(lines: &str, after: &str) -> String {
    let beam: String = lines.lines().map(|line| format!("    {line}\n")).collect();
    format!(
        "{}section deep of steel\n    rect plate 30 x 240 mm\n    point foot at bottom\n\
         beam b of bar\n{beam}{after}",
        crate::reading::BAR
    )
}

/// A cantilever of two halves with 8·EI next to the wall, force F at the tip:
/// v = F·(L/2)³/3EI + F·((L/2)³/3 + (L/2)²·L/2 + (L/2)·(L/2)·L/2)/(8·EI), by the area of the
/// M/EI diagram (Mohr's theorem; any textbook).
#[test]
fn a_stepped_cantilever() {
    let read = read(&stepped(
        "length = 2 m\nsupport fixed at start\nsection deep from start to 1 m\nload tip 3 kN at end",
        "v = b.deflection(2 m)\nat_wall = b.stress(foot)\nat_step = b.stress(low, 1 m)\nlow = b.stress(low)\n",
    ));
    read.finds(&[]);
    let force = 3e3;
    let tip = force / (3.0 * EI) + force * (1.0 / 3.0 + 1.0 + 1.0) / (8.0 * EI);
    let close = |name: &str, expected: f64| {
        let found = read.value(name);
        assert!(
            (found / expected - 1.0).abs() < 1e-11,
            "{name}: {found} {expected}"
        );
    };
    close("v", tip);
    close("at_wall", -force * 2.0 / (4.0 * W));
    close("at_step", -force / W);
    close("low", -force / W);
}

#[test]
fn the_weight_of_each_stretch() {
    let read = read(&stepped(
        "length = 4 m\nsection deep from 1 m to 3 m\nload dead self weight",
        "",
    ));
    read.finds(&[]);
    let total = WEIGHT * 2.0 + 2.0 * WEIGHT * 2.0;
    assert!((read.value("b.R1") / (total / 2.0) - 1.0).abs() < 1e-12);
}

/// The limit governs beside the thick stretch, not at the largest moment.
#[test]
fn limits_look_at_every_stretch() {
    let read = read(&stepped(
        "length = 4 m\nsection deep from 1.5 m to 2.5 m\nload a 6 kN at middle\nlimit tension <= 100 MPa",
        "P = largest a of b [kN]\n",
    ));
    read.finds(&[]);
    let check = read.check("b.tension");
    let at_step = 3e3 * 1.5 / W / 100e6;
    assert!((check.utilisation.expect("known") / at_step - 1.0).abs() < 1e-11);
    assert_eq!(check.place.as_deref(), Some("low, at 1.5 m"));
    assert!((read.value("P") / (6e3 / at_step) - 1.0).abs() < 1e-9);
}

#[test]
fn what_is_wrong_is_told_at_its_line() {
    let of = |lines: &str| read(&stepped(lines, "x = b.M_max\n"));
    let load = "length = 4 m\nload a 6 kN at middle\n";
    let wrong = |line: &str, finding: &str| {
        let read = of(&format!("{load}{line}"));
        read.finds(&[finding]);
        assert!(!read.values.contains_key("x"), "{line}");
    };
    wrong("section dep from 1 m to 2 m", "unknown-name at \"dep\"");
    wrong(
        "section steel from 1 m to 2 m",
        "wrong-reference at \"steel\"",
    );
    wrong("section deep from 1 m to 5 m", "place-outside at \"5 m\"");
    wrong(
        "section deep from 2 m to 1 m",
        "place-wrong at \"2 m to 1 m\"",
    );
    wrong(
        "section deep from 1 m to 3 m\nsection bar from 2 m to 4 m",
        "place-wrong at \"section bar from 2 m to 4 m\"",
    );
    let unknown = of(&format!(
        "{load}section deep from 1 m to 2 m\nsection deep from 2 m to 3 m"
    ));
    unknown.finds(&[]);
    let read = read(&stepped(
        &format!("{load}section deep from 1 m to 2 m"),
        "y = b.stress(foot, 3 m)\n",
    ));
    read.finds(&["no-number at \"b.stress(foot, 3 m)\": there is no number here: the section of b at 3 m is bar, \
                 not deep."]);
}

#[test]
fn a_section_stretch_outside_a_beam() {
    let read = crate::reading::file("material m\n    section deep from 1 m to 2 m\n");
    assert!(
        read.findings
            .iter()
            .any(|f| f.starts_with("misplaced-line")),
        "{:?}",
        read.findings
    );
}

/// The beam is worked out again when the section of a stretch changes.
#[test]
fn a_section_of_a_stretch_that_changes() {
    let text = stepped(
        "length = 2 m\nsupport fixed at start\nsection deep from start to 1 m\nload tip 3 kN at end",
        "v = b.deflection(2 m)\n",
    );
    let changed = text.replace("30 x 240", "30 x 200");
    let mut host = crate::reading::host(&text);
    host.apply(haunch_calc::Change::SetText {
        path: "a.haunch".into(),
        text: changed.clone(),
    });
    let fresh = crate::reading::host(&changed);
    assert_eq!(
        crate::reading::of(&host.snapshot()),
        crate::reading::of(&fresh.snapshot())
    );
}
