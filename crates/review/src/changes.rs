//! What was changed by hand, as a list.

use crate::outcome::{Action, Change};
use crate::pairs::{Hand, Pairs};

/// The changes in the order of files and lines, and for each pair of lines which change it is, if it
/// can have changed results. A pure rename changes none.
pub(crate) fn changes(pairs: &Pairs<'_>) -> (Vec<Change>, Vec<Option<usize>>) {
    let mut found: Vec<(usize, Change)> = Vec::new();
    for (at, pair) in pairs.all.iter().enumerate() {
        let action = match (pair.hand, pair.old, pair.new) {
            (Hand::Same, ..) => continue,
            (Hand::Renamed, ..) => Action::Renamed,
            (Hand::Changed, None, _) => Action::Added,
            (Hand::Changed, _, None) => Action::Removed,
            (Hand::Changed, Some(_), Some(_)) => Action::Changed,
        };
        found.push((
            at,
            Change {
                action,
                subject: pair.subject,
                block: pairs.block_name(at).map(str::to_owned),
                old: pairs.written_old(at),
                new: pairs.written_new(at),
            },
        ));
    }
    // A line that went stands where it was: before the lines that follow it.
    found.sort_by_key(|(at, change)| {
        let file = pairs.get(*at).map(|pair| pair.file);
        let written = change.new.as_ref().or(change.old.as_ref());
        (file, written.map(|w| w.line), change.new.is_some(), *at)
    });
    let mut of_pair = vec![None; pairs.all.len()];
    for (index, (at, change)) in found.iter().enumerate() {
        if change.action != Action::Renamed
            && let Some(entry) = of_pair.get_mut(*at)
        {
            *entry = Some(index);
        }
    }
    (
        found.into_iter().map(|(_, change)| change).collect(),
        of_pair,
    )
}
