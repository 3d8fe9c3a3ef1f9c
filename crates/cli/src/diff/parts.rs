//! What is compared, in parts that have nothing to do with each other.
//!
//! Files that changed belong together where one uses the other, in either version, and with the files that
//! use them. Files that are the same and use none that changed are read before each part that needs them:
//! what they come to is the same everywhere, and those that several parts need are computed once. So each
//! part is computed by itself, in as many threads as there are, and forgotten once it is told of; which
//! thread took which part shows nowhere.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};

use haunch_calc::{Change, Host, Snapshot};
use haunch_review::FilePair;
use haunch_text::edits_between;

use super::sides::Sides;
use crate::git::Texts;
use crate::used_files::used_files;

/// A file of both versions, or of one, by its paths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Paths<'a> {
    old: Option<&'a str>,
    new: Option<&'a str>,
}

/// Files that belong together.
#[derive(Debug)]
pub(super) struct Part<'a> {
    /// Those that are told of, in the order of their paths.
    files: Vec<Paths<'a>>,
    /// The paths of these. A file that is used comes before those that use it, so that nothing is computed
    /// without it first.
    own: Vec<&'a str>,
    /// What these use beside each other, in such an order too: the same in both versions.
    used: Vec<&'a str>,
}

/// Files that several parts use, computed, by their paths.
#[derive(Debug)]
pub(super) struct Shared<'a>(BTreeMap<Vec<&'a str>, Host>);

/// Both versions of a part, computed.
pub(super) struct Computed {
    pub(super) old: Snapshot,
    pub(super) new: Snapshot,
    pub(super) pairs: Vec<FilePair>,
}

/// The parts, in the order of their first files. With `whole`, those too that are the same in both
/// versions.
pub(super) fn parts(sides: &Sides, whole: bool) -> Vec<Part<'_>> {
    let (old, new) = (&sides.old.texts, &sides.new.texts);
    let uses = uses(&[old, new]);
    let mut used_by: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (path, used) in &uses {
        for used in used {
            used_by.entry(used).or_default().insert(path);
        }
    }
    let all = old.keys().chain(new.keys()).map(String::as_str);
    let changed = all.filter(|path| whole || old.get(*path) != new.get(*path));
    let concerned = spread(changed.collect(), &used_by);
    let renamed = renamed(old, new);
    let mut together: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let mut join = |one, other| {
        together.entry(one).or_default().insert(other);
        together.entry(other).or_default().insert(one);
    };
    for (path, used) in &uses {
        for used in used.iter().filter(|used| concerned.contains(*used)) {
            join(path, used);
        }
    }
    for (old, new) in &renamed {
        join(old, new);
    }
    let mut left = concerned.clone();
    let mut parts = Vec::new();
    while let Some(&first) = left.first() {
        let own = spread(BTreeSet::from([first]), &together);
        left.retain(|path| !own.contains(path));
        let came_with = |path: &&str| !renamed.values().any(|new| new == path);
        let mut files: Vec<Paths> = own
            .iter()
            .filter(|path| old.contains_key(**path) || came_with(path))
            .map(|&path| Paths {
                old: old.contains_key(path).then_some(path),
                new: renamed
                    .get(path)
                    .copied()
                    .or(new.contains_key(path).then_some(path)),
            })
            .collect();
        files.sort_by_key(|file| file.new.or(file.old));
        let read = used_first(&spread(own.clone(), &uses), &uses).into_iter();
        let (own, used) = read.partition(|path| own.contains(path));
        parts.push(Part { files, own, used });
    }
    parts
}

/// What each file uses, in any of the versions.
fn uses<'a>(versions: &[&'a Texts]) -> BTreeMap<&'a str, BTreeSet<&'a str>> {
    let mut uses: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (index, texts) in versions.iter().enumerate() {
        for (path, text) in *texts {
            let before = versions.iter().take(index);
            if before
                .into_iter()
                .any(|other| other.get(path) == Some(text))
            {
                continue;
            }
            for used in used_files(path, text) {
                let known = versions.iter().find_map(|texts| texts.get_key_value(&used));
                if let Some((used, _)) = known {
                    uses.entry(path).or_default().insert(used);
                }
            }
        }
    }
    uses
}

/// Everything that can be reached.
fn spread<'a>(
    from: BTreeSet<&'a str>,
    along: &BTreeMap<&'a str, BTreeSet<&'a str>>,
) -> BTreeSet<&'a str> {
    let mut stack: Vec<&str> = from.iter().copied().collect();
    let mut all = from;
    while let Some(path) = stack.pop() {
        for next in along.get(path).into_iter().flatten() {
            if all.insert(next) {
                stack.push(next);
            }
        }
    }
    all
}

/// Files in an order in which each comes after those that it uses; within a ring of files, in any.
fn used_first<'a>(
    files: &BTreeSet<&'a str>,
    uses: &BTreeMap<&'a str, BTreeSet<&'a str>>,
) -> Vec<&'a str> {
    let mut seen = BTreeSet::new();
    let mut ordered = Vec::with_capacity(files.len());
    for &first in files {
        // Each file once to look at what it uses, and once more when all of that is in the list.
        let mut stack = vec![(first, false)];
        while let Some((path, is_ready)) = stack.pop() {
            if is_ready {
                ordered.push(path);
            } else if seen.insert(path) {
                stack.push((path, true));
                let used = uses.get(path).into_iter().flatten();
                stack.extend(used.map(|used| (*used, false)));
            }
        }
    }
    ordered
}

/// Computes what several parts use.
pub(super) fn shared<'a>(parts: &[Part<'a>], sides: &Sides) -> Shared<'a> {
    let mut counts: BTreeMap<&Vec<&str>, usize> = BTreeMap::new();
    for part in parts.iter().filter(|part| !part.used.is_empty()) {
        *counts.entry(&part.used).or_default() += 1;
    }
    let several: Vec<&Vec<&str>> = counts
        .into_iter()
        .filter(|(_, count)| *count > 1)
        .map(|(used, _)| used)
        .collect();
    let hosts = in_threads(&several, |used| with(Host::new(), used, &sides.old.texts));
    let used = several.into_iter().cloned();
    Shared(used.zip(hosts).collect())
}

/// A host with more files.
fn with(mut host: Host, paths: &[&str], texts: &Texts) -> Host {
    for path in paths {
        if let Some(text) = texts.get(*path) {
            set(&mut host, path, text);
        }
    }
    host
}

fn set(host: &mut Host, path: &str, text: &str) {
    host.apply(Change::SetText {
        path: path.to_owned(),
        text: text.to_owned(),
    });
}

impl Part<'_> {
    /// Computes both versions: the second one as edits of the first, so that lines that stay are
    /// computed once.
    pub(super) fn compute(&self, sides: &Sides, shared: &Shared<'_>) -> Computed {
        let (old, new) = (&sides.old.texts, &sides.new.texts);
        let host = match shared.0.get(&self.used) {
            Some(host) => host.clone(),
            None => with(Host::new(), &self.used, old),
        };
        let mut host = with(host, &self.own, old);
        let before = host.snapshot();
        for path in &self.own {
            match (old.get(*path), new.get(*path)) {
                (Some(old), Some(new)) if old != new => {
                    host.apply(Change::Edit {
                        path: (*path).to_owned(),
                        edits: edits_between(old, new),
                    });
                }
                (None, Some(new)) => set(&mut host, path, new),
                (Some(_), None) => {
                    host.apply(Change::Remove {
                        path: (*path).to_owned(),
                    });
                }
                _ => {}
            }
        }
        let after = host.snapshot();
        let pairs = self
            .files
            .iter()
            .map(|file| FilePair {
                old: file.old.and_then(|path| before.file(path)),
                new: file.new.and_then(|path| after.file(path)),
            })
            .collect();
        Computed {
            old: before,
            new: after,
            pairs,
        }
    }
}

/// What each of several pieces of work comes to, in their order, in as many threads as there are.
pub(super) fn in_threads<T: Sync, R: Send>(work: &[T], done: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let next = AtomicUsize::new(0);
    let take = || {
        let mut own = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = work.get(index) else {
                return own;
            };
            own.push((index, done(item)));
        }
    };
    let mut found = std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads.min(work.len()))
            .map(|_| scope.spawn(take))
            .collect();
        let mut found = take();
        for other in others {
            match other.join() {
                Ok(own) => found.extend(own),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        found
    });
    found.sort_by_key(|(index, _)| *index);
    found.into_iter().map(|(_, done)| done).collect()
}

/// A file that went and one that came are one file with another name where at least this share of
/// their lines is the same.
const SAME_FILE: f64 = 0.6;

/// The new names of files that have another one.
fn renamed<'a>(old: &'a Texts, new: &'a Texts) -> BTreeMap<&'a str, &'a str> {
    let mut came: Vec<(&str, &str)> = new
        .iter()
        .filter(|(path, _)| !old.contains_key(*path))
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect();
    let mut renamed = BTreeMap::new();
    for (path, text) in old.iter().filter(|(path, _)| !new.contains_key(*path)) {
        let best = came
            .iter()
            .enumerate()
            .map(|(at, (_, other))| (at, shared_lines(text, other)))
            .filter(|(_, share)| *share >= SAME_FILE)
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((at, _)) = best {
            renamed.insert(path.as_str(), came.remove(at).0);
        }
    }
    renamed
}

/// Twice the number of lines in common over the number of all lines (Dice's coefficient).
fn shared_lines(a: &str, b: &str) -> f64 {
    if a == b {
        return 1.0;
    }
    let lines = |text: &str| -> Vec<String> {
        let lines = text.lines().map(|line| line.trim().to_owned());
        lines.filter(|line| !line.is_empty()).collect()
    };
    let (a, mut rest) = (lines(a), lines(b));
    let all = a.len() + rest.len();
    let mut same = 0_u32;
    for line in &a {
        if let Some(at) = rest.iter().position(|other| other == line) {
            rest.swap_remove(at);
            same += 1;
        }
    }
    if all == 0 {
        0.0
    } else {
        2.0 * f64::from(same) / all as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_that_are_used_come_first() {
        let uses = BTreeMap::from([
            ("a", BTreeSet::from(["b", "d"])),
            ("b", BTreeSet::from(["c"])),
            ("d", BTreeSet::from(["c"])),
            ("ring", BTreeSet::from(["round"])),
            ("round", BTreeSet::from(["c", "ring"])),
        ]);
        let files = BTreeSet::from(["a", "b", "c", "d", "ring", "round"]);
        let ordered = used_first(&files, &uses);
        assert_eq!(ordered.iter().copied().collect::<BTreeSet<_>>(), files);
        assert_eq!(ordered.len(), files.len());
        let at = |path: &str| ordered.iter().position(|other| *other == path);
        for (one, other) in [
            ("b", "a"),
            ("d", "a"),
            ("c", "b"),
            ("c", "d"),
            ("c", "round"),
        ] {
            assert!(at(one) < at(other), "{one} before {other} in {ordered:?}");
        }
    }
}
