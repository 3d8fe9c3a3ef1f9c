//! What is shown above a line: how much of its limits a block uses, what limits a largest load, and how
//! many lines use a block or formula.

use haunch_calc::{Check, FileId, LineId, LineView, Snapshot};
use haunch_syntax::Statement;
use haunch_text::Range;

use crate::hints::governing;
use crate::{show, uses};

/// A place for words above a line. They are worked out when it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lens {
    /// The line.
    pub line: LineId,
    /// Its name in the file.
    pub range: Range,
    /// What the words are about.
    pub about: LensKind,
}

/// What a lens is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LensKind {
    /// The number of lines that use it.
    Uses,
    /// The largest utilisation of the block's limits.
    Limits,
    /// What limits a largest load.
    Capacity,
}

/// The lenses of a file, in order. `stop` is polled; when it says so, what was found is returned.
pub fn lenses(snapshot: &Snapshot, file: FileId, stop: &dyn Fn() -> bool) -> Vec<Lens> {
    let mut found = Vec::new();
    for line in snapshot.lines(file) {
        if stop() {
            break;
        }
        let kinds: &[LensKind] = match &line.tree().statement {
            Statement::Heading(heading) if heading.name.is_some() => match line.block() {
                Some(block) if !block.checks.is_empty() => &[LensKind::Limits, LensKind::Uses],
                _ => &[LensKind::Uses],
            },
            Statement::Formula(_) => &[LensKind::Uses],
            Statement::Value(_) if capacity(line).is_some() => &[LensKind::Capacity],
            _ => &[],
        };
        let range = line.range(snapshot.name_span(line.id()));
        let line = line.id();
        if let Some(range) = range.filter(|_| !kinds.is_empty()) {
            found.extend(kinds.iter().map(|&about| Lens { line, range, about }));
        }
    }
    found
}

/// The words of a lens; none where there is nothing to say any more.
pub fn lens_words(snapshot: &Snapshot, line: LineId, about: LensKind) -> Option<String> {
    let view = snapshot.line(line)?;
    match about {
        LensKind::Uses => Some(match uses::count(snapshot, line) {
            0 => "not used".to_owned(),
            1 => "1 use".to_owned(),
            count => format!("{count} uses"),
        }),
        LensKind::Limits => {
            let checks = &view.block()?.checks;
            if checks.iter().any(|check| check.holds.is_none()) {
                return Some("a limit could not be checked".to_owned());
            }
            let used = |check: &&Check| check.utilisation.is_some();
            let largest = checks.iter().filter(used).max_by(|a, b| {
                let ratio = |check: &Check| check.utilisation.unwrap_or(0.0);
                ratio(a).total_cmp(&ratio(b))
            })?;
            let preferences = snapshot.preferences(view.file());
            let ratio = show::utilisation(largest.utilisation?, &preferences);
            let exceeded = checks
                .iter()
                .filter(|check| check.holds == Some(false))
                .count();
            Some(match exceeded {
                0 => format!("limits used to {ratio} ({})", largest.kind),
                1 => format!("1 limit exceeded: {} at {ratio}", largest.kind),
                count => format!("{count} limits exceeded, {} most: {ratio}", largest.kind),
            })
        }
        LensKind::Capacity => capacity(view).map(governing),
    }
}

fn capacity(line: LineView<'_>) -> Option<&haunch_calc::Capacity> {
    line.value()?.capacity.as_deref()
}
