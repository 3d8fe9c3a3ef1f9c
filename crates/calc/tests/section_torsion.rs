//! Torsion, kern, second moments about any axis, in files.

mod support;

use support::read;

/// J = c₂·a·b³ of a rectangle: the table of Timoshenko as reprinted in Beer, Johnston & DeWolf,
/// *Mechanics of Materials*, table 3.1; three or four digits.
#[test]
fn rectangles_have_the_constants_of_the_table() {
    for (ratio, coefficient, digits) in [
        (1.0, 0.1406, 0.0004),
        (1.2, 0.1661, 0.0003),
        (1.5, 0.1958, 0.0003),
        (2.0, 0.229, 0.0022),
        (2.5, 0.249, 0.0021),
        (3.0, 0.263, 0.0019),
        (5.0, 0.291, 0.0018),
        (10.0, 0.312, 0.0016),
    ] {
        let text = format!(
            "section s\n    rect r {} x 20 mm\nJ = s.torsion_constant [mm^4]\n",
            20.0 * ratio
        );
        let found = read(&text).si("J") * 1e12 / (20.0 * ratio * 8000.0);
        assert!(
            (found - coefficient).abs() <= digits * coefficient,
            "{ratio}: {found}"
        );
    }
}

/// Beer, Johnston & DeWolf, example 6.05: a channel 4 in x 6 in between middle lines, 0.15 in
/// thick: e = 1.600 in from the middle of the web. The walls there are taken as thin: 1 %.
#[test]
fn the_shear_centre_of_a_channel() {
    let read = read(
        "section s\n    channel c 4.075 x 6.15 x 0.15 x 0.15 in\n\
         e = s.to_left + s.shear_centre_x - s.xbar [in]\ny = s.shear_centre_y [in]\n",
    );
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    let inches = |name: &str| read.si(name) / 0.0254;
    assert!(
        (inches("e") - (0.075 - 1.600)).abs() <= 0.016,
        "{}",
        inches("e")
    );
    assert!((inches("y") - 3.075).abs() < 1e-9, "{}", inches("y"));
}

/// The torsion modulus c₁·a·b² of a rectangle, the same table; π·d³/16 of a circle.
#[test]
fn torsion_moduli() {
    for (ratio, coefficient, digits) in [
        (1.0, 0.208, 0.0024),
        (1.5, 0.231, 0.0022),
        (3.0, 0.267, 0.0019),
        (10.0, 0.312, 0.0016),
    ] {
        let text = format!(
            "section s\n    rect r 20 x {} mm\nW = s.torsion_modulus [mm^3]\n",
            20.0 * ratio
        );
        let found = read(&text).si("W") * 1e9 / (20.0 * ratio * 400.0);
        assert!(
            (found - coefficient).abs() <= digits * coefficient,
            "{ratio}: {found}"
        );
    }
    let round = read("section s\n    circle c 40 mm\nW = s.torsion_modulus [mm^3]\n").si("W");
    let exact = std::f64::consts::PI * 0.04 * 0.04 * 0.04 / 16.0;
    assert!((round / exact - 1.0).abs() < 1e-12);
}

/// A triangle has its warping constant with a small error, though few elements give its torsion
/// constant.
#[test]
fn a_plain_triangle_has_a_warping_constant() {
    let read = read(
        "section s\n    polygon p (57.66, -39.69) (19.78, 37.2) (-73.26 mm, -35.8 mm)\n\
         C = s.warping_constant [mm^6]\n",
    );
    // Quadratic triangles by a general library, crates/mechanics/tests/section_random.
    let expected = 111_296_619.0;
    assert!(
        (read.si("C") * 1e18 / expected - 1.0).abs() < 0.005,
        "{}",
        read.si("C")
    );
}

/// An ellipse has π·a³·b³/(a² + b²); a turned rectangle has the constant of the series, though it
/// is then worked out by finite elements (Timoshenko & Goodier, article 109).
#[test]
fn a_turned_rectangle_has_the_same_constant() {
    let of = |turn: &str| {
        let text =
            format!("section s\n    rect r 60 x 20 mm {turn}\nJ = s.torsion_constant [mm^4]\n");
        read(&text).si("J")
    };
    let (exact, turned) = (of(""), of("turned 30 deg"));
    assert!((turned - exact).abs() <= 1e-3 * exact, "{turned} {exact}");
}

/// J = π·(D⁴ − d⁴)/32, no warping, the shear centre in the middle (exact).
#[test]
fn round_sections_are_exact() {
    let read = read(
        "section s\n    round tube r 60 x 5 mm\nJ = s.torsion_constant [mm^4]\n\
         C = s.warping_constant [mm^6]\nx = s.shear_centre_x [mm]\ny = s.shear_centre_y [mm]\n",
    );
    let exact =
        std::f64::consts::PI * (0.06_f64 * 0.06 * 0.06 * 0.06 - 0.05 * 0.05 * 0.05 * 0.05) / 32.0;
    assert!((read.si("J") - exact).abs() <= 1e-12 * exact);
    assert_eq!(read.si("C"), 0.0);
    assert_eq!(read.si("x"), 0.0);
    assert!((read.si("y") - 0.03).abs() < 1e-12);
}

/// A shear centre on an axis of symmetry is exactly there, without what rounding leaves.
#[test]
fn a_shear_centre_on_the_middle_is_there() {
    for shape in [
        "ellipse e 100 x 60 mm",
        "box tube b 80 x 120 x 6.3 mm corner 9.45 mm inner 6.3 mm",
    ] {
        let read = read(&format!(
            "section s\n    {shape}\nx = s.shear_centre_x [mm]\n"
        ));
        assert_eq!(read.si("x"), 0.0, "{shape}");
    }
}

/// Where torsion is not known, the words say why, and nothing else of the section suffers.
#[test]
fn what_has_no_torsion_says_why() {
    let several = read(
        "material a\n    E = 10 GPa\nmaterial b\n    E = 200 GPa\nsection s of a\n    \
         rect r 60 x 20 mm\n    rect t 60 x 5 mm above r of b\nJ = s.torsion_constant [mm^4]\n",
    );
    assert_eq!(several.get("J"), None);
    assert!(several.findings[0].message.contains("one material alone"));
    assert!(several.get("s.area").is_some());
    // Materials that differ in their shear moduli alone are several too; two grades are not.
    let with = |other: &str| {
        let text = format!(
            "material a\n    E = 200 GPa\n    G = 80 GPa\nmaterial b\n    E = 200 GPa\n    {other}\n\
             section s of a\n    rect r 60 x 20 mm\n    rect t 60 x 5 mm above r of b\n\
             J = s.torsion_constant [mm^4]\n"
        );
        read(&text).get("J").is_some()
    };
    assert!(!with("G = 75 GPa") && !with("density = 7850 kg/m^3"));
    assert!(with("G = 80 GPa"));
    let apart = read(
        "section s\n    rect r 60 x 20 mm\n    rect t 60 x 5 mm at (0 mm, 40 mm)\n\
         allow parts-apart for t\nJ = s.torsion_constant [mm^4]\n",
    );
    assert_eq!(apart.get("J"), None);
    let words = apart.findings.iter().map(|f| f.message.as_str());
    assert!(words.clone().any(|words| words.contains("pieces")));
}

/// Changing a section changes what was worked out of it on request.
#[test]
fn torsion_follows_an_edit() {
    let file = |height: u32| {
        format!(
            "section s\n    rect r 60 x {height} mm\nJ = s.torsion_constant [mm^4]\n\
             I = s.Ixx_about(0 mm) [mm^4]\n"
        )
    };
    let edited = support::after_edit(&file(20), &file(30));
    let fresh = read(&file(30));
    assert_eq!(edited.si("J").to_bits(), fresh.si("J").to_bits());
    assert_eq!(edited.si("I").to_bits(), fresh.si("I").to_bits());
}

/// The kern of an angle of two plates: a force at its edge straight above the centroid leaves no
/// stress at the fibre that it relieves most, and none of the other sign anywhere.
#[test]
fn the_kern_of_a_section_without_symmetry() {
    let section = "section s\n    rect upright 20 x 150 mm\n    \
                   rect foot 80 x 20 mm right of upright flush bottom\n";
    let kern = read(section).si("s.kern_up");
    let file = format!(
        "{section}forces f on s\n    N = 10 kN compression\n    M = {} N*mm sagging\n\
         a = f.stress_top [MPa]\n    limit tension <= 1 kPa\n",
        10_000.0 * kern * 1e3
    );
    let read = read(&file.replace("a = f.stress_top [MPa]\n    limit", "    limit"));
    assert!(read.findings.is_empty(), "{:#?}", read.findings);
    let check = &read.checks[0];
    assert!(
        check.utilisation.is_some_and(|used| used < 1e-3),
        "{check:?}"
    );
}

/// b·h³/3 about its base, and the product moment about its corner b²·h²/4 (Gere & Goodno, 7th
/// edition, appendix D, from memory); what is no length is told.
#[test]
fn about_any_axis() {
    let right = read(
        "section s\n    rect r 40 x 60 mm\na = s.Ixx_about(0 mm) [mm^4]\n\
         b = s.Ixy_about(20 mm, 60 mm) [mm^4]\nc = s.Iyy_about(0) [mm^4]\n",
    );
    assert!(right.findings.is_empty(), "{:#?}", right.findings);
    assert!((right.si("a") - 0.04 * 0.06 * 0.06 * 0.06 / 3.0).abs() < 1e-18);
    assert!((right.si("b") - 0.04 * 0.04 * 0.06 * 0.06 / 4.0).abs() < 1e-18);
    assert!((right.si("c") - right.si("s.Iyy")).abs() < 1e-18);
    for wrong in [
        "Ixx_about(2 kN)",
        "Ixy_about(2 mm)",
        "Ixy_about(2 kN, 3 mm)",
        "Iyy_about()",
    ] {
        let text = format!("section s\n    rect r 40 x 60 mm\na = s.{wrong} [mm^4]\n");
        let found = read(&text);
        assert_eq!(found.findings.len(), 1, "{wrong} {:#?}", found.findings);
        assert_eq!(found.get("a"), None);
    }
}
