//! Results at a place.

use crate::reading::{EI, W, beam};

const FORCE: &str = "length = 3 m\nload a 5 kN at middle";

#[test]
fn at_a_place() {
    beam(
        FORCE,
        "mo = b.M(1 m)\nv = b.V(1 m)\nsl = b.slope(3 m)\nd = b.deflection(1.5 m)\n\
         foot = b.stress(low)\nfoot_1 = b.stress(low, 1 m)\nhead = b.stress(bar.high, 1 m)\n",
    )
    .agrees(&[
        ("mo", 2.5e3),
        ("v", 2.5e3),
        ("sl", -5e3 * 9.0 / (16.0 * EI)),
        ("d", 5e3 * 27.0 / (48.0 * EI)),
        ("foot", 5e3 * 3.0 / 4.0 / W),
        ("foot_1", 2.5e3 / W),
        ("head", -2.5e3 / W),
    ]);
}

#[test]
fn where_it_jumps_the_larger_side_counts() {
    beam("length = 3 m\nload a 6 kN at 1 m", "v = b.V(1 m)\n").agrees(&[("v", 4e3)]);
    beam("length = 3 m\nload a 6 kN at 2 m", "v = b.V(2 m)\n").agrees(&[("v", -4e3)]);
}

#[test]
fn of_one_combination_and_of_all() {
    beam(
        "length = 3 m\nload a 5 kN at middle\ncombination up = -2*a\ncombination down = a",
        "all = b.M(1 m)\none = b.down.M(1 m)\nstress = b.down.stress(low, 1 m)\n",
    )
    .agrees(&[("all", -5e3), ("one", 2.5e3), ("stress", 2.5e3 / W)]);
}

#[test]
fn outside_the_beam_there_is_nothing() {
    beam(FORCE, "mo = b.M(3.2 m)\n").finds(&[
        "no-number at \"b.M(3.2 m)\": there is no number here: 3.2 m lies outside b, which is 3 m long.",
    ]);
    beam(FORCE, "mo = b.M(-1 mm)\n").finds(&["no-number at"]);
    beam(FORCE, "mo = b.M(0)\nn = b.M(3 m)\n").agrees(&[("mo", 0.0), ("n", 0.0)]);
}

#[test]
fn wrong_arguments() {
    beam(FORCE, "mo = b.M(3 kN)\n").finds(&["wrong-arguments at \"3 kN\""]);
    beam(FORCE, "mo = b.M(1 m, 2 m)\n").finds(&["wrong-arguments at \"2 m\""]);
    beam(FORCE, "mo = b.stress(A)\n")
        .finds(&["wrong-arguments at \"A\": bar has no point A. It has high, low."]);
    beam(FORCE, "mo = b.stress(low, 3 kN)\n").finds(&["wrong-arguments at \"3 kN\""]);
    beam(FORCE, "mo = b.Q(1 m)\n").finds(&["unknown-result at \"Q\""]);
}
