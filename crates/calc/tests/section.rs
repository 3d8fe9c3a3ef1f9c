//! Sections: places, results, materials, points and findings, through the public surface.

mod support;

use support::{Read, close, only, read};

/// 150 x 12 flange with a 10 x 180 stem: A = 3600, ȳ = (1800·6 + 1800·102)/3600 = 54,
/// Ixx = 150·12³/12 + 1800·48² + 10·180³/12 + 1800·48² = 13176000 (by hand, in mm).
const TEE: &str =
    "section tee\n    rect flange 150 x 12 mm\n    rect stem 10 x 180 mm above flange\n";

#[test]
fn a_tee_by_hand() {
    let tee = only(TEE, &[]);
    close(&tee, "tee.area", 3600e-6);
    close(&tee, "tee.ybar", 0.054);
    close(&tee, "tee.to_top", 0.138);
    close(&tee, "tee.Ixx", 13_176_000e-12);
    close(&tee, "tee.Iyy", 3_390_000e-12);
    close(&tee, "tee.section_modulus_bottom", 244_000e-9);
    close(&tee, "tee.plastic_centre_y", 0.012);
    close(&tee, "tee.plastic_modulus_x", 172_800e-9);
    close(&tee, "tee.flange.area", 1800e-6);
    close(&tee, "tee.flange.width", 0.15);
    close(&tee, "tee.stem.ybar", 0.102);
    close(&tee, "tee.stem.Ixx", 4_860_000e-12);
    assert_eq!(tee.si("tee.xbar").to_bits(), 0.0_f64.to_bits());
}

/// The lines of a block in every order give the same bits.
#[test]
fn the_order_of_lines_changes_no_bit() {
    let lines = [
        "    rect base 200 x 20 mm\n",
        "    rect post 17 x 160 mm above base flush left inset 3 mm\n",
        "    rect lid 210 x 11 mm above post centred on base\n",
        "    deduct rect hole 7 x 9 mm in post\n",
        "    circle rod 19 mm right of base\n",
        "    point tip at top of lid\n",
    ];
    let forces = "forces f on s\n    M = 3 kN*m sagging\n    My = 1 kN*m left in tension\n    \
                  N = 4 kN tension\n    V = 5 kN\nanswer f.stress(tip)\n\
                  x = f.stress(tip) [MPa]\n";
    let one = read(&format!("section s\n{}{forces}", lines.concat()));
    assert!(one.findings.is_empty(), "{:#?}", one.findings);
    let bits = |read: &Read| -> Vec<(String, u64)> {
        let values = read.values.iter();
        values
            .map(|(name, value)| (name.clone(), value.to_bits()))
            .collect()
    };
    let mut order: Vec<usize> = (0..lines.len()).collect();
    for turn in 0..lines.len() {
        order.rotate_left(1);
        order.swap(turn, 0);
        let text: String = order.iter().map(|&line| lines[line]).collect();
        let other = read(&format!("{forces}section s\n{text}"));
        let mut found = bits(&other);
        let mut expected = bits(&one);
        found.sort();
        expected.sort();
        assert_eq!(found, expected);
    }
}

/// Centres by hand, beside each line.
#[test]
fn every_place() {
    let text = "section frame\n\
        \x20   rect skirt 60 x 15 mm below base centred on post\n\
        \x20   rect base 200 x 20 mm\n\
        \x20   rect post 20 x 160 mm above base flush left\n\
        \x20   rect rib 10 x 160 mm above base flush right inset 30 mm\n\
        \x20   rect lug 40 x 12 mm left of post flush top\n\
        \x20   rect clip 25 x 12 mm right of base flush bottom inset 5 mm\n\
        \x20   rect tab 10 x 6 mm right of clip\n\
        \x20   deduct rect slot 4 x 2 mm in base flush left inset 1 mm flush top\n\
        \x20   deduct rect notch 4 x 2 mm in base centred on rib flush bottom\n\
        \x20   circle eye 8 mm at (61 mm, 180 mm)\n";
    let frame = only(text, &[]);
    for (part, x, y) in [
        ("base", 0.0, 10.0),
        ("post", -90.0, 100.0),
        ("rib", 65.0, 100.0),
        ("skirt", -90.0, -7.5),
        ("lug", -120.0, 174.0),
        ("clip", 112.5, 11.0),
        ("tab", 130.0, 11.0),
        ("slot", -97.0, 19.0),
        ("notch", 65.0, 1.0),
        ("eye", 65.0, 184.0),
    ] {
        let (found_x, found_y) = (
            frame.si(&format!("frame.{part}.xbar")),
            frame.si(&format!("frame.{part}.ybar")),
        );
        assert!((found_x - x / 1000.0).abs() < 1e-15, "{part} x {found_x}");
        assert!((found_y - y / 1000.0).abs() < 1e-15, "{part} y {found_y}");
    }
}

#[test]
fn places_that_cannot_be() {
    let with = |line: &str| format!("section s\n    rect a 100 x 10 mm\n{line}");
    only(
        &with("    rect b 10 x 10 mm above c\n"),
        &["unknown-name at \"c\""],
    );
    only(
        &with("    rect b 10 x 10 mm above a flush top\n"),
        &["place-words at \"flush top\""],
    );
    only(
        &with("    rect b 10 x 10 mm above a inset 3 mm\n"),
        &["place-words at \"inset 3 mm\""],
    );
    only(
        &with("    rect b 10 x 10 mm above a flush left flush right\n"),
        &["place-words at \"flush right\""],
    );
    only(
        &with("    rect b 10 x 10 mm above a centred on a flush right\n"),
        &["place-words at \"a\""],
    );
    only(
        &with(
            "    rect b 10 x 10 mm above c\n    rect c 5 x 5 mm above d\n    rect d 5 x 5 mm above b\n",
        ),
        &["ring at \"b\""],
    );
    only(
        &with("    rect b 10 x 10 mm above b\n    rect c 5 x 5 mm above b\n"),
        &["ring at \"b\""],
    );
    only(
        &with("    rect b 10 x 10 mm\n    rect c 10 x 10 mm\n"),
        &[
            "two-parts-without-place at \"b\"",
            "two-parts-without-place at \"c\"",
        ],
    );
    only(
        &with("    point p at top\n    rect b 10 x 10 mm above p\n"),
        &["wrong-reference at \"p\""],
    );
}

#[test]
fn names_are_mended() {
    let found =
        read("section s\n    rect flange 100 x 10 mm\n    rect stem 10 x 80 mm above flagne\n");
    assert_eq!(found.findings[0].repairs, ["Write flange"]);
}

#[test]
fn one_mistake_is_told_once() {
    // The broken part is referred to by others, and used outside.
    let text = "section s\n    rect a 100 x 10 mm above\n    rect b 10 x 10 mm above a\n    \
                point p at top of a\nforces f on s\n    M = 1 kN*m sagging\n\
                x = f.stress(p) [MPa]\ny = s.Ixx*2\nanswer y\n";
    let found = read(text);
    assert_eq!(found.findings.len(), 1, "{:#?}", found.findings);
    assert_eq!(found.get("s.area"), None);
    assert_eq!(found.get("x"), None);
    // The kinds of results are known all the same.
    only(
        "section s\n    rect a 100 x 0 mm\nx = s.Ixx + 1 mm\n",
        &[
            "size-not-positive at \"0 mm\"",
            "unit-mismatch at \"s.Ixx + 1 mm\"",
        ],
    );
}

#[test]
fn sizes_that_cannot_be() {
    only(
        "section s\n    rect a 100 mm x -5 mm\n",
        &["size-not-positive at \"-5 mm\""],
    );
    only(
        "section s\n    rect a 100 mm\n",
        &["number-of-sizes at \"100 mm\""],
    );
    only(
        "section s\n    circle a 10 x 5 mm\n",
        &["number-of-sizes at \"10 x 5 mm\""],
    );
    only(
        "section s\n    round tube a 60 x 31 mm\n",
        &["wall-too-thick at \"31 mm\""],
    );
    only(
        "section s\n    rect a 100 km x 1 um\n",
        &["out-of-proportion at \"a\""],
    );
    only("section s\n", &["no-parts at \"s\""]);
    only(
        "section s\n    deduct rect a 5 x 5 mm\n",
        &["no-parts at \"s\""],
    );
    let post = only(
        "section s\n    ellipse a 100 x 4 mm\n",
        &["size-impossible at \"100\""],
    );
    assert_eq!(post.get("s.area"), None);
    only(
        "section s\n    trapezium a 100 x 60 mm\n",
        &["number-of-sizes at \"100 x 60 mm\""],
    );
}

#[test]
fn material_that_cannot_be() {
    only(
        "section s\n    rect a 100 x 10 mm\n    rect b 10 x 100 mm at (0 mm, 5 mm)\n",
        &["parts-overlap at \"b\""],
    );
    only(
        "section s\n    rect b 10 x 100 mm at (0 mm, 5 mm)\n    rect a 100 x 10 mm\n",
        &["parts-overlap at \"a\""],
    );
    only(
        "section s\n    rect a 100 x 10 mm\n    deduct circle b 4 mm at (48 mm, 3 mm)\n",
        &["deduction-outside at \"b\""],
    );
    only(
        "section s\n    rect a 100 x 10 mm\n    deduct rect b 100 x 10 mm in a\n",
        &["nothing-left at \"a\""],
    );
    let warned = only(
        "section s\n    rect far 10 x 10 mm at (90 mm, 0 mm)\n    rect a 100 x 10 mm\n    \
         deduct rect b 10 x 6 mm in a\n    deduct rect c 20 x 4 mm in a\n",
        &["parts-apart at \"far\"", "deductions-overlap at \"c\""],
    );
    // 100·10 + 10·10 − (10·6 + 20·4 − 10·4)
    close(&warned, "s.area", 1000e-6);
    // A hole right through parts the net section, and is meant to.
    let cut = only(
        "section s\n    rect a 100 x 10 mm\n    deduct rect b 10 x 10 mm in a\n",
        &[],
    );
    close(&cut, "s.area", 900e-6);
    only(
        "section s\n    rect a 100 x 10 mm\n    rect b 5 x 5 mm at (80 mm, 0 mm)\n\
         allow parts-apart for b\n",
        &[],
    );
}

#[test]
fn points() {
    let outside = |line: &str| {
        only(
            &format!("{TEE}    point p {line}\n"),
            &["point-outside at \"p\""],
        )
    };
    outside("at (40 mm, 90 mm)");
    outside("at top left");
    let sides = only(
        &format!("{TEE}    point p at (0 mm, 12 mm) of stem\n    point q at left of stem\n"),
        &[],
    );
    assert!(sides.get("tee.area").is_some());
    only(
        &format!("{TEE}    point p at top of steam\n"),
        &["unknown-name at \"steam\""],
    );
    only(
        &format!("{TEE}    point p at bottom of stem\n    point p at top\n"),
        &["defined-twice at \"p\"", "defined-twice at \"p\""],
    );
}

const MATERIALS: &str = "material timber\n    E = 11 GPa\n    density = 420 kg/m^3\n\
    material steel\n    E = 209 GPa\n    density = 7850 kg/m^3\n";

/// Transformed section (Gere & Goodno, Mechanics of Materials, 7th ed., section 6.3, from memory):
/// n = 209/11 = 19, in mm: A = 90·220 + 19·540, ȳ = (19800·110 − 19·540·3)/A.
#[test]
fn parts_of_two_materials() {
    let text = format!(
        "{MATERIALS}section flitch of timber\n    rect beam 90 x 220 mm\n    \
         rect strap 90 x 6 mm below beam of steel\n"
    );
    let flitch = only(&text, &[]);
    let area = 19800.0 + 19.0 * 540.0;
    close(
        &flitch,
        "flitch.ybar",
        (19800.0 * 110.0 - 19.0 * 540.0 * 3.0) / area / 1e3,
    );
    close(&flitch, "flitch.area", (19800.0 + 540.0) * 1e-6);
    close(&flitch, "flitch.EA", 11e9 * area * 1e-6);
    close(
        &flitch,
        "flitch.mass_per_length",
        (19800.0 * 420.0 + 540.0 * 7850.0) * 1e-6,
    );
    assert_eq!(flitch.get("flitch.plastic_modulus_x"), None);
    only(
        &format!("{text}Z = flitch.plastic_modulus_x [mm^3]\n"),
        &["no-number at \"flitch.plastic_modulus_x\""],
    );
    only(
        &format!("{text}    point low at top of strap\n    point mid at (0 mm, 0 mm)\n"),
        &["point-between-materials at \"mid\""],
    );
}

#[test]
fn materials_that_are_missing() {
    let section = |heading: &str, of: &str| {
        format!("{heading}\n    rect a 90 x 20 mm\n    rect b 90 x 6 mm below a{of}\n")
    };
    let with = |heading: &str, of: &str| format!("{MATERIALS}{}", section(heading, of));
    only(
        &with("section s", " of steel"),
        &["missing-property at \"steel\""],
    );
    only(
        &with("section s of timber", " of stel"),
        &["unknown-name at \"stel\""],
    );
    only(&with("section s of s", " of steel"), &["ring at \"s\""]);
    only(
        &format!(
            "material bare\n    density = 5 kg/m^3\n{}",
            with("section s of timber", " of bare")
        ),
        &["missing-property at \"s\""],
    );
    only(
        &format!(
            "{MATERIALS}section s of timber\n    rect a 90 x 20 mm\n    deduct rect b 9 x 6 mm in a of steel\n"
        ),
        &["material-of-deduction at \"steel\""],
    );
    // The same material twice is one.
    let same = only(&with("section s of steel", " of steel"), &[]);
    assert!(same.get("s.plastic_modulus_x").is_some());
    let plain = only(
        &format!("{TEE}m = tee.mass_per_length\n"),
        &["no-number at \"tee.mass_per_length\""],
    );
    assert_eq!(plain.get("m"), None);
}

#[test]
fn a_material_reaches_the_section_through_a_part() {
    let text = format!(
        "{MATERIALS}section s of timber\n    rect a 90 x 20 mm\n    rect b 90 x 6 mm below a of steel\n"
    );
    let changed = text.replace("E = 209 GPa", "E = 220 GPa");
    assert_eq!(
        support::after_edit(&text, &changed).values,
        read(&changed).values
    );
    let without = text.replace("material steel", "material other");
    let both = support::after_edit(&without, &text);
    assert_eq!(both.values, read(&text).values);
    assert!(both.findings.is_empty(), "{:#?}", both.findings);
}

#[test]
fn results_that_are_not_there() {
    only(
        &format!("{TEE}J = tee.torsion_constant + 1 mm\n"),
        &["unit-mismatch at \"tee.torsion_constant + 1 mm\""],
    );
    only(
        &format!("{TEE}J = tee.Izz\n"),
        &["unknown-result at \"Izz\""],
    );
    only(
        &format!("{TEE}Q = tee.first_moment\n"),
        &["wrong-arguments at \"first_moment\""],
    );
    only(
        &format!("{TEE}Q = tee.first_moment(3 kN)\n"),
        &["wrong-arguments at \"3 kN\""],
    );
    only(
        "section s\n    rect area 30 x 30 mm\n",
        &["hides-result at \"area\""],
    );
}

/// 10·138²/2 in mm, the stem above the centroid.
#[test]
fn first_moment_at_the_centroid() {
    let tee = only(&format!("{TEE}Q = tee.first_moment(tee.ybar)\n"), &[]);
    close(&tee, "Q", 95_220e-9);
}

#[test]
fn what_the_editor_shows() {
    let tee = only(TEE, &[]);
    assert_eq!(
        tee.shown("section tee"),
        ["xbar", "ybar", "Ixx", "section modulus top", "bottom"]
    );
    assert_eq!(tee.shown("    rect flange"), ["area", "xbar", "ybar"]);
}
