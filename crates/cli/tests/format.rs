//! `haunch format` from end to end.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn haunch(folder: &Path, arguments: &[&str], input: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_haunch"));
    command.current_dir(folder).args(arguments);
    command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program starts");
    let mut standard_input = child.stdin.take().expect("it was asked for");
    standard_input
        .write_all(input.as_bytes())
        .expect("the program reads");
    drop(standard_input);
    child.wait_with_output().expect("the program ends")
}

fn told(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

#[test]
fn files_that_change_are_written_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| folder.path().join(name);
    fs::write(file("a.haunch"), "a=3 m\r\n\r\n\r\nb = a\r\n").unwrap();
    fs::write(file("b.haunch"), "b = 3 m\n").unwrap();
    let output = haunch(folder.path(), &["format", "--check", "."], "");
    let shown = "./a.haunch would change\n     1 - a=3 m\n       + a = 3 m\n     3   1 empty line less\n\
        1 file would change; lay it out with: haunch format\n";
    assert_eq!(told(&output), (Some(1), shown.to_owned(), String::new()));
    assert_eq!(
        fs::read_to_string(file("a.haunch")).unwrap(),
        "a=3 m\r\n\r\n\r\nb = a\r\n"
    );

    let output = haunch(folder.path(), &["format", "."], "");
    let shown = "laid out ./a.haunch\n".to_owned();
    assert_eq!(told(&output), (Some(0), shown, String::new()));
    assert_eq!(
        fs::read_to_string(file("a.haunch")).unwrap(),
        "a = 3 m\r\n\r\nb = a\r\n"
    );
    assert_eq!(
        fs::read_dir(folder.path()).unwrap().count(),
        2,
        "nothing is left over"
    );

    let output = haunch(folder.path(), &["format", "--check", "."], "");
    assert_eq!(told(&output), (Some(0), String::new(), String::new()));
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("target.haunch");
    let link = folder.path().join("link.haunch");
    fs::write(&target, "a=3 m\n").unwrap();
    fs::set_permissions(&target, fs::Permissions::from_mode(0o640)).unwrap();
    std::os::unix::fs::symlink(&target, &link).unwrap();
    let output = haunch(folder.path(), &["format", "link.haunch"], "");
    assert_eq!(told(&output).0, Some(0));
    assert_eq!(fs::read_to_string(&target).unwrap(), "a = 3 m\n");
    assert_eq!(
        fs::metadata(&target).unwrap().permissions().mode() & 0o777,
        0o640
    );
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
}

#[test]
fn standard_input_goes_to_standard_output() {
    let folder = tempfile::tempdir().unwrap();
    let output = haunch(folder.path(), &["format", "-"], "a=3 m");
    assert_eq!(
        told(&output),
        (Some(0), "a = 3 m\n".to_owned(), String::new())
    );
    let output = haunch(folder.path(), &["format", "--check", "-"], "a=3 m\n");
    assert_eq!(told(&output).0, Some(1));
    let output = haunch(folder.path(), &["format", "-", "a.haunch"], "");
    assert_eq!(told(&output).0, Some(2));
}

#[test]
fn a_file_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    let output = haunch(folder.path(), &["format", "none.haunch"], "");
    let (status, out, err) = told(&output);
    assert_eq!((status, out.as_str()), (Some(2), ""));
    assert!(err.contains("none.haunch"), "{err}");
}
