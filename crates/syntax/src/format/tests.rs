//! What a text looks like before and after, and what holds for every text.

use haunch_text::{Edit, Splice, split_lines};
use proptest::prelude::*;

use super::{format, logical_lines, with_edits};
use crate::tests::{is_unit_word, line, read};
use crate::{Statement, TokenKind, Tree, tokens};

fn laid_out(text: &str) -> String {
    with_edits(text, &format(text, is_unit_word))
}

#[track_caller]
fn check(before: &str, after: &str) {
    assert_eq!(laid_out(before), after);
    assert_eq!(laid_out(after), after, "laid out twice");
}

#[test]
fn gaps_within_a_line() {
    for (before, after) in [
        ("a=3  m", "a = 3 m"),
        ("a =b+c  -d", "a = b + c - d"),
        ("a = - b", "a = -b"),
        ("a = b*-c", "a = b*-c"),
        ("a = b * c/ d", "a = b * c/d"),
        ("a = ( b+c ) /d ^ 2", "a = (b + c)/d^2"),
        ("a = 3 mm*b", "a = 3 mm * b"),
        ("a = 2*8 mm", "a = 2 * 8 mm"),
        ("a = (10 mm)^3/12", "a = (10 mm)^3/12"),
        ("a = 5%", "a = 5 %"),
        ("a = 30°", "a = 30°"),
        ("a = 3/4  in", "a = 3/4 in"),
        ("a = 6  ft 3   1/2 in", "a = 6 ft 3 1/2 in"),
        ("a = max( b,c )", "a = max(b, c)"),
        ("f( x,y )=x*y", "f(x, y) = x*y"),
        ("a = if b<c then d else e", "a = if b < c then d else e"),
        ("a = b ²", "a = b²"),
        ("a = b − c·d", "a = b − c·d"),
        ("a = b [ mm ]", "a = b  [mm]"),
        ("a = b [any  length]", "a = b  [any length]"),
        ("verify a<=3 m and b>=c", "verify a <= 3 m and b >= c"),
        (
            "  rect web 8×140 mm above flange",
            "    rect web 8 × 140 mm  above flange",
        ),
        ("\tpoint A at( 0 mm,3 mm )", "    point A at (0 mm, 3 mm)"),
        ("use \"b.haunch\"as p", "use \"b.haunch\" as p"),
        ("note   a  b  ", "note a  b"),
        ("#a  ", "#a"),
        ("a = 3 m # why", "a = 3 m  # why"),
    ] {
        check(&format!("{before}\n"), &format!("{after}\n"));
    }
}

#[test]
fn what_would_be_read_in_another_way_stays() {
    for text in [
        // 3 kN/m, or 3 kN over m.
        "a = 3 kN / m\n",
        "a = 3 kN/m\n",
        "a = 2 kip-ft\n",
        "a = 2 kip - ft\n",
        // 3/4 in is one number, 3 / 4 in is not.
        "a = 3 / 4 in\n",
    ] {
        check(text, text);
    }
}

#[test]
fn broken_lines_stay() {
    let text = "a  =  (3 m\n   colum  c1   \n=======\na = b$  c\n";
    check(text, text);
}

#[test]
fn equals_signs_stand_under_each_other() {
    check(
        "a = 1 m\nlong = 2 m\nf(x)= x\n\nb = 3 m\nverify a > b\nlonger = 1 m\n",
        "a    = 1 m\nlong = 2 m\nf(x) = x\n\nb = 3 m\nverify a > b\nlonger = 1 m\n",
    );
    let far_apart = "a = 1 m\nmuch_longer_than_it = 2 m\n";
    check(far_apart, far_apart);
}

#[test]
fn a_line_in_the_making_does_not_part_its_neighbours() {
    let text = "a    = 1 m\nb = (\nlong = 2 m\n";
    check(text, text);
}

#[test]
fn words_of_a_block_stand_under_each_other() {
    check(
        "section s\n rect flange 110 x 8 mm\n rect stem 10 x 95 mm above flange\n\
         \n point A at top\n point BB at bottom\n\
         beam b of s\n support pin at start as p\n support roller at 3 m as q\n\
         \x20 limit tension <= 3 MPa\n limit shear <= 2 MPa\n load a 1 kN at middle\n load bcd self weight\n",
        "section s\n    rect flange 110 x 8 mm\n    rect stem    10 x 95 mm  above flange\n\
         \n    point A  at top\n    point BB at bottom\n\
         beam b of s\n    support pin    at start as p\n    support roller at 3 m   as q\n\
         \x20   limit tension <= 3 MPa\n    limit shear   <= 2 MPa\n    load a   1 kN at middle\n    load bcd self weight\n",
    );
}

#[test]
fn units_and_comments_stay_in_their_column() {
    let text = "a = b           [mm]\nlonger = b*c*d  [mm^2]\n";
    check(text, "a      = b      [mm]\nlonger = b*c*d  [mm^2]\n");
    // One line that is too long sticks out.
    let text = "a = 1 m     # one\nb = 2 m     # two\nc = 1000000 m  # three\n";
    check(text, text);
    check(
        "a = 1 m # one\nb = 20 m # two\n",
        "a = 1 m   # one\nb = 20 m  # two\n",
    );
}

#[test]
fn continuations_are_indented_once_more() {
    check(
        "a = b\n +c # one\n\t- d  [mm]\nbeam x of y\n length = b\n + c\n",
        "a = b\n    + c  # one\n    - d  [mm]\nbeam x of y\n    length = b\n        + c\n",
    );
}

#[test]
fn empty_lines_and_ends() {
    check("\n\na = 1\n\n  \n\nb = 2\n\n\n", "a = 1\n\nb = 2\n");
    check("a = 1", "a = 1\n");
    check("a = 1\n   ", "a = 1\n");
    check("a = 1\r\n\r\n\r\nb = 2", "a = 1\r\n\r\nb = 2\r\n");
    check("a = 1\rb=2\n", "a = 1\rb = 2\n");
    check("", "");
    check("\n \n", "");
    check("\u{FEFF}a=1", "\u{FEFF}a = 1\n");
    check("\u{FEFF} \n\n\na = 1\n", "\u{FEFF}\na = 1\n");
    // Without its space the second line would be the end of the first.
    check("a = 1\r \n  + b\n", "a = 1\r \n  + b\n");
}

#[test]
fn a_note_of_several_lines_is_kept_to_the_letter() {
    let text = "note  a \n  - b  \n  - c\n";
    check(text, text);
}

/// Lines that can be read and ones that nearly can.
fn text() -> impl Strategy<Value = String> {
    const LINES: &[&str] = &[
        "material steel",
        "E = 205 GPa",
        "density=7850 kg/m^3",
        "limit tension  <= 165 MPa",
        "limit  shear<=9 MPa under c",
        "section rail of steel",
        "rect flange 120 x 10 mm",
        "rect web 8 x  140 mm above flange # web",
        "deduct rect hole 2 x 4 mm in web flush left",
        "point A at top",
        "point longer at( 3 mm,4 mm )",
        "beam hoist of rail",
        "support pin at start as north",
        "support roller   at 3 m as south # bearing",
        "load dead self weight",
        "load trolley 6 kN at middle",
        "combination all = 1.35*dead+1.5*trolley",
        "a=3 m*b",
        "longer_name = a*( b+c )/2 mm  [mm^2] # area",
        "c = 3 kN/m*L",
        "d = 3 kN / m",
        "e = if a<b then -c else 3/4 in",
        "f(x,y) = x ^ 2*y  [any area]",
        "+ b*c # more",
        "- 2 mm*d  [mm]",
        "note  some words  ",
        "# a comment  ",
        "verify a<=b",
        "expect a = 3 m within 1%",
        "a = (b",
        "rect",
        "",
        "   ",
    ];
    let piece = prop_oneof![
        8 => prop::sample::select(LINES).prop_map(str::to_owned),
        1 => line(),
    ];
    let indent = prop::sample::select(&["", "", "  ", "    ", "\t", " \u{A0}"][..]);
    let terminator = prop::sample::select(&["\n", "\n", "\n", "\r\n", "\r", "\n\n\n"][..]);
    let start = prop::sample::select(&["", "", "\u{FEFF}", "\n"][..]);
    let whole = (indent, piece, terminator).prop_map(|(a, b, c)| format!("{a}{b}{c}"));
    (start, prop::collection::vec(whole, 0..12))
        .prop_map(|(a, lines)| a.to_owned() + &lines.concat())
}

/// What a line says.
#[derive(Debug, PartialEq)]
struct Said {
    indented: bool,
    outline: String,
    words: Vec<(TokenKind, String)>,
}

/// What a text says: the tree and the words of every line, those without any left out.
fn said(text: &str) -> Vec<Said> {
    let said = |line: &str| {
        let tree: Tree = read(line);
        let is_broken = !tree.errors.is_empty();
        let words = tokens(line)
            .into_iter()
            .filter(|token| is_broken || !matches!(token.kind, TokenKind::Space))
            .map(|token| (token.kind, token.span.text(line).trim_end().to_owned()))
            .filter(|(kind, _)| !matches!(kind, TokenKind::ByteOrderMark | TokenKind::Terminator));
        let said = Said {
            indented: tree.indented,
            outline: tree.outline(),
            words: words.collect(),
        };
        let says_something = tree.statement != Statement::Empty || tree.comment.is_some();
        says_something.then_some(said)
    };
    logical_lines(text).into_iter().filter_map(said).collect()
}

fn apply_one_by_one(text: &str, edits: &[Edit]) -> String {
    let mut lines: Vec<String> = split_lines(text).map(str::to_owned).collect();
    for edit in edits.iter().rev() {
        let Splice {
            first,
            removed,
            inserted,
        } = edit.splice(lines.len(), |n| &lines[n]);
        lines.splice(first..first + removed, inserted);
    }
    lines.concat()
}

fn holds_for(text: &str) {
    let edits = format(text, is_unit_word);
    for edit in &edits {
        assert!(
            edit.text.chars().all(char::is_whitespace),
            "{edit:?} in {text:?}"
        );
    }
    for pair in edits.windows(2) {
        assert!(
            pair[0].range.end <= pair[1].range.start,
            "{pair:?} in {text:?}"
        );
    }
    let after = with_edits(text, &edits);
    assert_eq!(after, apply_one_by_one(text, &edits), "{text:?}");
    assert_eq!(said(text), said(&after), "{text:?} became {after:?}");
    assert_eq!(
        format(&after, is_unit_word),
        [],
        "{text:?} became {after:?}"
    );
    let solid = |text: &str| {
        text.chars()
            .filter(|c| !c.is_whitespace())
            .collect::<String>()
    };
    assert_eq!(solid(text), solid(&after));
}

#[test]
fn a_mark_never_comes_to_the_start_of_a_file() {
    holds_for("\r\n\u{FEFF}\n");
    holds_for("\n\n\u{FEFF}a=1\n");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn any_text_says_the_same_and_is_laid_out_once(text in any::<String>()) {
        holds_for(&text);
    }

    #[test]
    fn any_lines_say_the_same_and_are_laid_out_once(text in text()) {
        holds_for(&text);
    }

    #[test]
    fn any_pieces_say_the_same_and_are_laid_out_once(lines in prop::collection::vec(line(), 0..6)) {
        holds_for(&lines.join("\n"));
    }
}

#[test]
fn a_stretch_on_one_row_is_the_same_however_it_is_written() {
    let row = |line: &str| {
        let tree = crate::read_line(line, is_unit_word);
        let Statement::Verify(id) = tree.statement else {
            panic!("{line}: {:?}", tree.statement);
        };
        super::on_one_row(line, &tree, tree.expressions[id.0 as usize].span)
    };
    for line in [
        "verify a*b+3 mm <= 200 mm",
        "verify   a*b  +  3 mm<=200mm   # owner's limit",
        "verify a*b\n    + 3 mm <= 200 mm",
        "verify a*b  # web\n    + 3 mm\n    <= 200 mm\n",
    ] {
        assert_eq!(row(line), "a*b + 3 mm <= 200 mm", "{line}");
    }
    assert_eq!(row("verify a * b <= c"), "a * b <= c");
}
