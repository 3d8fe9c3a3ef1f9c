//! How long an edit takes in files of 1,000, 10,000 and 100,000 lines: the core alone, without a
//! protocol. Run with `cargo bench -p haunch-calc`.

use std::hint::black_box;
use std::time::{Duration, Instant};

use haunch_calc::{Change, Host};
use haunch_text::{Edit, Position, Range};

/// A kind of file: its name, the text of its `n`-th group of lines, and what the first line of a group
/// becomes.
type Kind = (
    &'static str,
    fn(usize) -> String,
    fn(usize, usize) -> String,
);

const KINDS: [Kind; 3] = [
    ("values", values, width),
    ("stresses", stresses, moment),
    ("searches", searches, width),
];

/// A plate with its properties.
fn values(n: usize) -> String {
    format!(
        "{}\nt{n} = 10 mm\nA{n} = b{n}*t{n} [mm^2]\nI{n} = b{n}*t{n}^3/12 [mm^4]\n\
         y{n} = t{n}/2 + {n} mm\nS{n} = A{n}*y{n} [mm^3]\nW{n} = I{n}/(t{n}/2) [mm^3]\n\n",
        width(n, n % 50)
    )
}

fn width(n: usize, more: usize) -> String {
    format!("b{n} = {} mm", 100 + more)
}

/// A stress at the nearer fibre of a section that all groups use; one line looks at the farther one.
fn stresses(n: usize) -> String {
    format!(
        "{}\ns{n} = M{n}*tee.to_bottom/tee.Ixx [MPa]\n\n\n",
        moment(n, n % 50)
    )
}

fn moment(n: usize, more: usize) -> String {
    format!("M{n} = {} kN*mm", 100 + more)
}

/// A value with one that uses it, and a plate that is searched for.
fn searches(n: usize) -> String {
    format!(
        "{}\nc{n} = b{n}*2\nt{n} = smallest 4 mm to 6 mm step 1 mm for post{n}\nsection bar{n} of plate\n    \
         rect web t{n} x 140 mm\nforces post{n} on bar{n}\n    N = 12 kN compression\n    \
         limit compression <= 90 MPa\n\n",
        width(n, n % 50)
    )
}

const TOP: &str = "results in mm, kN, MPa\nmaterial plate\n    E = 205 GPa\nsection tee\n    \
                   rect flange 150 x 12 mm\n    rect stem 10 x 180 mm above flange\n\n\
                   far = 1 kN*m*tee.to_top/tee.Ixx\n";

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn main() {
    for (name, group, line) in KINDS {
        println!("{name}");
        for lines in [1_000, 10_000, 100_000] {
            measure(lines, group, line);
        }
    }
}

/// One row: a file of about so many lines, with edits to a group in the middle.
fn measure(lines: usize, group: fn(usize) -> String, line: fn(usize, usize) -> String) {
    let of_group = group(0).lines().count();
    let groups = lines / of_group;
    let text: String = std::iter::once(TOP.to_owned())
        .chain((0..groups).map(group))
        .collect();
    let mut host = Host::new();
    let start = Instant::now();
    host.apply(Change::SetText {
        path: "bench.haunch".to_owned(),
        text,
    });
    let opened = start.elapsed();
    let middle = (TOP.lines().count() + groups / 2 * of_group) as u32;
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
        let found = black_box(snapshot.findings(file)).len();
        let told = start.elapsed();
        drop(before);
        (applied, told, found)
    };
    let mut applied = Vec::new();
    let mut told = Vec::new();
    let mut found = 0;
    for n in 0..200 {
        let (a, t, f) = edit(&mut host, &line(groups / 2, n), 99);
        applied.push(a);
        told.push(t);
        found = f;
    }
    let mut inserted = Vec::new();
    for _ in 0..50 {
        inserted.push(edit(&mut host, "# a new line\n", 0).1);
    }
    println!(
        "{lines:>7} lines, {found} findings: opened in {opened:?}; an edit {:?} ({:?} with its \
         findings); a new line {:?}",
        median(applied),
        median(told),
        median(inserted),
    );
}
