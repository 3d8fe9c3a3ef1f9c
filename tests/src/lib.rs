//! What the suite is made of: running the program on files, reading the literate pages, and comparing
//! what came out with what they say.

pub mod expectation;
pub mod number;
pub mod page;
pub mod program;
pub mod verdict;

use std::path::PathBuf;

use haunch_calc::{Change, FileId, Host, Snapshot};

/// A file by itself.
pub fn open(text: &str) -> (Snapshot, FileId) {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: "a.haunch".into(),
        text: text.into(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file("a.haunch").expect("the file was set");
    (snapshot, file)
}

/// A path in the repository.
pub fn repository(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(path)
}
