//! Calculations under git: a repository with a history made by the test, and what the program says of it.

mod support;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

use support::{err, out, status};

const FIRST: &str = "\
sheet
    title    = \"Rail of the boat slip\"
    revision = \"A\"
    checked  = \"L. Oduya, 2 March, revision A\"

use \"plates.haunch\" as plates

material steel
    E       = 205 GPa
    density = 7850 kg/m^3
    limit tension     <= 150 MPa
    limit compression <= 130 MPa

t = plates.stem
section rail of steel
    rect flange 130 x 10 mm
    rect stem   t x 150 mm  above flange
    point crown at top

beam slip of rail
    length = 2.8 m
    load dead self weight
    load cradle 6 kN at middle
    combination strength = 1.35*dead + 1.5*cradle
    combination rest     = dead
    limit deflection <= span/400

area = rail.area  [mm^2]
verify area >= 1200 mm^2
answer area \"area of the rail\"
";
const PLATES: &str = "stem = 12 mm\nspare = 8 mm\n\nallow unused-value\n";

/// A repository whose commits each replace words of a file.
struct History {
    folder: TempDir,
}

impl History {
    fn new() -> History {
        let history = History {
            folder: tempfile::tempdir().unwrap(),
        };
        history.git(&["init", "-q", "-b", "main", "."]);
        history.git(&["config", "user.name", "Test"]);
        history.git(&["config", "user.email", "test@example.org"]);
        history.git(&["config", "core.autocrlf", "false"]);
        history
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn git(&self, arguments: &[&str]) -> String {
        let output = Command::new("git")
            .current_dir(self.path())
            .args(arguments)
            .output()
            .expect("git starts");
        assert!(
            output.status.success(),
            "git {arguments:?}: {}",
            err(&output)
        );
        out(&output)
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.path().join(name), text).unwrap();
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path().join(name)).unwrap()
    }

    #[track_caller]
    fn replace(&self, name: &str, from: &str, to: &str) {
        let text = self.read(name);
        assert!(text.contains(from), "{from} in {text}");
        self.write(name, &text.replace(from, to));
    }

    fn commit(&self, tag: &str) {
        self.git(&["add", "-A"]);
        self.git(&["commit", "-q", "-m", tag]);
        self.git(&["tag", tag]);
    }

    fn haunch(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_haunch"))
            .current_dir(self.path())
            .args(arguments)
            .output()
            .expect("the program starts")
    }
}

/// Ten revisions; each step is told by the words that follow it.
fn ten_revisions() -> History {
    let history = History::new();
    history.write("slip.haunch", FIRST);
    history.write("plates.haunch", PLATES);
    history.commit("r1");
    history.replace("plates.haunch", "stem = 12 mm", "stem = 10 mm");
    history.commit("r2");
    history.replace("slip.haunch", "t = plates.stem", "stem_plate = plates.stem");
    history.replace("slip.haunch", "stem   t x", "stem   stem_plate x");
    history.commit("r3");
    history.replace("slip.haunch", "    limit deflection <= span/400\n", "");
    history.replace(
        "slip.haunch",
        "    length = 2.8 m\n",
        "    limit deflection   <=   span/400   # owner\n    length = 2.8 m\n",
    );
    history.commit("r4");
    history.replace("slip.haunch", "span/400", "span/300");
    history.commit("r5");
    history.replace("slip.haunch", "1.35*dead + 1.5*cradle", "1.5*cradle");
    history.commit("r6");
    history.replace("slip.haunch", "cradle 6 kN", "cradle 12 kN");
    history.commit("r7");
    history.replace("slip.haunch", "    limit compression <= 130 MPa\n", "");
    history.commit("r8");
    history.git(&["mv", "slip.haunch", "slipway.haunch"]);
    history.commit("r9");
    history.replace(
        "slipway.haunch",
        "tension     <= 150 MPa",
        "tension     <= 150 MPa\n    limit compression <= 130 MPa",
    );
    history.replace(
        "slipway.haunch",
        "stem_plate x 150 mm",
        "stem_plate x 240 mm",
    );
    history.replace(
        "slipway.haunch",
        "2 March, revision A",
        "9 March, revision B",
    );
    history.replace("slipway.haunch", "revision = \"A\"", "revision = \"B\"");
    history.commit("r10");
    history
}

/// What the step to each revision must be told as: exit status, words that must be there, and words that
/// must not.
const STORY: &[(&str, i32, &[&str], &[&str])] = &[
    (
        "r2",
        1,
        &[
            "stem = 12 mm",
            "stem = 10 mm",
            "3100 mm²",
            "2800 mm²",
            "-9.68 %",
            "L. Oduya",
        ],
        &["DOES NOT HOLD", "removed or loosened"],
    ),
    (
        "r3",
        0,
        &["renamed", "stem_plate = plates.stem"],
        &["removed", "added"],
    ),
    ("r4", 0, &["Nothing changed in meaning"], &["span/400"]),
    (
        "r5",
        1,
        &[
            "the limit on deflection of slip is higher: 7.000 mm before, 9.333 mm now",
            "span/300",
        ],
        &["DOES NOT HOLD"],
    ),
    (
        "r6",
        1,
        &["the case dead was dropped from the combination strength"],
        &["DOES NOT HOLD"],
    ),
    (
        "r7",
        1,
        &[
            "DOES NOT HOLD",
            "slip.compression",
            "load cradle 12 kN at middle",
            "130.0 MPa",
        ],
        &["loosened"],
    ),
    ("r8", 1, &["REMOVED", "slip.compression"], &["renamed"]),
    (
        "r9",
        0,
        &["slipway.haunch"],
        &["REMOVED", "added", "DOES NOT HOLD"],
    ),
    (
        "r10",
        1,
        &["limit compression", "added", "+"],
        &["REMOVED", "not cover"],
    ),
];

#[test]
fn ten_revisions_are_told_in_every_form() {
    let history = ten_revisions();
    for (index, (revision, expected, words, not)) in STORY.iter().enumerate() {
        let range = format!("r{}..{revision}", index + 1);
        for format in ["text", "markdown", "html"] {
            let output = history.haunch(&["diff", &range, "--format", format]);
            status(&output, *expected);
            let text = out(&output)
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace('\\', "");
            for word in *words {
                assert!(text.contains(word), "{range} as {format}: {word}\n{text}");
            }
            for word in *not {
                assert!(
                    !text.contains(word),
                    "{range} as {format}: not {word}\n{text}"
                );
            }
            assert!(text.contains("licensed practitioner's review"));
        }
        let output = history.haunch(&["diff", &range, "--format", "json"]);
        status(&output, *expected);
        let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(json["schema"], 1);
        for result in json["results"].as_array().unwrap() {
            assert!(!result["causes"].as_array().unwrap().is_empty(), "{result}");
        }
    }
}

#[test]
fn checks_come_first() {
    let history = ten_revisions();
    let text = out(&history.haunch(&["diff", "r4", "r7"]));
    let at = |words: &str| {
        text.find(words)
            .unwrap_or_else(|| panic!("{words}\n{text}"))
    };
    assert!(at("Checks removed or loosened") < at("Checks that do not hold"));
    assert!(at("Checks that do not hold") < at("Changed by hand"));
    assert!(at("Changed by hand") < at("What followed"));
}

#[test]
fn the_chain_of_causes_leads_to_the_line() {
    let history = ten_revisions();
    let text = out(&history.haunch(&["diff", "r1", "r2"]));
    assert!(
        text.contains("from plates.haunch line 1 (through t, stem, rail)"),
        "{text}"
    );
}

#[test]
fn what_is_compared() {
    let history = ten_revisions();
    status(&history.haunch(&["diff"]), 0);
    history.replace("slipway.haunch", "240 mm", "230 mm");
    status(&history.haunch(&["diff"]), 1);
    status(&history.haunch(&["diff", "HEAD"]), 1);
    status(&history.haunch(&["diff", "--staged"]), 0);
    history.git(&["add", "-A"]);
    status(&history.haunch(&["diff", "--staged"]), 1);
    status(&history.haunch(&["diff", "plates.haunch"]), 0);
    status(
        &history.haunch(&["diff", "HEAD", "--", "slipway.haunch"]),
        1,
    );
    // Other files are told of only where they are causes.
    let text = out(&history.haunch(&["diff", "HEAD", "--", "plates.haunch"]));
    assert!(!text.contains("230 mm"), "{text}");
    history.replace("plates.haunch", "stem = 10 mm", "stem = 9 mm");
    history.replace("plates.haunch", "spare = 8 mm", "spare = 7 mm");
    let text = out(&history.haunch(&["diff", "HEAD", "--", "slipway.haunch"]));
    assert!(
        text.contains("stem = 9 mm") && !text.contains("spare"),
        "{text}"
    );
    let told = history.haunch(&["diff", "HEAD", "--format", "json", "--", "slipway.haunch"]);
    let told: serde_json::Value = serde_json::from_slice(&told.stdout).unwrap();
    let area = told["results"]
        .as_array()
        .unwrap()
        .iter()
        .find(|result| result["name"] == "area");
    let causes = area.unwrap()["causes"].as_array().unwrap();
    let texts: Vec<&str> = causes
        .iter()
        .map(|cause| {
            told["changes"][cause["change"].as_u64().unwrap() as usize]["new"]["text"]
                .as_str()
                .unwrap()
        })
        .collect();
    assert_eq!(
        texts,
        ["stem = 9 mm", "rect stem stem_plate x 230 mm above flange"]
    );
    history.git(&["checkout", "-q", "--", "plates.haunch"]);
    // A branch that left main before main went on.
    history.git(&["stash", "-q"]);
    history.git(&["checkout", "-q", "-b", "side", "r5"]);
    history.replace("plates.haunch", "spare = 8 mm", "spare = 9 mm");
    history.commit("side1");
    let text = out(&history.haunch(&["diff", "main...HEAD"]));
    assert!(
        text.contains("spare = 9 mm") && !text.contains("slipway"),
        "{text}"
    );
    status(&history.haunch(&["diff", "main...HEAD"]), 0);
    let output = history.haunch(&["diff", "no-such-revision"]);
    status(&output, 2);
    assert!(
        err(&output).contains("no such revision"),
        "{}",
        err(&output)
    );
}

#[test]
fn what_changed_since_the_last_recorded_check() {
    let history = ten_revisions();
    let since = |file: &str| history.haunch(&["diff", "--since-check", file]);
    // Revision B was checked when it was committed.
    let output = since("slipway.haunch");
    status(&output, 0);
    assert!(
        out(&output).contains("the last recorded check in commit"),
        "{}",
        out(&output)
    );
    history.replace("plates.haunch", "stem = 10 mm", "stem = 9 mm");
    let output = since("slipway.haunch");
    status(&output, 1);
    assert!(
        out(&output).contains("checked by L. Oduya, 9 March, revision B, before these changes"),
        "{}",
        out(&output)
    );
    history.git(&["checkout", "-q", "--", "."]);
    // What was checked as revision A is eight commits ago, under another path of the file.
    history.git(&["checkout", "-q", "r9"]);
    let output = since("slipway.haunch");
    status(&output, 1);
    for words in [
        "3100 mm²",
        "REMOVED",
        "the case dead was dropped",
        "L. Oduya, 2 March",
    ] {
        assert!(out(&output).contains(words), "{words}\n{}", out(&output));
    }
    history.replace("slipway.haunch", "2 March", "3 March");
    let output = since("slipway.haunch");
    status(&output, 2);
    assert!(
        err(&output).contains("not committed yet"),
        "{}",
        err(&output)
    );
    let output = since("plates.haunch");
    status(&output, 2);
    assert!(
        err(&output).contains("nobody is recorded"),
        "{}",
        err(&output)
    );
}

#[test]
fn fail_on_limit_passes_over_other_changes() {
    let history = ten_revisions();
    status(
        &history.haunch(&["diff", "r1..r2", "--fail-on", "limit"]),
        0,
    );
    for range in ["r4..r5", "r5..r6", "r6..r7", "r7..r8"] {
        status(&history.haunch(&["diff", range, "--fail-on", "limit"]), 1);
    }
}

#[test]
fn files_and_folders_without_git() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    for (side, plates) in [("old", "stem = 12 mm\n"), ("new", "stem = 9 mm\n")] {
        fs::create_dir(path.join(side)).unwrap();
        fs::write(path.join(side).join("plates.haunch"), plates).unwrap();
        fs::write(path.join(side).join("slip.haunch"), FIRST).unwrap();
    }
    let diff = |a: &str, b: &str| {
        Command::new(env!("CARGO_BIN_EXE_haunch"))
            .current_dir(path)
            .args(["diff", a, b])
            .output()
            .unwrap()
    };
    let output = diff("old", "new");
    status(&output, 1);
    assert!(
        out(&output).contains("from plates.haunch line 1"),
        "{}",
        out(&output)
    );
    // The files are the same, those that they use are not.
    status(&diff("old/slip.haunch", "new/slip.haunch"), 1);
    status(&diff("old/slip.haunch", "old/slip.haunch"), 0);
    status(&diff("old", "old/slip.haunch"), 2);
}

#[test]
fn git_shows_values_after_git_setup_and_not_after_its_undoing() {
    let history = ten_revisions();
    let before = history.git(&["config", "--local", "--list"]);
    let output = history.haunch(&["git-setup", "--yes"]);
    status(&output, 0);
    assert!(
        out(&output).contains(".gitattributes") && out(&output).contains("diff.haunch.textconv")
    );
    assert_eq!(history.read(".gitattributes"), "*.haunch diff=haunch\n");
    let program = format!("'{}' fill", env!("CARGO_BIN_EXE_haunch"));
    let shown = history.git(&[
        "-c",
        &format!("diff.haunch.textconv={program}"),
        "diff",
        "r1",
        "r2",
    ]);
    assert!(shown.contains("stem = 10 mm"), "{shown}");
    history.replace("slipway.haunch", "240 mm", "230 mm");
    let shown = history.git(&["-c", &format!("diff.haunch.textconv={program}"), "diff"]);
    assert!(
        shown.contains("+area = rail.area⟨= 3600⟩  [mm^2]"),
        "{shown}"
    );
    assert!(
        shown.contains("-area = rail.area⟨= 3700⟩  [mm^2]"),
        "{shown}"
    );
    status(&history.haunch(&["git-setup", "--yes"]), 0);
    status(&history.haunch(&["git-setup", "--undo", "--yes"]), 0);
    assert!(!history.path().join(".gitattributes").exists());
    assert_eq!(history.git(&["config", "--local", "--list"]), before);
}

#[test]
fn git_setup_writes_nothing_unless_told_to() {
    let history = ten_revisions();
    history.write(".gitattributes", "*.txt text");
    let output = history.haunch(&["git-setup"]);
    assert!(
        out(&output).contains("nothing was written"),
        "{}",
        out(&output)
    );
    assert_eq!(history.read(".gitattributes"), "*.txt text");
    status(&history.haunch(&["git-setup", "--yes"]), 0);
    assert_eq!(
        history.read(".gitattributes"),
        "*.txt text\n*.haunch diff=haunch\n"
    );
    history.git(&["config", "diff.haunch.textconv", "other"]);
    status(&history.haunch(&["git-setup", "--yes"]), 2);
}

#[test]
fn a_file_is_filled_in_the_same_way_every_time() {
    let history = ten_revisions();
    let once = out(&history.haunch(&["fill", "slipway.haunch"]));
    assert_eq!(once, out(&history.haunch(&["fill", "slipway.haunch"])));
    assert!(once.contains("verify area >= 1200 mm^2⟨32.43 %⟩"), "{once}");
    let plain: String = {
        let mut depth = 0;
        let keep = |c: &char| {
            match c {
                '⟨' => depth += 1,
                '⟩' => {
                    depth -= 1;
                    return false;
                }
                _ => {}
            }
            depth == 0
        };
        once.chars().filter(keep).collect()
    };
    assert_eq!(plain, history.read("slipway.haunch"));
}

#[test]
fn used_files_are_those_of_the_revision_where_it_is_known() {
    let history = ten_revisions();
    // The plate was 12 mm at first; the file that uses it did not change.
    let first = out(&history.haunch(&["fill", "r1:slip.haunch"]));
    assert!(first.contains("area = rail.area⟨= 3100⟩"), "{first}");
    assert!(
        first.contains("use \"plates.haunch\" as plates⟨as in r1⟩\n"),
        "{first}"
    );
    let second = out(&history.haunch(&["fill", "r2:slip.haunch"]));
    assert!(second.contains("area = rail.area⟨= 2800⟩"), "{second}");
    // Git names no revision: that today's plate was read is said in the output.
    let copies = history.path().join("git-blob-0");
    fs::create_dir(&copies).unwrap();
    fs::write(
        copies.join("slipway.haunch"),
        history.git(&["show", "r1:slip.haunch"]),
    )
    .unwrap();
    let copy = out(&history.haunch(&["fill", "git-blob-0/slipway.haunch"]));
    assert!(copy.contains("area = rail.area⟨= 2800⟩"), "{copy}");
    assert!(
        copy.contains("use \"plates.haunch\" as plates⟨as on disk⟩\n"),
        "{copy}"
    );
    for (named, words) in [
        ("r99:slip.haunch", "git knows no such revision"),
        ("r1:slipway.haunch", "there is no such file in r1"),
        ("nothing.haunch", "there is no such file"),
    ] {
        let output = history.haunch(&["fill", named]);
        status(&output, 2);
        assert!(err(&output).contains(words), "{}", err(&output));
    }
}

#[test]
fn a_conflict_leaves_the_rest_computed() {
    let history = ten_revisions();
    history.git(&["checkout", "-q", "-b", "one"]);
    history.replace("plates.haunch", "stem = 10 mm", "stem = 9 mm");
    history.commit("one1");
    history.git(&["checkout", "-q", "main"]);
    history.replace("plates.haunch", "stem = 10 mm", "stem = 11 mm");
    history.commit("main1");
    for style in ["merge", "diff3"] {
        let merged = Command::new("git")
            .current_dir(history.path())
            .args([
                "-c",
                &format!("merge.conflictStyle={style}"),
                "merge",
                "one",
            ])
            .output()
            .unwrap();
        assert!(!merged.status.success());
        let output = history.haunch(&["check", "plates.haunch", "--format", "json"]);
        status(&output, 1);
        let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let file = &report["files"][0];
        let codes: Vec<&str> = file["findings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|finding| finding["code"].as_str().unwrap())
            .collect();
        let marks = codes
            .iter()
            .filter(|code| **code == "conflict-marker")
            .count();
        assert_eq!(marks, if style == "merge" { 3 } else { 4 }, "{codes:?}");
        assert_eq!(file["values"]["spare"]["text"], "8.000 mm");
        assert_eq!(file["values"]["stem"], serde_json::Value::Null);
        history.git(&["merge", "--abort"]);
    }
}

#[test]
fn results_on_record() {
    let history = ten_revisions();
    status(&history.haunch(&["baseline", "."]), 0);
    let record = history.read("haunch-results.txt");
    assert!(
        record.starts_with("haunch results, written by haunch "),
        "{record}"
    );
    assert!(
        record.contains("slipway.haunch  area  3700.00 mm²\n"),
        "{record}"
    );
    let lines: Vec<&str> = record.lines().skip(1).collect();
    let mut sorted = lines.clone();
    sorted.sort();
    assert_eq!(lines, sorted);
    status(&history.haunch(&["check", ".", "--baseline"]), 0);
    history.commit("recorded");
    history.replace("slipway.haunch", "130 x 10 mm", "131 x 10 mm");
    let output = history.haunch(&["check", ".", "--baseline"]);
    status(&output, 1);
    assert!(
        out(&output).contains("slipway.haunch: area  now 3710.00 mm²; on record: 3700.00 mm²"),
        "{}",
        out(&output)
    );
    status(&history.haunch(&["baseline", "."]), 0);
    let shown = history.git(&["diff", "--", "haunch-results.txt"]);
    assert!(
        shown.contains("+slipway.haunch  area  3710.00 mm²"),
        "{shown}"
    );
    // Another version of the program gave another result where no line changed.
    history.git(&["checkout", "-q", "--", "slipway.haunch"]);
    history.write(
        "haunch-results.txt",
        &record
            .replace("3700.00", "3699.00")
            .replace("by haunch 0", "by haunch 99"),
    );
    history.commit("other");
    let output = history.haunch(&["diff", "HEAD"]);
    status(&output, 1);
    assert!(
        out(&output).contains("though no line changed"),
        "{}",
        out(&output)
    );
    assert!(
        out(&output).contains("area  3699.00 mm² by haunch 99"),
        "{}",
        out(&output)
    );
}

#[test]
fn laying_out_changes_nothing_on_record() {
    let history = History::new();
    history.write(
        "a.haunch",
        "a=3 mm\nb = 2*a  [mm]\nverify   a*2+1 mm<=b  # just\n    + 2 mm\nverify a >= 2 mm\nexpect 2 * b=12 mm within 1 %\n",
    );
    status(&history.haunch(&["baseline", "."]), 0);
    let record = history.read("haunch-results.txt");
    assert!(
        record.contains("a.haunch  verify a*2 + 1 mm <= b + 2 mm  holds"),
        "{record}"
    );
    status(&history.haunch(&["format", "."]), 0);
    status(&history.haunch(&["check", ".", "--baseline"]), 0);
    status(&history.haunch(&["baseline", "."]), 0);
    assert_eq!(history.read("haunch-results.txt"), record);
}

#[test]
fn records_merge_line_by_line() {
    let history = History::new();
    let text: String = (0..9)
        .map(|i| format!("a{i} = {} mm\nb{i} = 2*a{i}  [mm]\n\n", i + 1))
        .collect();
    history.write("a.haunch", &text);
    status(&history.haunch(&["baseline", "."]), 0);
    history.commit("base");
    for (branch, line) in [("left", "a1 = 2 mm"), ("right", "a7 = 8 mm")] {
        history.git(&["checkout", "-q", "-b", branch, "base"]);
        history.replace("a.haunch", line, &line.replace(" mm", "0 mm"));
        status(&history.haunch(&["baseline", "."]), 0);
        history.commit(&format!("{branch}1"));
    }
    history.git(&["merge", "-q", "left", "-m", "both"]);
    let output = history.haunch(&["check", ".", "--baseline"]);
    status(&output, 0);
}

#[test]
fn only_what_changed_and_what_uses_it() {
    let history = ten_revisions();
    history.write("other.haunch", "a = 3 mm\nb = 2*a  [mm]\n");
    history.commit("more");
    history.replace("plates.haunch", "stem = 10 mm", "stem = 9 mm");
    let whole = history.haunch(&["check", ".", "--format", "json"]);
    let part = history.haunch(&["check", ".", "--format", "json", "--changed-since", "HEAD"]);
    let read =
        |output: &Output| -> serde_json::Value { serde_json::from_slice(&output.stdout).unwrap() };
    let (whole, part) = (read(&whole), read(&part));
    let files: Vec<&str> = part["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["path"].as_str().unwrap())
        .collect();
    assert_eq!(files, ["./plates.haunch", "./slipway.haunch"]);
    for file in part["files"].as_array().unwrap() {
        assert!(whole["files"].as_array().unwrap().contains(file));
    }
    history.git(&["checkout", "-q", "--", "."]);
    let output = history.haunch(&["check", ".", "--changed-since", "HEAD"]);
    status(&output, 0);
    assert!(out(&output).contains("no calculation changed"));
    status(
        &history.haunch(&["check", ".", "--changed-since", "nowhere"]),
        2,
    );
}

#[test]
fn the_page_draws_sections_old_over_new() {
    let history = ten_revisions();
    let page = |range: &str| out(&history.haunch(&["diff", range, "--format", "html"]));
    let thinner = page("r1..r2");
    assert!(
        thinner.contains("<figcaption>slip.haunch: section rail</figcaption>"),
        "{thinner}"
    );
    assert_eq!(thinner.matches("<path").count(), 2);
    assert!(!page("r6..r7").contains("<svg"));
}

#[test]
fn files_that_come_and_go_are_told_as_a_whole() {
    let history = ten_revisions();
    history.write("extra.haunch", "a = 3 mm\nverify a >= 4 mm\n");
    history.git(&["add", "-A"]);
    history.git(&["rm", "-q", "slipway.haunch"]);
    for format in ["text", "markdown", "html"] {
        let output = history.haunch(&["diff", "--staged", "--format", format]);
        status(&output, 1);
        let text = out(&output).replace('\\', "");
        for words in [
            "extra.haunch is a new file of 2 lines",
            "slipway.haunch was removed, ",
            "the new file",
            "the removal of the file",
            "REMOVED",
        ] {
            assert!(text.contains(words), "{format}: {words}\n{text}");
        }
        assert!(!text.contains("7850 kg/m^3"), "{text}");
    }
}

/// The `run:` lines of the action's steps.
fn action_steps() -> Vec<String> {
    let action =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.github/actions/haunch-check/action.yml");
    let text = fs::read_to_string(action).unwrap();
    let runs = text
        .lines()
        .filter_map(|line| line.trim().strip_prefix("run: "));
    runs.map(str::to_owned).collect()
}

/// The path on which programs are looked for, the one under test first.
fn path_with_haunch() -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_haunch"));
    let path = std::env::var("PATH").unwrap_or_default();
    format!("{}:{path}", program.parent().unwrap().display())
}

/// The steps of the action, each as a runner starts it: in a shell that ends at the first failure, with
/// the action's folder and its inputs in the environment.
#[test]
fn the_action_checks_and_compares() {
    let history = ten_revisions();
    history.git(&["checkout", "-q", "-b", "side", "r6"]);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.github/actions/haunch-check");
    let summary = history.path().join("summary.md");
    let steps = action_steps();
    assert_eq!(steps.len(), 2, "{steps:?}");
    let run = |since: &str, record: &str| {
        let mut last = None;
        for step in &steps {
            let output = Command::new("bash")
                .current_dir(history.path())
                .args(["--noprofile", "--norc", "-e", "-o", "pipefail", "-c", step])
                .env("PATH", path_with_haunch())
                .env("GITHUB_ACTION_PATH", &folder)
                .env("HAUNCH_PATHS", "slip.haunch plates.haunch")
                .env("HAUNCH_RECORD", record)
                .env("HAUNCH_SINCE", since)
                .env("GITHUB_STEP_SUMMARY", &summary)
                .output()
                .unwrap();
            let failed = !output.status.success();
            last = Some(output);
            if failed {
                break;
            }
        }
        last.unwrap()
    };
    let output = run("r4", "");
    status(&output, 0);
    let told = fs::read_to_string(&summary).unwrap();
    assert!(
        told.contains("the limit on deflection of slip is higher"),
        "{told}"
    );
    status(&run("nowhere", ""), 2);
    status(
        &history.haunch(&["baseline", "slip.haunch", "plates.haunch"]),
        0,
    );
    status(&run("", "haunch-results.txt"), 0);
    history.replace("slip.haunch", "cradle 6 kN", "cradle 7 kN");
    status(&run("", "haunch-results.txt"), 1);
    history.replace("slip.haunch", "cradle 7 kN", "cradle 20 kN");
    let output = run("", "");
    status(&output, 1);
    assert!(
        out(&output).contains("::error file=slip.haunch,line="),
        "{}",
        out(&output)
    );
}

/// The hooks that are offered, started by git itself: their entries with the staged files that they are
/// for, as the programs that run such hooks start them.
#[test]
fn hooks_stop_a_commit_that_does_not_hold() {
    let offered = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.pre-commit-hooks.yaml");
    let text = fs::read_to_string(offered).unwrap();
    let entries: Vec<&str> = text
        .lines()
        .filter_map(|line| line.trim().strip_prefix("entry: "))
        .collect();
    assert_eq!(entries, ["haunch check", "haunch format"]);
    let history = ten_revisions();
    let mut hook = "#!/usr/bin/env bash\nset -e -o pipefail\n".to_owned();
    for entry in entries {
        hook.push_str(&format!(
            "git diff --cached --name-only --diff-filter=d -z -- '*.haunch' | xargs -0 -r {entry}\n"
        ));
    }
    // A hook that changes files stops the commit too.
    hook.push_str("git diff --exit-code --name-only\n");
    let file = history.path().join(".git/hooks/pre-commit");
    fs::write(&file, hook).unwrap();
    let made = Command::new("chmod").arg("+x").arg(&file).status().unwrap();
    assert!(made.success());
    let commit = || {
        Command::new("git")
            .current_dir(history.path())
            .args(["commit", "-q", "-a", "-m", "step"])
            .env("PATH", path_with_haunch())
            .output()
            .unwrap()
    };
    history.replace("slipway.haunch", "cradle 12 kN", "cradle 40 kN");
    let refused = commit();
    assert!(!refused.status.success());
    let told = out(&refused) + &err(&refused);
    assert!(
        told.contains("DOES NOT HOLD") || told.contains("does not hold"),
        "{told}"
    );
    // Held, but laid out otherwise: the file is laid out, and the next commit goes through.
    history.replace("slipway.haunch", "cradle 40 kN", "cradle   11 kN");
    assert!(!commit().status.success());
    assert!(history.read("slipway.haunch").contains("cradle 11 kN"));
    let done = commit();
    assert!(done.status.success(), "{}{}", out(&done), err(&done));
    assert!(history.git(&["log", "-1", "--format=%s"]).contains("step"));
}
