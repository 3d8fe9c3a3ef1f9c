//! Cases and their combinations.

use crate::reading::{beam, host, of};
use haunch_calc::Change;
use haunch_text::{Edit, Position, Range};

const CASES: &str = "length = 4 m\nload dead 0.5 kN/m throughout\nload live 3 kN at middle\n";

fn moment(dead: f64, live: f64) -> f64 {
    dead * 0.5e3 * 16.0 / 8.0 + live * 3e3 * 4.0 / 4.0
}

#[test]
fn results_are_those_of_the_worst() {
    beam(
        &format!("{CASES}combination strength = 1.35*dead + 1.5*live\ncombination uplift = 0.9*dead - live/2"),
        "",
    )
    .agrees(&[
        ("b.M_max", moment(1.35, 1.5)),
        ("b.strength.M_max", moment(1.35, 1.5)),
        ("b.strength.R1", (1.35 * 2e3 + 1.5 * 3e3) / 2.0),
        ("b.uplift.R2", (0.9 * 2e3 - 0.5 * 3e3) / 2.0),
        ("b.R1", (1.35 * 2e3 + 1.5 * 3e3) / 2.0),
        ("b.strength.M_min", 0.0),
    ]);
}

#[test]
fn factors_may_be_worked_out() {
    beam(
        &format!("{CASES}combination strength = -(-(gamma*dead)) + 1.5*(live + dead*psi)/2"),
        "gamma = 1.35\npsi = 30 %\n",
    )
    .agrees(&[("b.M_max", moment(1.35 + 1.5 * 0.3 / 2.0, 0.75))]);
}

#[test]
fn a_case_may_have_the_name_of_a_value() {
    beam(
        &format!("{CASES}combination all = dead + live"),
        "dead = 3\nthree = dead\n",
    )
    .agrees(&[("b.M_max", moment(1.0, 1.0))]);
}

#[test]
fn without_combinations_all_loads_act_once() {
    beam(CASES, "").agrees(&[("b.M_max", moment(1.0, 1.0))]);
}

#[test]
fn a_factor_of_zero_is_no_omission() {
    beam(&format!("{CASES}combination c = dead + 0*live"), "")
        .agrees(&[("b.M_max", moment(1.0, 0.0))]);
}

#[test]
fn something_else_than_a_sum() {
    let found = |sum: &str, expected: &[&str]| {
        let read = beam(&format!("{CASES}combination c = {sum}"), "L = 4 m\n");
        read.finds(expected);
        assert!(!read.values.contains_key("b.M_max"));
    };
    let last = "unused-value at \"L\"";
    let not = |text: &str| format!("combination-not-a-sum at {text:?}");
    found("dead*live", &[&not("dead*live"), last]);
    found("dead + live^2", &[&not("live^2"), last]);
    found("dead + max(live, dead)", &[&not("max(live, dead)"), last]);
    found("dead + live + 1", &[&not("1"), last]);
    found("1.5*2", &[&not("1.5*2"), last]);
    found("dead + 2/live", &[&not("2/live"), last]);
    found("dead + L*live", &["unit-mismatch at \"L\""]);
    found("dead + lvie", &["unknown-name at \"lvie\"", last]);
}

#[test]
fn a_case_that_is_left_out() {
    let read = beam(&format!("{CASES}combination c = 1.35*dead"), "");
    read.finds(&["case-in-no-combination at \"live\""]);
    assert!(!read.values.contains_key("b.M_max"));
}

#[test]
fn a_combination_that_cannot_be_read_is_no_missing_one() {
    let read = beam(&format!("{CASES}combination c = "), "");
    assert_eq!(read.findings.len(), 1, "{:#?}", read.findings);
    assert!(!read.values.contains_key("b.M_max"));
}

#[test]
fn one_name_for_two_things() {
    let read = beam(&format!("{CASES}combination dead = 1.35*dead + live"), "");
    read.finds(&["defined-twice at \"dead\"", "defined-twice at \"dead\""]);
    let read = beam(
        "length = 4 m\nsupport pin at start as a\nsupport pin at end\nload a 1 kN at middle",
        "",
    );
    read.finds(&["defined-twice at \"a\"", "defined-twice at \"a\""]);
    assert!(!read.values.contains_key("b.M_max"));
}

#[test]
fn a_name_of_a_support_hides_a_result() {
    let read = beam(
        "length = 4 m\nsupport pin at start\nsupport pin at end as R1\nload a 1 kN at 1 m",
        "own = b.R1\n",
    );
    read.finds(&["hides-result at \"R1\""]);
    assert!((read.value("own") - 250.0).abs() < 1e-9);
}

/// The name of a case is known to the combinations beside it.
#[test]
fn renaming_a_case_reaches_its_combinations() {
    let text = crate::reading::with_bar(&format!("{CASES}combination c = dead + live"), "");
    let number = text
        .lines()
        .position(|line| line.contains("load live"))
        .expect("it is there");
    let at = |column| Position {
        line: number as u32,
        column,
    };
    let mut host = host(&text);
    let edit = |host: &mut haunch_calc::Host, to: &str| {
        host.apply(Change::Edit {
            path: "a.haunch".into(),
            edits: vec![Edit {
                range: Range {
                    start: at(9),
                    end: at(13),
                },
                text: to.into(),
            }],
        });
    };
    let before = of(&host.snapshot());
    before.finds(&[]);
    edit(&mut host, "snow");
    let fresh = crate::reading::file(&text.replace("load live", "load snow"));
    assert_eq!(of(&host.snapshot()), fresh);
    edit(&mut host, "live");
    assert_eq!(of(&host.snapshot()), before);
}

/// A load that cannot be read is one finding: its case is known to the combinations all the same.
#[test]
fn a_load_that_cannot_be_read_still_names_its_case() {
    let lines = "length = 4 m\nload dead 0.5 kN/m throughout\nload live 3 kN ad middle\n\
                 load live 1 kN at 1 m\nload snow 3 kN/ at\n\
                 combination strength = 1.35*dead + 1.5*live + snow";
    let read = beam(lines, "");
    assert_eq!(read.findings.len(), 2, "{:#?}", read.findings);
    assert!(!read.values.contains_key("b.M_max"));
}

/// A combination knows the cases of the moment, not those of when it was read.
#[test]
fn a_case_that_comes_and_goes() {
    let text = |case: &str| {
        crate::reading::with_bar(
            &format!("length = 4 m\nload {case} 3 kN at middle\ncombination strength = 1.5*live"),
            "",
        )
    };
    let mut edited = host(&text("life"));
    for case in ["live", "life"] {
        let now = text(case);
        let line = now
            .lines()
            .position(|line| line.contains("load "))
            .expect("it is there");
        let range = Range {
            start: Position {
                line: line as u32,
                column: 9,
            },
            end: Position {
                line: line as u32,
                column: 13,
            },
        };
        edited.apply(Change::Edit {
            path: "a.haunch".into(),
            edits: vec![Edit {
                range,
                text: case.into(),
            }],
        });
        assert_eq!(of(&edited.snapshot()), of(&host(&now).snapshot()), "{case}");
    }
}
