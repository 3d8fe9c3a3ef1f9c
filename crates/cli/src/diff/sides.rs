//! The two versions that are compared: files, folders, or versions in git.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use haunch_calc::{Change, Host, Snapshot};
use haunch_review::FilePair;
use haunch_syntax::{Statement, read_line};

use crate::arguments::Compared;
use crate::git::{Repository, Texts, Version};
use crate::sources::{Trouble, find, read, spelled};
use crate::used_files::read_used_files;

/// The name of the results on record, at the top of a repository.
pub(crate) const RECORD: &str = "haunch-results.txt";

/// One version.
#[derive(Debug, Default)]
pub(crate) struct Side {
    /// In words.
    pub(crate) label: String,
    pub(crate) texts: Texts,
    /// Where files that are used and not among these are looked for.
    root: Option<PathBuf>,
}

/// Both versions.
pub(crate) struct Sides {
    pub(crate) old: Side,
    pub(crate) new: Side,
    /// Only files under one of these are told of; all where there is none.
    pub(crate) only: Vec<String>,
}

/// Finds out what is to be compared.
pub(crate) fn sides(wanted: &Compared) -> Result<Sides, String> {
    let here = Path::new(".");
    match (&wanted.old, &wanted.new) {
        (Some(old), Some(new)) if is_there(old) && is_there(new) && !wanted.staged => {
            on_disk(Path::new(old), Path::new(new))
        }
        (old, new) => {
            let repository = Repository::around(here).map_err(|words| {
                let missing: Vec<&String> = [old, new]
                    .into_iter()
                    .flatten()
                    .filter(|p| !is_there(p))
                    .collect();
                match missing.first() {
                    Some(path) => format!(
                        "{path}: there is no such file, and this folder is in no git repository"
                    ),
                    None => format!(
                        "two files or folders are needed where there is no git repository ({words})"
                    ),
                }
            })?;
            in_git(&repository, wanted, old.as_deref(), new.as_deref())
        }
    }
}

fn is_there(path: &str) -> bool {
    Path::new(path).exists()
}

fn on_disk(old: &Path, new: &Path) -> Result<Sides, String> {
    let is_folder = (old.is_dir(), new.is_dir());
    let side = |path: &Path, name: Option<String>| -> Result<Side, String> {
        let root = match path.is_dir() {
            true => path.to_path_buf(),
            false => path.parent().map(Path::to_path_buf).unwrap_or_default(),
        };
        let (files, troubles) = find(&[path.to_path_buf()]);
        let grave = troubles
            .iter()
            .find(|trouble| !matches!(trouble, Trouble::NothingFound { .. }));
        if let Some(trouble) = grave {
            return Err(trouble.to_string());
        }
        let mut texts = Texts::new();
        for file in files {
            let own = file.strip_prefix(&root).map(spelled).unwrap_or_default();
            let text = read(&file).map_err(|trouble| trouble.to_string())?;
            texts.insert(name.clone().unwrap_or(own), text);
        }
        Ok(Side {
            label: spelled(path),
            texts,
            root: Some(root),
        })
    };
    // Two files are versions of one, whatever their names are.
    let name = match is_folder {
        (false, false) => new
            .file_name()
            .map(|name| name.to_string_lossy().into_owned()),
        (true, true) => None,
        _ => {
            return Err(format!(
                "{} and {} cannot be compared: one is a file and the other a folder",
                spelled(old),
                spelled(new)
            ));
        }
    };
    Ok(Sides {
        old: side(old, name.clone())?,
        new: side(new, name)?,
        only: Vec::new(),
    })
}

fn in_git(
    repository: &Repository,
    wanted: &Compared,
    first: Option<&str>,
    second: Option<&str>,
) -> Result<Sides, String> {
    let mut paths: Vec<String> = wanted.paths.iter().map(|path| spelled(path)).collect();
    let mut revisions: Vec<&str> = Vec::new();
    for word in [first, second].into_iter().flatten() {
        if is_there(word) {
            paths.push(word.to_owned());
        } else {
            revisions.push(word);
        }
    }
    let commit = |revision: &str| {
        repository.commit(revision).ok_or_else(|| {
            format!("{revision}: there is no such file, and git knows no such revision")
        })
    };
    let head = |word: &str| {
        if word.is_empty() {
            "HEAD".to_owned()
        } else {
            word.to_owned()
        }
    };
    let disk = || ("the files on disk".to_owned(), Version::Disk);
    let staged = || ("what is staged".to_owned(), Version::Staged);
    let ((old_label, old), (new_label, new)) = match revisions.as_slice() {
        [] => {
            let new = if wanted.staged { staged() } else { disk() };
            (("HEAD".to_owned(), Version::Commit(commit("HEAD")?)), new)
        }
        [range] if range.contains("...") => {
            let (a, b) = range.split_once("...").unwrap_or((range, ""));
            let (a, b) = (head(a), head(b));
            let from = repository.parting(&commit(&a)?, &commit(&b)?)?;
            let label = format!("where {b} left {a}");
            (
                (label, Version::Commit(from)),
                (b.clone(), Version::Commit(commit(&b)?)),
            )
        }
        [range] if range.contains("..") => {
            let (a, b) = range.split_once("..").unwrap_or((range, ""));
            let (a, b) = (head(a), head(b));
            (
                (a.clone(), Version::Commit(commit(&a)?)),
                (b.clone(), Version::Commit(commit(&b)?)),
            )
        }
        [one] => {
            let new = if wanted.staged { staged() } else { disk() };
            (((*one).to_owned(), Version::Commit(commit(one)?)), new)
        }
        [one, other] if !wanted.staged => (
            ((*one).to_owned(), Version::Commit(commit(one)?)),
            ((*other).to_owned(), Version::Commit(commit(other)?)),
        ),
        _ => {
            return Err(
                "--staged compares with one revision, HEAD unless another is named".to_owned(),
            );
        }
    };
    let side = |label: String, version: &Version| -> Result<Side, String> {
        Ok(Side {
            label,
            texts: repository.texts(version, &[RECORD])?,
            root: None,
        })
    };
    Ok(Sides {
        old: side(old_label, &old)?,
        new: side(new_label, &new)?,
        only: from_top(repository, &paths)?,
    })
}

/// Paths as the repository spells them.
pub(crate) fn from_top(repository: &Repository, paths: &[String]) -> Result<Vec<String>, String> {
    let top = repository
        .top
        .canonicalize()
        .unwrap_or(repository.top.clone());
    paths
        .iter()
        .map(|path| {
            let full = Path::new(path)
                .canonicalize()
                .map_err(|_| format!("{path}: there is no such file or folder"))?;
            let inside = full.strip_prefix(&top);
            inside
                .map(spelled)
                .map_err(|_| format!("{path} lies outside the repository"))
        })
        .collect()
}

/// Both versions computed.
pub(crate) struct Computed {
    pub(crate) old: Snapshot,
    pub(crate) new: Snapshot,
    pub(crate) pairs: Vec<FilePair>,
    /// The old version's results on record, where it has any.
    pub(crate) record: Option<String>,
}

/// Computes both versions: the files that differ, those that use them, and those that all of these use.
pub(crate) fn compute(mut sides: Sides) -> Computed {
    let record = sides.old.texts.remove(RECORD);
    sides.new.texts.remove(RECORD);
    let (old, new) = (&sides.old.texts, &sides.new.texts);
    let changed: BTreeSet<&str> = old
        .keys()
        .chain(new.keys())
        .filter(|path| old.get(*path) != new.get(*path))
        .map(String::as_str)
        .collect();
    // Files outside are used too where there is a folder to look in: they may differ as well. And what
    // is on record is compared with every file's results.
    let needed = match sides.new.root.is_some() || record.is_some() {
        true => old.keys().chain(new.keys()).map(String::as_str).collect(),
        false => reach(&changed, &[old, new]),
    };
    let mut host = Host::new();
    for (path, text) in old
        .iter()
        .filter(|(path, _)| needed.contains(path.as_str()))
    {
        set(&mut host, path, text);
    }
    let old_used = read_used(&mut host, sides.old.root.as_deref());
    let before = host.snapshot();
    for path in &needed {
        match (old.get(*path), new.get(*path)) {
            (old, Some(text)) if old != Some(text) => set(&mut host, path, text),
            (Some(_), None) => {
                host.apply(Change::Remove {
                    path: (*path).to_owned(),
                });
            }
            _ => {}
        }
    }
    if sides.old.root != sides.new.root {
        for path in old_used {
            host.apply(Change::Remove { path });
        }
    }
    read_used(&mut host, sides.new.root.as_deref());
    let after = host.snapshot();
    let pairs = pair_files(&before, &after);
    Computed {
        old: before,
        new: after,
        pairs,
        record,
    }
}

fn set(host: &mut Host, path: &str, text: &str) {
    host.apply(Change::SetText {
        path: path.to_owned(),
        text: text.to_owned(),
    });
}

/// Reads files that are used from below a folder, where there is one; returns which were there. One
/// that cannot be read counts as not there.
fn read_used(host: &mut Host, root: Option<&Path>) -> Vec<String> {
    root.map(|root| read_used_files(host, root, &mut Vec::new()))
        .unwrap_or_default()
}

/// The files from which `changed` can be reached through `use` lines, and all that these use.
pub(crate) fn reach<'a>(changed: &BTreeSet<&'a str>, versions: &[&'a Texts]) -> BTreeSet<&'a str> {
    let mut uses: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let mut used_by: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for texts in versions {
        for (path, text) in *texts {
            for used in used_files(path, text) {
                if let Some((used, _)) = texts.get_key_value(&used) {
                    uses.entry(path).or_default().insert(used);
                    used_by.entry(used).or_default().insert(path);
                }
            }
        }
    }
    let spread = |from: &BTreeSet<&'a str>, along: &BTreeMap<&'a str, BTreeSet<&'a str>>| {
        let mut all = from.clone();
        let mut stack: Vec<&str> = from.iter().copied().collect();
        while let Some(path) = stack.pop() {
            for next in along.get(path).into_iter().flatten() {
                if all.insert(next) {
                    stack.push(next);
                }
            }
        }
        all
    };
    spread(&spread(changed, &used_by), &uses)
}

/// The files that depend on `changed`, these included.
pub(crate) fn depending<'a>(changed: &BTreeSet<&'a str>, texts: &'a Texts) -> BTreeSet<&'a str> {
    let mut all = changed.clone();
    loop {
        let more: Vec<&str> = texts
            .iter()
            .filter(|(path, _)| !all.contains(path.as_str()))
            .filter(|(path, text)| {
                used_files(path, text)
                    .iter()
                    .any(|used| all.contains(used.as_str()))
            })
            .map(|(path, _)| path.as_str())
            .collect();
        if more.is_empty() {
            return all;
        }
        all.extend(more);
    }
}

/// The paths that a file's `use` lines name.
fn used_files(path: &str, text: &str) -> Vec<String> {
    let lines = text
        .lines()
        .filter(|line| line.trim_start_matches('\u{feff}').starts_with("use"));
    lines
        .filter_map(
            |line| match read_line(line, haunch_quantity::is_unit_word).statement {
                Statement::Use(used) => Some(joined(path, &used.path.text)),
                _ => None,
            },
        )
        .collect()
}

/// A path as seen from the folder of another, `.` and `..` worked out.
fn joined(base: &str, other: &str) -> String {
    let folder = base.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    for part in folder.split('/').chain(other.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    parts.join("/")
}

/// A file that went and one that came are one file with another name where at least this share of
/// their lines is the same.
const SAME_FILE: f64 = 0.6;

fn pair_files(old: &Snapshot, new: &Snapshot) -> Vec<FilePair> {
    let mut pairs: Vec<FilePair> = Vec::new();
    let mut came = Vec::new();
    for file in new.files() {
        match old.file(new.path(file)) {
            Some(before) => pairs.push(FilePair {
                old: Some(before),
                new: Some(file),
            }),
            None => came.push(file),
        }
    }
    for file in old.files() {
        if new.file(old.path(file)).is_some() {
            continue;
        }
        let text = old.text(file);
        let alike = |other: &haunch_calc::FileId| shared_lines(&text, &new.text(*other));
        let best = came
            .iter()
            .enumerate()
            .map(|(at, other)| (at, alike(other)))
            .filter(|(_, share)| *share >= SAME_FILE)
            .max_by(|a, b| a.1.total_cmp(&b.1));
        pairs.push(FilePair {
            old: Some(file),
            new: best.map(|(at, _)| came.remove(at)),
        });
    }
    pairs.extend(came.into_iter().map(|file| FilePair {
        old: None,
        new: Some(file),
    }));
    let path = |pair: &FilePair| match (pair.new, pair.old) {
        (Some(file), _) => new.path(file).to_owned(),
        (None, Some(file)) => old.path(file).to_owned(),
        (None, None) => String::new(),
    };
    pairs.sort_by_key(path);
    pairs
}

fn shared_lines(a: &str, b: &str) -> f64 {
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
