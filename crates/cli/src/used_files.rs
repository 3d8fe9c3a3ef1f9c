//! Files that are not asked for but used.

use std::collections::BTreeSet;
use std::path::Path;

use haunch_calc::{Change, Host};

use crate::sources::{Trouble, read};

/// Reads from below a folder the files that `use` lines name, and those that these use; returns which
/// were there. One that is not there is a finding at its `use` line.
pub(crate) fn read_used_files(
    host: &mut Host,
    root: &Path,
    troubles: &mut Vec<Trouble>,
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
            match read(&root.join(&path)) {
                Ok(text) => {
                    host.apply(Change::SetText {
                        path: path.clone(),
                        text,
                    });
                    found.push(path.clone());
                }
                Err(Trouble::Missing { .. }) => {}
                Err(trouble) => troubles.push(trouble),
            }
            tried.insert(path);
        }
    }
}
