//! Files that no client has opened: those that documents use, and those of the workspace.

use std::fs;
use std::path::PathBuf;

use crate::address::{file_of, path_of_file};

/// Largest file that is read.
const LIMIT: u64 = 64 * 1024 * 1024;

/// The text of a file; `None` if there is none that can be read. Bytes that are no text are replaced, as
/// the core reports them at their place.
pub(crate) fn read(path: &str) -> Option<String> {
    let file = file_of(path)?;
    let details = fs::metadata(&file).ok()?;
    if !details.is_file() || details.len() > LIMIT {
        return None;
    }
    let bytes = fs::read(&file).ok()?;
    Some(String::from_utf8_lossy(&bytes).into_owned())
}

/// Most files of a workspace that are read.
const MOST_FILES: usize = 10_000;
/// Folders that hold what programs made.
const LEFT_OUT: [&str; 3] = ["target", "node_modules", "build"];

/// The paths of the calculations in some folders, sorted. Folders that start with a dot and links to folders
/// are left out.
pub(crate) fn list(folders: &[PathBuf]) -> Vec<String> {
    let mut open: Vec<PathBuf> = folders.to_vec();
    let mut found = Vec::new();
    while let Some(folder) = open.pop() {
        let Ok(entries) = fs::read_dir(&folder) else {
            continue;
        };
        for entry in entries.flatten() {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            let Ok(kind) = entry.file_type() else {
                continue;
            };
            if kind.is_dir() {
                if !name.starts_with('.') && !LEFT_OUT.contains(&name.as_ref()) {
                    open.push(entry.path());
                }
            } else if name.ends_with(".haunch") {
                found.push(path_of_file(&entry.path()));
            }
        }
        if found.len() >= MOST_FILES {
            break;
        }
    }
    found.sort();
    found.dedup();
    found.truncate(MOST_FILES);
    found
}
