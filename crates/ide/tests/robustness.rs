//! No feature fails at any place of any text.

mod support;

use haunch_calc::{Change, Host};
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
        for line in 0..count as u32 + 2 {
            let width = snapshot.physical_line(file, line as usize).len() as u32;
            for column in 0..width + 3 {
                let at = Position { line, column };
                haunch_ide::hover(&snapshot, file, at);
                haunch_ide::definition(&snapshot, file, at);
                haunch_ide::completions(&snapshot, file, at);
                haunch_ide::actions(&snapshot, file, Range { start: at, end: at });
            }
        }
    }
}
