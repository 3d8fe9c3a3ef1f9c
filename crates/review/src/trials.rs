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
use std::rc::Rc;

use haunch_calc::Snapshot;

use crate::causes::{Causes, UsedMembers};
use crate::items::{Item, State, state};
use crate::outcome::{Balance, Cause};
use crate::pairs::Pairs;
use crate::undoing::Undoing;

/// Where more changes than these meet in a pair of files joined by `use`, none is undone: a version is
/// computed for each.
const MOST: usize = 40;
/// Sets of changes that are undone together, at most.
const MOST_SETS: usize = 160;

/// A result or check that changed.
pub(crate) struct Target<'r> {
    pub(crate) item: Item,
    pub(crate) old: State,
    pub(crate) new: State,
    /// What it can depend on; after the trials, what caused it.
    pub(crate) causes: &'r mut Rc<[Cause]>,
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
    used: &UsedMembers,
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
    let balances = crate::balances::balances(&mut trials, causes, &meeting, targets, used);
    Found {
        balances,
        untried: false,
    }
}

pub(crate) struct Trials<'a> {
    pub(crate) pairs: &'a Pairs<'a>,
    undoing: Undoing<'a>,
    /// The new version with these undone.
    versions: BTreeMap<BTreeSet<usize>, Option<Snapshot>>,
}

impl Trials<'_> {
    /// What these are undone with.
    pub(crate) fn units(&self, causes: &[Cause]) -> BTreeSet<usize> {
        let units = causes.iter().map(|cause| self.undoing.unit(cause.change));
        units.collect()
    }

    /// The new version with these undone; none where that could not be tried.
    pub(crate) fn without(&mut self, units: &BTreeSet<usize>) -> Option<&Snapshot> {
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
            let matter = |cause: &&Cause| mattering.contains(&undoing.unit(cause.change));
            *target.causes = target.causes.iter().filter(matter).cloned().collect();
        }
    }
}
