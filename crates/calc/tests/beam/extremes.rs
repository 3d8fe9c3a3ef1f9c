//! Where extremes are, and the largest and smallest of a reaction.

use crate::reading::beam;

/// Two equal spans with either of them loaded: both have their largest moment at 7/16 of the span
/// from the outer support, R/w with R = 7·w·L/16 (AISC table 3-23, from memory). The first counts,
/// whatever the order of cases. The largest shear, 5·w·L/8, is at the middle support with span 2
/// loaded.
#[test]
fn of_places_that_tie_the_first_counts() {
    for (left, right) in [("a", "b"), ("b", "a")] {
        let read = beam(
            &format!(
                "spans = 3 m, 3 m\nload {left}_side 2 kN/m on span 1\n\
                 load {right}_side 2 kN/m on span 2\n\
                 combination {left}_only = {left}_side + 0*{right}_side\n\
                 combination {right}_only = 0*{left}_side + {right}_side"
            ),
            "",
        );
        read.finds(&[]);
        read.agrees(&[
            ("b.place_of_M_max", 7.0 * 3.0 / 16.0),
            ("b.place_of_M_min", 3.0),
            ("b.place_of_V_max", 3.0),
            (
                &format!("b.{right}_only.place_of_M_max"),
                6.0 - 7.0 * 3.0 / 16.0,
            ),
        ]);
    }
}

/// A couple in the middle: up in one half as far as down in the other, at L/(2·√3) from each end
/// (Roark's Formulas for Stress and Strain, from memory).
#[test]
fn a_deflection_that_ties_up_and_down_is_down() {
    let place = 3.0 / (2.0 * 3.0_f64.sqrt());
    for (sense, expected) in [("clockwise", 3.0 - place), ("anticlockwise", place)] {
        let read = beam(
            &format!("length = 3 m\nload a 2 kN*m {sense} at middle"),
            "",
        );
        read.agrees(&[("b.place_of_deflection_max", expected)]);
        assert!(read.value("b.deflection_max") > 0.0, "{sense}");
    }
}

const JETTY: &str = "length = 4 m\nsupport pin at start as bank\nsupport roller at 3 m as pile\n\
                     load dead 1 kN/m throughout\nload boat 3 kN at end\n\
                     combination ashore = dead\ncombination moored = dead + 1.5*boat";

#[test]
fn reactions_over_all_combinations() {
    let (dead, boat) = (4e3 * (3.0 - 2.0) / 3.0, 1.5 * 3e3 / 3.0);
    beam(JETTY, "").agrees(&[
        ("b.R1_max", dead),
        ("b.R1_min", dead - boat),
        ("b.bank_max", dead),
        ("b.bank_min", dead - boat),
        ("b.ashore.R1_min", dead),
        ("b.moored.bank_max", dead - boat),
        ("b.pile_max", 4e3 - dead + 4.0 * boat),
    ]);
}

/// A support that is called as another's largest reaction would be keeps its name.
#[test]
fn a_support_of_that_name() {
    let text = JETTY.replace("pile", "bank_max");
    let dead = 4e3 / 3.0;
    let read = beam(&text, "");
    read.agrees(&[("b.bank_max", 4e3 - dead + 6e3), ("b.R1_max", dead)]);
}

#[test]
fn no_other_result_has_a_place() {
    let read = beam(
        "length = 3 m\nload a 2 kN at middle",
        "x = b.place_of_slope\n",
    );
    read.finds(&["unknown-result at \"place_of_slope\""]);
}
