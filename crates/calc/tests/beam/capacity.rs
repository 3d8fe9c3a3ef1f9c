//! The largest load.

use crate::reading::{EI, W, beam, host};
use haunch_calc::Snapshot;

fn capacity(snapshot: &Snapshot, name: &str) -> (String, Option<String>, Option<String>) {
    let file = snapshot.file("a.haunch").expect("it is there");
    let line = snapshot
        .lines(file)
        .find(|line| line.text().starts_with(&format!("{name} =")))
        .expect("the line is there");
    let capacity = line
        .value()
        .and_then(|value| value.capacity.clone())
        .expect("it was found");
    (
        capacity.governing.clone(),
        capacity.place.clone(),
        capacity.combination.clone(),
    )
}

#[test]
fn the_first_limit_governs() {
    let lines = |tension: &str| {
        format!(
            "length = 3 m\nload hook 4 kN at middle\nlimit tension <= {tension}\nlimit deflection <= span/300"
        )
    };
    let by_tension = 4.0 * 50e6 * W / 3.0;
    let by_deflection = 0.01 * 48.0 * EI / 27.0;
    assert!(by_tension < by_deflection);
    let text = crate::reading::with_bar(&lines("50 MPa"), "P = largest hook of b [kN]\n");
    let read = crate::reading::file(&text);
    read.agrees(&[("P", by_tension)]);
    let (limit, place, combination) = capacity(&host(&text).snapshot(), "P");
    assert_eq!(limit, "b.tension");
    assert_eq!(place.as_deref(), Some("low, at 1.5 m"));
    assert_eq!(combination, None);
    let text = crate::reading::with_bar(&lines("500 MPa"), "P = largest hook of b [kN]\n");
    crate::reading::file(&text).agrees(&[("P", by_deflection)]);
    assert_eq!(capacity(&host(&text).snapshot(), "P").0, "b.deflection");
}

/// The answer, put in for the load, uses its limit up; a little more breaks it.
#[test]
fn the_answer_is_the_border() {
    let lines = |size: &str| {
        format!(
            "length = 3.3 m\nload crowd {size} from 0.4 m to 2.9 m\nload dead self weight\n\
             combination c = 1.35*dead + 1.5*crowd\nlimit tension <= 137 MPa\nlimit deflection <= span/250"
        )
    };
    let answer = beam(&lines("1 kN/m"), "q = largest crowd of b [kN/m]\n").value("q") / 1e3;
    let used = |size: f64| beam(&lines(&format!("{size} kN/m")), "").value("b.utilisation");
    assert!((used(answer) - 1.0).abs() < 1e-12, "{}", used(answer));
    assert!(used(answer * (1.0 + 1e-8)) > 1.0 + 1e-9);
}

#[test]
fn other_cases_stay_and_factors_count() {
    let lines = "length = 4 m\nload dead 1.5 kN/m throughout\nload crowd 2 kN/m throughout\n\
                 combination strength = 1.2*dead + 1.6*crowd\ncombination service = dead + crowd\n\
                 limit tension <= 160 MPa";
    let moment = 160e6 * W;
    let text = crate::reading::with_bar(
        lines,
        "w = largest crowd of b [kN/m]\nv = largest crowd of b under service [kN/m]\n",
    );
    crate::reading::file(&text).agrees(&[
        ("w", (moment * 8.0 / 16.0 - 1.2 * 1.5e3) / 1.6),
        ("v", moment * 8.0 / 16.0 - 1.5e3),
    ]);
    let (_, place, combination) = capacity(&host(&text).snapshot(), "w");
    assert_eq!(combination.as_deref(), Some("strength"));
    assert_eq!(place.as_deref(), Some("low, at 2 m"));
}

#[test]
fn several_lines_have_a_factor() {
    let lines =
        "length = 4 m\nload goods 3 kN at 1 m\nload goods 3 kN at 3 m\nlimit tension <= 160 MPa";
    beam(lines, "n = largest goods of b\n").agrees(&[("n", 160e6 * W / 3e3)]);
    let weight = "length = 4 m\nload dead self weight\nlimit tension <= 160 MPa";
    beam(weight, "n = largest dead of b\n")
        .agrees(&[("n", 160e6 * W / (crate::reading::WEIGHT * 2.0))]);
}

#[test]
fn couples_and_loads_upward_keep_their_magnitude() {
    beam(
        "length = 3 m\nload c 2 kN*m clockwise at start\nlimit tension <= 100 MPa",
        "mo = largest c of b [kN*m]\n",
    )
    .agrees(&[("mo", 100e6 * W)]);
    beam(
        "length = 3 m\nload c 2 kN at middle up\nlimit tension <= 100 MPa",
        "p = largest c of b [kN]\n",
    )
    .agrees(&[("p", 4.0 * 100e6 * W / 3.0)]);
}

#[test]
fn no_answer_and_why() {
    let dead = "length = 4 m\nload dead 1.5 kN/m throughout\nload crowd 2 kN/m throughout\n";
    let search = "w = largest crowd of b\n";
    beam(dead, search).finds(&["nothing-limits at \"largest crowd of b\": crowd of b has no largest size, since no limit is stated."]);
    let over = "length = 4 m\nload dead 50 kN/m throughout\nload crowd 2 kN/m throughout\nlimit tension <= 60 MPa";
    let read = beam(over, search);
    assert!(
        read.findings
            .iter()
            .any(|finding| finding.starts_with("no-size-holds at \"largest crowd of b\"")),
        "{:#?}",
        read.findings
    );
    assert!(!read.values.contains_key("w"));
    beam(
        "length = 3 m\nload crowd 2 kN at start\nlimit tension <= 60 MPa",
        search,
    )
    .finds(&["nothing-limits at \"largest crowd of b\": crowd of b has no largest size: however large it is"]);
    beam(
        "length = 3 m\nload crowd 0 kN at middle\nlimit tension <= 60 MPa",
        search,
    )
    .finds(&["nothing-limits at \"largest crowd of b\": crowd of b is zero"]);
}

#[test]
fn names_that_are_not_there() {
    let lines = "length = 3 m\nload hook 2 kN at middle\nlimit tension <= 60 MPa";
    beam(lines, "w = largest hok of b\n")
        .finds(&["unknown-name at \"hok\": there is no load case of b hok."]);
    beam(lines, "w = largest hook of c\n").finds(&["unknown-name at \"c\""]);
    beam(lines, "w = largest hook of bar\n").finds(&["wrong-reference at \"bar\""]);
    beam(lines, "w = largest hook of b under s\n").finds(&["unknown-name at \"s\""]);
    beam(lines, "w = smallest hok of b\n")
        .finds(&["unknown-name at \"hok\": there is no load case of b hok."]);
    beam(lines, "w = largest hook of b [kN/m]\n").finds(&["unit-mismatch at"]);
}

#[test]
fn a_load_that_relieves_another() {
    // The limit holds only while the uplift takes between 1/3 and 1 of the other load's moment.
    let lines = "length = 4 m\nload dead 10 kN at middle\nload wind 3 kN at middle up\nlimit tension <= 60 MPa";
    let moment = 60e6 * W;
    let read = beam(lines, "w = largest wind of b [kN]\n");
    let expected = 10e3 + moment;
    assert!(
        (read.value("w") / expected - 1.0).abs() < 1e-11,
        "{}",
        read.value("w")
    );
}

#[test]
fn a_counterweight() {
    // Hung 1 m before the bank, it keeps the other support down: 1 m·P at the tip lifts with P/3.
    let lines = "length = 6 m\nsupport pin at 1 m as bank\nsupport roller at 4 m\n\
                 load tip 3 kN at end\nload weight 2 kN at start\n\
                 limit uplift at bank <= 0.25 kN";
    // About the roller: 3·R + 3·2 = 4·w, so that w = (6 − 3·0.25)/4.
    let text = crate::reading::with_bar(lines, "w = smallest weight of b [kN]\n");
    crate::reading::file(&text).agrees(&[("w", 5.25e3 / 4.0)]);
    let (limit, place, _) = capacity(&host(&text).snapshot(), "w");
    assert_eq!(limit, "b.uplift");
    assert_eq!(place.as_deref(), Some("bank, at 1 m"));
    // A little less does not hold it down.
    let used = |size: f64| {
        let sized = lines.replace("weight 2 kN", &format!("weight {size} kN"));
        beam(&sized, "").value("b.utilisation")
    };
    assert!((used(5.25 / 4.0) - 1.0).abs() < 1e-12);
    assert!(used(5.25 / 4.0 * (1.0 - 1e-6)) > 1.0);
}

#[test]
fn the_smallest_where_none_is_needed_and_where_none_is_enough() {
    let lines =
        "length = 4 m\nload dead 1 kN at middle\nload crowd 2 kN at 1 m\nlimit tension <= 60 MPa";
    let text = crate::reading::with_bar(lines, "w = smallest crowd of b [kN]\n");
    crate::reading::file(&text).agrees(&[("w", 0.0)]);
    let over = lines.replace("dead 1 kN", "dead 100 kN");
    let read = beam(&over, "w = smallest crowd of b\n");
    let is_told =
        |finding: &String| finding.starts_with("no-size-holds at \"smallest crowd of b\"");
    assert!(read.findings.iter().any(is_told), "{:#?}", read.findings);
    beam("length = 4 m\nload crowd 2 kN at 1 m", "w = smallest crowd of b\n").finds(&[
        "nothing-limits at \"smallest crowd of b\": crowd of b has no smallest size, since no limit is stated.",
    ]);
}

/// In `forces`: the compression that keeps a section from tension.
#[test]
fn the_smallest_force() {
    let text = "section wall\n    rect w 200 x 400 mm\n\nforces base on wall\n    M = 20 kN*m sagging\n    \
                N = 300 kN compression\n    limit tension <= 0.5 MPa\n\nN_min = smallest N of base [kN]\n";
    let moment_over_section_modulus = 20e3 * 6.0 / (0.2 * 0.4 * 0.4);
    let needed = (moment_over_section_modulus - 0.5e6) * 0.08;
    crate::reading::file(text).agrees(&[("N_min", needed)]);
}
