//! Names of all files that fit what was typed.

use haunch_calc::{FileId, Snapshot};

use crate::symbols::{Symbol, symbol};

/// Most names that are given.
const MOST: usize = 500;

/// A name somewhere in the files.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundSymbol {
    /// The file.
    pub file: FileId,
    /// The entry, with nothing under it.
    pub symbol: Symbol,
    /// The block that it stands in; may be empty.
    pub container: String,
}

/// The names whose letters hold those of `query` in its order, whatever the case; the nearest first, at most
/// 500. `stop` is polled; when it says so, what was found is returned.
pub fn workspace_symbols(
    snapshot: &Snapshot,
    query: &str,
    stop: &dyn Fn() -> bool,
) -> Vec<FoundSymbol> {
    let letters: Vec<char> = query
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace())
        .collect();
    let mut found: Vec<(usize, FoundSymbol)> = Vec::new();
    for file in snapshot.files() {
        let preferences = snapshot.preferences(file);
        for line in snapshot.lines(file) {
            if stop() {
                break;
            }
            let Some(name) = snapshot.name_of(line.id()) else {
                continue;
            };
            let Some(distance) = distance(&letters, name) else {
                continue;
            };
            if let Some(symbol) = symbol(snapshot, line, &preferences) {
                let owner = line.owner().and_then(|owner| snapshot.name_of(owner));
                let container = owner.map_or_else(String::new, |name| name.to_string());
                let one = FoundSymbol {
                    file,
                    symbol,
                    container,
                };
                found.push((distance, one));
            }
        }
    }
    found.sort_by_key(|(distance, _)| *distance);
    found.truncate(MOST);
    found.into_iter().map(|(_, symbol)| symbol).collect()
}

/// How many letters of the name are not of the query; none if the query's letters are not in it.
fn distance(letters: &[char], name: &str) -> Option<usize> {
    let mut wanted = letters.iter();
    let mut next = wanted.next();
    let mut count: usize = 0;
    for letter in name.chars().flat_map(char::to_lowercase) {
        count += 1;
        if next == Some(&letter) {
            next = wanted.next();
        }
    }
    next.is_none().then(|| count.saturating_sub(letters.len()))
}
