//! Finding and reading the files that were asked for.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use haunch_text::split_lines;
use thiserror::Error;
use walkdir::WalkDir;

/// The ending of a calculation's file name, without the dot.
pub(crate) const ENDING: &str = "haunch";
/// A file of more bytes is refused.
const MOST_BYTES: u64 = 50_000_000;

/// Why a file could not be had.
#[derive(Debug, Error)]
pub(crate) enum Trouble {
    #[error("{path}: there is no such file or folder")]
    Missing { path: String },
    #[error("{path}: no file ending in .{ENDING} in this folder")]
    NothingFound { path: String },
    #[error("{path}: larger than 50 MB; split the calculation and join its parts with `use`")]
    TooLarge { path: String },
    #[error(
        "{path}: byte {byte} (line {line}, after {column} characters) is not UTF-8 text; save the file as UTF-8"
    )]
    NotText {
        path: String,
        byte: usize,
        line: usize,
        column: usize,
    },
    #[error("{path}: could not be read: {reason}")]
    Unreadable { path: String, reason: String },
    #[error("{path}: could not be written and is as it was: {reason}")]
    NotWritten { path: String, reason: String },
}

/// Every file asked for, in the order asked, folders searched and their files sorted by name; each once.
pub(crate) fn find(wanted: &[PathBuf]) -> (Vec<PathBuf>, Vec<Trouble>) {
    let mut files: Vec<PathBuf> = Vec::new();
    let mut troubles = Vec::new();
    for path in wanted {
        if path.is_dir() {
            search(path, &mut files, &mut troubles);
        } else if path.exists() {
            files.push(path.clone());
        } else {
            troubles.push(Trouble::Missing {
                path: spelled(path),
            });
        }
    }
    let mut seen = std::collections::HashSet::new();
    files.retain(|file| seen.insert(file.clone()));
    (files, troubles)
}

fn search(folder: &Path, files: &mut Vec<PathBuf>, troubles: &mut Vec<Trouble>) {
    let before = files.len();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        match entry {
            Ok(entry) => {
                let is_calculation = entry
                    .path()
                    .extension()
                    .is_some_and(|ending| ending == ENDING);
                if is_calculation && !entry.path().is_dir() {
                    files.push(entry.into_path());
                }
            }
            Err(failure) => troubles.push(Trouble::Unreadable {
                path: failure.path().map_or_else(|| spelled(folder), spelled),
                reason: failure.to_string(),
            }),
        }
    }
    if files.len() == before {
        troubles.push(Trouble::NothingFound {
            path: spelled(folder),
        });
    }
}

/// The text of a file.
pub(crate) fn read(path: &Path) -> Result<String, Trouble> {
    let trouble = |failure: std::io::Error| match failure.kind() {
        ErrorKind::NotFound => Trouble::Missing {
            path: spelled(path),
        },
        _ => Trouble::Unreadable {
            path: spelled(path),
            reason: failure.to_string(),
        },
    };
    let file = File::open(path).map_err(trouble)?;
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(trouble)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(Trouble::TooLarge {
            path: spelled(path),
        });
    }
    String::from_utf8(bytes).map_err(|failure| not_text(path, &failure))
}

fn not_text(path: &Path, failure: &std::string::FromUtf8Error) -> Trouble {
    let byte = failure.utf8_error().valid_up_to();
    let before = failure.as_bytes().get(..byte).unwrap_or_default();
    let before = String::from_utf8_lossy(before);
    let last = split_lines(&before).last().unwrap_or_default();
    Trouble::NotText {
        path: spelled(path),
        byte,
        line: split_lines(&before).count(),
        column: last.chars().count(),
    }
}

/// A path as the report writes it: with `/` on every system.
pub(crate) fn spelled(path: &Path) -> String {
    let text = path.to_string_lossy();
    if std::path::MAIN_SEPARATOR == '/' {
        text.into_owned()
    } else {
        text.replace(std::path::MAIN_SEPARATOR, "/")
    }
}
