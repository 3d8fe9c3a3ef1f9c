//! What a line gives in a version, so that two versions of it can be compared.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use haunch_calc::{Check, Evaluated, LineView, Meaning, Snapshot};
use haunch_quantity::format_utilisation;
use smol_str::SmolStr;

use crate::pairs::Pairs;
use crate::shown::{Showing, one, same, same_number};

/// What is told of: a value, a result of a block, or a check.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Item {
    /// The line that gives it; of a check, that which states it.
    pub(crate) at: usize,
    pub(crate) what: What,
}

#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum What {
    /// The line's own value.
    Value,
    /// A result of the block that it heads.
    Member(SmolStr),
    /// A check that it states, by its kind, and which of these.
    Check(&'static str, usize),
}

/// What an item comes to in a version.
#[derive(Debug, Clone)]
pub(crate) enum State {
    /// It is not there.
    Nothing,
    Value(Evaluated),
    Check(Option<f64>, Option<bool>),
}

impl State {
    pub(crate) fn of_check(check: Option<&Check>) -> State {
        check.map_or(State::Nothing, |check| {
            State::Check(check.utilisation, check.holds)
        })
    }

    pub(crate) fn of_value(value: Option<&Evaluated>) -> State {
        value.map_or(State::Nothing, |value| State::Value(value.clone()))
    }

    /// Its value; unknown where it has none.
    pub(crate) fn value(&self) -> Evaluated {
        match self {
            State::Value(value) => value.clone(),
            _ => Evaluated::UNKNOWN,
        }
    }

    pub(crate) fn has_value(&self) -> bool {
        matches!(self, State::Value(value) if value.value.is_some())
    }

    pub(crate) fn shown(&self, showing: Showing<'_>) -> Option<String> {
        match self {
            State::Nothing => None,
            State::Value(value) => one(value, showing),
            State::Check(Some(used), _) => Some(format_utilisation(*used, 3).to_string()),
            State::Check(None, holds) => holds.map(|holds| {
                let words = if holds { "holds" } else { "does not hold" };
                words.to_owned()
            }),
        }
    }

    pub(crate) fn is(&self, other: &State) -> bool {
        match (self, other) {
            (State::Nothing, State::Nothing) => true,
            (State::Value(a), State::Value(b)) => same(a, b),
            (State::Check(a, holds), State::Check(b, other)) => {
                let alike = match (a, b) {
                    (Some(a), Some(b)) => same_number(*a, *b),
                    (a, b) => a == b,
                };
                alike && holds == other
            }
            _ => false,
        }
    }
}

/// What an item comes to in the new version with some changes undone.
pub(crate) fn state(pairs: &Pairs<'_>, version: &Snapshot, item: &Item) -> State {
    let Some(line) = line_in(pairs, version, item.at) else {
        return State::Nothing;
    };
    match (&item.what, line.meaning()) {
        (What::Value, Meaning::Value(value)) => State::Value(value.evaluated.clone()),
        (What::Member(name), Meaning::Block(block)) => State::of_value(block.member(name).as_ref()),
        (What::Check(kind, index), _) => {
            let of_kind = |check: &&&Check| check.kind == *kind;
            let checks = checks_of(version, line);
            State::of_check(checks.iter().filter(of_kind).nth(*index).copied())
        }
        _ => State::Nothing,
    }
}

/// The line of an item in the new version with some changes undone. A line that came is gone there, and
/// another one may have its identity.
pub(crate) fn line_in<'v>(
    pairs: &Pairs<'_>,
    version: &'v Snapshot,
    at: usize,
) -> Option<LineView<'v>> {
    let pair = pairs.get(at)?;
    let line = pair.new?;
    let (now, then) = (pairs.new.line(line)?, version.line(line)?);
    (pair.old.is_some() || now.text() == then.text()).then_some(then)
}

/// The checks that a line states, itself or as a limit of its block.
pub(crate) fn checks_of<'v>(version: &'v Snapshot, line: LineView<'v>) -> Vec<&'v Check> {
    match line.meaning() {
        Meaning::Check(check) => vec![check],
        _ => {
            let heading = line.owner().and_then(|heading| version.line(heading));
            let block = heading.unwrap_or(line).block();
            let checks = block.into_iter().flat_map(|block| &block.checks);
            checks.filter(|check| check.line == line.id()).collect()
        }
    }
}

/// Everything that a line gives, sorted.
pub(crate) type Items = Vec<(What, State)>;

/// What a line of a version gives.
pub(crate) fn items(version: &Snapshot, line: LineView<'_>) -> Items {
    let mut items = Items::new();
    match line.meaning() {
        Meaning::Value(value) if !version.values_of(line.id()).is_empty() => {
            items.push((What::Value, State::Value(value.evaluated.clone())));
        }
        Meaning::Block(_) => {
            let results = version.results_of(line.id()).into_iter();
            items.extend(results.map(|(name, value)| (What::Member(name), State::Value(value))));
        }
        _ => {}
    }
    let mut counts: BTreeMap<&'static str, usize> = BTreeMap::new();
    for check in checks_of(version, line) {
        let count = counts.entry(check.kind).or_default();
        items.push((
            What::Check(check.kind, *count),
            State::of_check(Some(check)),
        ));
        *count += 1;
    }
    items.sort_by(|(a, _), (b, _)| a.cmp(b));
    items
}

/// What is another one in two lists of items, with what it is in each.
pub(crate) fn differences<'a>(
    now: &'a [(What, State)],
    then: &'a [(What, State)],
) -> Vec<(&'a What, &'a State, &'a State)> {
    let (mut now, mut then) = (now, then);
    let mut found = Vec::new();
    loop {
        let order = match (now.first(), then.first()) {
            (Some((a, _)), Some((b, _))) => a.cmp(b),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => return found,
        };
        let next = |list: &mut &'a [(What, State)], wanted: bool| {
            let (first, rest) = list.split_first().filter(|_| wanted)?;
            *list = rest;
            Some(first)
        };
        let (a, b) = (
            next(&mut now, order.is_le()),
            next(&mut then, order.is_ge()),
        );
        let Some((what, _)) = a.or(b) else { continue };
        let state = |of: Option<&'a (What, State)>| of.map_or(&State::Nothing, |(_, state)| state);
        if !state(a).is(state(b)) {
            found.push((what, state(a), state(b)));
        }
    }
}
