//! The shape of a file: what its words are, folds, selections, links, lenses, calls, names of all files.

mod support;

use haunch_ide::{
    FoldKind, HighlightKind, folds, highlighting, lens_words, lenses, links, moved_files,
    selections, signature, workspace_symbols,
};
use support::open;

const NEVER: &dyn Fn() -> bool = &|| false;

fn kinds(text: &str) -> Vec<(String, HighlightKind)> {
    let opened = open(text);
    let found = highlighting(&opened.snapshot, opened.file, 0..99, NEVER);
    let shown = found
        .into_iter()
        .map(|one| (opened.text(opened.file, one.range).to_owned(), one.kind));
    shown.collect()
}

#[test]
fn every_word_has_its_kind() {
    use HighlightKind::*;
    let said: Vec<_> =
        kinds("section s of p.m  # words\n    rect f 10 x b above g\n    point A at top of f\n")
            .into_iter()
            .map(|(text, kind)| format!("{text}:{kind:?}"))
            .collect();
    assert_eq!(
        said.join(" "),
        "section:Keyword s:Block of:Keyword p:Value m:Value # words:Comment rect:Keyword f:Piece 10:Number \
         x:Keyword b:Value above:Keyword g:Value point:Keyword A:Piece at:Keyword top:Keyword of:Keyword f:Piece"
    );
    let said = kinds("f(x) = x*sqrt(4 kN/m)*pi [kN]\n");
    let said: Vec<_> = said
        .iter()
        .map(|(text, kind)| (text.as_str(), *kind))
        .collect();
    assert_eq!(
        said,
        [
            ("f", Function),
            ("x", Argument),
            ("=", Operator),
            ("x", Argument),
            ("*", Operator),
            ("sqrt", Function),
            ("4", Number),
            ("kN/m", Unit),
            ("*", Operator),
            ("pi", Value),
            ("kN", Unit),
        ]
    );
}

#[test]
fn highlights_are_in_order_and_apart() {
    let text = "a = 1 m\n    + 𝜎₁ # x\r\nnote words\nlaod dead 3 kN\nuse \"p.haunch\" as p\nb = p.t.u(3)²\n";
    let opened = open(text);
    let found = highlighting(&opened.snapshot, opened.file, 0..99, NEVER);
    for pair in found.windows(2) {
        assert!(pair[0].range.end <= pair[1].range.start, "{pair:?}");
    }
    assert!(
        found
            .iter()
            .all(|one| one.range.start.line == one.range.end.line)
    );
    let part = highlighting(&opened.snapshot, opened.file, 2..3, NEVER);
    assert_eq!(part.len(), 2, "{part:?}");
}

#[test]
fn blocks_comments_and_uses_fold() {
    let opened = open(
        "# one\n# two\nuse \"a.haunch\"\nuse \"b.haunch\"\nsection s\n    rect f 10 x 10 mm\n\n    # inside\n    point A at top\n\n# after\na = 1 m\n    + 2 m\n",
    );
    let found = folds(&opened.snapshot, opened.file, NEVER);
    let said: Vec<_> = found
        .iter()
        .map(|fold| (fold.first, fold.last, fold.kind))
        .collect();
    assert_eq!(
        said,
        [
            (0, 1, FoldKind::Comment),
            (2, 3, FoldKind::Uses),
            (4, 8, FoldKind::Block),
            (11, 12, FoldKind::Block),
        ]
    );
}

#[test]
fn a_selection_grows_from_word_to_file() {
    let opened = open("x = 1 m\nsection s\n    rect f (b‸ + 2)*c x d\n    point A at top\n");
    let found = selections(&opened.snapshot, opened.file, opened.cursor);
    let within: Vec<_> = found
        .iter()
        .filter(|range| range.start.line == range.end.line)
        .map(|range| opened.text(opened.file, *range))
        .collect();
    assert_eq!(
        within,
        [
            "b",
            "b + 2",
            "(b + 2)",
            "(b + 2)*c",
            "rect f (b + 2)*c x d",
            "    rect f (b + 2)*c x d"
        ]
    );
    let whole: Vec<_> = found
        .iter()
        .map(|range| (range.start.line, range.end.line))
        .collect();
    assert_eq!(whole[6..], [(1, 3), (0, 4)]);
}

#[test]
fn a_use_line_links_to_its_file() {
    let opened = open("=== /a/b/main.haunch\nuse \"«../plates.haunch»\" as p\n");
    let found = links(&opened.snapshot, opened.file, NEVER);
    assert_eq!(found[0].path, "/a/plates.haunch");
    assert_eq!([found[0].range], opened.marks.as_slice());
}

#[test]
fn use_lines_follow_moved_files() {
    let opened = open(
        "=== /a/main.haunch\nuse \"plates.haunch\" as p\nuse \"x/other.haunch\"\n=== /a/plates.haunch\nuse \"x/other.haunch\"\n=== /a/x/other.haunch\nt = 3 mm\n",
    );
    let moved = |moves: &[(&str, &str)]| {
        let moves: Vec<_> = moves
            .iter()
            .map(|(a, b)| (a.to_string(), b.to_string()))
            .collect();
        let edits = moved_files(&opened.snapshot, &moves);
        let shown = edits.into_iter().map(|(file, range, text)| {
            format!(
                "{}:{} {text}",
                opened.snapshot.path(file),
                range.start.line + 1
            )
        });
        shown.collect::<Vec<_>>()
    };
    assert_eq!(
        moved(&[("/a/plates.haunch", "/a/x/p.haunch")]),
        [
            "/a/main.haunch:1 x/p.haunch",
            "/a/plates.haunch:1 other.haunch"
        ]
    );
    assert_eq!(
        moved(&[("/a/x", "/a/y")]),
        [
            "/a/main.haunch:2 y/other.haunch",
            "/a/plates.haunch:1 y/other.haunch"
        ]
    );
    assert!(moved(&[("/a/x/oth", "/a/z")]).is_empty());
}

#[test]
fn lenses_say_uses_limits_and_what_governs() {
    let opened = open(
        "material m\n    E = 200 GPa\n    limit tension <= 165 MPa\n    limit compression <= 165 MPa\nsection s of m\n    rect f 50 x 100 mm\nbeam b of s\n    length = 3 m\n    load dead 10 kN at middle\nP = largest dead of b [kN]\nf(x) = x [mm]\n",
    );
    let found = lenses(&opened.snapshot, opened.file, NEVER);
    let said: Vec<_> = found
        .iter()
        .map(|lens| {
            let words = lens_words(&opened.snapshot, lens.line, lens.about).expect("words");
            format!("{} {words}", lens.range.start.line + 1)
        })
        .collect();
    assert_eq!(
        said,
        [
            "1 1 use",
            "5 1 use",
            // M = 10 kN * 3 m / 4 = 7.5 kN*m; W = 50*100^2/6 mm^3; 7.5e6/83333 = 90 MPa; 90/165
            "7 limits used to 54.55 % (compression)",
            "7 1 use",
            "10 governed by b.compression, top, at 1.5 m",
            "11 not used",
        ]
    );
}

#[track_caller]
fn check_signature(fixture: &str, label: &str, active: &str) {
    let opened = open(fixture);
    let found = signature(&opened.snapshot, opened.file, opened.cursor).expect("a call");
    assert_eq!(found.label, label);
    assert_eq!(
        found.arguments[found.active as usize].text(&found.label),
        active
    );
}

#[test]
fn the_arguments_of_a_call() {
    check_signature("a = sqrt(‸\n", "sqrt(a)", "a");
    check_signature(
        "f(b, h) = b*h [mm^2]\na = f((1 m + 2 m)*sqrt(4), ‸\n",
        "f(b, h)",
        "h",
    );
    check_signature("f(b, h) = b*h [mm^2]\na = f(‸1 m, 2 m)\n", "f(b, h)", "b");
    let beam = "section s\n    rect f 10 x 10 mm\nbeam b of s\n    length = 3 m\n    load dead 1 kN at middle\n";
    check_signature(
        &format!("{beam}a = b.stress(A, ‸)\n"),
        "b.stress(point, x)",
        "x",
    );
    let opened = open("a = (1 m + ‸\n");
    assert_eq!(
        signature(&opened.snapshot, opened.file, opened.cursor),
        None
    );
    let opened = open("a = sqrt(4) # sqrt(‸\n");
    assert_eq!(
        signature(&opened.snapshot, opened.file, opened.cursor),
        None
    );
}

#[test]
fn names_of_all_files_by_their_letters() {
    let opened = open(
        "=== a.haunch\nflange_area = 1 mm^2\nsection s\n    rect flange 10 x 10 mm\n=== b.haunch\nFLA = 3\nother = 2\n",
    );
    let said: Vec<_> = workspace_symbols(&opened.snapshot, "fla", NEVER)
        .into_iter()
        .map(|found| format!("{}/{}", found.container, found.symbol.name))
        .collect();
    assert_eq!(said, ["/FLA", "s/flange", "/flange_area"]);
    assert_eq!(workspace_symbols(&opened.snapshot, "", NEVER).len(), 5);
    assert!(workspace_symbols(&opened.snapshot, "xyz", NEVER).is_empty());
}
