//! Live values, shown in the text that they belong to.

mod support;

use support::open;

/// `expected` is the text with its hints between ⟨ and ⟩; the text itself is what is left without them.
#[track_caller]
fn check(expected: &str) {
    let mut text = String::new();
    let mut hidden = false;
    for character in expected.chars() {
        match character {
            '⟨' => hidden = true,
            '⟩' => hidden = false,
            other if !hidden => text.push(other),
            _ => {}
        }
    }
    assert_eq!(open(&text).with_hints(), expected);
}

#[test]
fn a_value_stands_between_its_formula_and_its_unit() {
    // 120·10 + 8·140 = 2320; (1200·5 + 1120·80)/2320 = 41.2069
    check(
        "A1 = 120 mm * 10 mm⟨ = 1200 mm²⟩
A2 = 8 mm * 140 mm⟨ = 1120 mm²⟩
y1 = 5 mm
y2 = 80 mm
ybar = (A1*y1 + A2*y2)/(A1 + A2)⟨ = 41.21⟩             [mm]
half = ybar/2⟨ = 20.60 mm⟩   # a comment
third = ybar/3⟨ = 13.74 mm⟩ [any length]
",
    );
}

#[test]
fn a_bare_number_is_its_own_value() {
    check("a = 5 mm\nb = -5 mm\nc = (a)⟨ = 5.000 mm⟩\n");
}

#[test]
fn a_broken_formula_has_no_value_and_its_neighbours_keep_theirs() {
    check("a = 5 mm + \nb = a*2\nc = 3 mm*2⟨ = 6.000 mm⟩\nd = 1 m + 1 kN\n");
}

#[test]
fn truths_and_checks_say_whether_they_hold() {
    check(
        "a = 30 mm
b = 40 mm
ok = a < b⟨ = true⟩
verify a <= b⟨  75.00 %⟩
verify b <= a⟨  133.3 %, does not hold⟩
expect a = 30.1 mm within 0.5 mm⟨  agrees⟩
answer ok⟨  = true⟩
",
    );
}

#[test]
fn only_the_lines_asked_for() {
    let opened = open("a = 1 m*2\nb = 1 m*3\nc = 1 m*4\n");
    let hints = haunch_ide::hints(&opened.snapshot, opened.file, 1..2, &|| false);
    assert_eq!(hints.len(), 1);
    assert_eq!(hints[0].label, " = 3000 mm");
    let none = haunch_ide::hints(&opened.snapshot, opened.file, 0..3, &|| true);
    assert_eq!(none, []);
}

#[test]
fn a_continued_formula_has_its_value_at_its_end() {
    check("a = 1 mm\n  + 2 mm⟨ = 3.000⟩ [mm]\n");
}

#[test]
fn the_place_sideways_that_nobody_gave_is_shown() {
    let shown =
        open("section s\n    rect f 120 x 10 mm\n    rect w 8 x 140 mm  above f\n").with_hints();
    assert!(shown.contains("above f⟨ centred on f⟩"), "{shown}");
    let said = "section s\n    rect f 120 x 10 mm\n    rect w 8 x 140 mm  above f flush left\n";
    assert!(!open(said).with_hints().contains("centred"));
}

/// Worked out by hand: A·y/A = 95600/2320 = 41.2069; Ixx = 5.09795e6; Ixx/41.2069 = 123716 at the bottom,
/// Ixx/108.793 = 46859 at the top; 6e6/123716 = 48.50 in tension below, 6e6/46859 = 128.0 in compression above;
/// 128.04/140 = 91.46 %, 48.50/165 = 29.39 %.
#[test]
fn a_section_under_a_moment() {
    check(
        "material plate
    limit tension     <= 165 MPa
    limit compression <= 140 MPa
section tee of plate⟨  xbar 0 mm, ybar 41.21 mm, Ixx 5.098e6 mm⁴, section modulus top 46860 mm³, bottom 123700 mm³⟩
    rect flange 120 x 10 mm⟨  area 1200 mm², xbar 0 mm, ybar 5.000 mm⟩
    rect stem     8 x 140 mm  above flange⟨ centred on flange⟩⟨  area 1120 mm², xbar 0 mm, ybar 80.00 mm⟩
    point edge at top⟨  128.0 MPa compression⟩
    point face at bottom⟨  48.50 MPa tension⟩
forces lift on tee⟨  top 128.0 MPa compression, bottom 48.50 MPa tension, tension 29.39 % face, compression 91.46 % edge⟩
    M = 6 kN*m sagging
    limit compression <= 130 MPa⟨  98.49 % edge⟩
",
    );
}

#[test]
fn two_sets_of_forces_on_one_section_are_told_apart() {
    let shown = open(
        "section s
    rect f 60 x 100 mm
    point e at top
forces one on s
    M = 1 kN*m sagging
forces two on s
    M = 2 kN*m hogging
",
    )
    .with_hints();
    // 60·100²/6 = 100000 mm³
    let point = "point e at top⟨  one: 10.00 MPa compression; two: 20.00 MPa tension⟩";
    assert!(shown.contains(point), "{shown}");
}

/// A line stays readable, and costs the same, however many blocks use the section.
#[test]
fn of_many_blocks_on_one_section_the_first_are_shown() {
    let mut text = "section s\n    rect f 60 x 100 mm\n    point e at top\n".to_owned();
    for number in 1..=40 {
        text += &format!("forces f{number} on s\n    M = {number} kN*m sagging\n");
    }
    let shown = open(&text).with_hints();
    // 60·100²/6 = 100000 mm³
    let point = shown.lines().nth(2).expect("the point");
    assert!(
        point.starts_with("    point e at top⟨  f1: 10.00 MPa compression; f2: 20.00 MPa"),
        "{point}"
    );
    assert!(
        point.ends_with("; f6: 60.00 MPa compression; 34 more use it⟩"),
        "{point}"
    );
}

#[test]
fn a_broken_part_leaves_its_section_without_values() {
    let shown = open(
        "section s
    rect f 60 x
    rect g 10 x 10 mm
    point e at top
forces one on s
    M = 1 kN*m sagging
a = s.Ixx*2
b = 2 mm*3
",
    )
    .with_hints();
    assert_eq!(shown.matches('⟨').count(), 1, "{shown}");
}

/// P·L/4 = 8·6/4.
#[test]
fn wheels_say_where_they_stand_worst() {
    let text = "material steel
    E = 205 GPa
section rail of steel
    rect plate 60 x 240 mm
beam runway of rail
    length = 6 m
    load hoist 8 kN moving
";
    let shown = open(text).with_hints();
    assert!(
        shown.contains("moving⟨  worst M_max 12.00 kN·m at 3 m, hoist at 3 m⟩"),
        "{shown}"
    );
}
