//! Stresses together at a point, shear flow at joints, the neutral axis.

mod support;

use support::{Read, read};

const SECTION: &str = "section s\n    rect lower 100 x 10 mm\n    rect web 8 x 180 mm above lower\n    \
                       rect upper 100 x 10 mm above web\n    point edge at top of web\n    \
                       point middle at (0 mm, 100 mm)\n    point face at bottom\n";

#[track_caller]
fn near(read: &Read, name: &str, expected: f64) {
    let found = read.si(name);
    let differs = (found - expected).abs();
    assert!(
        differs <= 1e-9 * expected.abs().max(1.0),
        "{name} is {found}, not {expected}: {:#?}",
        read.findings
    );
}

/// Of any state of stress: σ₁ + σ₂ = σ, σ₁·σ₂ = −τ², σ_v² = σ₁² − σ₁·σ₂ + σ₂² (Gere & Goodno, 7th
/// edition, section 7.3, from memory; von Mises common practice).
#[test]
fn invariants_of_the_stress_at_a_point() {
    let read = read(&format!(
        "{SECTION}forces f on s\n    M = 14 kN*m hogging\n    V = 60 kN\n    N = 20 kN compression\n\
         n = f.stress(edge) [Pa]\nt = f.shear_stress(190 mm) [Pa]\nv = f.von_mises(s.edge) [Pa]\n\
         a = f.principal_stress_1(edge) [Pa]\nb = f.principal_stress_2(edge) [Pa]\n"
    ));
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    let [n, t, v, a, b] = ["n", "t", "v", "a", "b"].map(|name| read.si(name));
    assert!(a >= b);
    assert!((a + b - n).abs() <= 1e-9 * n.abs());
    assert!((a * b + t * t).abs() <= 1e-9 * t * t);
    assert!((v * v - (a * a - a * b + b * b)).abs() <= 1e-9 * v * v);
}

/// Pure shear gives √3·τ, an outermost fibre the bending stress alone.
#[test]
fn pure_shear_and_outermost_fibres() {
    let read = read(&format!(
        "{SECTION}forces f on s\n    V = 60 kN\nforces g on s\n    M = 9 kN*m sagging\n    V = 60 kN\n\
         t = f.shear_stress(100 mm) [Pa]\nv = f.von_mises(middle) [Pa]\n\
         face = g.von_mises(face) [Pa]\nn = g.stress(face) [Pa]\n"
    ));
    near(&read, "v", 3.0_f64.sqrt() * read.si("t"));
    near(&read, "face", read.si("n"));
}

/// q = V·Q/I: Q = 100·10·95 mm³, I = (100·200³ − 92·180³)/12 mm⁴, by hand.
#[test]
fn flow_into_a_flange_and_across_its_joint() {
    let read = read(&format!(
        "{SECTION}forces f on s\n    V = 60 kN\nq = f.shear_flow(upper) [N/m]\n\
         p = f.shear_flow(s.lower) [N/m]\nr = f.shear_flow_at(190 mm) [N/m]\n"
    ));
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    let second = (100.0 * 8e6 - 92.0 * 5_832_000.0) / 12.0;
    let flow = 60_000.0 * 95_000.0 / second * 1e3;
    for name in ["q", "p", "r"] {
        near(&read, name, flow);
    }
}

#[test]
fn wrong_arguments_are_told() {
    for (call, code) in [
        ("shear_flow(web)", "no-number"),
        ("shear_flow(none)", "wrong-arguments"),
        ("shear_flow(20 mm)", "wrong-arguments"),
        ("shear_flow_at(900 mm)", "no-number"),
        ("von_mises(upper)", "wrong-arguments"),
        ("von_mises(20 mm)", "wrong-arguments"),
        ("principal_stress_3(2 mm)", "unknown-result"),
    ] {
        let found = read(&format!(
            "{SECTION}forces f on s\n    V = 60 kN\nq = f.{call}\n"
        ));
        let heads: Vec<&str> = found.findings.iter().map(|f| f.head.as_str()).collect();
        assert!(
            heads.len() == 1 && heads[0].starts_with(code),
            "{call}: {heads:?}"
        );
        assert_eq!(found.get("q"), None);
    }
}

/// The stress of the neutral axis is zero, with moments about both axes too.
#[test]
fn no_stress_on_the_neutral_axis() {
    let forces = "forces f on s\n    M = 9 kN*m hogging\n    My = 1 kN*m left in tension\n    \
                  N = 30 kN tension\n";
    let level = read(&format!("{SECTION}{forces}")).si("f.neutral_axis_y");
    let point = format!("    point zero at (0 mm, {} mm)\n", level * 1e3);
    let read = read(&format!(
        "{SECTION}{point}{forces}n = f.stress(zero) [Pa]\n"
    ));
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    assert!(read.si("n").abs() < 1.0, "{}", read.si("n"));
}

/// A published number with the tolerance of its digits.
#[track_caller]
fn published(text: &str, name: &str, unit: f64, value: f64, tolerance: f64) {
    let read = read(text);
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    let found = read.si(name) / unit;
    assert!(
        (found - value).abs() <= tolerance * value.abs(),
        "{found}, published {value}"
    );
}

const INCH: f64 = 0.0254;

/// Hibbeler, *Mechanics of Materials*, 8th edition, examples 7.5 and 7.6: glued and nailed boxes.
#[test]
fn published_boxes_of_boards() {
    let box_of_four = "section s\n    rect left 10 x 300 mm at (0 mm, 0 mm)\n    \
        rect right 10 x 300 mm at (135 mm, 0 mm)\n    rect top 250 x 10 mm at (-52.5 mm, 300 mm)\n    \
        rect shelf 125 x 10 mm at (10 mm, 200 mm)\nforces f on s\n    V = 850 kN\n\
        b = f.shear_flow(top)/2 [N/m]\nc = f.shear_flow(shelf)/2 [N/m]\n";
    published(box_of_four, "b", 1e6, 1.31, 0.0115);
    published(box_of_four, "c", 1e6, 0.0498, 0.00602);
    let outer = "section s\n    rect bottom 7.5 x 1.5 in\n    \
        rect left 1.5 x 4.5 in above bottom flush left\n    \
        rect right 1.5 x 4.5 in above bottom flush right\n    \
        rect top 7.5 x 1.5 in above left centred on bottom\nforces f on s\n    V = 80 lbf\n\
        a = 30 lbf/(f.shear_flow(top)/2) [in]\n";
    published(outer, "a", INCH, 5.10, 0.00098);
    let inner = "section s\n    rect bottom 4.5 x 1.5 in\n    \
        rect left 1.5 x 7.5 in left of bottom flush bottom\n    \
        rect right 1.5 x 7.5 in right of bottom flush bottom\n    \
        rect top 4.5 x 1.5 in right of left flush top\nforces f on s\n    V = 80 lbf\n\
        a = 30 lbf/(f.shear_flow(top)/2) [in]\n";
    published(inner, "a", INCH, 8.50, 0.000588);
}

/// Beer, Johnston & DeWolf, *Mechanics of Materials*, example 6.01, and Popov, example 7.1: nails.
#[test]
fn published_nails() {
    let three_boards = "section s\n    rect lower 100 x 20 mm\n    rect web 20 x 100 mm above lower\n    \
        rect upper 100 x 20 mm above web\nforces f on s\n    V = 500 N\n\
        nail = 25 mm*f.shear_flow(upper) [N]\n";
    published(three_boards, "nail", 1.0, 92.6, 0.00108);
    let tee = "section s\n    rect web 50 x 200 mm\n    rect flange 200 x 50 mm above web\n\
        forces f on s\n    V = 3000 N\nspacing = 700 N/f.shear_flow(flange) [mm]\n";
    published(tee, "spacing", 1e-3, 42.0, 0.0238);
}

/// Megson, *Structural and Stress Analysis*, example 16.3: 100 kN·m at 30° on an I section; the
/// neutral axis is inclined at 76.4°, here clockwise from the level axis.
#[test]
fn a_published_inclination_of_the_neutral_axis() {
    let text = "section s\n    rect lower 200 x 20 mm\n    rect web 25 x 260 mm above lower\n    \
        rect upper 200 x 20 mm above web\nforces f on s\n    \
        M = 100 kN*m*cos(30 deg) sagging\n    My = 100 kN*m*sin(30 deg) left in tension\n\
        a = f.neutral_axis_angle [deg]\n";
    published(text, "a", std::f64::consts::PI / 180.0, -76.4, 0.00131);
}
