//! The files that `use` lines name.

use haunch_calc::{FileId, Snapshot};
use haunch_syntax::Statement;
use haunch_text::{Range, Span};

/// A path that leads to a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// The path in the text, without its quotes.
    pub range: Range,
    /// The file's path.
    pub path: String,
}

/// The links of a file, in order. `stop` is polled; when it says so, what was found is returned.
pub fn links(snapshot: &Snapshot, file: FileId, stop: &dyn Fn() -> bool) -> Vec<Link> {
    let used = snapshot.lines(file).take_while(|_| !stop());
    used.filter_map(|line| {
        let Statement::Use(used) = &line.tree().statement else {
            return None;
        };
        let span = within_quotes(used.path.span);
        Some(Link {
            range: line.range(span)?,
            path: snapshot.used_path(line.id())?,
        })
    })
    .collect()
}

/// The path of a `use` line without its quotes.
pub(crate) fn within_quotes(span: Span) -> Span {
    Span {
        start: span.start + 1,
        end: span.end.saturating_sub(1).max(span.start + 1),
    }
}
