//! `haunch check`: read the files, let them be computed, and report.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use haunch_calc::{Change, Host, Snapshot};

use crate::arguments::{Format, Wanted};
use crate::baseline;
use crate::diff::from_top;
use crate::formats::{github, junit, sarif};
use crate::gather::gather;
use crate::git::{Repository, Version};
use crate::report::{FileReport, Report, SCHEMA};
use crate::sources::{Trouble, find, read, spelled};
use crate::terminal::{Checked, render};
use crate::used_files::{depending, read_used_files};
use crate::{DOES_NOT_HOLD, HOLDS, NOT_DONE};

/// Checks what is wanted. Returns the exit status.
pub(crate) fn check(wanted: &Wanted, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    if wanted.with_torsion && wanted.format != Format::Json {
        let _ = writeln!(
            err,
            "haunch: --with-torsion adds to the JSON; use it with --format json"
        );
        return NOT_DONE;
    }
    let (mut paths, mut troubles) = find(&wanted.paths);
    if let Some(revision) = &wanted.changed_since {
        match changed_since(revision, &paths) {
            Ok(changed) => paths = changed,
            Err(words) => {
                let _ = writeln!(err, "haunch: {words}");
                return NOT_DONE;
            }
        }
        if paths.is_empty() && wanted.format == Format::Text && troubles.is_empty() {
            return match writeln!(out, "no calculation changed since {revision}") {
                Ok(()) => HOLDS,
                Err(_) => NOT_DONE,
            };
        }
    }
    let (snapshot, given) = compute(&paths, &mut troubles);
    let files = reports(&snapshot, &given, wanted.with_torsion);
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
        Format::Sarif => sarif::log(&only_reports(files)),
        Format::Junit => junit::report(&only_reports(files)),
        Format::Github => github::commands(&only_reports(files)),
    };
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    if written.is_err() {
        return NOT_DONE;
    }
    let Some(record) = &wanted.baseline else {
        return status;
    };
    // Beside a report for another program, what is not as on record is told on standard error.
    let paths: Vec<String> = given.into_iter().map(|(path, _)| path).collect();
    let mut told = Vec::new();
    let drift = baseline::drift(record, &snapshot, &paths, &mut told, err);
    let written = match wanted.format {
        Format::Text => out.write_all(&told),
        _ => err.write_all(&told),
    };
    match written {
        Ok(()) => status.max(drift),
        Err(_) => NOT_DONE,
    }
}

fn only_reports(files: Vec<Checked>) -> Vec<FileReport> {
    files.into_iter().map(|file| file.report).collect()
}

/// The files among `paths` that are not as they were in a revision, and those that use such a file.
fn changed_since(revision: &str, paths: &[PathBuf]) -> Result<Vec<PathBuf>, String> {
    let repository = Repository::around(Path::new("."))?;
    let commit = repository
        .commit(revision)
        .ok_or_else(|| format!("git knows no revision {revision}"))?;
    let before = repository.texts(&Version::Commit(commit), &[])?;
    let after = repository.texts(&Version::Disk, &[])?;
    let changed: BTreeSet<&str> = before
        .keys()
        .chain(after.keys())
        .filter(|path| before.get(*path) != after.get(*path))
        .map(String::as_str)
        .collect();
    let wanted = depending(&changed, &after);
    let spellings: Vec<String> = paths.iter().map(|path| spelled(path)).collect();
    let from_top = from_top(&repository, &spellings)?;
    let chosen = paths.iter().zip(&from_top);
    Ok(chosen
        .filter(|(_, path)| wanted.contains(path.as_str()))
        .map(|(path, _)| path.clone())
        .collect())
}

/// Files and folders computed, with the paths of the files.
pub(crate) fn computed(wanted: &[PathBuf], troubles: &mut Vec<Trouble>) -> (Snapshot, Vec<String>) {
    let (paths, mut found) = find(wanted);
    troubles.append(&mut found);
    let (snapshot, given) = compute(&paths, troubles);
    (snapshot, given.into_iter().map(|(path, _)| path).collect())
}

/// Reads and computes the files, and those that they use; gives the path and text of each that was
/// asked for.
fn compute(paths: &[PathBuf], troubles: &mut Vec<Trouble>) -> (Snapshot, Vec<(String, String)>) {
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
    read_used_files(&mut host, Path::new(""), troubles);
    (host.snapshot(), given)
}

/// The reports of the files that were asked for, and of those that these use and that have an error.
fn reports(snapshot: &Snapshot, given: &[(String, String)], with_torsion: bool) -> Vec<Checked> {
    let report = |(path, text): (String, String)| {
        let report = gather(snapshot, &path, with_torsion)?;
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
