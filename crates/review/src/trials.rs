//! Which of the lines that could have caused a change did, found by undoing them.
//!
//! What a result can depend on (`causes`) says too much where only some of it matters: a load has no part
//! in a search for that load, a thicker flange none in the area of the web, a smaller moment none in the
//! largest of several. So where several changes meet in a line, each is undone alone. Those that move a
//! result are its causes, provided that
//!
//! 1. with exactly these undone, the result is as it was, and
//! 2. with exactly the others undone that it can depend on, the result is as it is.
//!
//! Otherwise all that it can depend on are its causes: no one of two changes that come to the same alone
//! moves the larger of both.
//!
//! Changes can also hold each other in balance: a result is as before, or as another change makes it,
//! only because two lines changed. Then no list of causes can be undone without moving it. Such results
//! are told beside the lines concerned ([`crate::Balance`]), so that this holds: with exactly the causes
//! of a result undone, each other result is as it was if all its causes are among them, as it is if none
//! is, and otherwise it shares causes or is told there.

use std::collections::{BTreeMap, BTreeSet};

use haunch_calc::{Check, Evaluated, LineView, Meaning, Snapshot};
use haunch_quantity::format_utilisation;

use crate::causes::Causes;
use crate::outcome::{Balance, Balanced, Cause};
use crate::pairs::{Pairs, line_number};
use crate::shown::{Showing, both, one, same, same_number};
use crate::undoing::Undoing;

/// Where more changes than these meet in a pair of files joined by `use`, none is undone: a version is
/// computed for each.
const MOST: usize = 40;
/// Sets of changes that are undone together, at most.
const MOST_SETS: usize = 160;

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
    Member(String),
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

    fn shown(&self, showing: Showing<'_>) -> Option<String> {
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

    fn is(&self, other: &State) -> bool {
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

/// A result or check that changed.
pub(crate) struct Target<'r> {
    pub(crate) item: Item,
    pub(crate) old: State,
    pub(crate) new: State,
    /// What it can depend on; after the trials, what caused it.
    pub(crate) causes: &'r mut Vec<Cause>,
}

/// What the trials found beside the causes.
#[derive(Debug, Default)]
pub(crate) struct Found {
    pub(crate) balances: Vec<Balance>,
    /// So many changes meet that none was undone.
    pub(crate) untried: bool,
}

/// Keeps of the causes of each target those that matter, and tells what is held in balance.
pub(crate) fn trials(
    pairs: &Pairs<'_>,
    causes: &Causes<'_>,
    changes: &[Option<usize>],
    used: &BTreeSet<(usize, String)>,
    targets: &mut [Target<'_>],
) -> Found {
    let undoing = Undoing::new(pairs, changes);
    let groups = causes.meeting(MOST);
    if groups.iter().map(BTreeSet::len).sum::<usize>() > MOST {
        return Found {
            untried: true,
            ..Found::default()
        };
    }
    let in_units = |group: BTreeSet<usize>| {
        let units = group.into_iter().map(|change| undoing.unit(change));
        units.collect::<BTreeSet<usize>>()
    };
    let meeting: Vec<BTreeSet<usize>> = groups.into_iter().map(in_units).collect();
    if meeting.iter().all(|group| group.len() < 2) {
        return Found::default();
    }
    let mut trials = Trials {
        pairs,
        undoing,
        versions: BTreeMap::new(),
    };
    for target in targets.iter_mut() {
        trials.keep_what_matters(target);
    }
    let balances = trials.balances(causes, &meeting, targets, used);
    Found {
        balances,
        untried: false,
    }
}

struct Trials<'a> {
    pairs: &'a Pairs<'a>,
    undoing: Undoing<'a>,
    /// The new version with these undone.
    versions: BTreeMap<BTreeSet<usize>, Option<Snapshot>>,
}

impl Trials<'_> {
    fn units(&self, causes: &[Cause]) -> BTreeSet<usize> {
        let units = causes.iter().map(|cause| self.undoing.unit(cause.change));
        units.collect()
    }

    fn without(&mut self, units: &BTreeSet<usize>) -> Option<&Snapshot> {
        if !self.versions.contains_key(units) {
            if self.versions.len() >= MOST_SETS {
                return None;
            }
            let version = self.undoing.without(units);
            self.versions.insert(units.clone(), version);
        }
        self.versions.get(units)?.as_ref()
    }

    /// What an item comes to with some changes undone; none where that could not be tried.
    fn state(&mut self, item: &Item, units: &BTreeSet<usize>) -> Option<State> {
        let pairs = self.pairs;
        Some(state(pairs, self.without(units)?, item))
    }

    fn keep_what_matters(&mut self, target: &mut Target<'_>) {
        let all = self.units(target.causes);
        if all.len() < 2
            || self
                .pairs
                .get(target.item.at)
                .is_none_or(|pair| pair.new.is_none())
        {
            return;
        }
        let mut mattering = BTreeSet::new();
        for &unit in &all {
            let Some(state) = self.state(&target.item, &BTreeSet::from([unit])) else {
                return;
            };
            if !state.is(&target.new) {
                mattering.insert(unit);
            }
        }
        if mattering.len() == all.len() {
            return;
        }
        let others: BTreeSet<usize> = all.difference(&mattering).copied().collect();
        let mut comes_to = |units: &BTreeSet<usize>, wanted: &State| {
            let state = self.state(&target.item, units);
            state.is_some_and(|state| state.is(wanted))
        };
        if comes_to(&mattering, &target.old) && comes_to(&others, &target.new) {
            let undoing = &self.undoing;
            target
                .causes
                .retain(|cause| mattering.contains(&undoing.unit(cause.change)));
        }
    }

    /// For each list of causes, what is told otherwise than its own causes say.
    fn balances(
        &mut self,
        causes: &Causes<'_>,
        meeting: &[BTreeSet<usize>],
        targets: &[Target<'_>],
        used: &BTreeSet<(usize, String)>,
    ) -> Vec<Balance> {
        let listed: BTreeMap<&Item, (BTreeSet<usize>, &Target<'_>)> = targets
            .iter()
            .map(|target| (&target.item, (self.units(target.causes), target)))
            .collect();
        let lists: BTreeMap<BTreeSet<usize>, Vec<usize>> = targets
            .iter()
            .map(|target| {
                let changes = target.causes.iter().map(|cause| cause.change);
                (self.units(target.causes), changes.collect())
            })
            // With all undone that meet, everything is as it was.
            .filter(|(units, _): &(BTreeSet<usize>, _)| {
                let is_split =
                    |group: &BTreeSet<usize>| !units.is_disjoint(group) && !group.is_subset(units);
                meeting.iter().any(is_split)
            })
            .collect();
        let mut balances = Vec::new();
        for (units, changes) in lists {
            let pairs = self.pairs;
            let Some(version) = self.without(&units) else {
                continue;
            };
            let mut held: Vec<Balanced> = Vec::new();
            for at in (0..pairs.all.len()).filter(|&at| causes.is_reached(at)) {
                for (item, balanced) in moved(pairs, used, version, at) {
                    let is_told = listed
                        .get(&item)
                        .is_some_and(|(own, _)| !own.is_disjoint(&units));
                    if !is_told {
                        held.push(balanced);
                    }
                }
            }
            for (item, (own, target)) in &listed {
                let has_line = pairs.get(item.at).is_some_and(|pair| pair.new.is_some());
                if has_line && own.is_subset(&units) {
                    let state = state(pairs, version, item);
                    if !state.is(&target.old) {
                        held.extend(balanced(pairs, used, item, &target.new, &state));
                    }
                }
            }
            if !held.is_empty() {
                held.sort_by(|a, b| (&a.file, a.line, &a.name).cmp(&(&b.file, b.line, &b.name)));
                held.dedup();
                balances.push(Balance {
                    changes,
                    results: held,
                });
            }
        }
        balances
    }
}

/// The line of an item in the new version with some changes undone. A line that came is gone there, and
/// another one may have its identity.
fn line_in<'v>(pairs: &Pairs<'_>, version: &'v Snapshot, at: usize) -> Option<LineView<'v>> {
    let pair = pairs.get(at)?;
    let line = pair.new?;
    let (now, then) = (pairs.new.line(line)?, version.line(line)?);
    (pair.old.is_some() || now.text() == then.text()).then_some(then)
}

fn state(pairs: &Pairs<'_>, version: &Snapshot, item: &Item) -> State {
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

/// The checks that a line states, itself or as a limit of its block.
fn checks_of<'v>(version: &'v Snapshot, line: LineView<'v>) -> Vec<&'v Check> {
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

/// What of a line is another value than in the new version, with what it comes to.
fn moved(
    pairs: &Pairs<'_>,
    used: &BTreeSet<(usize, String)>,
    version: &Snapshot,
    at: usize,
) -> Vec<(Item, Balanced)> {
    let mut moved = Vec::new();
    let Some((pair, line)) = pairs.get(at).and_then(|pair| Some((pair, pair.new?))) else {
        return moved;
    };
    let (Some(is), was) = (pairs.new.line(line), line_in(pairs, version, at)) else {
        return moved;
    };
    if was.is_some_and(|was| std::ptr::eq(is.outcome(), was.outcome())) || pair.is_input() {
        return moved;
    }
    let now = items(pairs.new, Some(is));
    let then = items(version, was);
    let whats: BTreeSet<&What> = now.keys().chain(then.keys()).collect();
    for what in whats {
        let state = |items: &BTreeMap<What, State>| items.get(what).cloned();
        let now = state(&now).unwrap_or(State::Nothing);
        let then = state(&then).unwrap_or(State::Nothing);
        if !now.is(&then) {
            let item = Item {
                at,
                what: what.clone(),
            };
            let told = balanced(pairs, used, &item, &now, &then);
            moved.extend(told.map(|told| (item, told)));
        }
    }
    moved
}

/// Everything that a line gives.
fn items(version: &Snapshot, line: Option<LineView<'_>>) -> BTreeMap<What, State> {
    let mut items = BTreeMap::new();
    let Some(line) = line else { return items };
    match line.meaning() {
        Meaning::Value(value) if !version.values_of(line.id()).is_empty() => {
            items.insert(What::Value, State::Value(value.evaluated.clone()));
        }
        Meaning::Block(block) if !block.name.is_empty() => {
            for (name, value) in block.members() {
                items.insert(What::Member(name.to_string()), State::Value(value));
            }
        }
        _ => {}
    }
    let mut counts: BTreeMap<&'static str, usize> = BTreeMap::new();
    for check in checks_of(version, line) {
        let count = counts.entry(check.kind).or_default();
        items.insert(
            What::Check(check.kind, *count),
            State::of_check(Some(check)),
        );
        *count += 1;
    }
    items
}

/// What is told of an item; none where it has no name.
fn balanced(
    pairs: &Pairs<'_>,
    used: &BTreeSet<(usize, String)>,
    item: &Item,
    now: &State,
    then: &State,
) -> Option<Balanced> {
    let pair = pairs.get(item.at)?;
    let line = pairs.new.line(pair.new?)?;
    let values = pairs.new.values_of(line.id());
    let name = match &item.what {
        What::Value => values.first()?.name.clone(),
        What::Member(member) => format!("{}.{member}", line.block()?.name),
        What::Check(kind, index) => {
            let checks = checks_of(pairs.new, line);
            let mut of_kind = checks.iter().filter(|check| check.kind == *kind);
            of_kind.nth(*index)?.name.clone()
        }
    };
    let preferences = pairs.new.preferences(line.file());
    let own = values.iter().find(|value| value.name == name);
    let showing = Showing {
        unit: own.and_then(|value| value.unit.as_ref()),
        preferences: &preferences,
    };
    let (new, undone) = match (now, then) {
        (State::Value(now), State::Value(then)) if !name.ends_with("utilisation") => {
            both(now, then, showing, showing)
        }
        (now, then) => (now.shown(showing), then.shown(showing)),
    };
    Some(Balanced {
        file: pairs.path(pair.file),
        line: line_number(pairs.new, line.id()),
        used: match &item.what {
            What::Member(member) => {
                member == "utilisation" || used.contains(&(item.at, member.clone()))
            }
            _ => true,
        },
        name,
        new,
        undone,
    })
}
