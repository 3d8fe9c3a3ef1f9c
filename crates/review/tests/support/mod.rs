//! Two versions of files, compared.

use haunch_calc::{Change, Host, Snapshot};
use haunch_review::{Asked, FilePair, Review, review};

/// Both versions of some files. Of the new one only those that are others need to be given.
pub(crate) fn versions(
    old: &[(&str, &str)],
    new: &[(&str, &str)],
) -> (Snapshot, Snapshot, Vec<FilePair>) {
    let mut host = Host::new();
    let set = |host: &mut Host, files: &[(&str, &str)]| {
        for (path, text) in files {
            host.apply(Change::SetText {
                path: (*path).to_owned(),
                text: (*text).to_owned(),
            });
        }
    };
    set(&mut host, old);
    let before = host.snapshot();
    set(&mut host, new);
    let after = host.snapshot();
    let pairs = after
        .files()
        .into_iter()
        .map(|file| FilePair {
            old: before.file(after.path(file)),
            new: Some(file),
        })
        .collect();
    (before, after, pairs)
}

/// What is said of two versions of one file.
pub(crate) fn compare(old: &str, new: &str) -> Review {
    let (before, after, pairs) = versions(&[("a.haunch", old)], &[("a.haunch", new)]);
    review(&before, &after, &pairs, Asked::default())
}
