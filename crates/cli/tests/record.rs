//! Results on record, from whatever folder the program is started in.

mod support;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use support::{err, out, status};

fn haunch(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_haunch"));
    command.current_dir(folder).args(arguments);
    command.output().expect("the program starts")
}

#[test]
fn a_record_names_files_from_its_own_folder() {
    let folder = tempfile::tempdir().unwrap();
    let top = folder.path();
    let other = top.join("other");
    fs::create_dir(&other).unwrap();
    fs::write(top.join("plates.haunch"), "t = 3 mm\nw = 4*t [mm]\n").unwrap();
    fs::write(other.join("extra.haunch"), "a = 3 mm\nb = 2*a [mm]\n").unwrap();
    status(&haunch(top, &["baseline", "."]), 0);
    let record = top.join("haunch-results.txt");
    let recorded = fs::read_to_string(&record).unwrap();
    assert!(
        recorded.contains("\nother/extra.haunch  b  6.00000 mm\n"),
        "{recorded}"
    );
    assert!(
        recorded.contains("\nplates.haunch  w  12.0000 mm\n"),
        "{recorded}"
    );
    for (folder, record, file) in [
        (other.as_path(), "../haunch-results.txt", "extra.haunch"),
        (other.as_path(), "../haunch-results.txt", "../plates.haunch"),
        (top, "./haunch-results.txt", "other"),
    ] {
        let output = haunch(folder, &["check", &format!("--baseline={record}"), file]);
        status(&output, 0);
        assert!(
            out(&output).contains("every result is as on record"),
            "{}",
            out(&output)
        );
        status(&haunch(folder, &["baseline", "--output", record, file]), 0);
    }
    assert_eq!(fs::read_to_string(&record).unwrap(), recorded);
}

#[test]
fn without_a_record_it_is_said_how_to_write_one() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.haunch"), "t = 3 mm\nw = 4*t [mm]\n").unwrap();
    let output = haunch(folder.path(), &["check", "--baseline", "a.haunch"]);
    status(&output, 2);
    assert!(
        err(&output).contains("`haunch baseline` writes results on record"),
        "{}",
        err(&output)
    );
}
