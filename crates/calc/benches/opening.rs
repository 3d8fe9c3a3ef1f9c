//! How long files of several kinds take to open, by their size, and how much memory they then hold: the
//! core alone, from text to findings. Run with `cargo bench -p haunch-calc --bench opening`.
//!
//! Each row is measured in a process of its own, because a process keeps its highest memory. Names of
//! kinds as arguments choose among the rows.

use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

use haunch_calc::{Change, Host};

/// How often a file is opened for its time; the median counts.
const TIMES: usize = 9;

/// A kind of file: its name and the text of its `n`-th group of lines.
type Group = (&'static str, fn(usize) -> String);

const GROUPS: [Group; 4] = [
    ("values", values),
    ("sections", sections),
    ("beams", beams),
    ("findings", findings),
];

/// A plate with its properties.
fn values(n: usize) -> String {
    format!(
        "b{n} = {} mm\nt{n} = 10 mm\nA{n} = b{n}*t{n} [mm^2]\nI{n} = b{n}*t{n}^3/12 [mm^4]\n\
         y{n} = t{n}/2 + {n} mm\nS{n} = A{n}*y{n} [mm^3]\nW{n} = I{n}/(t{n}/2) [mm^3]\n\n",
        100 + n % 50
    )
}

/// A welded tee.
fn sections(n: usize) -> String {
    format!(
        "section tee{n} of plate\n    rect flange {} mm x 10 mm\n    \
         rect stem 6 mm x 150 mm above flange\n    point crown at top\n    \
         point seam at top of flange\nA{n} = tee{n}.area [mm^2]\n\n",
        100 + n % 50
    )
}

/// A beam on two supports.
fn beams(n: usize) -> String {
    format!(
        "beam rail{n} of tee\n    length = {} mm\n    support pin at start\n    \
         support roller at end\n    load hook 4.5 kN at middle\n    load dead 0.2 kN/m throughout\n    \
         limit deflection <= span/400\nM{n} = rail{n}.M_max [kN*m]\n\n",
        2000 + n % 50
    )
}

/// Lines with a slip each: units that do not add up, names that are not there.
fn findings(n: usize) -> String {
    format!(
        "b{n} = {} mm\nc{n} = b{n} + 2 kN\nd{n} = b{n}*missing{n}\ne{n} = b{n}/ [mm]\n",
        100 + n % 50
    )
}

const TOP: &str = "results in mm, kN, MPa\nmaterial plate\n    E = 205 GPa\n    \
                   density = 7850 kg/m^3\n    limit tension <= 165 MPa\n    \
                   limit compression <= 165 MPa\n    limit shear <= 95 MPa\n\n\
                   section tee of plate\n    rect flange 130 mm x 10 mm\n    \
                   rect stem 6 mm x 150 mm above flange\n    point crown at top\n\n";

/// A file of about `lines` lines.
fn file(group: fn(usize) -> String, lines: usize) -> String {
    let mut text = String::from(TOP);
    let of_group = group(0).matches('\n').count();
    for n in 0..lines / of_group {
        text += &group(n);
    }
    text
}

fn open(host: &mut Host, path: &str, text: &str) -> usize {
    host.apply(Change::SetText {
        path: path.to_owned(),
        text: text.to_owned(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file(path).unwrap_or_else(|| unreachable!());
    black_box(snapshot.findings(file)).len()
}

/// Megabytes of a row of `/proc/self/status`; 0 where there is none.
fn memory(row: &str) -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix(row));
    let kilobytes = line.and_then(|rest| rest.split_whitespace().next()?.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

/// One row, in a process of its own.
fn measure(kind: &str, lines: usize, files: usize) {
    let Some((_, group)) = GROUPS.iter().find(|(name, _)| *name == kind) else {
        return;
    };
    let text = file(*group, lines / files);
    let held_before = memory("VmRSS:");
    let mut times = Vec::new();
    let mut kept = None;
    let mut found = 0;
    // The first time counts for memory, with nothing left over from another.
    let mut peak = 0.0;
    let mut held = 0.0;
    for _ in 0..TIMES {
        drop(kept.take());
        let mut host = Host::new();
        let start = Instant::now();
        found = (0..files)
            .map(|n| open(&mut host, &format!("{n}.haunch"), &text))
            .sum();
        times.push(start.elapsed());
        if times.len() == 1 {
            peak = memory("VmHWM:") - held_before;
            held = memory("VmRSS:") - held_before;
        }
        kept = Some(host);
    }
    println!(
        "{kind:>9} {lines:>7} {files:>6} {:>11.1} {:>11.1} {peak:>9.1} {held:>9.1} {found:>8}",
        times[0].as_secs_f64() * 1e3,
        median(times).as_secs_f64() * 1e3,
    );
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [row, kind, lines, files] = arguments.as_slice()
        && row == "row"
    {
        let number = |text: &String| text.parse().unwrap_or(1);
        measure(kind, number(lines), number(files));
        return;
    }
    let wanted = |kind: &str| {
        let named: Vec<_> = arguments
            .iter()
            .filter(|own| !own.starts_with('-'))
            .collect();
        named.is_empty() || named.iter().any(|own| *own == kind)
    };
    println!(
        "{:>9} {:>7} {:>6} {:>11} {:>11} {:>9} {:>9} {:>8}",
        "kind", "lines", "files", "first, ms", "median, ms", "peak, MB", "held, MB", "findings"
    );
    let Ok(own) = std::env::current_exe() else {
        return;
    };
    for (kind, _) in GROUPS.into_iter().filter(|(kind, _)| wanted(kind)) {
        for (lines, files) in [(10_000, 1), (100_000, 1), (10_000, 50)] {
            let row = ["row", kind, &lines.to_string(), &files.to_string()].map(str::to_owned);
            if let Err(failure) = Command::new(&own).args(row).status() {
                println!("{kind}: {failure}");
            }
        }
    }
}
