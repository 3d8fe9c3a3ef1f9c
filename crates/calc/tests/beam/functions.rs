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

const ARM: &str = "\
material steel
    E = 205 GPa

section bar of steel
    rect plate 40 x 100 mm
    point quarter at (0 mm, 75 mm)

section thick of steel
    rect plate 40 x 140 mm

beam arm of bar
    length = 2 m
    support fixed at start
    load snow 3 kN/m throughout

beam stepped of bar
    length = 2 m
    section thick from start to 0.5 m
    support fixed at start
    load snow 3 kN/m throughout
    combination half = 0.5*snow
    combination full = snow
";

/// A cantilever with a load over its length: V = w·(L − x) and M = −w·(L − x)²/2 (common practice);
/// τ = V·Q/(I·b), √(σ² + 3·τ²) and σ/2 ± √(σ²/4 + τ²) (Gere & Goodno, 7th edition, chapters 5 and 7,
/// from memory).
#[test]
fn stresses_together_along_the_beam() {
    let more = "\
wall = arm.von_mises(quarter)
at_wall = arm.von_mises(quarter, 0 m)
tip = arm.von_mises(quarter, 2 m)
first = arm.principal_stress_1(quarter)
second = arm.principal_stress_2(quarter, 0 m)
shear = arm.shear_stress(50 mm)
step = stepped.von_mises(quarter)
half = stepped.half.von_mises(quarter, 0.5 m)
middle = stepped.shear_stress(50 mm, 1 m)
";
    let (inertia, first_moment, width) = (0.04 * 0.1 * 0.1 * 0.1 / 12.0, 37.5e-6, 0.04);
    let at = |reach: f64| {
        let (shear, moment) = (3e3 * reach, 3e3 * reach * reach / 2.0);
        (
            moment * 0.025 / inertia,
            shear * first_moment / (inertia * width),
        )
    };
    let von_mises = |(s, t): (f64, f64)| (s * s + 3.0 * t * t).sqrt();
    let principal = |(s, t): (f64, f64), sense: f64| s / 2.0 + sense * (s * s / 4.0 + t * t).sqrt();
    crate::reading::file(&format!("{ARM}{more}")).agrees(&[
        ("wall", von_mises(at(2.0))),
        ("at_wall", von_mises(at(2.0))),
        ("tip", 0.0),
        ("first", principal(at(2.0), 1.0)),
        ("second", principal(at(2.0), -1.0)),
        ("shear", 1.5 * 6e3 / (0.04 * 0.1)),
        ("step", von_mises(at(1.5))),
        ("half", von_mises(at(1.5)) / 2.0),
        ("middle", 1.5 * 3e3 / (0.04 * 0.1)),
    ]);
}

#[test]
fn stresses_together_that_cannot_be() {
    let finds = |line: &str, finding: &str| {
        crate::reading::file(&format!("{ARM}{line}\n")).finds(&[finding]);
    };
    finds("a = stepped.von_mises(quarter, 0.2 m)", "no-number at");
    finds("a = arm.von_mises(nowhere)", "wrong-arguments at");
    finds("a = arm.shear_stress(120 mm)", "no-number at");
    finds("a = arm.shear_flow(plate)", "no-number at");
    finds("a = arm.shear_flow(lid, 1 m)", "wrong-arguments at");
    finds(
        "a = arm.shear_flow_at(9 mm, 1 m, 2 m)",
        "wrong-arguments at",
    );
    finds("a = arm.shear_stress(50 mm, 2.5 m)", "no-number at");
}

/// Shear and what comes of it take the worst span pattern.
#[test]
fn loads_on_any_spans() {
    let lines = "spans = 2 m, 3 m\nload people 4 kN/m on any spans";
    let read = beam(
        lines,
        "tau = b.shear_stress(60 mm)\ntau_at = b.shear_stress(60 mm, 2 m)\n\
         v = max(b.V_max, -b.V_min)\nv_at = abs(b.V(2 m))\n",
    );
    let area = 0.03 * 0.12;
    let (v, v_at) = (read.value("v"), read.value("v_at"));
    read.agrees(&[("tau", 1.5 * v / area), ("tau_at", 1.5 * v_at / area)]);
}
