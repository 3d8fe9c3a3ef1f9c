//! How long an edit takes in files of 1,000, 10,000 and 100,000 lines: the core alone, without a
//! protocol. Run with `cargo bench -p haunch-calc`.

use std::hint::black_box;
use std::time::{Duration, Instant};

use haunch_calc::{Change, Host};
use haunch_text::{Edit, Position, Range};

/// A file of about `lines` lines: small groups of values, each a plate with its properties.
fn file(lines: usize) -> String {
    let mut text = String::from("results in mm, kN, MPa\n");
    for n in 0..lines / 8 {
        text += &format!(
            "b{n} = {} mm\nt{n} = 10 mm\nA{n} = b{n}*t{n} [mm^2]\nI{n} = b{n}*t{n}^3/12 [mm^4]\n\
             y{n} = t{n}/2 + {n} mm\nS{n} = A{n}*y{n} [mm^3]\nW{n} = I{n}/(t{n}/2) [mm^3]\n\n",
            100 + n % 50
        );
    }
    text
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn main() {
    for lines in [1_000, 10_000, 100_000] {
        let text = file(lines);
        let mut host = Host::new();
        let start = Instant::now();
        host.apply(Change::SetText {
            path: "bench.haunch".to_owned(),
            text,
        });
        let opened = start.elapsed();
        let middle = (lines / 16) as u32 * 8 + 1;
        let edit = |host: &mut Host, text: &str, end: u32| {
            // A reader holds the snapshot of the version before, as an editor's requests do.
            let before = host.snapshot();
            let position = |column| Position {
                line: middle,
                column,
            };
            let start = Instant::now();
            host.apply(Change::Edit {
                path: "bench.haunch".to_owned(),
                edits: vec![Edit {
                    range: Range {
                        start: position(0),
                        end: position(end),
                    },
                    text: text.to_owned(),
                }],
            });
            let applied = start.elapsed();
            let snapshot = host.snapshot();
            let file = snapshot
                .file("bench.haunch")
                .unwrap_or_else(|| unreachable!());
            black_box(snapshot.findings(file));
            let told = start.elapsed();
            drop(before);
            (applied, told)
        };
        let mut applied = Vec::new();
        let mut told = Vec::new();
        for n in 0..200 {
            let name = format!("b{} = {} mm", lines / 16, 100 + n);
            let (a, t) = edit(&mut host, &name, 99);
            applied.push(a);
            told.push(t);
        }
        let mut inserted = Vec::new();
        for _ in 0..50 {
            inserted.push(edit(&mut host, "# a new line\n", 0).1);
        }
        println!(
            "{lines:>7} lines: opened in {opened:?}; an edit {:?} ({:?} with its findings); a new line {:?}",
            median(applied),
            median(told),
            median(inserted),
        );
    }
}
