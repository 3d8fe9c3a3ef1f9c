//! Which completions are offered where very many could be written.
//!
//! A list of thousands takes an editor longer than the next letter takes a person, so that of a long list only
//! those are offered that fit the letters typed so far, and of these the likeliest.

use haunch_calc::{LineView, Snapshot};

use crate::completion::{About, Completion};

/// The most that are offered at once.
pub const MOST_OFFERED: usize = 300;

/// Leaves the likeliest, in the order that they have. Returns whether these are all.
pub(crate) fn narrow(
    snapshot: &Snapshot,
    here: LineView<'_>,
    begun: &str,
    items: &mut Vec<Completion>,
) -> bool {
    if items.len() <= MOST_OFFERED {
        return true;
    }
    let letters: Vec<char> = begun.to_lowercase().chars().collect();
    items.retain(|item| has_in_order(&item.text, &letters));
    if items.len() <= MOST_OFFERED {
        return false;
    }
    let mut ranked: Vec<_> = items
        .drain(..)
        .enumerate()
        .map(|(number, item)| {
            let is_begun = item.text.starts_with(begun);
            let rank = (
                !item.fits,
                !is_begun,
                nearness(snapshot, here, &item),
                number,
            );
            (rank, item)
        })
        .collect();
    ranked.select_nth_unstable_by_key(MOST_OFFERED, |(rank, _)| *rank);
    ranked.truncate(MOST_OFFERED);
    ranked.sort_unstable_by_key(|((.., number), _)| *number);
    items.extend(ranked.into_iter().map(|(_, item)| item));
    false
}

/// Whether the letters stand in a text, in their order but not necessarily side by side: so do editors look for
/// what fits. Capitals do not matter.
fn has_in_order(text: &str, letters: &[char]) -> bool {
    let mut wanted = letters.iter().peekable();
    for letter in text.chars().flat_map(char::to_lowercase) {
        wanted.next_if(|wanted| **wanted == letter);
    }
    wanted.peek().is_none()
}

/// A rank that is smaller the likelier a name is used here by where it stands: what belongs to the notation,
/// then lines above from the nearest, lines below from the nearest, other files. What was written last is used
/// next (common practice, no source).
fn nearness(snapshot: &Snapshot, here: LineView<'_>, item: &Completion) -> (u8, u128) {
    let line = match &item.about {
        About::Nothing => return (0, 0),
        About::Line(line) | About::Result(line, _) => snapshot.line(*line),
    };
    match line {
        Some(line) if line.file() != here.file() => (3, line.order()),
        Some(line) if line.order() <= here.order() => (1, u128::MAX - line.order()),
        Some(line) => (2, line.order()),
        None => (3, u128::MAX),
    }
}
