//! Keeping `use` lines right when files get another path.

use haunch_calc::{Place, Snapshot};
use haunch_syntax::Statement;

use crate::links::within_quotes;
use crate::rename::FileEdit;

/// The edits of `use` lines that keep naming the same files when each of `moves`, from path to path, is
/// made: in files that use a moved one, and in moved files themselves.
pub fn moved_files(snapshot: &Snapshot, moves: &[(String, String)]) -> Vec<FileEdit> {
    let after = |path: &str| {
        moves.iter().find_map(|(old, new)| {
            let rest = path.strip_prefix(old.as_str())?;
            let is_it = rest.is_empty() || old.ends_with('/') || rest.starts_with('/');
            is_it.then(|| format!("{new}{rest}"))
        })
    };
    let mut edits = Vec::new();
    for file in snapshot.files() {
        let path = snapshot.path(file);
        let own = after(path);
        for line in snapshot.lines(file) {
            let Statement::Use(used) = &line.tree().statement else {
                continue;
            };
            let Some(target) = snapshot.used_path(line.id()) else {
                continue;
            };
            let moved = after(&target);
            let is_absolute = used.path.text.starts_with('/') || used.path.text.contains(':');
            if moved.is_none() && (own.is_none() || is_absolute) {
                continue;
            }
            let to = moved.unwrap_or(target);
            let written = match is_absolute {
                true => to,
                false => relative(own.as_deref().unwrap_or(path), &to),
            };
            let place = Place {
                line: line.id(),
                span: within_quotes(used.path.span),
            };
            if written != used.path.text
                && let Some(range) = snapshot.range(place)
            {
                edits.push((file, range, written));
            }
        }
    }
    edits
}

/// `to` as seen from the folder of `from`; both with `/` between their parts.
fn relative(from: &str, to: &str) -> String {
    let folder: Vec<&str> = from.split('/').collect();
    let folder = &folder[..folder.len().saturating_sub(1)];
    let target: Vec<&str> = to.split('/').collect();
    let most = folder.len().min(target.len().saturating_sub(1));
    let shared = (0..most).take_while(|&at| folder[at] == target[at]).count();
    let up = std::iter::repeat_n("..", folder.len() - shared);
    let down = target.iter().skip(shared).copied();
    up.chain(down).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::relative;

    #[test]
    fn a_path_from_a_folder() {
        assert_eq!(relative("/a/b.haunch", "/a/c.haunch"), "c.haunch");
        assert_eq!(relative("/a/b.haunch", "/a/d/c.haunch"), "d/c.haunch");
        assert_eq!(relative("/a/x/b.haunch", "/a/c.haunch"), "../c.haunch");
        assert_eq!(relative("/b.haunch", "/c.haunch"), "c.haunch");
        assert_eq!(relative("C:/a/b.haunch", "C:/d/c.haunch"), "../d/c.haunch");
    }
}
