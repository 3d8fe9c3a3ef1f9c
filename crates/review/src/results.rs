//! Results of two versions side by side.

use std::collections::{BTreeMap, BTreeSet};

use haunch_calc::{Evaluated, FileId, FullValue, Meaning, Snapshot};
use haunch_quantity::format_utilisation;
use smol_str::SmolStr;

use crate::causes::{Aspect, Causes};
use crate::outcome::ResultChange;
use crate::pairs::{Pairs, line_number};
use crate::shown::{Showing, both, one, percent, same};
use crate::subject::Subject;
use crate::trials::{Item, State, What};

/// A result's line, and its name after the block's where it is one of a block.
type Key = (usize, Option<String>);

/// A result that changed, with what the trials need to know of it.
pub(crate) struct Found {
    pub(crate) told: ResultChange,
    pub(crate) item: Item,
    pub(crate) old: State,
    pub(crate) new: State,
}

/// The results of a pair of files that changed, came or went, in the order of the lines.
pub(crate) fn results(
    pairs: &Pairs<'_>,
    file: usize,
    causes: &mut Causes<'_>,
    used: &BTreeSet<(usize, String)>,
) -> Vec<Found> {
    let mut changed = Vec::new();
    let mut gone = Vec::new();
    for (at, pair) in pairs.of_file(file) {
        let is = pair.new.and_then(|line| pairs.new.line(line));
        let was = pair.old.and_then(|line| pairs.old.line(line));
        if let (Some(is), Some(was)) = (is, was)
            && std::ptr::eq(is.outcome(), was.outcome())
        {
            continue;
        }
        let old = was.map(|line| pairs.old.values_of(line.id()));
        let new = is.map(|line| pairs.new.values_of(line.id()));
        let (old, new) = (old.unwrap_or_default(), new.unwrap_or_default());
        let mut before: BTreeMap<Key, &FullValue> = BTreeMap::new();
        for value in &old {
            before.insert((at, renamed_member(pairs, file, value)), value);
        }
        for value in &new {
            let key = (at, member(pairs.new, value));
            let was = before.remove(&key);
            changed.extend(compare(pairs, file, &key, was, Some(value), causes, used));
        }
        for (key, value) in before {
            gone.extend(compare(pairs, file, &key, Some(value), None, causes, used));
        }
    }
    changed.extend(gone);
    changed.sort_by_key(|result| result.told.line);
    changed
}

/// The part of a name after its block's; none for a line's own value.
fn member(snapshot: &Snapshot, value: &FullValue) -> Option<String> {
    match snapshot.line(value.line)?.meaning() {
        Meaning::Block(block) => {
            let rest = value.name.strip_prefix(block.name.as_str())?;
            Some(rest.strip_prefix('.')?.to_owned())
        }
        _ => None,
    }
}

/// The same with the names of the new version.
fn renamed_member(pairs: &Pairs<'_>, file: usize, value: &FullValue) -> Option<String> {
    let member = member(pairs.old, value)?;
    let renames = pairs
        .renames
        .get(file)
        .filter(|renames| !renames.is_empty());
    let Some(renames) = renames else {
        return Some(member);
    };
    let names: Vec<SmolStr> = value.name.split('.').map(SmolStr::from).collect();
    let new = renames.path(&names.iter().collect::<Vec<_>>(), None);
    Some(new.get(1..).unwrap_or_default().join("."))
}

#[allow(clippy::too_many_arguments)]
fn compare(
    pairs: &Pairs<'_>,
    file: usize,
    (at, member): &Key,
    old: Option<&FullValue>,
    new: Option<&FullValue>,
    causes: &mut Causes<'_>,
    used: &BTreeSet<(usize, String)>,
) -> Option<Found> {
    let pair = pairs.get(*at)?;
    if pair.subject == Subject::Words || (member.is_none() && pair.is_input()) {
        return None;
    }
    let unknown = Evaluated::UNKNOWN;
    let of = |value: Option<&FullValue>| value.map_or(unknown.clone(), |v| v.evaluated.clone());
    let (was, is) = (of(old), of(new));
    let one_sided = old.is_none() || new.is_none();
    if same(&was, &is) && (!one_sided || (was.value.is_none() && is.value.is_none())) {
        return None;
    }
    let pair_of_files = pairs.files.get(file)?;
    let preferences = |snapshot: &Snapshot, file: Option<FileId>| {
        file.map(|file| snapshot.preferences(file))
            .unwrap_or_default()
    };
    let before = preferences(pairs.old, pair_of_files.old);
    let after = preferences(pairs.new, pair_of_files.new);
    let unit = |value: Option<&FullValue>| value.and_then(|value| value.unit.clone());
    let (old_unit, new_unit) = (unit(old), unit(new));
    let showing_old = Showing {
        unit: old_unit.as_ref(),
        preferences: &before,
    };
    let showing_new = Showing {
        unit: new_unit.as_ref(),
        preferences: &after,
    };
    let is_utilisation = member
        .as_ref()
        .is_some_and(|member| member.ends_with("utilisation"));
    let (old_text, new_text) = match one_sided {
        _ if is_utilisation => (utilisation(&was), utilisation(&is)),
        true => (one(&was, showing_old), one(&is, showing_new)),
        false => both(&was, &is, showing_old, showing_new),
    };
    let si = |value: &Evaluated| value.as_quantity().map(|quantity| quantity.si());
    let aspect = match member.as_deref() {
        Some(name) if !name.ends_with("utilisation") => Aspect::Values,
        _ => Aspect::Limits(None),
    };
    let name = new.or(old)?.name.clone();
    let old_name = old
        .map(|value| value.name.clone())
        .filter(|old| *old != name);
    let (snapshot, line) = match new {
        Some(value) => (pairs.new, value.line),
        None => (pairs.old, old?.line),
    };
    let told = ResultChange {
        file: pairs.path(file),
        line: line_number(snapshot, line),
        old_name,
        percent: si(&was)
            .zip(si(&is))
            .filter(|_| was.kind == is.kind)
            .and_then(|(old, new)| percent(old, new)),
        old: old_text,
        new: new_text,
        old_si: si(&was),
        new_si: si(&is),
        one_sided,
        used: member
            .as_ref()
            .is_none_or(|member| member == "utilisation" || used.contains(&(*at, member.clone()))),
        causes: causes.of(*at, aspect),
        name,
    };
    Some(Found {
        told,
        item: Item {
            at: *at,
            what: member.clone().map_or(What::Value, What::Member),
        },
        old: State::of_value(old.map(|value| &value.evaluated)),
        new: State::of_value(new.map(|value| &value.evaluated)),
    })
}

/// A utilisation in per cent, on its side of 100 %.
fn utilisation(value: &Evaluated) -> Option<String> {
    let used = value.as_quantity()?.si();
    Some(format_utilisation(used, 4).to_string())
}
