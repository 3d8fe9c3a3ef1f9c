//! Changes of a line's form that keep what it says.

mod support;

use haunch_ide::{Rewrite, RewriteKind, rewrites};
use haunch_text::Range;
use support::{Opened, open};

/// The changes at the mark of a fixture, or at its cursor.
fn found(opened: &Opened) -> Vec<Rewrite> {
    let cursor = Range {
        start: opened.cursor,
        end: opened.cursor,
    };
    let range = opened.marks.first().copied().unwrap_or(cursor);
    rewrites(&opened.snapshot, opened.file, range)
}

fn applied(opened: &Opened, rewrite: &Rewrite) -> String {
    opened.snapshot.after(&rewrite.edits).text(opened.file)
}

fn of_kind(fixture: &str, kind: RewriteKind) -> Vec<String> {
    let opened = open(fixture);
    let found = found(&opened);
    let texts = found.iter().filter(|one| one.kind == kind);
    texts.map(|one| applied(&opened, one)).collect()
}

#[test]
fn a_part_of_a_formula_gets_a_name() {
    let extracted = |fixture: &str| of_kind(fixture, RewriteKind::Extract);
    assert_eq!(
        extracted("b = 2 mm\nA = «b*3 mm» + 1 mm^2  [mm^2]\n"),
        ["b = 2 mm\nvalue_1 = b*3 mm\nA = value_1 + 1 mm^2  [mm^2]\n"]
    );
    assert_eq!(
        extracted("t = 2 mm\r\nsection s\r\n    rect f «t + 8 mm» x 10 mm\r\n"),
        ["t = 2 mm\r\nvalue_1 = t + 8 mm\r\nsection s\r\n    rect f value_1 x 10 mm\r\n"]
    );
    assert_eq!(
        extracted("value_1 = 3 mm\na = value_1*(«4 mm» + 1 mm)\n").len(),
        1
    );
    // An argument is known in its formula only; a number without a unit takes its neighbour's.
    assert!(extracted("f(x) = «x*2» + 1 mm [mm]\na = f(3 mm)\n").is_empty());
    assert!(extracted("section s\n    rect f «10» x 10 mm\n").is_empty());
    // Half of a sum is no part of it.
    assert!(extracted("a = 1 m + «2 m + 3 m»\n").is_empty());
}

#[test]
fn a_name_gives_way_to_what_it_stands_for() {
    let inlined = |fixture: &str| of_kind(fixture, RewriteKind::Inline);
    assert_eq!(
        inlined("b = 2 mm\nc‸ = b + 1 mm\nA = b*c^2/c  [mm^2]\n"),
        ["b = 2 mm\nA = b*(b + 1 mm)^2/(b + 1 mm)  [mm^2]\n"]
    );
    assert_eq!(inlined("a = 3 kN\nb = ‸a/2\n"), ["b = (3 kN)/2\n"]);
    // A result that is answered keeps its name; so does one that another file uses.
    assert!(inlined("a = 1 m\nb‸ = a*2\nanswer b\n").is_empty());
    assert!(
        inlined("=== main.haunch\na‸ = 1 m\n=== p.haunch\nuse \"main.haunch\" as q\nb = q.a\n")
            .is_empty()
    );
    assert!(inlined("a‸ = 1 m # from the drawing\nb = a\n").is_empty());
}

#[test]
fn a_quantity_is_offered_in_units_in_which_it_is_the_same() {
    let units = |fixture: &str| -> Vec<String> {
        let opened = open(fixture);
        let found = found(&opened)
            .into_iter()
            .filter(|one| one.kind == RewriteKind::Rewrite);
        found.map(|one| one.title).collect()
    };
    let metres = units("a = 250‸0 mm\nb = a*2\n");
    assert!(metres.contains(&"Write 2.5 m".to_owned()), "{metres:?}");
    let plate = units("a = 2‸ m\nb = a*2\n");
    assert_eq!(
        plate
            .iter()
            .filter(|title| title.ends_with("m"))
            .collect::<Vec<_>>(),
        [
            "Write 2000 mm",
            "Write 200 cm",
            "Write 20 dm",
            "Write 0.002 km"
        ],
    );
    let stress = units("results in MPa\na = 205‸ GPa\nb = a*2\n");
    assert_eq!(
        stress.first().map(String::as_str),
        Some("Write 205000 MPa"),
        "{stress:?}"
    );
    // 1/3 of a foot is no short number of any other unit.
    assert!(units("a = 1‸ ft 3 in\nb = a\n").is_empty());
    // Exactly 25.4 mm by definition of the inch.
    assert!(units("a = 1‸ in\nb = a\n").contains(&"Write 25.4 mm".to_owned()));
}

#[test]
fn the_present_value_becomes_a_check() {
    let opened = open("results in mm, 4 digits\na = 10 mm/3‸  [mm]\nb = a\n");
    let found = found(&opened);
    let check = found
        .iter()
        .find(|one| one.title.contains("check"))
        .expect("it is offered");
    assert_eq!(
        applied(&opened, check),
        "results in mm, 4 digits\na = 10 mm/3  [mm]\nexpect a = 3.333 mm within 0.1 %\nb = a\n"
    );
    // A given number is its own value.
    let opened = open("a = 10‸ mm\nb = a\n");
    assert!(
        rewrites(&opened.snapshot, opened.file, Range::default())
            .iter()
            .all(|one| !one.title.contains("check"))
    );
}

#[test]
fn a_section_is_worked_out_by_hand() {
    let opened = open(
        "section ra‸il\n    rect flange 120 x 10 mm\n    rect web 8 x 140 mm above flange\n    circle eye 20 mm above web\n    deduct circle hole 4 mm at (-2 mm, 60 mm)\n\na = 1\n",
    );
    let found = found(&opened);
    let hand = found
        .iter()
        .find(|one| one.title.contains("hand"))
        .expect("it is offered");
    let text = applied(&opened, hand);
    assert!(
        text.contains("A1 = 120 mm * 10 mm  # flange\ny1 = 5 mm\nI1 = 120 mm * (10 mm)^3/12\n"),
        "{text}"
    );
    assert!(
        text.contains("\nexpect Ixx = rail.Ixx within 0.01 %\n\na = 1\n"),
        "{text}"
    );
    // Nothing is found in it: the hand calculation agrees with the section to 0.01 %.
    let after = opened.snapshot.after(&hand.edits);
    let before: Vec<_> = opened
        .snapshot
        .findings(opened.file)
        .into_iter()
        .map(|one| one.code.name)
        .collect();
    let now: Vec<_> = after
        .findings(opened.file)
        .into_iter()
        .map(|one| one.code.name)
        .collect();
    assert_eq!(before, now, "{text}");
    // With names taken, others are found.
    let opened = open("A1 = 3 m\nb = A1\nsection s‸\n    rect f 10 x 10 mm\n");
    let rewrites = rewrites(
        &opened.snapshot,
        opened.file,
        Range {
            start: opened.cursor,
            end: opened.cursor,
        },
    );
    let hand = rewrites
        .iter()
        .find(|one| one.title.contains("hand"))
        .expect("it is offered");
    assert!(applied(&opened, hand).contains("A1_s = 10 mm * 10 mm"));
}

#[test]
fn a_hand_calculation_has_the_numbers_of_a_hand() {
    let opened = open(
        "section s‸\n    rect a 160 x 12 mm\n    rect b 8 x 260 mm above a\n    rect c 160 x 12 mm above b\n",
    );
    let by_hand = found(&opened)
        .into_iter()
        .find(|one| one.title.starts_with("Write the hand calculation"));
    let edits = by_hand.expect("it is offered").edits;
    let text: String = edits.iter().map(|(_, _, text)| text.as_str()).collect();
    for line in ["y2 = 142 mm", "y3 = 278 mm", "A2 = 8 mm * 260 mm  # b"] {
        assert!(text.contains(&format!("{line}\n")), "{line} in {text}");
    }
}
