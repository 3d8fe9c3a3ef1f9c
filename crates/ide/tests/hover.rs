//! What hovering shows.

mod support;

use support::open;

#[track_caller]
fn check(fixture: &str, expected: &str) {
    let hover = open(fixture).hover();
    assert_eq!(hover.as_deref(), Some(expected));
}

#[test]
fn the_working_of_a_formula() {
    check(
        "A1 = 120 mm * 10 mm
A2 = 8 mm * 140 mm
y1 = 5 mm
y2 = 80 mm
yb‸ar = (A1*y1 + A2*y2)/(A1 + A2)   [mm]  # from the bottom
",
        "```haunch
ybar = (A1*y1 + A2*y2)/(A1 + A2)
     = (1200 mm² * 5 mm + 1120 mm² * 80 mm) / (1200 mm² + 1120 mm²)
     = 41.21 mm
```

length

formula: height of the centroid of two parts (Gere & Goodno, Mechanics of Materials, 7th edition, chapter 12, \
from memory)

from the bottom",
    );
}

#[test]
fn the_standard_result_that_a_formula_is() {
    let text = open("w = 3 kN/m\nL = 4 m\nM_ma‸x = 0.125*w*L*L [kN*m]\n");
    let hover = text.hover().unwrap_or_default();
    let expected = "formula: moment at the middle of a simple beam under a uniform load; or moment at the fixed \
                    end of a propped cantilever under a uniform load, and over the middle support of two equal \
                    spans (AISC Steel Construction Manual, table 3-23, from memory)";
    assert!(hover.contains(expected), "{hover}");
}

/// The name on the left tells which of two results with one form is meant, and where it tells nothing,
/// a form that is anything's is left alone.
#[test]
fn names_tell_which_result_is_meant() {
    let says = |line: &str, word: &str| {
        let text = format!(
            "b = 2 mm\nh = 3 mm\nF = 4 kN\nA = 5 mm^2\nW = 6 mm^3\nI = 7 mm^4\nE = 8 GPa\n{line}\n"
        );
        let hover = open(&text).hover().unwrap_or_default();
        assert!(hover.contains(word), "{line}: {hover}");
        hover
    };
    says("‸Ixx = b*h^3/12", "a rectangle about its centroid");
    says(
        "‸W_pl = b*h^2/4",
        "formula: plastic section modulus of a rectangle (",
    );
    says("‸sigma = F/A", "formula: axial stress (");
    says("‸tau = F/A", "formula: average shear stress (");
    says("‸i = sqrt(I/A)", "formula: radius of gyration (");
    says(
        "‸W_top = I/(h/2)",
        "formula: section modulus of a section whose centroid",
    );
    let price = says("‸share = F/A", "share");
    assert!(!price.contains("formula:"), "{price}");
    let other = says("‸tau_x = b*h^3/12", "tau_x");
    assert!(other.contains("formula: second moment"), "{other}");
}

#[test]
fn a_use_shows_what_its_definition_shows() {
    check(
        "a = 2 mm\nb = a*3\nc = ‸b*2\n",
        "```haunch\nb = a*3\n  = 2 mm * 3\n  = 6.000 mm\n```\n\nlength",
    );
}

#[test]
fn powers_and_negative_numbers_are_enclosed() {
    check(
        "h = 20 mm\ne = -3 mm\nk = 2 kN/m\n‸x = h^3*e*k + h²*e*h*k - sqrt(h^8)*k  [kN*mm^3]\n",
        "```haunch\nx = h^3*e*k + h²*e*h*k - sqrt(h^8)*k\n  = (20 mm)^3 * (-3 mm) * (2 kN/m) + (20 mm)² * (-3 mm) * 20 mm * (2 kN/m) - sqrt((20 mm)^8) * (2 kN/m)\n  = -416.0 kN·mm³\n```",
    );
}

#[test]
fn a_continued_formula_is_shown_on_one_line() {
    check(
        "a‸ = 1 mm # first\n  + 2 mm\n",
        "```haunch\na = 1 mm + 2 mm\n  = 3.000 mm\n```\n\nlength\n\nfirst",
    );
}

#[test]
fn a_value_that_cannot_be_computed_says_so() {
    check(
        "‸b = 1 m + 1 kN\n",
        "```haunch\nb = 1 m + 1 kN\n```\n\nIt has no value: see the findings.",
    );
}

#[test]
fn a_unit_is_described() {
    check(
        "w = 3 k‸N/m\n",
        "`kN/m`: a force per length (kN/m)\n\n`kN`: kilonewton\n\n`m`: metre",
    );
    check(
        "M = 3 m*2 kN [k‸ip-ft]\n",
        "`kip-ft`: a moment (kN·m)\n\n`kip-ft`: kip foot",
    );
}

#[test]
fn a_function_is_described() {
    check(
        "a = s‸qrt(4 m^2)\n",
        "`sqrt(a)`\n\nsquare root; the unit's power is halved",
    );
}

#[test]
fn names_of_other_files() {
    check(
        "=== main.haunch\nuse \"p.haunch\" as p\na = p.‸t*2\n=== p.haunch\nt = 8 mm # plate\n",
        "```haunch\nt = 8 mm\n```\n\nlength\n\nplate",
    );
}

#[test]
fn words_of_a_comment_are_not_markdown() {
    check(
        "‸a = 1 m # *see* [1](http://x)\nallow unused-value\n",
        "```haunch\na = 1 m\n```\n\nlength\n\n\\*see\\* \\[1\\](http://x)",
    );
}

/// J = π·50⁴/32 = 613592 mm⁴.
#[test]
fn how_torsion_was_worked_out() {
    let text = open(
        "results in mm\n\nsection bar\n    circle rod 50 mm\n\nJ = bar.torsion_con‸stant [mm^4]\n",
    );
    let hover = text.hover().unwrap_or_default();
    assert!(
        hover.contains("bar.torsion_constant = 613600 mm⁴"),
        "{hover}"
    );
    assert!(hover.contains("Method: π·(D⁴ − d⁴)/32, exact."), "{hover}");
}

#[test]
fn nothing_where_nothing_stands() {
    assert_eq!(open("a = 1 m   ‸\n").hover(), None);
    assert_eq!(open("# a ‸comment\n").hover(), None);
}

/// Worked out by hand: A = 1200 + 1120 = 2320; A·y = 6000 + 89600 = 95600; ybar = 95600/2320 = 41.2069;
/// own I = 120·10³/12 + 8·140³/12 = 1.83933e6; A·d² = 1200·36.2069² + 1120·38.7931² = 3.25862e6.
#[test]
fn the_table_of_a_section() {
    let section =
        "section tee\n    rect flange 120 x 10 mm\n    rect stem 8 x 140 mm  above flange\n";
    let table = "\
| part | A (mm²) | y (mm) | A·y (mm³) | own I (mm⁴) | d (mm) | A·d² (mm⁴) |
|---|---:|---:|---:|---:|---:|---:|
| flange | 1200 | 5.000 | 6000 | 10000 | -36.21 | 1.573e6 |
| stem | 1120 | 80.00 | 89600 | 1.829e6 | 38.79 | 1.685e6 |
| total | 2320 |  | 95600 | 1.839e6 |  | 3.259e6 |

```haunch
ybar = 95600 mm³ / 2320 mm² = 41.21 mm
Ixx = 1.839e6 mm⁴ + 3.259e6 mm⁴ = 5.098e6 mm⁴
```";
    for fixture in [
        section.replacen("tee", "t‸ee", 1),
        format!("{section}y = tee.yb‸ar\n"),
        format!("{section}forces f on te‸e\n"),
    ] {
        let hover = open(&fixture).hover().expect("a hover");
        assert!(hover.contains(table), "{fixture}\n{hover}");
    }
}

#[test]
fn a_deduction_is_taken_away_in_the_table() {
    let hover = open(
        "section pl‸ate
    rect whole 100 x 10 mm
    deduct rect hole 20 x 10 mm  in whole
",
    )
    .hover()
    .expect("a hover");
    assert!(hover.contains("| hole (deducted) | -200.0 |"), "{hover}");
    assert!(hover.contains("| total | 800.0 |"), "{hover}");
}

#[test]
fn a_largest_value_says_what_governs() {
    let hover = open(
        "material steel
    E = 200 GPa
    limit tension     <= 150 MPa
    limit compression <= 100 MPa
section s of steel
    rect f 60 x 100 mm
forces f on s
    M = 1 kN*m sagging
M_al‸low = largest M of f  [kN*m]
",
    )
    .hover()
    .expect("a hover");
    // 100 MPa · 60·100²/6 mm³ = 10 kN·m
    assert!(
        hover.contains("M_allow = largest M of f\n        = 10.00 kN·m"),
        "{hover}"
    );
    assert!(hover.contains("governed by f.compression"), "{hover}");
}

#[test]
fn what_a_name_without_a_definition_has_to_be() {
    let hover = open("b = 30 mm\nt = 5 mm\ns = FOR‸CE/(b*t) [MPa]\n")
        .hover()
        .expect("a hover");
    assert!(hover.contains("a force"), "{hover}");
}

#[test]
fn what_a_finding_means() {
    check(
        "spare‸ = 3 mm\n",
        "```haunch
spare = 3 mm
```

length

`unused-value`: A number is given and never used.",
    );
    check(
        "a = ‸(3 mm\n",
        "`unmatched-bracket`: A bracket has no partner.",
    );
    check(
        "a = nowh‸ere\n",
        "nowhere is not defined. Give it a value on a line of its own, or check its spelling.

`unknown-name`: No line defines this name.",
    );
}

#[test]
fn what_an_unknown_name_has_to_be() {
    check(
        "b = 40 mm\ns = F‸/b^2 [MPa]\n",
        "F is not defined. Give it a value on a line of its own, or check its spelling. As it is used here it \
         has to be a force (kN).

`unknown-name`: No line defines this name.",
    );
    // Over the use of a name whose definition is broken.
    check(
        "F = 3 kN +\nb = 40 mm\ns = ‸F/b^2 [MPa]\n",
        "```haunch
F = 3 kN +
```

As it is used in line 3, it has to be a force (kN).

As it is used here it has to be a force (kN).",
    );
    // Over the definition itself.
    check(
        "‸F = 3 kN + 2 m\nb = 40 mm\ns = F/b^2 [MPa]\nR = F + 2 kN\n",
        "```haunch
F = 3 kN + 2 m
```

It has no value: see the findings.

As it is used in lines 3 and 4, it has to be a force (kN).",
    );
    check(
        "‸F = 3 kN +\nR = F + 2 kN\nverify F < 3 m\n",
        "```haunch
F = 3 kN +
```

Its uses ask for different things: a force (kN) in line 2; a length (mm) in line 3.",
    );
}

#[test]
fn what_a_formula_asks_of_its_arguments() {
    check(
        "f‸(a, b, c, d, e) = (a + 3 m)*d + b*c^3 [mm^4]\n",
        "```haunch
f(a, b, c, d, e) = (a + 3 m)*d + b*c^3 [mm^4]
```

`a`: a length (mm)

`b*c^3`: a second moment of area (mm⁴)

`d`: a first moment of area (mm³)

`e`: of any dimension",
    );
    check(
        "f(a, b) = ‸a + b\na = 3 kN\n",
        "`a` and `b`: of one dimension

argument of `f`",
    );
}

/// Wheels at 2 m and 4 m of 6 m and one kN/m besides; under the wheel at 2 m: ordinates
/// 2·(6 − 2)/6 = 1.333 m and 2·(6 − 4)/6 = 0.667 m.
#[test]
fn the_sum_of_wheels_times_ordinates() {
    const BEAM: &str = "material steel
    E = 205 GPa
section rail of steel
    rect plate 60 x 240 mm
beam runway of rail
    length = 6 m
    load dead 1 kN/m throughout
    load trolley 12 kN, 6 kN at 0 m, 2 m mov‸ing one way
    combination strength = 1.5*trolley + 1.35*dead
";
    let result = BEAM.replace('‸', "") + "top = runway.M_m‸ax\n";
    let hover = open(&result).hover().expect("there is one");
    assert!(hover.contains("Worst at "), "{hover}");
    assert!(hover.contains(", under strength, trolley at "), "{hover}");
    assert!(hover.contains("1.5 * (12 kN * "), "{hover}");
    assert!(hover.contains("; the other loads: "), "{hover}");
    let place = BEAM.replace('‸', "") + "top = runway.place_of_V_m‸in\n";
    let hover = open(&place).hover().expect("there is one");
    assert!(hover.contains("place_of_V_min = 6.000 m"), "{hover}");
    let line = BEAM
        .replace("mov‸ing", "moving")
        .replace("load tro", "load t‸ro");
    let hover = open(&line).hover().expect("there is one");
    assert!(hover.contains("| V_max | "), "{hover}");
    assert!(
        hover.contains(" | at 0 m, under strength, trolley at 0 m and 2 m |"),
        "{hover}"
    );
}

/// J = π·D⁴/32 = 613 592 mm⁴ for D = 50 mm (Gere & Goodno, 7th edition, section 3.3, from memory).
#[test]
fn a_section_shows_its_torsion_with_the_method() {
    let of = |shape: &str| {
        let fixture = format!("section b‸ar\n    {shape}\n");
        open(&fixture).hover().expect("there is a hover")
    };
    let round = of("circle rod 50 mm");
    let row = "| torsion_constant | 613600 mm⁴ | π·(D⁴ − d⁴)/32, exact |";
    assert!(round.contains(row), "{round}");
    let tee = of("tee cut 100 x 120 x 8 x 10 mm");
    assert!(tee.contains("finite elements, to within"), "{tee}");
    let broken = of("circle rod 50 kN");
    assert!(!broken.contains("torsion"), "{broken}");
}

/// I/c by hand: 40011000/95 mm³; the kern of a rectangle are its middle thirds.
#[test]
fn the_working_of_a_result_of_a_section() {
    let joist = "results in mm\n\nsection joist\n    rect timber 70 x 190 mm\n\n";
    let hover = |result: &str| open(&format!("{joist}a = joist.{result}‸\n")).hover();
    let of = |result: &str| hover(result).unwrap_or_default();
    let modulus = of("section_modulus_top");
    let expected = "```haunch
section_modulus_top = Ixx / to_top
                    = 4.001e7 mm⁴ / 95 mm
                    = 421200 mm³
```";
    assert!(modulus.contains(expected), "{modulus}");
    assert!(
        modulus.contains("section modulus of the topmost fibre"),
        "{modulus}"
    );
    assert!(!modulus.contains("first moment"), "{modulus}");
    let minor = of("I_minor");
    assert!(
        minor.contains("sqrt(((4.001e7 mm⁴ - 5.431e6 mm⁴)/2)^2 + (0 mm⁴)^2)"),
        "{minor}"
    );
    let kern = of("kern_up");
    assert!(
        kern.contains("= 4.001e7 mm⁴ / (13300 mm² * 95 mm)"),
        "{kern}"
    );
    let corner = of("kern_corner_2_y");
    for expected in [
        "(area * distance)",
        "sin(-90 deg)",
        "= 126.7 mm",
        "convex hull",
    ] {
        assert!(corner.contains(expected), "{corner}");
    }
}

/// A section without principal axes along x and y: Ixx/(A·c) is not its kern, and not shown so.
#[test]
fn no_working_that_does_not_give_the_result() {
    let text = open(
        "section corner\n    rect upright 20 x 150 mm\n    \
         rect foot 80 x 20 mm right of upright flush bottom\n\na = corner.kern‸_up [mm]\n",
    );
    let hover = text.hover().unwrap_or_default();
    assert!(
        hover.contains("corner.kern_up = 19.00 mm") && !hover.contains("Ixx"),
        "{hover}"
    );
}

/// Errors of the numerical solution stand beside its results, angles have their unit, and what is
/// not worked out says why.
#[test]
fn torsion_kern_and_angles_of_a_section() {
    let text = open(
        "results in mm\n\nsection cor‸ner\n    rect upright 20 x 150 mm\n    \
         rect foot 80 x 20 mm right of upright flush bottom\n",
    );
    let hover = text.hover().unwrap_or_default();
    let row = |start: &str| {
        let row = hover.lines().find(|line| line.starts_with(start));
        row.unwrap_or_else(|| panic!("{start} in {hover}"))
            .to_owned()
    };
    assert!(row("| principal_angle |").contains("23.05 deg"));
    for member in ["torsion_constant", "warping_constant", "shear_centre_x"] {
        let row = row(&format!("| {member} |"));
        assert!(
            row.contains("finite elements, to within ") && row.contains("mm"),
            "{row}"
        );
    }
    assert!(row("| 1 |").contains("from the centroid, its normal at "));
    let both = open(
        "material a\n    E = 10 GPa\nmaterial b\n    E = 200 GPa\nsection bo‸th of a\n    \
         rect r 60 x 20 mm\n    rect t 60 x 5 mm above r of b\n",
    );
    let hover = both.hover().unwrap_or_default();
    assert!(
        hover.contains("No results of torsion: ") && hover.contains("one material alone"),
        "{hover}"
    );
}

/// M = 2·4²/8 and My = 1·4²/8 kN·m over 100·200²/6 and 200·100²/6 mm³; at 1 m 3/4 of both.
#[test]
fn a_stress_from_moments_both_ways() {
    const BEAM: &str = "material timber
    E = 10 GPa
section rafter of timber
    rect plate 100 x 200 mm
    point low at bottom left
    point high at top left
beam purlin of rafter
    length = 4 m
    load roof 2 kN/m throughout
    load roof 1 kN/m throughout leftwards
";
    let hover = |call: &str| {
        let text = format!("{BEAM}s = {call}  [MPa]\n");
        open(&text).hover().expect("a hover")
    };
    let most = hover("purlin.str‸ess(low)");
    assert!(most.contains("purlin.stress(low) = 12.00 MPa"), "{most}");
    assert!(
        most.contains("At 2 m: moments over section moduli, 4 kN·m/("),
        "{most}"
    );
    assert!(most.contains(" + 2 kN·m/("), "{most}");
    let high = hover("purlin.str‸ess(high, 1 m)");
    assert!(
        high.contains("At 1 m: moments over section moduli, -3 kN·m/("),
        "{high}"
    );
    let moment = hover("purlin.M‸y(1 m)*1 MPa/(1 kN*m)");
    assert!(moment.contains("purlin.My(1 m) = 1.500 kN·m"), "{moment}");
}
