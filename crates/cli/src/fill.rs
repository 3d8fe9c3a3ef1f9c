//! `haunch fill`: a file with each line's live values beside it, as an editor shows them. What it prints
//! depends on the text of the file and of those that it uses alone, so that git can compare two versions
//! of it (its `textconv`).
//!
//! Git hands over the file's text and not the revision that it is from, so that files which it uses can only
//! be read as they are on disk. A value that comes from there may be another one than in that revision;
//! the `use` line says so. Of a file named as `REVISION:FILE` all is read from that revision.

use std::io::Write;
use std::path::Path;

use haunch_calc::{Change, Host, Snapshot};
use haunch_ide::{HintKind, hints};
use haunch_syntax::tokens;
use haunch_text::{content, split_lines};

use crate::git::Repository;
use crate::sources::{read, spelled};
use crate::used_files::{add_used_files, read_used_files};
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
    let filled = match in_revision(file) {
        Some(filled) => filled,
        None => on_disk(file, name),
    };
    let filled = match filled {
        Ok(filled) => filled,
        Err(words) => {
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {words}");
            return NOT_DONE;
        }
    };
    match out.write_all(filled.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => HOLDS,
        Err(_) => NOT_DONE,
    }
}

/// A file of a revision of git, `REVISION:FILE`, filled in from files of that revision; none where it is
/// not named like that, or there is a file of that very name.
fn in_revision(file: &Path) -> Option<Result<String, String>> {
    let (revision, path) = file.to_str()?.split_once(':')?;
    if file.exists() || revision.is_empty() {
        return None;
    }
    let repository = match Repository::around(Path::new(".")) {
        Ok(repository) => repository,
        Err(words) => return Some(Err(words)),
    };
    let Some(commit) = repository.commit(revision) else {
        return Some(Err(format!(
            "{revision}: git knows no such revision, and there is no file {}",
            spelled(file)
        )));
    };
    let path = path.strip_prefix("./").unwrap_or(path);
    let Some(text) = repository.text(&commit, path) else {
        return Some(Err(format!(
            "{path}: there is no such file in {revision}; paths count from the top of the repository"
        )));
    };
    let mut host = Host::new();
    set(&mut host, path, &text);
    add_used_files(&mut host, |used| repository.text(&commit, used));
    let from = format!("as in {revision}");
    Some(Ok(filled(&host.snapshot(), path, &text, &from)))
}

fn on_disk(file: &Path, name: Option<&Path>) -> Result<String, String> {
    let text = read(file).map_err(|trouble| trouble.to_string())?;
    let path = match name {
        Some(name) => spelled(name),
        None => copied_from(file).unwrap_or_else(|| spelled(file)),
    };
    let mut host = Host::new();
    set(&mut host, &path, &text);
    read_used_files(&mut host, Path::new(""), &mut Vec::new());
    Ok(filled(&host.snapshot(), &path, &text, "as on disk"))
}

fn set(host: &mut Host, path: &str, text: &str) {
    host.apply(Change::SetText {
        path: path.to_owned(),
        text: text.to_owned(),
    });
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

/// The text with its values; `from` says where the files that it uses were read.
fn filled(snapshot: &Snapshot, path: &str, text: &str, from: &str) -> String {
    let Some(file) = snapshot.file(path) else {
        return text.to_owned();
    };
    let count = snapshot.line_count(file);
    let mut values: Vec<Vec<(usize, String)>> = vec![Vec::new(); count];
    for hint in hints(snapshot, file, 0..count, &|| false) {
        if hint.kind != HintKind::Default
            && let Some(line) = values.get_mut(hint.at.line as usize)
        {
            let label = hint.label.trim_start().to_owned();
            line.push((hint.at.column as usize, label));
        }
    }
    for line in snapshot.lines(file) {
        if snapshot.used_file(line.id()).is_some()
            && let Some(number) = line.first_physical()
            && let Some(values) = values.get_mut(number)
        {
            let said = tokens(line.text());
            let last = said.iter().rev().find(|token| !token.kind.is_trivia());
            values.extend(last.map(|last| (last.span.end as usize, from.to_owned())));
        }
    }
    let mut out = String::with_capacity(text.len() * 2);
    for (line, mut values) in split_lines(text).zip(values) {
        values.sort_by_key(|(column, _)| *column);
        let mut done = 0;
        for (at, label) in values {
            out.push_str(line.get(done..at).unwrap_or_default());
            out.push(OPEN);
            out.push_str(&label);
            out.push(CLOSE);
            done = at.max(done);
        }
        out.push_str(line.get(done..).unwrap_or_else(|| content(line)));
    }
    out
}
