//! Layout as an editor asks for it: of a file, of some lines, and of the line above.

mod support;

use haunch_ide::{Extent, format};
use haunch_text::split_lines;
use support::open;

/// The text with the edits made.
#[track_caller]
fn laid_out(text: &str, extent: Extent) -> String {
    let opened = open(text);
    let mut lines: Vec<String> = split_lines(text).map(str::to_owned).collect();
    let edits = format(&opened.snapshot, opened.file, &extent);
    let in_order = |pair: &[haunch_text::Edit]| pair[0].range.end <= pair[1].range.start;
    assert!(edits.windows(2).all(in_order), "{edits:?}");
    for edit in edits.iter().rev() {
        let splice = edit.splice(lines.len(), |number| &lines[number]);
        lines.splice(splice.first..splice.first + splice.removed, splice.inserted);
    }
    lines.concat()
}

const BAR: &str =
    "a  =  3 mm\n\n\n\nsection   bar\n      rect  plate   40 x 8 mm\nb =   2*a\n    +   a   [mm]\n";

#[test]
fn a_file() {
    assert_eq!(
        laid_out(BAR, Extent::File),
        "a = 3 mm\n\nsection bar\n    rect plate 40 x 8 mm\nb = 2*a\n    + a     [mm]\n"
    );
    let once = laid_out(BAR, Extent::File);
    assert_eq!(laid_out(&once, Extent::File), once);
    assert_eq!(laid_out("", Extent::File), "");
}

#[test]
fn some_lines_and_those_that_belong_to_them() {
    assert_eq!(
        laid_out(BAR, Extent::Lines(0..1)),
        BAR.replace("a  =  3", "a = 3")
    );
    // A part of an expression brings all of it.
    let whole = BAR.replace("b =   2*a\n    +   a   [mm]", "b = 2*a\n    + a     [mm]");
    assert_eq!(laid_out(BAR, Extent::Lines(7..8)), whole);
    assert_eq!(laid_out(BAR, Extent::Lines(6..7)), whole);
    assert_eq!(laid_out(BAR, Extent::Lines(40..50)), BAR);
}

#[test]
fn the_line_above_the_one_that_is_written() {
    let begun = "a  =  3 mm\n\n\nb   =  4 mm\nc  =\n";
    assert_eq!(
        laid_out(begun, Extent::LineAbove(4)),
        begun.replace("b   =  4", "b = 4")
    );
    // The number of lines stays, and nothing happens above the first line or inside an expression.
    assert_eq!(laid_out(begun, Extent::LineAbove(3)), begun);
    assert_eq!(laid_out(begun, Extent::LineAbove(0)), begun);
    assert_eq!(laid_out(BAR, Extent::LineAbove(7)), BAR);
}

#[test]
fn a_line_that_cannot_be_read_stays() {
    let text = "a  =  = 3\nb  =  3 mm\n";
    assert_eq!(laid_out(text, Extent::File), "a  =  = 3\nb = 3 mm\n");
}
