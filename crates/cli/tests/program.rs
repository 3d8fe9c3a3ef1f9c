//! The program itself as a process: streams, exit status, and what it does with files.

mod support;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use support::{err, out, status};

fn haunch(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_haunch"));
    command
        .current_dir(folder)
        .args(arguments)
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE");
    command.output().expect("the program starts")
}

const GOOD: &str =
    "b = 40 mm\nA = b*b  [mm^2]\nverify A <= 1700 mm^2\nanswer A \"area of the bar\"\n";
const BAD: &str = "b = 40 mm\nA = b*b  [mm]\n";

#[test]
fn a_file_that_holds() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.haunch"), GOOD).unwrap();
    let output = haunch(folder.path(), &["check", "a.haunch"]);
    status(&output, 0);
    let text = out(&output);
    assert!(text.contains("area of the bar (A): 1600 mm²"), "{text}");
    assert!(text.contains("94.1 %") && text.contains("holds"), "{text}");
    assert!(text.contains("licensed practitioner's review"), "{text}");
    assert!(
        !text.contains('\u{1b}'),
        "no colours where there is no terminal: {text}"
    );
    assert_eq!(err(&output), "");
}

#[test]
fn a_finding_shows_its_line_and_place() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.haunch"), BAD).unwrap();
    let output = haunch(folder.path(), &["check", "a.haunch"]);
    status(&output, 1);
    let text = out(&output);
    assert!(
        text.contains("a.haunch, line 2\n    A = b*b  [mm]\n        ‾‾‾\n"),
        "{text}"
    );
    assert!(
        text.contains("unit-mismatch: ") && text.contains("area") && text.contains("length"),
        "{text}"
    );
    assert!(text.contains("1 error"), "{text}");
}

#[test]
fn a_check_that_does_not_hold() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(
        folder.path().join("a.haunch"),
        "t = 6 mm\nverify t >= 8 mm\n",
    )
    .unwrap();
    let output = haunch(folder.path(), &["check", "a.haunch"]);
    status(&output, 1);
    assert!(out(&output).contains("DOES NOT HOLD"), "{}", out(&output));
}

#[test]
fn folders_are_searched_in_order() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir_all(folder.path().join("b/deep")).unwrap();
    for name in ["z.haunch", "b/deep/m.haunch", "b/a.haunch", "b/no.txt"] {
        fs::write(folder.path().join(name), GOOD).unwrap();
    }
    let output = haunch(folder.path(), &["check", "--format", "json", "."]);
    status(&output, 0);
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let paths: Vec<_> = report["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["path"].as_str().unwrap())
        .collect();
    assert_eq!(paths, ["./b/a.haunch", "./b/deep/m.haunch", "./z.haunch"]);
}

#[test]
fn what_cannot_be_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    fs::write(path.join("good.haunch"), GOOD).unwrap();
    fs::write(path.join("bytes.haunch"), b"a = 1\nb\xc3\xa4 = \xff 2\n").unwrap();
    fs::create_dir(path.join("empty")).unwrap();
    let output = haunch(
        path,
        &[
            "check",
            "good.haunch",
            "bytes.haunch",
            "missing.haunch",
            "empty",
        ],
    );
    status(&output, 2);
    let errors = err(&output);
    assert!(
        errors.contains("bytes.haunch: byte 12 (line 2, after 5 characters) is not UTF-8"),
        "{errors}"
    );
    assert!(
        errors.contains("missing.haunch: there is no such file"),
        "{errors}"
    );
    assert!(
        errors.contains("empty: no file ending in .haunch"),
        "{errors}"
    );
    assert!(
        out(&output).contains("area of the bar"),
        "what can be read is still checked"
    );
}

#[test]
fn a_file_that_is_too_large() {
    let folder = tempfile::tempdir().unwrap();
    let file = fs::File::create(folder.path().join("big.haunch")).unwrap();
    file.set_len(50_000_001).unwrap();
    let output = haunch(folder.path(), &["check", "big.haunch"]);
    status(&output, 2);
    assert!(
        err(&output).contains("big.haunch: larger than 50 MB"),
        "{}",
        err(&output)
    );
}

#[test]
fn used_files_are_read_beside_the_file_that_uses_them() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir_all(folder.path().join("shared/more")).unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write(
        "shared/job.haunch",
        "use \"more/plates.haunch\" as p\nA = p.t*p.t  [mm^2]\n",
    );
    write(
        "shared/more/plates.haunch",
        "use \"../base.haunch\" as base\nt = 2*base.t  [mm]\n",
    );
    write("shared/base.haunch", "t = 7 mm\n\nallow unused-value\n");
    let output = haunch(
        folder.path(),
        &["check", "--format", "json", "shared/job.haunch"],
    );
    status(&output, 0);
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(report["files"].as_array().unwrap().len(), 1);
    assert_eq!(report["files"][0]["values"]["A"]["text"], "196.0 mm²");
}

/// What a file uses from a broken one has no value there; the finding is in the other file.
#[test]
fn an_error_in_a_used_file_is_not_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write(
        "job.haunch",
        "use \"plates.haunch\" as p\nA = p.t*p.t  [mm^2]\n",
    );
    write("plates.haunch", "t = (7 mm\n");
    let output = haunch(folder.path(), &["check", "job.haunch"]);
    status(&output, 1);
    assert!(
        out(&output).contains("plates.haunch, line 1"),
        "{}",
        out(&output)
    );
    write("one.haunch", "use \"two.haunch\" as two\na = two.b\n");
    write("two.haunch", "use \"one.haunch\" as one\nb = one.a\n");
    for name in ["one.haunch", "two.haunch"] {
        let output = haunch(folder.path(), &["check", name]);
        status(&output, 1);
        assert!(out(&output).contains("ring"), "{}", out(&output));
    }
}

#[test]
fn a_new_file_checks_and_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let output = haunch(folder.path(), &["new", "north-stair"]);
    status(&output, 0);
    assert!(out(&output).contains("wrote north-stair.haunch"));
    let text = fs::read_to_string(folder.path().join("north-stair.haunch")).unwrap();
    assert!(text.contains("title = \"north stair\""));
    let output = haunch(folder.path(), &["check", "north-stair.haunch"]);
    status(&output, 0);
    assert!(!out(&output).contains("warning"), "{}", out(&output));
    fs::write(folder.path().join("north-stair.haunch"), "mine").unwrap();
    let output = haunch(folder.path(), &["new", "north-stair.haunch"]);
    status(&output, 2);
    assert!(err(&output).contains("left alone"), "{}", err(&output));
    assert_eq!(
        fs::read_to_string(folder.path().join("north-stair.haunch")).unwrap(),
        "mine"
    );
}

#[test]
fn a_finding_is_explained() {
    let folder = tempfile::tempdir().unwrap();
    let output = haunch(folder.path(), &["explain", "parts-apart"]);
    status(&output, 0);
    let text = out(&output);
    assert!(text.starts_with("parts-apart\n\nParts of a section do not touch"));
    assert!(text.contains("\n    section pair\n"), "{text}");
    assert!(text.contains("allow parts-apart"), "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 88),
        "{text}"
    );

    let output = haunch(folder.path(), &["explain"]);
    status(&output, 0);
    assert!(out(&output).lines().any(|line| line.starts_with("ring ")));

    let output = haunch(folder.path(), &["explain", "part-apart"]);
    status(&output, 2);
    assert!(err(&output).contains("The nearest: parts-apart."));

    fs::write(folder.path().join("a.haunch"), BAD).unwrap();
    let output = haunch(folder.path(), &["check", "a.haunch"]);
    assert!(out(&output).contains("`haunch explain CODE` tells more"));
}

#[test]
fn a_command_that_is_not_understood() {
    let folder = tempfile::tempdir().unwrap();
    for arguments in [
        &["chekc"][..],
        &[],
        &["check"],
        &["check", "--format", "xml", "a.haunch"],
    ] {
        status(&haunch(folder.path(), arguments), 2);
    }
    let output = haunch(folder.path(), &["--help"]);
    status(&output, 0);
    assert!(out(&output).contains("check") && out(&output).contains("licensed"));
}

#[test]
fn a_utilisation_is_on_its_side_of_the_bound_wherever_it_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let text = "results in mm, kN, MPa, 3 digits\n\nmaterial iron\n    E = 200 GPa\n    limit tension <= 100 MPa\n\n\
                section bar of iron\n    rect plate 100 x 10 mm\n\nforces pulled on bar\n    N = 100.04 kN tension\n\n\
                answer pulled.utilisation\n";
    fs::write(folder.path().join("a.haunch"), text).unwrap();
    for arguments in [
        &["check", "a.haunch"][..],
        &["check", "--format", "json", "a.haunch"],
        &["fill", "a.haunch"],
    ] {
        let output = haunch(folder.path(), arguments);
        let text = out(&output);
        assert!(text.contains("100.04 %"), "{text}");
        assert!(
            !text.contains("1.00\n") && !text.contains("1.00\""),
            "{text}"
        );
        assert!(!text.contains("= 1.00"), "{text}");
    }
    let output = haunch(folder.path(), &["baseline", "."]);
    status(&output, 0);
    let record = fs::read_to_string(folder.path().join("haunch-results.txt")).unwrap();
    assert!(record.contains("pulled.utilisation  100.040 %"), "{record}");
}

#[test]
fn the_same_bytes_every_time() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.haunch"), GOOD).unwrap();
    fs::write(folder.path().join("b.haunch"), BAD).unwrap();
    let run = |format: &str| haunch(folder.path(), &["check", "--format", format, "."]).stdout;
    for format in ["text", "json"] {
        assert_eq!(run(format), run(format));
    }
}

#[test]
fn colours_where_they_are_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.haunch"), BAD).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_haunch"));
    command
        .current_dir(folder.path())
        .args(["check", "a.haunch"])
        .env_remove("NO_COLOR");
    let output = command.env("CLICOLOR_FORCE", "1").output().unwrap();
    assert!(out(&output).contains("\u{1b}["));
    let output = command
        .env("NO_COLOR", "1")
        .env_remove("CLICOLOR_FORCE")
        .output()
        .unwrap();
    assert!(!out(&output).contains("\u{1b}["));
}
