//! Values against closed forms. Where no other source is named they are those of AISC, Steel
//! Construction Manual, table 3-23 (from memory); statics alone needs no source.

use crate::reading::{EI, WEIGHT, beam};

fn cube(x: f64) -> f64 {
    x * x * x
}

#[test]
fn uniform_load_on_a_simple_span() {
    let (w, length) = (2.4e3, 4.0);
    beam(
        "length = 4 m\nload live 2.4 kN/m throughout",
        "slope = b.slope(0 m)\nsag = b.deflection(2 m)\n",
    )
    .agrees(&[
        ("b.R1", w * length / 2.0),
        ("b.R2", w * length / 2.0),
        ("b.V_max", w * length / 2.0),
        ("b.V_min", -w * length / 2.0),
        ("b.M_max", w * length * length / 8.0),
        ("b.M_min", 0.0),
        (
            "b.deflection_max",
            5.0 * w * (length * cube(length)) / (384.0 * EI),
        ),
        ("sag", 5.0 * w * (length * cube(length)) / (384.0 * EI)),
        ("slope", w * cube(length) / (24.0 * EI)),
    ]);
}

#[test]
fn a_force_anywhere() {
    let (p, length, a, b) = (6e3, 3.0, 1.2, 1.8);
    beam(
        "length = 3 m\nload a 6 kN at 1.2 m",
        "sag = b.deflection(1.2 m)\n",
    )
    .agrees(&[
        ("b.R1", p * b / length),
        ("b.M_max", p * a * b / length),
        ("sag", p * a * a * b * b / (3.0 * EI * length)),
    ]);
}

#[test]
fn a_couple_at_the_end() {
    let (m, length) = (4e3, 3.0);
    beam("length = 3 m\nload a 4 kN*m anticlockwise at end", "").agrees(&[
        ("b.R1", m / length),
        ("b.R2", -m / length),
        ("b.M_max", m),
        // m·L²/(9·√3·EI), at L/√3 from the other end
        (
            "b.deflection_max",
            m * length * length / (9.0 * 3.0_f64.sqrt() * EI),
        ),
    ]);
}

#[test]
fn cantilevers() {
    let (p, length) = (2e3, 1.5);
    let tip = p * cube(length) / (3.0 * EI);
    let expected = [
        ("b.R1", p),
        ("b.M_min", -p * length),
        ("b.deflection_max", tip),
    ];
    beam(
        "length = 1.5 m\nsupport fixed at end\nload a 2 kN at start",
        "",
    )
    .agrees(&expected);
    beam(
        "length = 1.5 m\nsupport fixed at start\nload a 2 kN at end",
        "",
    )
    .agrees(&expected);
    let up = [
        ("b.R1", -p),
        ("b.M_max", p * length),
        ("b.deflection_max", -tip),
    ];
    beam(
        "length = 1.5 m\nsupport fixed at start\nload a 2 kN at end up",
        "",
    )
    .agrees(&up);
    beam(
        "length = 1.5 m\nsupport fixed at start\nload a -2 kN at end",
        "",
    )
    .agrees(&up);
}

#[test]
fn supports_by_name_and_number_from_the_start() {
    let w = 2.4e3;
    beam(
        "length = 4 m\nsupport roller at end as prop\nsupport fixed at start as wall\n\
         load live 2.4 kN/m throughout",
        "wall = b.wall\nprop = b.prop\n",
    )
    .agrees(&[
        ("b.R1", 5.0 * w * 4.0 / 8.0),
        ("wall", 5.0 * w * 4.0 / 8.0),
        ("prop", 3.0 * w * 4.0 / 8.0),
        ("b.M_max", 9.0 * w * 16.0 / 128.0),
        ("b.M_min", -w * 16.0 / 8.0),
    ]);
}

/// Theorem of three moments: 2·M·(L1 + L2) = −w·(L1³ + L2³)/4.
/// (Timoshenko, Strength of Materials, part I; from memory)
#[test]
fn two_spans() {
    let (w, l1, l2) = (2e3, 3.0, 4.0);
    let inner = -w * (cube(l1) + cube(l2)) / (8.0 * (l1 + l2));
    let end = w * l2 / 2.0 + inner / l2;
    let expected = [
        ("b.M_min", inner),
        ("b.R1", w * l1 / 2.0 + inner / l1),
        ("b.R3", end),
        ("b.M_max", end * end / (2.0 * w)),
    ];
    beam("spans = 3 m, 4 m\nload a 2 kN/m throughout", "").agrees(&expected);
    let same = "support pin at start\nsupport roller at 3 m\nsupport roller at end\n\
                load a 2 kN/m throughout";
    beam(&format!("spans = 3 m, 4 m\n{same}"), "").agrees(&expected);
    beam(&format!("length = 7 m\n{same}"), "").agrees(&expected);
    beam(
        "spans = 3 m, 4 m\nload a 2 kN/m on span 1\nload a 2 kN/m on span 2",
        "",
    )
    .agrees(&expected);
}

#[test]
fn one_loaded_span_of_two() {
    let (w, l1, l2) = (2e3, 3.0, 4.0);
    let inner = -w * cube(l2) / (8.0 * (l1 + l2));
    beam("spans = 3 m, 4 m\nload a 2 kN/m on span 2", "").agrees(&[
        ("b.M_min", inner),
        ("b.R1", inner / l1),
        ("b.R3", w * l2 / 2.0 + inner / l2),
    ]);
}

#[test]
fn a_hinge_parts_a_beam() {
    // The part beyond the hinge is a simple span of 3 m that hangs on the cantilever of 1 m.
    beam(
        "length = 4 m\nsupport fixed at start\nsupport roller at end\nhinge at 1 m\n\
         load a 2 kN/m throughout",
        "",
    )
    .agrees(&[
        ("b.R2", 3e3),
        ("b.M_max", 2e3 * 9.0 / 8.0),
        ("b.M_min", -(3e3 + 1e3)),
    ]);
}

#[test]
fn a_spring_gives_way() {
    beam(
        "length = 4 m\nsupport spring 900 kN/m at start\nsupport roller at end\n\
         load a 2 kN/m throughout",
        "start = b.deflection(0 m)\nmiddle = b.deflection(2 m)\n",
    )
    .agrees(&[
        ("b.R1", 4e3),
        ("b.M_max", 4e3),
        ("start", 4e3 / 900e3),
        (
            "middle",
            4e3 / 900e3 / 2.0 + 5.0 * 2e3 * 256.0 / (384.0 * EI),
        ),
    ]);
}

#[test]
fn loads_that_vary() {
    let (w, length) = (3e3, 4.0);
    let expected = [
        ("b.R1", w * length / 6.0),
        ("b.R2", w * length / 3.0),
        ("b.M_max", w * length * length / (9.0 * 3.0_f64.sqrt())),
    ];
    beam("length = 4 m\nload a 0 to 3 kN/m throughout", "").agrees(&expected);
    beam(
        "length = 4 m\nload a 0 kN/m to 3 kN/m from start to end",
        "",
    )
    .agrees(&expected);
    beam(
        "length = 4 m\nload a 0 kPa to 1.5 kPa throughout tributary 2 m",
        "",
    )
    .agrees(&expected);
}

#[test]
fn weight_and_pressure() {
    beam("length = 3 m\nload a self weight", "").agrees(&[
        ("b.R1", WEIGHT * 3.0 / 2.0),
        ("b.M_max", WEIGHT * 9.0 / 8.0),
    ]);
    beam(
        "length = 3 m\nload a 2.5 kN/m^2 throughout tributary 1.8 m",
        "",
    )
    .agrees(&[("b.M_max", 4.5e3 * 9.0 / 8.0)]);
}

#[test]
fn lines_of_one_case_add_up() {
    beam(
        "length = 3 m\nload g 5 kN at middle\nload g 1 kN/m throughout\nload g 2 kN at middle up",
        "",
    )
    .agrees(&[("b.R1", 3e3), ("b.M_max", 3e3 * 3.0 / 4.0 + 9e3 / 8.0)]);
}

#[test]
fn without_loads_everything_is_zero() {
    beam("length = 3 m", "").agrees(&[
        ("b.R1", 0.0),
        ("b.M_max", 0.0),
        ("b.V_min", 0.0),
        ("b.deflection_max", 0.0),
    ]);
}

#[test]
fn sizes_may_come_from_the_file() {
    beam(
        "length = L\nload a q throughout",
        "L = 2*a\na = 2 m\nq = P/L\nP = 9.6 kN\n",
    )
    .agrees(&[("b.M_max", 9.6e3 * 4.0 / 8.0)]);
}

/// An angle bends sideways, too: v = P·L³/(48·E·(Ixx − Ixy²/Iyy)), and the stress at a point is
/// M·(Ixy·x − Iyy·y)/(Ixx·Iyy − Ixy²), x and y from the centroid. (Unsymmetrical bending; Gere &
/// Goodno, Mechanics of Materials, section 6.5; from memory)
#[test]
fn an_unsymmetrical_section() {
    // A leg of 100 x 10 lying, one of 10 x 90 on its left end.
    let parts = [(0.1, 0.01, 0.05, 0.005), (0.01, 0.09, 0.005, 0.055)];
    let area: f64 = parts.iter().map(|(b, h, ..)| b * h).sum();
    let xc = parts.iter().map(|(b, h, x, _)| b * h * x).sum::<f64>() / area;
    let yc = parts.iter().map(|(b, h, _, y)| b * h * y).sum::<f64>() / area;
    let (mut ixx, mut iyy, mut ixy) = (0.0, 0.0, 0.0);
    for (b, h, x, y) in parts {
        let (x, y) = (x - xc, y - yc);
        ixx += b * cube(h) / 12.0 + b * h * y * y;
        iyy += h * cube(b) / 12.0 + b * h * x * x;
        ixy += b * h * x * y;
    }
    let (x, y) = (0.0 - xc, 0.1 - yc);
    let stress = 750.0 * (ixy * x - iyy * y) / (ixx * iyy - ixy * ixy);
    let text = "material steel\n    E = 205 GPa\nsection angle of steel\n    rect leg 100 x 10 mm\n    \
                rect up 10 x 90 mm above leg flush left\n    point tip at top left\n\
                beam b of angle\n    length = 3 m\n    load a 1 kN at middle\n\
                tip = b.stress(tip)\n";
    crate::reading::file(text).agrees(&[
        (
            "b.deflection_max",
            1e3 * 27.0 / (48.0 * 205e9 * (ixx - ixy * ixy / iyy)),
        ),
        (
            "b.deflection_sideways_max",
            -ixy / iyy * 1e3 * 27.0 / (48.0 * 205e9 * (ixx - ixy * ixy / iyy)),
        ),
        ("tip", stress),
    ]);
    let on_spring = text.replace(
        "length = 3 m\n",
        "length = 3 m\n    support pin at start\n    support spring 900 kN/m at end\n",
    );
    let told = crate::reading::file(&on_spring);
    told.finds(&["bends-sideways at \"b\""]);
}
