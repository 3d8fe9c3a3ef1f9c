//! `haunch fill`: a file with each line's live values beside it, as an editor shows them. What it prints
//! depends on the text of the file and of those that it uses alone, so that git can compare two versions
//! of it (its `textconv`).

use std::io::Write;
use std::path::Path;

use haunch_calc::{Change, Host};
use haunch_ide::{Hint, HintKind, hints};
use haunch_text::{content, split_lines};

use crate::sources::{read, spelled};
use crate::used_files::read_used_files;
use crate::{HOLDS, NOT_DONE};

/// What stands round a value that is not in the file.
const OPEN: char = '⟨';
const CLOSE: char = '⟩';

/// Prints a file filled in. `name` is the path that `use` lines are read from, where the file itself is
/// somewhere else: git gives the old version of a file under another name.
pub(crate) fn fill(
    file: &Path,
    name: Option<&Path>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let text = match read(file) {
        Ok(text) => text,
        Err(trouble) => {
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {trouble}");
            return NOT_DONE;
        }
    };
    let path = match name {
        Some(name) => spelled(name),
        None => copied_from(file).unwrap_or_else(|| spelled(file)),
    };
    match out
        .write_all(filled(&path, &text).as_bytes())
        .and_then(|()| out.flush())
    {
        Ok(()) => HOLDS,
        Err(_) => NOT_DONE,
    }
}

/// The file of which git made a copy for its `textconv`: a file of the same name in a folder
/// `git-blob-…`. None where it is no such copy, or several files of the repository have the name.
fn copied_from(file: &Path) -> Option<String> {
    let folder = file.parent()?.file_name()?.to_str()?;
    let name = file.file_name()?.to_str()?;
    if !folder.starts_with("git-blob-") {
        return None;
    }
    let listed = crate::git::ask(Path::new("."), &["ls-files", "-z"]).ok()?;
    let listed = String::from_utf8_lossy(&listed).into_owned();
    let is_it = |path: &&str| path.rsplit('/').next() == Some(name);
    let mut found = listed.split('\0').filter(is_it);
    let path = found.next()?;
    found.next().is_none().then(|| path.to_owned())
}

/// The text with its values.
fn filled(path: &str, text: &str) -> String {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: path.to_owned(),
        text: text.to_owned(),
    });
    read_used_files(&mut host, Path::new(""), &mut Vec::new());
    let snapshot = host.snapshot();
    let Some(file) = snapshot.file(path) else {
        return text.to_owned();
    };
    let count = snapshot.line_count(file);
    let mut values: Vec<Vec<Hint>> = vec![Vec::new(); count];
    for hint in hints(&snapshot, file, 0..count, &|| false) {
        if hint.kind != HintKind::Default
            && let Some(line) = values.get_mut(hint.at.line as usize)
        {
            line.push(hint);
        }
    }
    let mut out = String::with_capacity(text.len() * 2);
    for (line, mut hints) in split_lines(text).zip(values) {
        hints.sort_by_key(|hint| hint.at.column);
        let mut done = 0;
        for hint in hints {
            let at = hint.at.column as usize;
            out.push_str(line.get(done..at).unwrap_or_default());
            out.push(OPEN);
            out.push_str(hint.label.trim_start());
            out.push(CLOSE);
            done = at.max(done);
        }
        out.push_str(line.get(done..).unwrap_or_else(|| content(line)));
    }
    out
}
