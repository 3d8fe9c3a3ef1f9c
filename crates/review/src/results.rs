//! Results of two versions side by side.

use std::rc::Rc;
use std::sync::Arc;

use haunch_calc::{Evaluated, FileId, LineId, LineView, Meaning, Snapshot};
use haunch_quantity::{Preferences, Unit, format_utilisation};
use smol_str::SmolStr;

use crate::causes::{Aspect, Causes, UsedMembers};
use crate::items::{Item, Items, State, What, differences};
use crate::outcome::{Cause, ResultChange};
use crate::pairs::{Pairs, line_number};
use crate::renames::Renames;
use crate::shown::{Showing, both, one, percent};
use crate::subject::Subject;

/// A result that changed, came or went.
pub(crate) struct Found {
    /// The result, in the names of the new version.
    pub(crate) item: Item,
    pub(crate) old: State,
    pub(crate) new: State,
    pub(crate) causes: Rc<[Cause]>,
}

/// The results of a pair of files that changed, came or went, in the order of the lines.
pub(crate) fn results(pairs: &Pairs<'_>, file: usize, causes: &mut Causes<'_>) -> Vec<Found> {
    let renames = pairs.renames.get(file);
    let mut found = Vec::new();
    for (at, pair) in pairs.of_file(file) {
        let is = pair.new.and_then(|line| pairs.new.line(line));
        let was = pair.old.and_then(|line| pairs.old.line(line));
        if let (Some(is), Some(was)) = (is, was)
            && std::ptr::eq(is.outcome(), was.outcome())
        {
            continue;
        }
        if pair.subject == Subject::Words {
            continue;
        }
        let new = is.map_or_else(Items::new, |line| given(pairs.new, line));
        let mut old = was.map_or_else(Items::new, |line| given(pairs.old, line));
        if let (Some(block), Some(renames)) = (was.and_then(LineView::block), renames) {
            rename(renames, &block.name, &mut old);
        }
        for (what, new, old) in differences(&new, &old) {
            if matches!(what, What::Value) && pair.is_input() {
                continue;
            }
            // What came or went without a value is no change of a result.
            if !old.has_value() && !new.has_value() {
                continue;
            }
            found.push(Found {
                item: Item {
                    at,
                    what: what.clone(),
                },
                old: old.clone(),
                new: new.clone(),
                causes: causes.of(at, aspect(what)),
            });
        }
    }
    found.sort_by_cached_key(|result| {
        let went = matches!(result.new, State::Nothing);
        let pair = pairs.get(result.item.at);
        let number = match went {
            true => pair.and_then(|pair| Some(line_number(pairs.old, pair.old?))),
            false => pair.and_then(|pair| Some(line_number(pairs.new, pair.new?))),
        };
        (number, went)
    });
    found
}

/// The values that a line gives.
fn given(version: &Snapshot, line: LineView<'_>) -> Items {
    match line.meaning() {
        Meaning::Value(_) => {
            let values = version.values_of(line.id()).into_iter();
            let value = |value: haunch_calc::FullValue| State::Value(value.evaluated);
            values.map(|own| (What::Value, value(own))).collect()
        }
        Meaning::Block(_) => {
            let results = version.results_of(line.id()).into_iter();
            results
                .map(|(name, value)| (What::Member(name), State::Value(value)))
                .collect()
        }
        _ => Items::new(),
    }
}

/// Puts the results of a block of the old version under their names in the new one.
fn rename(renames: &Renames, block: &str, items: &mut Items) {
    if renames.is_empty() {
        return;
    }
    for (what, _) in items.iter_mut() {
        if let What::Member(member) = what {
            *member = renamed(renames, block, member);
        }
    }
    items.sort_by(|(a, _), (b, _)| a.cmp(b));
}

/// The name in the new version of a result of a block of the old one.
fn renamed(renames: &Renames, block: &str, member: &str) -> SmolStr {
    let names: Vec<SmolStr> = std::iter::once(block)
        .chain(member.split('.'))
        .map(SmolStr::from)
        .collect();
    let new = renames.path(&names.iter().collect::<Vec<_>>(), None);
    new.get(1..).unwrap_or_default().join(".").into()
}

/// What of a line a result follows from.
fn aspect(what: &What) -> Aspect {
    match what {
        What::Member(name) if !name.ends_with("utilisation") => Aspect::Values,
        _ => Aspect::Limits(None),
    }
}

impl Found {
    /// Whether a line uses the result, or it is a utilisation.
    pub(crate) fn is_used(&self, used: &UsedMembers) -> bool {
        match &self.item.what {
            What::Member(member) => used.contains(self.item.at, member),
            _ => true,
        }
    }

    /// The result in words and numbers.
    pub(crate) fn told(&self, pairs: &Pairs<'_>, used: &UsedMembers) -> Option<ResultChange> {
        let pair = pairs.get(self.item.at)?;
        let files = pairs.files.get(pair.file)?;
        let old = self.shown_in(pairs, pairs.old, &self.old, pair.old, files.old);
        let new = self.shown_in(pairs, pairs.new, &self.new, pair.new, files.new);
        let (was, is) = (self.old.value(), self.new.value());
        let is_utilisation =
            matches!(&self.item.what, What::Member(name) if name.ends_with("utilisation"));
        let (old_text, new_text) = match (&old, &new) {
            _ if is_utilisation => (utilisation(&was), utilisation(&is)),
            (Some(old), Some(new)) => both(&was, &is, old.showing(), new.showing()),
            (old, new) => (
                old.as_ref().and_then(|old| one(&was, old.showing())),
                new.as_ref().and_then(|new| one(&is, new.showing())),
            ),
        };
        let si = |value: &Evaluated| value.as_quantity().map(|quantity| quantity.si());
        // A block without results still has them, without values.
        let came_or_went = |shown: &Option<Shown>, version: &Snapshot, line: Option<LineId>| {
            let block = line.and_then(|line| version.line(line)?.block());
            shown.is_none() && block.is_none_or(|block| block.model.is_some())
        };
        let one_sided =
            came_or_went(&old, pairs.old, pair.old) || came_or_went(&new, pairs.new, pair.new);
        let old_name = old.as_ref().map(|old| old.name.clone());
        let place = new.or(old)?;
        Some(ResultChange {
            file: pairs.path(pair.file),
            line: place.line,
            old_name: old_name.filter(|old| *old != place.name),
            percent: si(&was)
                .zip(si(&is))
                .filter(|_| was.kind == is.kind)
                .and_then(|(old, new)| percent(old, new)),
            old: old_text,
            new: new_text,
            old_si: si(&was),
            new_si: si(&is),
            one_sided,
            used: self.is_used(used),
            causes: self.causes.to_vec(),
            name: place.name,
        })
    }

    /// How a version shows the result; none where it is not there.
    fn shown_in(
        &self,
        pairs: &Pairs<'_>,
        version: &Snapshot,
        state: &State,
        line: Option<LineId>,
        file: Option<FileId>,
    ) -> Option<Shown> {
        if matches!(state, State::Nothing) {
            return None;
        }
        let (line, preferences) = (line?, version.preferences(file?));
        let (name, unit) = match &self.item.what {
            What::Member(member) => {
                let block = version.line(line)?.block()?;
                let renames = pairs.renames.get(pairs.get(self.item.at)?.file)?;
                let is_old = std::ptr::eq(version, pairs.old);
                let own = match is_old && !renames.is_empty() {
                    true => version
                        .results_of(line)
                        .into_iter()
                        .map(|(own, _)| own)
                        .find(|own| renamed(renames, &block.name, own) == *member)?,
                    false => member.clone(),
                };
                let unit = block.unit_of(&own, &preferences);
                (format!("{}.{own}", block.name), unit)
            }
            _ => {
                let value = version.values_of(line).into_iter().next()?;
                (value.name, value.unit)
            }
        };
        Some(Shown {
            name,
            unit,
            preferences,
            line: line_number(version, line),
        })
    }
}

/// How a version shows a result.
struct Shown {
    name: String,
    unit: Option<Unit>,
    preferences: Arc<Preferences>,
    line: u32,
}

impl Shown {
    fn showing(&self) -> Showing<'_> {
        Showing {
            unit: self.unit.as_ref(),
            preferences: &self.preferences,
        }
    }
}

/// A utilisation in per cent, on its side of 100 %.
fn utilisation(value: &Evaluated) -> Option<String> {
    let used = value.as_quantity()?.si();
    Some(format_utilisation(used, 4).to_string())
}
