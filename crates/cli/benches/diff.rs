//! What a comparison of very many files takes: 1,000 files of 189 lines, 4 lines changed in each, as two
//! folders and as two revisions of git. Prints a table; asserts nothing.
//!
//!     cargo build --release -p haunch && cargo bench -p haunch --bench diff
//!
//! `HAUNCH` names another program to measure, `FILES` another number of files.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// How often each comparison is made; the fastest time counts.
const TIMES: usize = 3;

/// A file of 8 sections and 8 beams. The changed one has a thinner web, another flange, a heavier load and
/// a longer beam; two of these meet in one beam.
fn file(number: usize, is_new: bool) -> String {
    let pick = |old: usize, new: usize| if is_new { new } else { old };
    let mut text = format!(
        "# Frame {number}\nuse \"shop.haunch\" as shop\n\nresults in mm, kN, kN*m, MPa, 4 digits\n\n"
    );
    for bay in 0..8 {
        let (web, flange) = match bay {
            2 => (pick(8, 7), pick(120, 110)),
            _ => (8, 120),
        };
        let load = if bay == 2 { pick(60, 65) } else { 60 };
        let length = if bay == 5 { pick(36, 38) } else { 36 };
        let height = 140 + bay + number % 7;
        text.push_str(&format!(
            "web{bay} = {web} mm\n\
             section rail{bay} of shop.plate\n    \
             rect flange{bay} {flange} x 10 mm\n    \
             rect stem{bay} web{bay} x {height} mm  above flange{bay}\n    \
             rect cap{bay} 80 x 8 mm  above stem{bay}\n    \
             point A at bottom\n    \
             point B at top\n\n\
             beam hoist{bay} of rail{bay}\n    \
             length = {}.{} m\n    \
             support pin at start\n    \
             support roller at end\n    \
             load dead self weight\n    \
             load trolley {}.{} kN at middle\n    \
             load floor 1.{bay} kN/m throughout\n    \
             combination strength = 1.35*dead + 1.5*trolley + 1.5*floor\n    \
             combination rest = dead + floor\n    \
             limit deflection <= span/300 under rest\n\n\
             depth{bay} = rail{bay}.depth  [mm]\n\
             worst{bay} = hoist{bay}.strength.M_max  [kN*m]\n\
             verify depth{bay} <= 200 mm\n\n",
            length / 10,
            length % 10,
            load / 10,
            load % 10,
        ));
    }
    text
}

const SHOP: &str = "material plate\n    E = 205 GPa\n    density = 7850 kg/m^3\n    limit tension <= 165 MPa\n    limit compression <= 140 MPa\n    limit shear <= 95 MPa\n";

fn write(folder: &Path, files: usize, is_new: bool) {
    fs::create_dir_all(folder).expect("a folder is made");
    fs::write(folder.join("shop.haunch"), SHOP).expect("a file is written");
    for number in 0..files {
        let path = folder.join(format!("frame{number:04}.haunch"));
        fs::write(path, file(number, is_new)).expect("a file is written");
    }
}

/// The time, the most memory where the system says, and how much was printed.
fn run(program: &Path, folder: &Path, arguments: &[&str]) -> (Duration, Option<u64>, u64) {
    let printed = folder.join("printed");
    let start = Instant::now();
    let mut child = Command::new(program)
        .current_dir(folder)
        .arg("diff")
        .args(arguments)
        .stdout(fs::File::create(&printed).expect("a file is made"))
        .stdin(Stdio::null())
        .spawn()
        .unwrap_or_else(|failure| panic!("{} does not start: {failure}", program.display()));
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    let time = loop {
        let read = fs::read_to_string(&status).unwrap_or_default();
        let line = read.lines().find(|line| line.starts_with("VmHWM"));
        let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok());
        peak = kilobytes.map(|kilobytes: u64| kilobytes / 1000).max(peak);
        if child.try_wait().expect("it was started").is_some() {
            break start.elapsed();
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let bytes = fs::metadata(&printed).map_or(0, |file| file.len());
    let _ = fs::remove_file(&printed);
    (time, peak, bytes)
}

fn git(folder: &Path, arguments: &[&str]) {
    let done = Command::new("git")
        .current_dir(folder)
        .args([
            "-c",
            "user.name=Bench",
            "-c",
            "user.email=bench@example.org",
        ])
        .args(arguments)
        .status();
    assert!(
        done.is_ok_and(|status| status.success()),
        "git {arguments:?}"
    );
}

fn main() {
    let built = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target");
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(built, PathBuf::from);
    let program =
        std::env::var_os("HAUNCH").map_or_else(|| target.join("release/haunch"), PathBuf::from);
    let files = std::env::var("FILES").ok().and_then(|n| n.parse().ok());
    let files: usize = files.unwrap_or(1_000);
    let folder = tempfile::tempdir().expect("a folder is made");
    let top = folder.path();
    write(&top.join("old"), files, false);
    write(&top.join("new"), files, true);
    let repository = top.join("repository");
    write(&repository, files, false);
    git(&repository, &["init", "-q", "."]);
    for is_new in [false, true] {
        write(&repository, files, is_new);
        git(&repository, &["add", "-A"]);
        git(&repository, &["commit", "-q", "-m", "step"]);
    }
    println!("{files} files of {} lines", file(0, false).lines().count());
    let comparisons: [(&Path, &[&str]); 5] = [
        (top, &["old", "new"]),
        (top, &["old", "new", "--format", "markdown"]),
        (top, &["old", "new", "--format", "json"]),
        (top, &["old", "new", "--format", "html"]),
        (&repository, &["HEAD~1..HEAD"]),
    ];
    for (folder, arguments) in comparisons {
        let runs: Vec<_> = (0..TIMES)
            .map(|_| run(&program, folder, arguments))
            .collect();
        let Some((time, peak, bytes)) = runs.into_iter().min() else {
            continue;
        };
        let peak = peak.map_or("?".to_owned(), |peak| peak.to_string());
        println!(
            "  {:<36} {:>7.2} s {peak:>6} MB {:>8.1} MB printed",
            arguments.join(" "),
            time.as_secs_f64(),
            bytes as f64 / 1e6
        );
    }
}
