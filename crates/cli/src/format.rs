//! `haunch format`: lay files out, or say what would change.

use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use haunch_quantity::is_unit_word;
use haunch_syntax::with_edits;

use crate::arguments::Layout;
use crate::format_view::changes;
use crate::sources::{Trouble, find, read, spelled};
use crate::{DOES_NOT_HOLD, HOLDS, NOT_DONE};

/// Lays out what is wanted. Returns the exit status.
pub(crate) fn format(layout: &Layout, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    if layout.paths.iter().any(|path| path.as_os_str() == "-") {
        return from_standard_input(layout, out, err);
    }
    let (paths, mut troubles) = find(&layout.paths);
    let mut told = String::new();
    let mut changed = 0;
    for path in &paths {
        match lay_out(path, layout.check) {
            Ok(None) => {}
            Ok(Some(what)) => {
                changed += 1;
                told += &what;
            }
            Err(trouble) => troubles.push(trouble),
        }
    }
    told += &match (changed, layout.check) {
        (0, _) => String::new(),
        (1, true) => "1 file would change; lay it out with: haunch format\n".to_owned(),
        (_, true) => format!("{changed} files would change; lay them out with: haunch format\n"),
        (_, false) => String::new(),
    };
    for trouble in &troubles {
        // With standard error closed there is nobody left to tell; the exit status still says it.
        let _ = writeln!(err, "haunch: {trouble}");
    }
    let written = out.write_all(told.as_bytes()).and_then(|()| out.flush());
    match (
        troubles.is_empty() && written.is_ok(),
        changed > 0 && layout.check,
    ) {
        (false, _) => NOT_DONE,
        (true, true) => DOES_NOT_HOLD,
        (true, false) => HOLDS,
    }
}

/// Lays out one file, or only looks. Gives what to tell; nothing where the file is laid out.
fn lay_out(path: &Path, only_look: bool) -> Result<Option<String>, Trouble> {
    let text = read(path)?;
    let edits = haunch_syntax::format(&text, is_unit_word);
    if edits.is_empty() {
        return Ok(None);
    }
    if only_look {
        let changes = changes(&text, &edits);
        return Ok(Some(format!("{} would change\n{changes}", spelled(path))));
    }
    let laid_out = with_edits(&text, &edits);
    replace(path, &laid_out).map_err(|failure| Trouble::NotWritten {
        path: spelled(path),
        reason: failure.to_string(),
    })?;
    Ok(Some(format!("laid out {}\n", spelled(path))))
}

/// Puts a text in the place of a file at once, so that a failure on the way leaves the file as it was.
/// A link stays one: what it leads to is replaced. Permissions stay.
fn replace(path: &Path, text: &str) -> std::io::Result<()> {
    let path = fs::canonicalize(path)?;
    let permissions = fs::metadata(&path)?.permissions();
    // Renaming would pass over a file that its owner has protected from writing.
    OpenOptions::new().write(true).open(&path)?;
    let (beside, mut file) = create_beside(&path)?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all())
        .and_then(|()| fs::set_permissions(&beside, permissions))
        .and_then(|()| fs::rename(&beside, &path));
    if written.is_err() {
        // What failed is told; a file left over is the smaller trouble.
        let _ = fs::remove_file(&beside);
    }
    written
}

/// A file of a name that is still free, in the same folder.
fn create_beside(path: &Path) -> std::io::Result<(PathBuf, File)> {
    const MOST_NAMES: u32 = 100;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let mut last = None;
    for number in 0..MOST_NAMES {
        let beside = path.with_file_name(format!(".{name}.{number}.new"));
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((beside, file)),
            Err(failure) if failure.kind() == ErrorKind::AlreadyExists => last = Some(failure),
            Err(failure) => return Err(failure),
        }
    }
    Err(last.unwrap_or_else(|| ErrorKind::AlreadyExists.into()))
}

fn from_standard_input(layout: &Layout, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    if layout.paths.len() > 1 {
        let _ = writeln!(
            err,
            "haunch: `-` stands alone: give it, or files and folders"
        );
        return NOT_DONE;
    }
    let mut text = String::new();
    if let Err(failure) = std::io::stdin().lock().read_to_string(&mut text) {
        let _ = writeln!(err, "haunch: standard input could not be read: {failure}");
        return NOT_DONE;
    }
    let edits = haunch_syntax::format(&text, is_unit_word);
    let told = match (layout.check, edits.is_empty()) {
        (false, _) => with_edits(&text, &edits),
        (true, true) => String::new(),
        (true, false) => format!("standard input would change\n{}", changes(&text, &edits)),
    };
    match out.write_all(told.as_bytes()).and_then(|()| out.flush()) {
        Err(_) => NOT_DONE,
        Ok(()) if layout.check && !edits.is_empty() => DOES_NOT_HOLD,
        Ok(()) => HOLDS,
    }
}
