//! The smallest plate, the largest length: a range of sizes, tried one by one.

use crate::reading::{file, host, of};
use haunch_calc::Change;

/// A bar of 30 mm by `d` over 3 m under a load in the middle: σ = (P·L/4)/(b·d²/6).
fn sized(search: &str, load: &str, limits: &str) -> String {
    format!(
        "material steel\n    E = 205 GPa\nd = {search}\nsection bar of steel\n    rect plate 30 mm x d\n\
         beam b of bar\n    length = 3 m\n    load a {load} at middle\n{limits}area = bar.area [mm^2]\n"
    )
}

const LIMIT: &str = "    limit tension <= 60 MPa\n";

#[test]
fn the_smallest_depth() {
    let read = file(&sized(
        "smallest 60 mm to 200 mm step 5 mm for b",
        "5 kN",
        LIMIT,
    ));
    read.finds(&[]);
    // d ≥ √(6·3.75e6/(30·60)) = 111.8 mm.
    assert!((read.value("d") - 0.115).abs() < 1e-12);
    assert!((read.value("area") - 0.03 * 0.115).abs() < 1e-12);
    let used = read.check("b.tension").utilisation.expect("known");
    assert!(
        used < 1.0 && used > (0.110 / 0.115) * (0.110 / 0.115),
        "{used}"
    );
}

#[test]
fn no_size_is_an_answer() {
    let read = file(&sized(
        "smallest 60 mm to 100 mm step 5 mm for b",
        "5 kN",
        LIMIT,
    ));
    read.finds(&[
        "no-size-holds at \"smallest 60 mm to 100 mm step 5 mm for b\": the limits of b hold \
                  for no size of this range: at best, with 100.0 mm, 125.0 % of b.tension is used.",
    ]);
    assert!(!read.values.contains_key("d") && !read.values.contains_key("b.M_max"));
}

/// The largest length for which a deflection holds: v = P·L³/48EI ≤ L/300.
#[test]
fn the_largest_length() {
    let text = "material steel\n    E = 205 GPa\nsection bar of steel\n    rect plate 30 x 120 mm\n\
                beam b of bar\n    length = L\n    load a 5 kN at middle\n    limit deflection <= span/300\n\
                L = largest 1 m to 6 m step 0.25 m for b\n";
    let read = file(text);
    read.finds(&[]);
    let most = (48.0 * crate::reading::EI / (300.0 * 5e3)).sqrt();
    let expected = (most / 0.25).floor() * 0.25;
    assert!((read.value("L") - expected).abs() < 1e-12, "{most}");
}

#[test]
fn a_set_of_forces() {
    let read = file(
        "t = smallest 4 mm to 20 mm step 1 mm for pulled\nsection plate\n    rect flat 80 mm x t\n\
         forces pulled on plate\n    N = 100 kN tension\n    limit tension <= 150 MPa\n",
    );
    read.finds(&[]);
    // t ≥ 100000/(80·150) = 8.33 mm.
    assert!((read.value("t") - 0.009).abs() < 1e-12);
}

#[test]
fn what_is_wrong_is_told() {
    let told = |search: &str, limits: &str, finding: &str| {
        let read = file(&sized(search, "5 kN", limits));
        read.finds(&[finding]);
        assert!(!read.values.contains_key("area"), "{search}");
    };
    told(
        "smallest 60 mm to 200 mm step 5 mm for c",
        LIMIT,
        "unknown-name at \"c\"",
    );
    told(
        "smallest 60 mm to 200 mm step 5 mm for bar",
        LIMIT,
        "wrong-reference at \"bar\"",
    );
    told(
        "smallest 60 mm to 200 mm step 0 mm for b",
        LIMIT,
        "value-not-positive at \"0 mm\"",
    );
    told(
        "smallest 60 mm to 20 mm step 5 mm for b",
        LIMIT,
        "size-range at \"60 mm to 20 mm\"",
    );
    told(
        "smallest 6 mm to 2000 mm step 1 mm for b",
        LIMIT,
        "size-range",
    );
    told(
        "smallest 60 mm to 20 kN step 5 mm for b",
        LIMIT,
        "unit-mismatch at \"20 kN\"",
    );
    told(
        "smallest 60 mm to 200 mm step 5 mm for b",
        "",
        "nothing-limits",
    );
    let unused = "t = smallest 4 mm to 20 mm step 1 mm for b\n";
    let read = file(&format!("{unused}{}", sized("100 mm", "1 kN", LIMIT)));
    read.finds(&["size-range at \"smallest 4 mm to 20 mm step 1 mm for b\""]);
}

/// Whatever the answer depends on is watched: the load, a value that the load uses, the material.
#[test]
fn the_answer_follows_every_edit() {
    let first = format!(
        "q = 5 kN\n{}",
        sized("smallest 60 mm to 200 mm step 5 mm for b", "q*1.0", LIMIT)
    );
    let mut edited = host(&first);
    for (from, to) in [
        ("q = 5 kN", "q = 8 kN"),
        ("60 MPa", "90 MPa"),
        ("length = 3 m", "length = 2 m"),
        ("30 mm x d", "40 mm x d"),
        ("rect plate", "rect bar_1"),
        ("x d\n", "x 2*d\n"),
        ("beam b of bar", "beam b of other"),
    ] {
        let file = edited.snapshot().file("a.haunch").expect("it is there");
        let before = edited.snapshot().text(file);
        let after = before.replace(from, to);
        assert_ne!(before, after);
        edited.apply(Change::SetText {
            path: "a.haunch".into(),
            text: after.clone(),
        });
        assert_eq!(of(&edited.snapshot()), of(&host(&after).snapshot()), "{to}");
    }
}

/// Two searches that need each other are a ring.
#[test]
fn two_searches_for_one_beam() {
    let text = "w = smallest 10 mm to 50 mm step 5 mm for b\nd = smallest 60 mm to 200 mm step 5 mm for b\n\
                section bar\n    rect plate w x d\nbeam b of bar\n    length = 3 m\n    \
                load a 5 kN at middle\n    limit tension <= 60 MPa\n";
    let read = file(text);
    assert!(
        read.findings.iter().any(|f| f.starts_with("ring at \"w\"")),
        "{:#?}",
        read.findings
    );
    assert!(!read.values.contains_key("b.M_max"));
}
