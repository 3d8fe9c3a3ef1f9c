//! Results that changes hold in balance: told otherwise than the lists of causes say.

use std::collections::{BTreeMap, BTreeSet};

use haunch_calc::Snapshot;

use crate::causes::{Causes, UsedMembers};
use crate::items::{Item, Items, State, What, checks_of, differences, items, line_in, state};
use crate::outcome::{Balance, Balanced};
use crate::pairs::{Pairs, line_number};
use crate::shown::{Showing, both};
use crate::trials::{Target, Trials};

/// For each list of causes, what is told otherwise than its own causes say. `meeting` are changes that
/// reach the same lines.
pub(crate) fn balances(
    trials: &mut Trials<'_>,
    causes: &Causes<'_>,
    meeting: &[BTreeSet<usize>],
    targets: &[Target<'_>],
    used: &UsedMembers,
) -> Vec<Balance> {
    let pairs = trials.pairs;
    let listed: BTreeMap<&Item, (BTreeSet<usize>, &Target<'_>)> = targets
        .iter()
        .map(|target| (&target.item, (trials.units(target.causes), target)))
        .collect();
    let lists: BTreeMap<&BTreeSet<usize>, Vec<usize>> = listed
        .values()
        .map(|(units, target)| {
            let changes = target.causes.iter().map(|cause| cause.change);
            (units, changes.collect())
        })
        // With all undone that meet, everything is as it was.
        .filter(|(units, _): &(&BTreeSet<usize>, _)| {
            let is_split =
                |group: &BTreeSet<usize>| !units.is_disjoint(group) && !group.is_subset(units);
            meeting.iter().any(is_split)
        })
        .collect();
    let mut now: BTreeMap<usize, Items> = BTreeMap::new();
    let mut balances = Vec::new();
    for (units, changes) in lists {
        let Some(version) = trials.without(units) else {
            continue;
        };
        let mut held: Vec<Balanced> = Vec::new();
        for at in (0..pairs.all.len()).filter(|&at| causes.is_reached(at)) {
            if !can_move(pairs, version, at) {
                continue;
            }
            let is = pairs.get(at).and_then(|pair| pairs.new.line(pair.new?));
            let now = now
                .entry(at)
                .or_insert_with(|| is.map_or_else(Items::new, |line| items(pairs.new, line)));
            let then = line_in(pairs, version, at);
            let then = then.map_or_else(Items::new, |line| items(version, line));
            for (what, now, then) in differences(now, &then) {
                let item = Item {
                    at,
                    what: what.clone(),
                };
                let own = listed.get(&item);
                if own.is_none_or(|(own, _)| own.is_disjoint(units)) {
                    held.extend(balanced(pairs, used, &item, now, then));
                }
            }
        }
        for (item, (own, target)) in &listed {
            let has_line = pairs.get(item.at).is_some_and(|pair| pair.new.is_some());
            if has_line && own.is_subset(units) {
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

/// Whether a line can come to something else in a version than in the new one: it was computed again,
/// and what it gives is a result.
fn can_move(pairs: &Pairs<'_>, version: &Snapshot, at: usize) -> bool {
    let pair = pairs.get(at).filter(|pair| !pair.is_input());
    let Some(is) = pair.and_then(|pair| pairs.new.line(pair.new?)) else {
        return false;
    };
    let was = line_in(pairs, version, at);
    was.is_none_or(|was| !std::ptr::eq(is.outcome(), was.outcome()))
}

/// What is told of an item; none where it has no name.
fn balanced(
    pairs: &Pairs<'_>,
    used: &UsedMembers,
    item: &Item,
    now: &State,
    then: &State,
) -> Option<Balanced> {
    let pair = pairs.get(item.at)?;
    let line = pairs.new.line(pair.new?)?;
    let preferences = pairs.new.preferences(line.file());
    let (name, unit) = match &item.what {
        What::Value => {
            let value = pairs.new.values_of(line.id()).into_iter().next()?;
            (value.name, value.unit)
        }
        What::Member(member) => {
            let block = line.block()?;
            let unit = block.unit_of(member, &preferences);
            (format!("{}.{member}", block.name), unit)
        }
        What::Check(kind, index) => {
            let checks = checks_of(pairs.new, line);
            let mut of_kind = checks.iter().filter(|check| check.kind == *kind);
            (of_kind.nth(*index)?.name.clone(), None)
        }
    };
    let showing = Showing {
        unit: unit.as_ref(),
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
            What::Member(member) => used.contains(item.at, member),
            _ => true,
        },
        name,
        new,
        undone,
    })
}
