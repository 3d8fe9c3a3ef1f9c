//! No feature fails at any place of any text.

mod support;

use haunch_calc::{Change, FileId, Host, Snapshot};
use haunch_text::{Position, Range};

#[test]
fn every_feature_at_every_place_of_odd_texts() {
    let texts = [
        "",
        "\u{feff}a = 1 m",
        "a = ((((\n  + \n  *\nsection\n    rect\n    rect f\nbeam b of\n  support\nload\n\t = \n",
        "use \"\nuse \"x.haunch\" as\na = p.\nb = .c\nf( = 2\nf(a) = f(a)\na = b\nb = a\nanswer\nlimit\n",
        "σ̄ = 𝜎²·ȳ [mm²\r\rn\u{0}ote\r\n«»‸ = \"\n[\n]\nresults in\nresults in mm,\nforces f on\nforces on on on\n    M =\n",
        "section s of s\n    rect s 1 x 1 mm of s\n    point s at top of s\nforces s on s\n    N = 1 kN tension\n",
    ];
    for text in texts {
        let mut host = Host::new();
        let path = "odd.haunch".to_owned();
        host.apply(Change::SetText {
            path,
            text: text.to_owned(),
        });
        let snapshot = host.snapshot();
        let file = snapshot.file("odd.haunch").expect("it was given");
        let count = snapshot.line_count(file);
        haunch_ide::hints(&snapshot, file, 0..count + 3, &|| false);
        haunch_ide::symbols(&snapshot, file);
        haunch_ide::highlighting(&snapshot, file, 0..count + 3, &|| false);
        haunch_ide::folds(&snapshot, file, &|| false);
        haunch_ide::links(&snapshot, file, &|| false);
        haunch_ide::workspace_symbols(&snapshot, "s", &|| false);
        haunch_ide::moved_files(
            &snapshot,
            &[("odd.haunch".to_owned(), "a/b.haunch".to_owned())],
        );
        for lens in haunch_ide::lenses(&snapshot, file, &|| false) {
            haunch_ide::lens_words(&snapshot, lens.line, lens.about);
        }
        for line in 0..count as u32 + 2 {
            let width = snapshot.physical_line(file, line as usize).len() as u32;
            for column in 0..width + 3 {
                let at = Position { line, column };
                haunch_ide::hover(&snapshot, file, at);
                haunch_ide::definition(&snapshot, file, at);
                haunch_ide::completions(&snapshot, file, at);
                haunch_ide::actions(&snapshot, file, Range { start: at, end: at }, &|| false);
                haunch_ide::type_definition(&snapshot, file, at);
                haunch_ide::signature(&snapshot, file, at);
                haunch_ide::linked(&snapshot, file, at);
                haunch_ide::selections(&snapshot, file, at);
                let start = Position { line, column: 0 };
                haunch_ide::rewrites(&snapshot, file, Range { start, end: at });
                if let Some(item) = haunch_ide::item_at(&snapshot, file, at) {
                    haunch_ide::users_of_item(&snapshot, item.line);
                    haunch_ide::used_by_item(&snapshot, item.line);
                }
                there_and_back(&snapshot, file, at);
            }
        }
    }
}

/// A name that can be changed can be changed back, and then the text is what it was.
fn there_and_back(snapshot: &Snapshot, file: FileId, at: Position) {
    let prepared = haunch_ide::prepare_rename(snapshot, file, at);
    let edits = haunch_ide::rename(snapshot, file, at, "another_𝜎");
    let (Ok((range, old)), Ok(edits)) = (prepared, edits) else {
        return;
    };
    // A `use` line without a name of its own has one afterwards.
    if edits.iter().any(|(_, _, text)| text.starts_with(" as ")) {
        return;
    }
    let after = snapshot.after(&edits);
    let back = haunch_ide::rename(&after, file, range.start, &old);
    let back = back.unwrap_or_else(|reason| panic!("{old} at {at:?}: {reason}"));
    assert_eq!(
        after.after(&back).text(file),
        snapshot.text(file),
        "{old} at {at:?}"
    );
}

/// The same for every name of whole calculations.
#[test]
fn every_name_of_the_examples_can_be_changed_and_changed_back() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
    let mut host = Host::new();
    for entry in std::fs::read_dir(folder).expect("the examples are there") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("a text");
        let path = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        host.apply(Change::SetText { path, text });
    }
    let snapshot = host.snapshot();
    let mut changed = 0;
    for file in snapshot.files() {
        for symbol in haunch_ide::symbols(&snapshot, file) {
            for one in [&symbol].into_iter().chain(&symbol.children) {
                let at = one.name_range.start;
                changed +=
                    usize::from(haunch_ide::rename(&snapshot, file, at, "another_𝜎").is_ok());
                there_and_back(&snapshot, file, at);
            }
        }
    }
    assert!(changed > 40, "{changed} names could be changed");
}
