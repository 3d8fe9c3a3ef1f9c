//! Files that documents use and that no client has opened.

use std::fs;

use crate::address::file_of;

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
