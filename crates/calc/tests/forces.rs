//! Forces on a section: stresses, shear, limits and findings, through the public surface.

mod support;

use support::{Read, only};

const TEE: &str = "section tee\n    rect flange 150 x 12 mm\n    rect stem 10 x 180 mm above flange\n    \
                   point tip at top\n    point heel at bottom\n    point axis at (0 mm, 54 mm)\n";
/// By hand, in mm: see the sections' test.
const I: f64 = 13_176_000.0;

#[track_caller]
fn close(read: &Read, name: &str, expected: f64) {
    let found = read.si(name);
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{name} is {found}, not {expected}; {:#?}",
        read.findings
    );
}

/// σ = N/A ± M·c/I (Gere & Goodno, Mechanics of Materials, 7th ed., sections 5.5 and 5.12, from
/// memory).
#[test]
fn bending_and_axial_force() {
    let hung = only(
        &format!(
            "tip_stress = hung.stress(tip)\nheel_stress = hung.stress(tee.heel)\n\
             forces hung on tee\n    M = 4 kN*m hogging\n    N = 36 kN tension\n    \
             limit tension <= 60 MPa\n    limit compression <= 60 MPa\n{TEE}"
        ),
        &[],
    );
    let tip = 36_000.0 / 3600.0 + 4e6 * 138.0 / I;
    let heel = 36_000.0 / 3600.0 - 4e6 * 54.0 / I;
    close(&hung, "tip_stress", tip * 1e6);
    close(&hung, "heel_stress", heel * 1e6);
    close(&hung, "hung.stress_top", tip * 1e6);
    close(&hung, "hung.stress_bottom", heel * 1e6);
    close(&hung, "hung.utilisation", tip / 60.0);
    assert_eq!(hung.check("hung.tension").place.as_deref(), Some("tip"));
    assert_eq!(
        hung.check("hung.compression").place.as_deref(),
        Some("heel")
    );
    assert_eq!(hung.shown("    point tip"), ["tension"]);
    assert_eq!(hung.shown("    point heel"), ["compression"]);
    assert_eq!(
        hung.shown("forces hung"),
        ["top tension", "bottom compression"]
    );
    assert_eq!(hung.shown("    limit tension"), ["tip"]);
}

#[test]
fn the_neutral_axis_has_no_stress_at_all() {
    let found = only(
        &format!("{TEE}forces f on tee\n    M = 4 kN*m hogging\ns = f.stress(axis)\n"),
        &[],
    );
    assert_eq!(found.si("s").to_bits(), 0.0_f64.to_bits());
}

/// τ = V·Q/(I·b) (Gere & Goodno, 7th ed., section 5.8, from memory).
#[test]
fn shear() {
    let cut = only(
        &format!(
            "{TEE}forces cut on tee\n    V = -24 kN\n    limit shear <= 80 MPa\n\
             axis = cut.shear_stress(54 mm)\njoint = cut.shear_stress(12 mm)\nedge = cut.shear_stress(0 mm)\n"
        ),
        &[],
    );
    let at_axis = 24_000.0 * (10.0 * 138.0 * 138.0 / 2.0) / (I * 10.0);
    close(&cut, "axis", at_axis * 1e6);
    close(&cut, "cut.shear_stress_max", at_axis * 1e6);
    // At the joint the stem, not the flange, is the narrower side.
    close(&cut, "joint", 24_000.0 * (1800.0 * 48.0) / (I * 10.0) * 1e6);
    assert_eq!(cut.si("edge").to_bits(), 0.0_f64.to_bits());
    let used = cut.check("cut.shear").utilisation.expect("it is known");
    assert!((used - at_axis / 80.0).abs() < 1e-12);
    only(
        &format!("{TEE}forces cut on tee\n    V = 24 kN\nt = cut.shear_stress(200 mm)\n"),
        &["no-number at \"cut.shear_stress(200 mm)\""],
    );
}

/// An angle of two plates under M alone: the general formula in centroidal axes, by hand as in the
/// language reference (Gere & Goodno, 7th ed., section 6.5, from memory). M·y/Ixx would be far off.
#[test]
fn unsymmetrical_bending() {
    let text = "section corner\n    rect upright 20 x 150 mm\n    rect foot 80 x 20 mm right of upright flush bottom\n    \
                point peak at top left\n    point toe at bottom right\n\
                forces lift on corner\n    M = 3 kN*m sagging\n    limit tension <= 50 MPa\n    limit compression <= 50 MPa\n\
                peak = lift.stress(peak)\ntoe = lift.stress(toe)\n";
    let lift = only(text, &[]);
    let (a1, a2) = (3000.0, 1600.0);
    let area = a1 + a2;
    let (x, y) = (a2 * 50.0 / area, (a1 * 75.0 + a2 * 10.0) / area);
    let square = |v: f64| v * v;
    let cube = |v: f64| v * v * v;
    let ix = 20.0 * cube(150.0) / 12.0
        + a1 * square(75.0 - y)
        + 80.0 * cube(20.0) / 12.0
        + a2 * square(10.0 - y);
    let iy = 150.0 * cube(20.0) / 12.0
        + a1 * square(x)
        + 20.0 * cube(80.0) / 12.0
        + a2 * square(50.0 - x);
    let ixy = a1 * -x * (75.0 - y) + a2 * (50.0 - x) * (10.0 - y);
    let d = ix * iy - ixy * ixy;
    let stress = |px: f64, py: f64| 3e6 * (ixy * (px - x) - iy * (py - y)) / d;
    close(&lift, "peak", stress(-10.0, 150.0) * 1e6);
    close(&lift, "toe", stress(90.0, 0.0) * 1e6);
    // The largest tension is at the lower left corner, which no point names.
    let tension = lift.check("lift.tension");
    assert_eq!(tension.place.as_deref(), Some("bottom left"));
    let used = tension.utilisation.expect("it is known");
    assert!((used - stress(-10.0, 0.0) / 50.0).abs() < 1e-9, "{used}");
}

/// A round bar bent both ways is stressed by the resultant moment, √(M² + My²)·d/2/I, at a place
/// that is neither top nor side.
#[test]
fn a_round_bar_bent_both_ways() {
    let bar = only(
        "section bar\n    circle rod 50 mm\nforces f on bar\n    M = 3 kN*m sagging\n    \
         My = 4 kN*m right in tension\n    limit tension <= 500 MPa\n\
         M_most = largest M of f [kN*m]\n",
        &[],
    );
    let modulus = std::f64::consts::PI * 125_000.0 / 32.0;
    let used = bar.check("f.tension").utilisation.expect("it is known");
    assert!((used - 5e6 / modulus / 500.0).abs() < 1e-9, "{used}");
    assert_eq!(bar.check("f.tension").place.as_deref(), Some("edge of rod"));
    // With My = 4: M = √((500·W)² − My²)
    let resultant = 500.0 * modulus;
    let most = (resultant * resultant - 16e12).sqrt();
    assert!((bar.si("M_most") - most / 1e3).abs() < 1e-6 * most / 1e3);
}

/// A rectangle bent both ways: ±M/Wx ± My/Wy at its corners.
#[test]
fn a_rectangle_bent_both_ways() {
    let post = only(
        "section post\n    rect plank 100 x 160 mm\nforces wind on post\n    M = 5 kN*m sagging\n    \
         My = 2 kN*m left in tension\n    limit tension <= 20 MPa\n    limit compression <= 30 MPa\n",
        &[],
    );
    let both = 5e6 / (100.0 * 160.0 * 160.0 / 6.0) + 2e6 / (160.0 * 100.0 * 100.0 / 6.0);
    assert_eq!(
        post.check("wind.tension").place.as_deref(),
        Some("bottom left")
    );
    assert_eq!(
        post.check("wind.compression").place.as_deref(),
        Some("top right")
    );
    close(&post, "wind.stress_bottom", both * 1e6);
    close(&post, "wind.stress_top", -both * 1e6);
}

#[test]
fn limits_of_the_block_and_of_its_material() {
    let text = "material steel\n    E = 205 GPa\n    limit tension <= 160 MPa\n    limit shear < 90 MPa\n\
                section s of steel\n    rect a 100 x 10 mm\n\
                forces f on s\n    N = 165.0003 kN tension\n    limit tension <= 165 MPa\n";
    let found = only(
        text,
        &[
            "limit-exceeded at \"f\"",
            "limit-exceeded at \"limit tension <= 165 MPa\"",
        ],
    );
    assert_eq!(found.check("f.tension").holds, Some(false));
    assert_eq!(found.check("f.tension.2").holds, Some(false));
    assert_eq!(found.check("f.shear").holds, Some(true));
    assert!(
        found.findings[1].message.contains("165.0003 MPa"),
        "{:#?}",
        found.findings
    );
    only(
        "section s\n    rect a 100 x 10 mm\nforces f on s\n    N = 1 kN tension\n    limit tension <= 0 MPa\n",
        &["value-not-positive at \"0 MPa\""],
    );
}

/// Shear in each material of layers: the timber's largest is at the centroid of the transformed
/// section, the steel's at the joint; V·Q/(I·b) with transformed Q and I.
#[test]
fn shear_in_layers_of_two_materials() {
    let text = "material timber\n    E = 11 GPa\n    limit shear <= 2 MPa\n\
                material steel\n    E = 209 GPa\n    limit shear <= 90 MPa\n\
                section flitch of timber\n    rect beam 90 x 220 mm\n    rect strap 90 x 6 mm below beam of steel\n\
                forces f on flitch\n    V = 12 kN\n";
    let found = only(text, &[]);
    let (wood, steel, n) = (90.0 * 220.0, 90.0 * 6.0, 19.0);
    let area = wood + n * steel;
    let y = (wood * 110.0 - n * steel * 3.0) / area;
    let square = |v: f64| v * v;
    let i = 90.0 * 220.0 * 220.0 * 220.0 / 12.0
        + wood * square(110.0 - y)
        + n * (90.0 * 216.0 / 12.0 + steel * square(y + 3.0));
    let in_timber = 12_000.0 * (90.0 * square(220.0 - y) / 2.0) / (i * 90.0);
    let in_steel = 12_000.0 * (n * steel * (y + 3.0)) / (i * 90.0);
    // Both limits are one check, of which the timber's share is the larger.
    assert!(in_timber / 2.0 > in_steel / 90.0);
    let used = found.check("f.shear").utilisation.expect("it is known");
    assert!((used - in_timber / 2.0).abs() < 1e-9, "{used}");
    let strict = only(
        &text.replace("90 MPa", "0.5 MPa"),
        &["limit-exceeded at \"f\""],
    );
    let used = strict.check("f.shear").utilisation.expect("it is known");
    assert!((used - in_steel / 0.5).abs() < 1e-9, "{used}");
}

#[test]
fn a_shear_stress_that_is_not_known_passes_nothing() {
    let text = "section pair\n    rect low 20 x 20 mm\n    rect high 20 x 20 mm at (-10 mm, 60 mm)\n\
                allow parts-apart\nforces f on pair\n    V = 1 kN\n    limit shear <= 80 MPa\nu = f.utilisation\n";
    let found = only(
        text,
        &[
            "no-number at \"limit shear <= 80 MPa\"",
            "no-number at \"f.utilisation\"",
        ],
    );
    assert_eq!(found.check("f.shear").holds, None);
    assert_eq!(found.get("f.shear_stress_max"), None);
}

#[test]
fn findings_of_forces() {
    let forces = |lines: &str| format!("{TEE}forces f on tee\n{lines}");
    let loose = only(
        &forces("    M = 2 kN*m\n    limit tension <= 60 MPa\n"),
        &["sense-missing at \"2 kN*m\""],
    );
    assert_eq!(loose.get("f.stress_top"), None);
    assert_eq!(loose.check("f.tension").holds, None);
    only(
        &forces("    M = 2 kN*m sagging\ns = f.stress(tpi)\n"),
        &["wrong-arguments at \"tpi\""],
    );
    only(
        &forces("    M = 2 kN*m sagging\ns = f.stress(3 mm)\n"),
        &["wrong-arguments at \"3 mm\""],
    );
    only(
        &forces("    M = 2 kN*m sagging\nu = f.utilisation\n"),
        &["no-number at \"f.utilisation\""],
    );
    only(
        "forces f on tea\n    M = 2 kN*m sagging\n",
        &["unknown-name at \"tea\""],
    );
    only(
        &format!("{TEE}forces f on f\n    M = 2 kN*m sagging\n"),
        &["ring at \"f\""],
    );
    let unknown = only(
        &forces("    N = F_hook tension\n    limit tension <= 140 MPa\n"),
        &["unknown-name at \"F_hook\""],
    );
    assert_eq!(unknown.check("f.tension").holds, None);
}

/// M = σ·W for a rectangle of 60 x 120 mm at 10 MPa: W = 144000 mm³, M = 1.44 kN·m.
#[test]
fn the_largest_moment() {
    let found = only(
        "section s\n    rect a 60 x 120 mm\nforces f on s\n    M = 1 kN*m hogging\n    \
         limit tension <= 10 MPa\n    limit compression <= 12 MPa\nM_most = largest M of f [kN*m]\n",
        &[],
    );
    assert!((found.si("M_most") - 1440.0).abs() < 1e-6);
    only(
        "section s\n    rect a 60 x 120 mm\nforces f on s\n    M = 1 kN*m hogging\n    limit tension <= 10 MPa\n\
         Q = largest Q of f\n",
        &["unknown-name at \"Q\""],
    );
}
