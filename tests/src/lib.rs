//! What the suite is made of: running the program on files, reading the literate pages, and comparing
//! what came out with what they say.

pub mod expectation;
pub mod number;
pub mod page;
pub mod program;
pub mod verdict;

use std::path::PathBuf;

/// A path in the repository.
pub fn repository(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(path)
}
