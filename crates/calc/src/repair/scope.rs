//! The names that a repair may bring in: those of the nearest values of the file.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionKind;
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

use crate::line::LineId;
use crate::outcome::Meaning;
use crate::state::{Cell, State};
use crate::value::Kind;

/// How many names are looked at.
pub(super) const MOST_NAMES: usize = 200;
/// How many lines are looked at, upwards and downwards.
const MOST_LINES: usize = 400;

/// A name that could come in.
#[derive(Debug, Clone)]
pub(super) struct InScope {
    pub(super) name: SmolStr,
    pub(super) dimension: Dimension,
    pub(super) distance: u64,
    pub(super) unused: bool,
    /// Whether its line gives it a number, and no formula.
    pub(super) given: bool,
    /// Whether it is defined further down.
    pub(super) below: bool,
    /// How many lines use it.
    pub(super) readers: usize,
    /// Whether it has a value; one that is broken itself is a poor repair.
    pub(super) has_value: bool,
    /// The names of the mended line that stand with it on some other line, by their bits.
    pub(super) company: u32,
    /// How many names of its dimension have its place in a series.
    pub(super) alike: u32,
}

/// The names around a line, the nearest first.
#[derive(Debug, Default)]
pub(super) struct Scope {
    pub(super) names: Vec<InScope>,
    /// The names that the line uses.
    pub(super) own: Vec<SmolStr>,
}

impl Scope {
    pub(super) fn around(state: &State, line: LineId) -> Scope {
        let mut scope = Scope::default();
        let (Some(cell), Some(middle)) = (state.cell(line), state.first_physical(line)) else {
            return scope;
        };
        let Some(file) = state.file(cell.file) else {
            return scope;
        };
        scope.own = names_used(cell);
        let mut company: FxHashMap<SmolStr, u32> = FxHashMap::default();
        // A name that needs this line would make a ring.
        let downstream = state.downstream(line);
        for step in 1..=MOST_LINES {
            for number in [middle.checked_sub(step), Some(middle + step)] {
                let Some(&other) = number.and_then(|n| file.physical.get(n)) else {
                    continue;
                };
                scope.keep_company(state, other, &mut company);
                if !downstream.contains(&other) {
                    scope.add(state, other, step as u64, number > Some(middle));
                }
            }
            if scope.names.len() >= MOST_NAMES {
                break;
            }
        }
        let mut alike: FxHashMap<(Dimension, SmolStr), u32> = FxHashMap::default();
        let place = |name: &InScope| (name.dimension, SmolStr::new(series(&name.name).1));
        for name in &scope.names {
            *alike.entry(place(name)).or_default() += 1;
        }
        for name in &mut scope.names {
            name.company = company.get(&name.name).copied().unwrap_or(0);
            name.alike = alike.get(&place(name)).copied().unwrap_or(1);
        }
        scope
    }

    /// Notes which of the line's names stand on another line, for every name there.
    fn keep_company(&self, state: &State, other: LineId, company: &mut FxHashMap<SmolStr, u32>) {
        let Some(cell) = state.cell(other) else {
            return;
        };
        let used = names_used(cell);
        let bits = self
            .own
            .iter()
            .take(super::company::MOST_KNOWN)
            .enumerate()
            .filter(|(_, name)| used.contains(name))
            .fold(0, |bits, (index, _)| bits | super::company::bit(index));
        if bits != 0 {
            for name in used {
                let mut known = self.own.iter().take(super::company::MOST_KNOWN);
                let own = known.position(|own| *own == name);
                let itself = own.map_or(0, super::company::bit);
                *company.entry(name).or_default() |= bits & !itself;
            }
        }
    }

    fn add(&mut self, state: &State, line: LineId, distance: u64, below: bool) {
        let Some(cell) = state.cell(line) else {
            return;
        };
        let (Meaning::Value(value), Some((crate::graph::Scope::File(file), name))) =
            (&cell.outcome.meaning, &cell.defines)
        else {
            return;
        };
        let Kind::Quantity(dimension) = value.evaluated.kind else {
            return;
        };
        if self.names.iter().any(|known| known.name == *name) {
            return;
        }
        let readers = state.graph.readers(*file, name);
        self.names.push(InScope {
            name: name.clone(),
            dimension,
            distance,
            unused: readers.is_empty(),
            given: matches!(
                cell.tree.expressions.as_slice(),
                [only] if matches!(only.kind, ExpressionKind::Literal(_))
            ),
            below,
            readers: readers.len(),
            has_value: value.evaluated.value.is_some(),
            company: 0,
            alike: 1,
        });
    }

    pub(super) fn of(&self, dimension: Dimension) -> impl Iterator<Item = &InScope> {
        self.names
            .iter()
            .filter(move |name| name.dimension == dimension)
    }

    pub(super) fn find(&self, name: &str) -> Option<&InScope> {
        self.names.iter().find(|known| known.name == name)
    }
}

/// The plain names of a line, each once.
fn names_used(cell: &Cell) -> Vec<SmolStr> {
    let mut names: Vec<SmolStr> = Vec::new();
    let mut known: FxHashSet<&SmolStr> = FxHashSet::default();
    for path in cell.tree.paths() {
        if let [name] = path.names.as_slice()
            && path.arguments.is_none()
            && known.insert(&name.text)
        {
            names.push(name.text.clone());
        }
    }
    names
}

/// A name parted into its series and its place in the series: `y1` is `y` and `1`, `A_web` is `A_`
/// and `web`.
pub(super) fn series(name: &str) -> (&str, &str) {
    if let Some(at) = name.rfind('_')
        && at + 1 < name.len()
    {
        return name.split_at(at + 1);
    }
    let is_index = |c: char| c.is_ascii_digit() || ('₀'..='₉').contains(&c) || c == '\'';
    let end = name.trim_end_matches(is_index).len();
    name.split_at(end)
}

/// Whether two names have the same place in different series.
pub(super) fn same_series(left: &str, right: &str) -> bool {
    let (a, b) = (series(left).1, series(right).1);
    a == b && !a.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_a_series() {
        assert_eq!(series("y1"), ("y", "1"));
        assert_eq!(series("A_web"), ("A_", "web"));
        assert_eq!(series("y₂"), ("y", "₂"));
        assert!(same_series("y1", "A1"));
        assert!(same_series("y_web", "A_web"));
        assert!(!same_series("b", "h"));
    }
}
