//! Definitions, outlines and repairs.

mod support;

use haunch_ide::{SymbolKind, actions, definition, symbols};
use haunch_syntax::BlockKind;
use support::open;

/// The cursor's name is defined where the fixture has its mark.
#[track_caller]
fn check_definition(fixture: &str) {
    let opened = open(fixture);
    let target = definition(&opened.snapshot, opened.file, opened.cursor).expect("a definition");
    assert_eq!([target.range], opened.marks.as_slice());
}

#[test]
fn a_name_leads_to_its_line() {
    check_definition("b = ‸a*2\n«a» = 1 m\n");
    check_definition("«ȳ₁» = 1 m\nσ = ȳ₁‸ + 1 m\n");
    check_definition("f = g‸(1 m)\n«g»(x) = x*2 [mm]\n");
}

#[test]
fn a_dotted_name_leads_into_its_block_or_file() {
    check_definition("a = s.f‸.area\nsection s\n    rect «f» 10 x 10 mm\n");
    check_definition("a = s.y‸bar\nsection «s»\n    rect f 10 x 10 mm\n");
    check_definition(
        "=== main.haunch\na = p.‸t\nuse \"p.haunch\" as p\n=== p.haunch\n\n«t» = 8 mm\n",
    );
    check_definition("section s of ‸m\n    rect f 10 x 10 mm\nmaterial «m»\n    E = 200 GPa\n");
    check_definition("section s\n    rect «f» 10 x 10 mm\n    rect w 5 x 20 mm above ‸f\n");
}

#[test]
fn a_name_without_a_definition_leads_nowhere() {
    let opened = open("b = ‸a*2\n");
    assert_eq!(
        definition(&opened.snapshot, opened.file, opened.cursor),
        None
    );
}

#[test]
fn the_outline_has_blocks_and_their_lines() {
    let opened = open(
        "a = 2 mm*3\nsection s\n    rect f 10 x 10 mm\n    point p at top\n\n# between\n\nb = a\n",
    );
    let outline = symbols(&opened.snapshot, opened.file);
    let names: Vec<_> = outline
        .iter()
        .map(|symbol| (symbol.name.as_str(), symbol.kind))
        .collect();
    assert_eq!(
        names,
        [
            ("a", SymbolKind::Value),
            ("s", SymbolKind::Block(BlockKind::Section)),
            ("b", SymbolKind::Value)
        ]
    );
    assert_eq!(outline[0].detail, "6.000 mm");
    let under: Vec<_> = outline[1]
        .children
        .iter()
        .map(|symbol| symbol.name.as_str())
        .collect();
    assert_eq!(under, ["f", "p"]);
    assert_eq!(
        (outline[1].range.start.line, outline[1].range.end.line),
        (1, 3)
    );
    assert_eq!(opened.text(opened.file, outline[1].name_range), "s");
}

#[test]
fn a_repair_mends_its_finding() {
    let opened = open("A = 2 mm^2\ny = 3 mm\nx = A*«y»  [mm]\nz = 3 [mm]\n");
    let found = actions(
        &opened.snapshot,
        opened.file,
        haunch_text::Range {
            start: haunch_text::Position { line: 3, column: 0 },
            end: haunch_text::Position { line: 3, column: 9 },
        },
        &|| false,
    );
    let first = found
        .first()
        .expect("a unit in brackets after a bare number has a repair");
    assert!(first.preferred);
    let mut line = opened.snapshot.physical_line(opened.file, 3).to_owned();
    for (_, range, text) in first.edits.iter().rev() {
        line.replace_range(range.start.column as usize..range.end.column as usize, text);
    }
    assert_eq!(line, "z = 3 mm\n");
}
