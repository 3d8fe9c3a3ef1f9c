//! Checks of two versions side by side.

use std::collections::BTreeMap;
use std::rc::Rc;

use haunch_calc::{Check, FileId, Snapshot};
use haunch_quantity::format_utilisation;
use haunch_syntax::Statement;

use crate::causes::{Aspect, Causes};
use crate::items::{Item, State, What};
use crate::outcome::{Cause, CheckChange, CheckState, Verdict};
use crate::pairs::{Pairs, line_number};
use crate::shown::same_number;

/// A check that changed, with what the trials need to know of it.
pub(crate) struct Found {
    pub(crate) told: CheckChange,
    pub(crate) item: Item,
    pub(crate) old: State,
    pub(crate) new: State,
    pub(crate) causes: Rc<[Cause]>,
}

/// The checks of a pair of files that changed, in the order of the lines.
pub(crate) fn checks(
    pairs: &Pairs<'_>,
    file: usize,
    causes: &mut Causes<'_>,
    margin: f64,
) -> Vec<Found> {
    let Some(pair) = pairs.files.get(file) else {
        return Vec::new();
    };
    let of = |snapshot: &Snapshot, file: Option<FileId>| {
        file.map(|file| snapshot.checks(file)).unwrap_or_default()
    };
    let (old, new) = (of(pairs.old, pair.old), of(pairs.new, pair.new));
    let old_keys = keyed(&old, |check| pairs.of_old(check.line));
    let new_keys = keyed(&new, |check| pairs.of_new(check.line));
    let mut changed = Vec::new();
    for (key, check) in &new_keys {
        let was = old_keys.iter().find(|(k, _)| k == key).map(|(_, c)| *c);
        changed.extend(compare(pairs, file, *key, was, Some(check), causes, margin));
    }
    for (key, check) in &old_keys {
        if new_keys.iter().all(|(k, _)| k != key) {
            changed.extend(compare(
                pairs,
                file,
                *key,
                Some(check),
                None,
                causes,
                margin,
            ));
        }
    }
    changed
}

/// A check's line, its kind, and which one of these it is.
type Key = (usize, &'static str, usize);

fn keyed(checks: &[Check], at: impl Fn(&Check) -> Option<usize>) -> Vec<(Key, &Check)> {
    let mut counts: BTreeMap<(usize, &'static str), usize> = BTreeMap::new();
    let mut keyed = Vec::new();
    for check in checks {
        let Some(at) = at(check) else { continue };
        let count = counts.entry((at, check.kind)).or_default();
        keyed.push(((at, check.kind, *count), check));
        *count += 1;
    }
    keyed
}

#[allow(clippy::too_many_arguments)]
fn compare(
    pairs: &Pairs<'_>,
    file: usize,
    (at, kind, index): Key,
    old: Option<&Check>,
    new: Option<&Check>,
    causes: &mut Causes<'_>,
    margin: f64,
) -> Option<Found> {
    let verdict = verdict(old, new, margin)?;
    let pair = pairs.get(at)?;
    // A limit line's check belongs to its block; a check without a line of its own to its heading.
    let is_limit = [(pairs.new, pair.new), (pairs.old, pair.old)]
        .into_iter()
        .any(|(snapshot, line)| {
            matches!(Pairs::statement(snapshot, line), Some(Statement::Limit(_)))
        });
    let (start, aspect) = match (is_limit, pair.heading, pair.name.is_some()) {
        (true, Some(heading), _) => (heading, Aspect::Own(at)),
        (false, None, true) => (at, Aspect::Materials(kind)),
        _ => (at, Aspect::Limits(None)),
    };
    let (snapshot, check) = match (new, old) {
        (Some(check), _) => (pairs.new, check),
        (None, Some(check)) => (pairs.old, check),
        (None, None) => return None,
    };
    let told = CheckChange {
        verdict,
        file: pairs.path(file),
        line: line_number(snapshot, check.line),
        name: check.name.clone(),
        kind: kind.to_owned(),
        old: old.map(state),
        new: new.map(state),
        causes: Vec::new(),
    };
    Some(Found {
        told,
        item: Item {
            at,
            what: What::Check(kind, index),
        },
        old: State::of_check(old),
        new: State::of_check(new),
        causes: causes.of(start, aspect),
    })
}

fn state(check: &Check) -> CheckState {
    CheckState {
        holds: check.holds,
        utilisation: check.utilisation,
        used: check
            .utilisation
            .map(|used| format_utilisation(used, DIGITS).to_string()),
        text: check.text.clone(),
        place: check.place.clone(),
    }
}

/// Digits of a utilisation.
const DIGITS: u8 = 3;

/// What became of a check; none where it is as before.
fn verdict(old: Option<&Check>, new: Option<&Check>, margin: f64) -> Option<Verdict> {
    let Some(new) = new else {
        return Some(Verdict::Removed);
    };
    let Some(old) = old else {
        return Some(match new.holds {
            Some(true) => Verdict::New,
            Some(false) => Verdict::NewAndDoesNotHold,
            None => Verdict::NewAndNotComputed,
        });
    };
    let same_use = match (old.utilisation, new.utilisation) {
        (Some(old), Some(new)) => same_number(old, new),
        (old, new) => old == new,
    };
    match (old.holds, new.holds) {
        (Some(true) | None, Some(false)) => Some(Verdict::NoLongerHolds),
        (Some(_), None) => Some(Verdict::NoLongerComputed),
        (Some(false) | None, Some(true)) => Some(Verdict::NowHolds),
        (None, None) => None,
        _ if same_use => None,
        (Some(false), Some(false)) => Some(Verdict::StillDoesNotHold),
        (Some(true), Some(true)) => {
            let used = |check: &Check| check.utilisation.unwrap_or(0.0);
            let is_near = used(new) > used(old) && used(new) > 1.0 - margin;
            Some(match is_near {
                true => Verdict::NearItsBound,
                false => Verdict::Holds,
            })
        }
    }
}
