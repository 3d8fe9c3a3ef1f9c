//! The two versions that are compared: files, folders, or versions in git.

use std::path::Path;

use crate::arguments::Compared;
use crate::git::{Repository, Texts, Version};
use crate::sources::{Trouble, find, read, spelled};
use crate::used_files::used_files;

/// The name of the results on record, at the top of a repository.
pub(crate) const RECORD: &str = "haunch-results.txt";

/// One version.
#[derive(Debug, Default)]
pub(crate) struct Side {
    /// In words.
    pub(crate) label: String,
    /// The texts of its files by their paths.
    pub(crate) texts: Texts,
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
    if let Some(file) = &wanted.since_check {
        return since_check(file, wanted.staged);
    }
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
        add_used(&mut texts, &root);
        Ok(Side {
            label: spelled(path),
            texts,
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
    let (old, new) = both(|| side(old, name.clone()), || side(new, name.clone()))?;
    Ok(Sides {
        old,
        new,
        only: Vec::new(),
    })
}

/// Reads both versions at once. Where neither can be read, the old one's trouble is told.
fn both<T: Send>(
    old: impl FnOnce() -> Result<T, String> + Send,
    new: impl FnOnce() -> Result<T, String>,
) -> Result<(T, T), String> {
    std::thread::scope(|scope| {
        let old = scope.spawn(old);
        let new = new();
        match old.join() {
            Ok(old) => Ok((old?, new?)),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

/// Adds the files from below a folder that those at hand use, and those that these use. One that cannot
/// be read counts as not there.
fn add_used(texts: &mut Texts, root: &Path) {
    let mut looked_at: Vec<String> = texts.keys().cloned().collect();
    while let Some(path) = looked_at.pop() {
        let used = texts.get(&path).map(|text| used_files(&path, text));
        for used in used.unwrap_or_default() {
            if !texts.contains_key(&used)
                && let Ok(text) = read(&root.join(&used))
            {
                texts.insert(used.clone(), text);
                looked_at.push(used);
            }
        }
    }
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
        })
    };
    let (old, new) = both(|| side(old_label, &old), || side(new_label, &new))?;
    Ok(Sides {
        old,
        new,
        only: from_top(repository, &paths)?,
    })
}

/// A file as it is, and as it was when it was last recorded as checked.
fn since_check(file: &Path, staged: bool) -> Result<Sides, String> {
    let repository = Repository::around(Path::new("."))
        .map_err(|words| format!("this folder is in no git repository ({words})"))?;
    if file.is_dir() {
        return Err(format!(
            "{} is a folder; each file was checked at a time of its own, so one file is needed",
            spelled(file)
        ));
    }
    let only = from_top(&repository, &[spelled(file)])?;
    let path = only.first().map_or("", String::as_str);
    let text = read(&repository.top.join(path)).map_err(|trouble| trouble.to_string())?;
    let recorded = haunch_review::recorded_checks::lines(&text);
    let commits = recorded
        .iter()
        .map(|line| repository.last_change(path, *line));
    let commits: Vec<String> = commits.collect::<Result<_, _>>()?;
    let Some(last) = repository.newest(&commits)? else {
        return Err(format!(
            "{path}: nobody is recorded in its sheet as having checked or approved it"
        ));
    };
    let (label, new) = match staged {
        true => ("what is staged", Version::Staged),
        false => ("the files on disk", Version::Disk),
    };
    let short: String = last.chars().take(10).collect();
    Ok(Sides {
        old: Side {
            label: format!("the last recorded check in commit {short}"),
            texts: repository.texts(&Version::Commit(last), &[RECORD])?,
        },
        new: Side {
            label: label.to_owned(),
            texts: repository.texts(&new, &[RECORD])?,
        },
        only,
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
