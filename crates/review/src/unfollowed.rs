//! Renames that a line did not follow: it says what it said, and its name stands for something else now, or
//! for nothing. Such a name was changed like any other word, and that is the cause of what follows.

use std::collections::BTreeSet;

use haunch_calc::{LineId, Snapshot};
use smol_str::SmolStr;

use crate::lines::Line;
use crate::matching::Matched;

/// A line that gives another name than before.
struct Renamed {
    file: usize,
    /// The new name of the block that it stands in.
    block: Option<SmolStr>,
    name: SmolStr,
    old: LineId,
    new: LineId,
}

/// Takes the renames away that a line did not follow. Returns the lines of the new version that
/// give them.
pub(crate) fn take_away(
    versions: (&Snapshot, &Snapshot),
    sides: &[(Vec<Line>, Vec<Line>)],
    found: &mut [Matched],
) -> BTreeSet<LineId> {
    let mut renamed = Vec::new();
    for (file, matched) in found.iter().enumerate() {
        for (before, after, heading) in partners(sides, file, matched) {
            let (Some((name, _)), Some((other, _))) = (&before.name, &after.name) else {
                continue;
            };
            if name != other {
                renamed.push(Renamed {
                    file,
                    block: heading.and_then(|heading| Some(heading.name.as_ref()?.0.clone())),
                    name: name.clone(),
                    old: before.id,
                    new: after.id,
                });
            }
        }
    }
    if renamed.is_empty() {
        return BTreeSet::new();
    }
    let mut unfollowed: BTreeSet<usize> = BTreeSet::new();
    for (file, matched) in found.iter().enumerate() {
        for (before, after, _) in partners(sides, file, matched) {
            if before.words != after.words {
                continue;
            }
            let (was, is) = (versions.0.uses(before.id), versions.1.uses(after.id));
            let follows = |own: &Renamed| {
                let uses = |uses: &[haunch_calc::Use], line| uses.iter().any(|u| u.line == line);
                uses(&was, own.old) == uses(&is, own.new)
            };
            let not = renamed.iter().enumerate().filter(|(_, own)| !follows(own));
            unfollowed.extend(not.map(|(at, _)| at));
        }
    }
    let mut lines = BTreeSet::new();
    for own in unfollowed.iter().filter_map(|&at| renamed.get(at)) {
        lines.insert(own.new);
        let Some(matched) = found.get_mut(own.file) else {
            continue;
        };
        let names = match &own.block {
            Some(block) => matched.renames.inner.get_mut(block),
            None => Some(&mut matched.renames.file),
        };
        if let Some(names) = names {
            names.remove(&own.name);
        }
    }
    lines
}

/// The lines of a file that are in both versions, each with the new heading above it.
fn partners<'s>(
    sides: &'s [(Vec<Line>, Vec<Line>)],
    file: usize,
    matched: &'s Matched,
) -> impl Iterator<Item = (&'s Line, &'s Line, Option<&'s Line>)> {
    sides.get(file).into_iter().flat_map(|(old, new)| {
        new.iter().enumerate().filter_map(|(at, after)| {
            let before = old.get((*matched.old_of.get(at)?)?)?;
            let heading = after.heading.and_then(|at| new.get(at));
            Some((before, after, heading))
        })
    })
}
