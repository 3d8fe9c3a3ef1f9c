//! Files that are not asked for but used.

use std::collections::BTreeSet;
use std::path::Path;

use haunch_calc::{Change, Host};
use haunch_syntax::{Statement, read_line};

use crate::git::Texts;
use crate::sources::{Trouble, read};

/// Reads from below a folder the files that `use` lines name, and those that these use; returns which
/// were there. One that is not there is a finding at its `use` line.
pub(crate) fn read_used_files(
    host: &mut Host,
    root: &Path,
    troubles: &mut Vec<Trouble>,
) -> Vec<String> {
    add_used_files(host, |path| match read(&root.join(path)) {
        Ok(text) => Some(text),
        Err(Trouble::Missing { .. }) => None,
        Err(trouble) => {
            troubles.push(trouble);
            None
        }
    })
}

/// The same from wherever `text` finds the text of a path.
pub(crate) fn add_used_files(
    host: &mut Host,
    mut text: impl FnMut(&str) -> Option<String>,
) -> Vec<String> {
    let mut found = Vec::new();
    let mut tried = BTreeSet::new();
    loop {
        let wanted: Vec<String> = host
            .wanted_files()
            .into_iter()
            .filter(|path| !tried.contains(path))
            .collect();
        if wanted.is_empty() {
            return found;
        }
        for path in wanted {
            if let Some(text) = text(&path) {
                host.apply(Change::SetText {
                    path: path.clone(),
                    text,
                });
                found.push(path.clone());
            }
            tried.insert(path);
        }
    }
}

/// The files that depend on `changed`, these included.
pub(crate) fn depending<'a>(changed: &BTreeSet<&'a str>, texts: &'a Texts) -> BTreeSet<&'a str> {
    let mut all = changed.clone();
    loop {
        let more: Vec<&str> = texts
            .iter()
            .filter(|(path, _)| !all.contains(path.as_str()))
            .filter(|(path, text)| {
                used_files(path, text)
                    .iter()
                    .any(|used| all.contains(used.as_str()))
            })
            .map(|(path, _)| path.as_str())
            .collect();
        if more.is_empty() {
            return all;
        }
        all.extend(more);
    }
}

/// The paths that a file's `use` lines name.
pub(crate) fn used_files(path: &str, text: &str) -> Vec<String> {
    let lines = text.lines().filter(|line| {
        line.trim_start_matches('\u{feff}')
            .trim_start()
            .starts_with("use")
    });
    lines
        .filter_map(
            |line| match read_line(line, haunch_quantity::is_unit_word).statement {
                Statement::Use(used) => Some(joined(path, &used.path.text)),
                _ => None,
            },
        )
        .collect()
}

/// A path as seen from the folder of another, `.` and `..` worked out.
fn joined(base: &str, other: &str) -> String {
    let folder = base.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    for part in folder.split('/').chain(other.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    parts.join("/")
}
