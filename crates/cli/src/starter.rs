//! `haunch new`: a small calculation to start from.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::sources::{ENDING, spelled};
use crate::{HOLDS, NOT_DONE};

const STARTER: &str = include_str!("starter.haunch");
/// Stands in the starter where the title goes.
const TITLE: &str = "TITLE";

/// Writes the starter under a name that is still free. Returns the exit status.
pub(crate) fn create(name: &Path, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let path = with_ending(name);
    match write(&path) {
        Ok(()) => match writeln!(
            out,
            "wrote {}; check it with: haunch check {0}",
            spelled(&path)
        ) {
            Ok(()) => HOLDS,
            Err(_) => NOT_DONE,
        },
        Err(failure) => {
            let reason = match failure.kind() {
                ErrorKind::AlreadyExists => "it is already there and was left alone".to_string(),
                _ => failure.to_string(),
            };
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {} was not written: {reason}", spelled(&path));
            NOT_DONE
        }
    }
}

fn with_ending(name: &Path) -> PathBuf {
    if name.extension().is_some_and(|ending| ending == ENDING) {
        return name.to_path_buf();
    }
    let mut full = name.as_os_str().to_os_string();
    full.push(".");
    full.push(ENDING);
    PathBuf::from(full)
}

fn write(path: &Path) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(STARTER.replace(TITLE, &title(path)).as_bytes())
}

/// The file's name as a title: `north-stair.haunch` becomes `north stair`. Without quotes and control
/// characters, which a text cannot hold.
fn title(path: &Path) -> String {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let plain: String = stem
        .chars()
        .map(|c| if matches!(c, '-' | '_') { ' ' } else { c })
        .filter(|c| *c != '"' && !c.is_control())
        .collect();
    plain.trim().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_is_added_once() {
        assert_eq!(
            with_ending(Path::new("a/stair")),
            Path::new("a/stair.haunch")
        );
        assert_eq!(
            with_ending(Path::new("stair.haunch")),
            Path::new("stair.haunch")
        );
        assert_eq!(
            with_ending(Path::new("stair.v2")),
            Path::new("stair.v2.haunch")
        );
    }

    #[test]
    fn the_title_comes_from_the_name() {
        assert_eq!(title(Path::new("north-stair_2.haunch")), "north stair 2");
        assert_eq!(title(Path::new("a\"b.haunch")), "ab");
    }
}
