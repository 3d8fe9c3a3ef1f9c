//! Bending both ways. Sums, turns by a quarter and superposition of closed forms; the closed forms
//! are those of the AISC Steel Construction Manual, table 3-23, from memory.

use crate::reading::file;

const STEEL: &str = "material steel\n    E = 205 GPa\n    limit tension <= 100 MPa\n    \
                     limit shear <= 40 MPa\n";

/// A section and its load turned by a quarter, left to where down was: the same numbers.
#[test]
fn a_quarter_turn_changes_nothing() {
    let lines = |way: &str| {
        format!(
            "    spans = 3 m, 2 m\n    support fixed at start\n    support roller at 3 m\n    \
             support roller at end\n    load a 4 kN at 1.2 m{way}\n    load b 3 kN/m to 1 kN/m from 2 m \
             to 4.5 m{way}\n"
        )
    };
    let upright = format!(
        "{STEEL}section s of steel\n    rect p 40 x 100 mm\n    rect q 60 x 20 mm above p flush left\n    \
         point A at bottom left\nbeam b of s\n{}a = b.stress(A)\n",
        lines("")
    );
    // (x, y) goes to (y, 80 mm - x): down becomes left.
    let turned = format!(
        "{STEEL}section s of steel\n    rect p 100 x 40 mm at (0 mm, 60 mm)\n    rect q 20 x 60 mm at \
         (100 mm, 40 mm)\n    point A at top left\n    point B at (0 mm, 100 mm)\nbeam b of s\n{}\
         a = b.stress(A)\nb_there = b.stress(B)\n",
        lines(" leftwards")
    );
    let (upright, turned) = (file(&upright), file(&turned));
    for (one, other) in [
        ("b.M_max", "b.My_max"),
        ("b.M_min", "b.My_min"),
        ("b.V_max", "b.V_sideways_max"),
        ("b.deflection_max", "b.deflection_sideways_max"),
        ("b.R2", "b.R2_sideways"),
        ("a", "a"),
        ("a", "b_there"),
        ("b.utilisation", "b.utilisation"),
    ] {
        let value = upright.value(one);
        turned.agrees(&[(other, value)]);
    }
}

/// The greatest stress of a round bar is that of the resultant moment, wherever its direction turns
/// to along the bar: M = √(Mx² + My²) (any textbook of strength of materials). Both moments here
/// are P·x at the wall, 3 and 4 kN·m together 5 kN·m.
#[test]
fn a_round_bar_bends_about_the_resultant() {
    let text = format!(
        "{STEEL}section s of steel\n    circle c 100 mm\nbeam b of s\n    length = 2 m\n    support fixed \
         at start\n    load a 1.5 kN at end\n    load a 2 kN at end rightwards\n    limit tension <= 60 MPa\n"
    );
    let stress = 5e3 * 32.0 / (std::f64::consts::PI * 1e-3);
    let read = file(&text);
    let used = read.checks.iter().find(|check| check.name == "b.tension");
    let used = used.and_then(|check| check.utilisation).unwrap();
    assert!((used - stress / 60e6).abs() < 1e-9, "{used}");
}

/// The greatest stress lies between the extremes of both moments: with P down at the middle and w
/// sideways throughout, at a corner σ = P·x/2/Wx + w·x·(L − x)/2/Wy for x up to L/2.
#[test]
fn the_worst_place_lies_between() {
    let text = format!(
        "{STEEL}section s of steel\n    rect p 60 x 120 mm\nbeam b of s\n    length = 4 m\n    \
         load a 1 kN at 1 m\n    load a 1 kN/m throughout leftwards\n"
    );
    let (wx, wy) = (0.06 * 0.0144 / 6.0, 0.12 * 0.0036 / 6.0);
    // Past the force: 0.25·(4 − x)/Wx + x·(4 − x)/2/Wy, largest where its derivative is zero.
    let x = 2.0 - 0.25 / wx * wy;
    let stress = 1e3 * (0.25 * (4.0 - x) / wx + x * (4.0 - x) / 2.0 / wy);
    let read = file(&text);
    let used = read.checks.iter().find(|check| check.name == "b.tension");
    let used = used.and_then(|check| check.utilisation).unwrap();
    assert!(
        (used - stress / 100e6).abs() < 1e-9,
        "{used} {}",
        stress / 100e6
    );
    // Shear at the start: 1.5·(0.75 + 2) kN over the area.
    let used = read.checks.iter().find(|check| check.name == "b.shear");
    let used = used.and_then(|check| check.utilisation).unwrap();
    assert!((used - 1.5 * 2750.0 / 0.0072 / 40e6).abs() < 1e-9, "{used}");
}

/// Normal and shear stress together under forces P down and H sideways at the tip of a cantilever: at
/// the wall σ = P·L/Wx + H·L/Wy at a corner, where the sideways shear counts with its largest,
/// 3/2·H/A, and the upright one with nothing.
#[test]
fn normal_and_shear_stress_together() {
    let text = format!(
        "{STEEL}section s of steel\n    rect p 60 x 120 mm\n    point A at top right\n    \
         point B at (10 mm, 60 mm)\nbeam b of s\n    length = 0.5 m\n    support fixed at start\n    \
         load a 20 kN at end\n    load h 8 kN at end leftwards\n    limit von_mises <= 200 MPa\n    \
         limit principal_stress_2 <= 200 MPa\n\
         corner = b.von_mises(A)\ninside = b.von_mises(B, 0.2 m)\n"
    );
    let (wx, wy) = (0.06 * 0.0144 / 6.0, 0.12 * 0.0036 / 6.0);
    let normal: f64 = 10e3 / wx + 4e3 / wy;
    let shear = 1.5 * 8e3 / 0.0072;
    let read = file(&text);
    let used = |name: &str| {
        let check = read.checks.iter().find(|check| check.name == name);
        check.and_then(|check| check.utilisation).unwrap()
    };
    let von_mises = (normal * normal + 3.0 * shear * shear).sqrt();
    assert!((used("b.von_mises") / (von_mises / 200e6) - 1.0).abs() < 1e-6);
    let least = normal / 2.0 + (normal * normal / 4.0 + shear * shear).sqrt();
    assert!((used("b.principal_stress_2") / (least / 200e6) - 1.0).abs() < 1e-6);
    // No shear stress at a corner. At B: σ = My·x/Iyy, τ = 1.5·(1 − 1/9)·H/A + 1.5·P/A.
    let normal_inside = 8e3 * 0.3 * 0.01 / (0.12 * 0.06 * 0.06 * 0.06 / 12.0);
    let shear_inside: f64 = 1.5 * (8e3 * (1.0 - 1.0 / 9.0) + 20e3) / 0.0072;
    let close = |name: &str, wanted: f64| {
        let found = read.value(name);
        assert!(
            (found / wanted - 1.0).abs() < 1e-7,
            "{name}: {found} {wanted}"
        );
    };
    close("corner", normal);
    close(
        "inside",
        (normal_inside * normal_inside + 3.0 * shear_inside * shear_inside).sqrt(),
    );
}

/// A settlement of a turned section that is held both ways: the deflection at the support is the
/// settlement straight down, and M = 3·E·Ixx·d/L², My = 3·E·Ixy·d/L² at the wall of a propped
/// cantilever (E·κ = C⁻¹ of the curvature straight down).
#[test]
fn a_settlement_of_turned_axes() {
    let text = "material steel\n    E = 205 GPa\nsection s of steel\n    rect leg 100 x 10 mm\n    \
                rect rise 10 x 90 mm above leg flush left\nbeam b of s\n    length = 3 m\n    \
                support fixed at start\n    support roller at end\n    load sinking 10 mm at end\n\
                down = b.deflection(3 m)\nleft = b.deflection_sideways(3 m)\nmy = b.My(0 m)\n\
                m_wall = b.M(0 m)\nixx = s.Ixx\nixy = s.Ixy\n";
    let read = file(text);
    let (ixx, ixy) = (read.value("ixx"), read.value("ixy"));
    let factor = -3.0 * 205e9 * 0.01 / 9.0;
    read.agrees(&[
        ("down", 0.01),
        ("m_wall", factor * ixx),
        ("my", factor * ixy),
    ]);
    assert!(read.value("left").abs() < 1e-14);
}

/// The same settlement to the left: Iyy and Ixy take the places of Ixx and Ixy.
#[test]
fn a_settlement_sideways() {
    let text = "material steel\n    E = 205 GPa\nsection s of steel\n    rect leg 100 x 10 mm\n    \
                rect rise 10 x 90 mm above leg flush left\nbeam b of s\n    length = 3 m\n    \
                support fixed at start\n    support roller at end\n    load giving 10 mm at end leftwards\n\
                down = b.deflection(3 m)\nleft = b.deflection_sideways(3 m)\nmy = b.My(0 m)\n\
                m_wall = b.M(0 m)\niyy = s.Iyy\nixy = s.Ixy\n";
    let read = file(text);
    let (iyy, ixy) = (read.value("iyy"), read.value("ixy"));
    let factor = -3.0 * 205e9 * 0.01 / 9.0;
    read.agrees(&[
        ("left", 0.01),
        ("my", factor * iyy),
        ("m_wall", factor * ixy),
    ]);
    assert!(read.value("down").abs() < 1e-14);
    // Of a tie alone: 6·E·I·d/L³ of two spans of L.
    let text = "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 100 mm\nbeam b of s\n    \
                length = 4 m\n    support pin at start\n    support roller at end\n    \
                support pin sideways at middle as tie\n    load giving 5 mm at middle rightwards\n    \
                load dead 1 kN/m throughout\n";
    let inertia = 100e-3 * 40e-3 * 40e-3 * 40e-3 / 12.0;
    file(text).agrees(&[("b.tie_sideways", 6.0 * 205e9 * inertia * 5e-3 / 8.0)]);
}

/// A spring that holds sideways only, with limits on what the supports hold sideways: under w on two
/// spans L/2 the middle takes 5·w·L/8/(1 + 48·E·I/(k·L³)) (a force in the middle: F·L³/(48·E·I), w
/// alone 5·w·L⁴/(384·E·I); AISC table 3-23, from memory).
#[test]
fn a_spring_sideways_and_limits_on_its_force() {
    let text = "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 100 mm\nbeam b of s\n    \
                length = 4 m\n    support pin at start\n    support roller at end\n    \
                support spring 30 kN/m sideways at middle as tie\n    load wind 2 kN/m throughout rightwards\n    \
                limit reaction sideways at tie <= 4 kN\n    limit reaction sideways <= 6 kN\n\
                k = largest wind of b [kN/m]\n";
    let inertia = 100e-3 * 40e-3 * 40e-3 * 40e-3 / 12.0;
    let force: f64 = 5.0 * 2e3 * 4.0 / 8.0 / (1.0 + 48.0 * 205e9 * inertia / (30e3 * 64.0));
    let read = file(text);
    let at_ends = (8e3 - force) / 2.0;
    let largest = f64::min(2e3 * 4e3 / force, 2e3 * 6e3 / at_ends);
    read.agrees(&[("b.tie_sideways", -force), ("k", largest)]);
    let used = |name: &str| read.check(name).utilisation.expect("known");
    assert!((used("b.reaction_sideways") - force / 4e3).abs() < 1e-12);
    assert_eq!(
        read.check("b.reaction_sideways").place.as_deref(),
        Some("tie, at 2 m")
    );
    let most = force.max(at_ends) / 6e3;
    assert!((used("b.reaction_sideways.2") - most).abs() < 1e-12);
}

#[test]
fn what_is_not_supported_is_said() {
    let of = |lines: &str| {
        format!(
            "{STEEL}section s of steel\n    rect p 60 x 120 mm\nbeam b of s\n    length = 4 m\n{lines}"
        )
    };
    let couple = file(&of("    load a 1 kN*m clockwise at 1 m leftwards\n"));
    couple.finds(&["place-wrong at \"leftwards\""]);
    let spans = file(&of("    load a 1 kN/m on any spans leftwards\n"));
    spans.finds(&["not-supported-yet at \"any spans\""]);
    let springs = file(&of(
        "    support pin at start\n    support spring 9 kN/m at end\n    \
                            load a 1 kN at end leftwards\n",
    ));
    springs.finds(&["mechanism at \"load a 1 kN at end leftwards\""]);
    let limit = file(&of(
        "    load a 1 kN at 1 m\n    limit tension sideways <= 10 MPa\n",
    ));
    limit.finds(&["place-wrong at \"sideways\""]);
    let turned = file(
        "material steel\n    E = 205 GPa\nsection s of steel\n    rect leg 100 x 10 mm\n    \
         rect rise 10 x 90 mm above leg flush left\nbeam b of s\n    spans = 3 m, 3 m\n    \
         load b 2 kN moving\n",
    );
    turned
        .finds(&["not-supported-yet at \"load b 2 kN moving\": wheels on b bend it sideways, too"]);
    let worst = file(&format!(
        "{STEEL}section s of steel\n    rect p 60 x 120 mm\n    point A at top left\nbeam b of s\n    \
         length = 4 m\n    load a 1 kN at 1 m\n    load a 1 kN at 1 m leftwards\nflow = b.shear_stress(60 mm)\n"
    ));
    worst.finds(&["no-number at \"b.shear_stress(60 mm)\""]);
    let material = file("material m\n    limit tension sideways <= 10 MPa\n");
    material.finds(&["place-wrong at \"sideways\""]);
    let wheel = file(&of("    load b 2 kN moving leftwards\n"));
    wheel.finds(&["place-wrong at \"leftwards\""]);
}
