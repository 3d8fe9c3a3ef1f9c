//! `haunch check`: read the files, let them be computed, and report.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use haunch_calc::{Change, Host};

use crate::arguments::{Format, Wanted};
use crate::gather::gather;
use crate::report::{Report, SCHEMA};
use crate::sources::{Trouble, find, read, spelled};
use crate::terminal::{Checked, render};
use crate::{DOES_NOT_HOLD, HOLDS, NOT_DONE};

/// Checks what is wanted. Returns the exit status.
pub(crate) fn check(wanted: &Wanted, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let (paths, mut troubles) = find(&wanted.paths);
    let files = check_files(&paths, &mut troubles);
    for trouble in &troubles {
        // With standard error closed there is nobody left to tell; the exit status still says it.
        let _ = writeln!(err, "haunch: {trouble}");
    }
    let status = match (
        troubles.is_empty(),
        files.iter().all(|file| file.report.holds()),
    ) {
        (false, _) => NOT_DONE,
        (true, true) => HOLDS,
        (true, false) => DOES_NOT_HOLD,
    };
    if files.is_empty() && wanted.format == Format::Text {
        return status;
    }
    let text = match wanted.format {
        Format::Text => render(&files),
        Format::Json => json(files),
    };
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => status,
        Err(_) => NOT_DONE,
    }
}

/// Reads and computes the files, and those that they use.
fn check_files(paths: &[PathBuf], troubles: &mut Vec<Trouble>) -> Vec<Checked> {
    let mut host = Host::new();
    let mut given = Vec::new();
    for path in paths {
        match read(path) {
            Ok(text) => {
                host.apply(Change::SetText {
                    path: spelled(path),
                    text: text.clone(),
                });
                given.push((spelled(path), text));
            }
            Err(trouble) => troubles.push(trouble),
        }
    }
    read_used_files(&mut host, troubles);
    let snapshot = host.snapshot();
    let report = |(path, text): (String, String)| {
        let report = gather(&snapshot, &path)?;
        Some(Checked { report, text })
    };
    let mut files: Vec<Checked> = given.iter().cloned().filter_map(report).collect();
    let others = snapshot
        .files()
        .into_iter()
        .map(|file| (snapshot.path(file).to_string(), snapshot.text(file)));
    let used = others.filter(|(path, _)| given.iter().all(|(other, _)| other != path));
    files.extend(used.filter_map(report).filter(has_error));
    files
}

/// What a file uses from one with an error may have no value, and the finding is over there: it is
/// reported with those that were asked for.
fn has_error(file: &Checked) -> bool {
    file.report
        .findings
        .iter()
        .any(|finding| finding.severity == "error")
}

/// Reads the files that `use` lines name, and those that these use. One that is not there is a finding
/// at its `use` line.
fn read_used_files(host: &mut Host, troubles: &mut Vec<Trouble>) {
    let mut tried = BTreeSet::new();
    loop {
        let wanted: Vec<String> = host
            .wanted_files()
            .into_iter()
            .filter(|path| !tried.contains(path))
            .collect();
        if wanted.is_empty() {
            return;
        }
        for path in wanted {
            match read(Path::new(&path)) {
                Ok(text) => {
                    host.apply(Change::SetText {
                        path: path.clone(),
                        text,
                    });
                }
                Err(Trouble::Missing { .. }) => {}
                Err(trouble) => troubles.push(trouble),
            }
            tried.insert(path);
        }
    }
}

fn json(files: Vec<Checked>) -> String {
    let report = Report {
        haunch: env!("CARGO_PKG_VERSION"),
        schema: SCHEMA,
        files: files.into_iter().map(|file| file.report).collect(),
    };
    // The report holds finite numbers, texts and lists only, all of which JSON can say.
    let mut text = serde_json::to_string_pretty(&report).unwrap_or_default();
    text.push('\n');
    text
}
