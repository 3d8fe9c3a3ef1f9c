//! Parts of every shape: sizes, words, turning, designations, and what is said of wrong ones.

mod support;

use support::{close, only, read};

#[track_caller]
fn says(line: &str, head: &str, words: &str) {
    let read = only(&format!("section s\n    {line}\n"), &[head]);
    let message = &read.findings[0].message;
    assert!(message.contains(words), "{message}");
    assert_eq!(read.get("s.area"), None);
}

/// Every shape in a turned position keeps its area, and its second moments as the sum Ixx + Iyy
/// (the polar moment does not depend on the directions of the axes).
#[test]
fn turning_keeps_area_and_polar_moment() {
    let shapes = [
        "rect a 40 x 90 mm",
        "circle a 40 mm",
        "round tube a 60 x 4 mm",
        "box tube a 60 x 80 x 4 mm corner 8 mm",
        "box tube a 60 x 80 x 4 x 6 mm corner 9 mm inner 3 mm",
        "I shape a 90 x 200 x 6 x 9 mm root 12 mm",
        "I shape a 90 x 200 x 6 x 9 mm bottom 120 x 14 mm",
        "tee a 90 x 100 x 6 x 9 mm root 8 mm",
        "channel a 60 x 140 x 7 x 10 mm taper 8 % root 10 mm toe 5 mm",
        "angle a 75 x 100 x 8 mm root 10 mm toe 5 mm",
        "zed a 80 x 200 x 6 x 8 mm root 7 mm",
        "triangle a 90 x 60 mm apex -10 mm",
        "quarter fillet a 12 mm",
        "rolled a \"HE 200B\"",
    ];
    for shape in shapes {
        let plain = only(&format!("section s\n    {shape}\n"), &[]);
        for turn in [
            "turned 90 deg",
            "turned -33 deg",
            "mirrored sideways",
            "mirrored upside down turned 180 deg",
        ] {
            let turned = only(&format!("section s\n    {shape} {turn}\n"), &[]);
            close(&turned, "s.area", plain.si("s.area"));
            let polar = plain.si("s.Ixx") + plain.si("s.Iyy");
            let found = turned.si("s.Ixx") + turned.si("s.Iyy");
            assert!((found - polar).abs() <= 1e-9 * polar, "{shape} {turn}");
            close(&turned, "s.a.area", plain.si("s.a.area"));
        }
        let quarter = only(&format!("section s\n    {shape} turned 90 deg\n"), &[]);
        close(&quarter, "s.Ixx", plain.si("s.Iyy"));
        close(&quarter, "s.width", plain.si("s.depth"));
    }
}

/// What a part's own line gives stands even where the section has no results.
#[test]
fn a_part_alone_has_its_members() {
    let broken = read(
        "section s\n    I shape a 90 x 200 x 6 x 9 mm\n    rect b 10 x 10 mm\n\
         A = s.a.area [mm^2]\n",
    );
    close(&broken, "A", (2.0 * 90.0 * 9.0 + 182.0 * 6.0) * 1e-6);
}

#[test]
fn parts_stand_on_turned_ones_by_their_rectangle() {
    let read = only(
        "section s\n    tee a 150 x 100 x 8 x 10 mm turned 90 deg\n    \
         rect b 100 x 10 mm above a\n    rect c 10 x 20 mm right of a flush bottom\n",
        &["parts-apart at \"c\""],
    );
    close(&read, "s.b.ybar", 0.155);
    close(&read, "s.c.xbar", 0.055);
    close(&read, "s.c.ybar", 0.010);
}

/// The size that is at fault, what would be possible, and nothing else.
#[test]
fn impossible_sizes_say_what_is_possible() {
    says(
        "I shape a 90 x 200 x 6 x 9 mm root 50 mm",
        "size-impossible at \"50 mm\"",
        "root radius of a has to be at most 42",
    );
    says(
        "I shape a 90 x 200 x 90 x 9 mm",
        "size-impossible at \"90\"",
        "web thickness of a has to be less than 90",
    );
    says(
        "box tube a 60 x 80 x 30 mm",
        "size-impossible at \"30 mm\"",
        "wall of a has to be less than 30",
    );
    says(
        "channel a 60 x 140 x 7 x 10 mm taper 40 %",
        "size-impossible at \"40 %\"",
        "taper of a has to be less than",
    );
    says(
        "angle a 75 x 100 x 8 mm toe -1 mm",
        "size-not-positive at \"-1 mm\"",
        "toe radius of a cannot be less than zero",
    );
    says(
        "quarter fillet a 0 mm",
        "size-not-positive at \"0 mm\"",
        "radius of a has to be more than zero",
    );
}

#[test]
fn words_that_do_not_fit_the_shape() {
    says(
        "rect a 90 x 10 mm root 3 mm",
        "size-words at \"root\"",
        "the shape rect has no root",
    );
    says(
        "angle a 75 x 100 x 8 mm root 3 mm root 4 mm",
        "size-words at \"root\"",
        "has root twice",
    );
    says(
        "I shape a 90 x 200 x 6 x 9 mm bottom 120 mm",
        "number-of-sizes at \"bottom\"",
        "bottom B x F",
    );
    says("triangle a 90 x 60 mm", "size-words at \"a\"", "add apex A");
    says(
        "channel a 60 x 140 x 7 x 10 mm taper 8 mm",
        "unit-mismatch at \"8 mm\"",
        "ratio",
    );
    says(
        "polygon a (0, 0) (10, 10) (10, 0) (0 mm, 20 mm)",
        "polygon-corners at \"a\"",
        "cross or touch",
    );
    says(
        "polygon a (0, 0) (10, 10) (20 mm, 20 mm)",
        "polygon-corners at \"a\"",
        "enclose no area",
    );
}

#[test]
fn angles_have_a_unit() {
    says(
        "rect a 90 x 10 mm turned 45",
        "part-turned at \"45\"",
        "45 deg",
    );
    says(
        "rect a 90 x 10 mm turned 90 mm",
        "unit-mismatch at \"90 mm\"",
        "ratio",
    );
    says(
        "polygon a (0, 0) (10, 0) (0 mm, 10 mm) turned 45 deg",
        "part-turned at \"a\"",
        "Give it a place",
    );
    let degrees = read("a = 45\nsection s\n    rect r 90 x 10 mm turned a\n");
    assert!(
        degrees.findings[0]
            .message
            .contains("more than a full turn")
    );
    let radians = only("section s\n    rect r 90 x 10 mm turned pi/2\n", &[]);
    close(&radians, "s.depth", 0.09);
}

/// A bare number takes the unit of the nearest size to its right, also behind a word, but not from
/// a taper.
#[test]
fn bare_numbers_take_the_unit_behind_a_word() {
    let read = only(
        "section s\n    I shape a 90 x 200 x 6 x 9 bottom 120 x 14 mm\n",
        &[],
    );
    close(&read, "s.depth", 0.2);
    let taper = support::read("section s\n    channel a 60 x 140 x 7 x 10 taper 8 %\n");
    assert!(
        taper
            .findings
            .iter()
            .all(|f| f.head.starts_with("unit-mismatch")),
        "{:#?}",
        taper.findings
    );
    assert_eq!(taper.get("s.area"), None);
}

/// A polygon stands where its corners are, to the bit; deducted ones too.
#[test]
fn polygons_stand_where_their_corners_are() {
    let read = only(
        "section s\n    rect plate 100 x 100 mm\n    \
         deduct polygon cut (-50, 0) (-20, 0) (-50 mm, 30 mm)\n",
        &[],
    );
    close(&read, "s.area", 10_000e-6 - 450e-6);
    close(&read, "s.cut.xbar", -0.04);
    let placed = only(
        "section s\n    rect plate 100 x 100 mm\n    \
         deduct polygon cut (0, 0) (30, 0) (0 mm, 30 mm) in plate flush left flush bottom\n",
        &[],
    );
    close(&placed, "s.Ixx", read.si("s.Ixx"));
}

#[test]
fn designations() {
    let unknown = only(
        "section s\n    rolled a \"IPE 310\"\n",
        &["unknown-designation at \"\\\"IPE 310\\\"\""],
    );
    assert!(unknown.findings[0].message.contains("IPE 310"));
    assert_eq!(unknown.get("s.area"), None);
    let deducted = only(
        "section s\n    rect block 300 x 300 mm\n    deduct rolled gap \"ipe100\" in block\n",
        &[],
    );
    let alone = only("section s\n    rolled gap \"IPE 100\"\n", &[]);
    close(&deducted, "s.area", 0.09 - alone.si("s.area"));
}
