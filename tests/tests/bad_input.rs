//! Whatever is in a file, the program answers: findings and a report, never a panic or a hang.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use haunch_tests::program::{FileOut, check, run};

/// Far above what any of these takes, far below a hang.
const LONG: Duration = Duration::from_secs(20);

fn checked(folder: &Path, text: &str) -> FileOut {
    let path = folder.join("input.haunch");
    fs::write(&path, text).expect("the file can be written");
    let start = Instant::now();
    let (file, _) = check(&path);
    let people = run(&["check", &path.to_string_lossy()]);
    assert!(people.status < 2 && !people.out.is_empty());
    assert!(
        start.elapsed() < LONG,
        "{:?} for {}",
        start.elapsed(),
        &text[..text.len().min(80)]
    );
    file
}

#[track_caller]
fn has(file: &FileOut, code: &str, line: usize) {
    let found = file
        .findings
        .iter()
        .any(|finding| finding.code == code && finding.line == line);
    let all: Vec<_> = file
        .findings
        .iter()
        .map(|f| (&f.code, f.line, &f.message))
        .take(10)
        .collect();
    assert!(found, "{code} on line {line}: {all:?}");
}

#[test]
fn deep_nesting() {
    let folder = tempfile::tempdir().unwrap();
    let deep = |depth: usize| {
        format!(
            "A = {}1 mm{}\nB = 2 mm + 3 mm\nC = 2*A\n",
            "(".repeat(depth),
            ")".repeat(depth)
        )
    };
    let file = checked(folder.path(), &deep(200));
    assert!(file.findings.is_empty() && file.values.contains_key("A"));
    let file = checked(folder.path(), &deep(10_000));
    has(&file, "too-deep", 1);
    assert!(!file.values.contains_key("A") && file.values.contains_key("B"));
    let file = checked(folder.path(), &deep(100_000));
    has(&file, "too-long", 1);
    assert!(!file.values.contains_key("A") && file.values.contains_key("B"));
    let file = checked(
        folder.path(),
        &format!("A = {}\nB = 2 mm + 3 mm\n", "(".repeat(100_000)),
    );
    assert!(!file.findings.is_empty() && file.values.contains_key("B"));
    for operator in ["-", "not ", "if a then b else "] {
        let text = format!("A = {}1\nB = 2 mm + 3 mm\n", operator.repeat(50_000));
        assert!(checked(folder.path(), &text).values.contains_key("B"));
    }
    let text = format!("A = 2{}\nB = 2 mm + 3 mm\n", "^2".repeat(50_000));
    assert!(checked(folder.path(), &text).values.contains_key("B"));
}

#[test]
fn sixty_four_continuations_and_no_more() {
    let folder = tempfile::tempdir().unwrap();
    let with = |lines: usize| format!("A = 1 mm\n{}\nB = 2*A\n", "    + 1 mm\n".repeat(lines));
    let file = checked(folder.path(), &with(64));
    assert!(file.findings.is_empty());
    let a = file.values["A"].si.as_f64().expect("a number");
    assert!((a - 0.065).abs() < 1e-12, "{a}");
    let file = checked(folder.path(), &with(65));
    assert!(!file.findings.is_empty() && !file.values.contains_key("A"));
}

#[test]
fn long_lines_and_names() {
    let folder = tempfile::tempdir().unwrap();
    let name = "a".repeat(100_000);
    checked(
        folder.path(),
        &format!("{name} = 3 mm\nb = 2*{name}  [mm]\n"),
    );
    checked(
        folder.path(),
        &format!("b = {}1 mm\n", "1 mm + ".repeat(20_000)),
    );
    checked(folder.path(), &"é".repeat(200_000));
    checked(
        folder.path(),
        &format!("note {}", "\u{301}".repeat(100_000)),
    );
    checked(folder.path(), &"9".repeat(100_000));
    checked(folder.path(), &format!("x = 1e{}\n", "9".repeat(1000)));
}

#[test]
fn empty_and_almost_empty_files() {
    let folder = tempfile::tempdir().unwrap();
    for text in [
        "",
        "\u{feff}",
        "\n",
        "\r\r\n",
        "    ",
        "#",
        "\0",
        "=",
        "[",
        "\u{feff}\u{feff}a = 1 mm\n",
    ] {
        checked(folder.path(), text);
    }
}

/// Lines of the notation with a character lost, doubled or exchanged, in random order: the same random
/// numbers on every run.
#[test]
fn damaged_lines() {
    let folder = tempfile::tempdir().unwrap();
    let examples: Vec<String> = fs::read_dir(haunch_tests::repository("examples"))
        .expect("the examples can be listed")
        .map(|entry| fs::read_to_string(entry.expect("an entry").path()).expect("an example"))
        .collect();
    let lines: Vec<&str> = examples.iter().flat_map(|text| text.lines()).collect();
    let mut random = Random(0x9e37_79b9_7f4a_7c15);
    for _ in 0..150 {
        let text: String = (0..40)
            .map(|_| damaged(lines[random.below(lines.len())], &mut random))
            .collect();
        checked(folder.path(), &text);
    }
}

fn damaged(line: &str, random: &mut Random) -> String {
    const MARKS: &[char] = &[
        '(', ')', '"', '=', '/', '^', '[', ']', '.', ',', '·', '²', '‸', '\t', '-', '0', '#', '<',
    ];
    let mut characters: Vec<char> = line.chars().collect();
    for _ in 0..random.below(3) {
        let at = random.below(characters.len() + 1);
        let mark = MARKS[random.below(MARKS.len())];
        match random.below(3) {
            0 => characters.insert(at, mark),
            1 if at < characters.len() => {
                characters.remove(at);
            }
            _ if at < characters.len() => characters[at] = mark,
            _ => {}
        }
    }
    characters.into_iter().chain(['\n']).collect()
}

/// xorshift64 (Marsaglia, Journal of Statistical Software 8(14), 2003; from memory).
struct Random(u64);

impl Random {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % limit.max(1) as u64).expect("below a usize")
    }
}
