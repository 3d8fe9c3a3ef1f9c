//! What is read from git, by asking `git` itself. Nothing here writes.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::sources::ENDING;

/// The files of one version of a repository by their paths from its top.
pub(crate) type Texts = BTreeMap<String, String>;

/// A repository.
pub(crate) struct Repository {
    /// Its top folder.
    pub(crate) top: PathBuf,
}

/// A version of a repository's files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Version {
    /// A commit.
    Commit(String),
    /// What is staged.
    Staged,
    /// The files on disk.
    Disk,
}

fn git(folder: &Path) -> Command {
    let mut command = Command::new("git");
    command
        .current_dir(folder)
        .args(["-c", "core.quotepath=off"]);
    command
}

/// Runs git and gives what it prints; its own words where it fails.
pub(crate) fn ask<S: AsRef<OsStr>>(folder: &Path, arguments: &[S]) -> Result<Vec<u8>, String> {
    let mut command = git(folder);
    command.args(arguments).stdin(Stdio::null());
    let output = command
        .output()
        .map_err(|failure| format!("git could not be started: {failure}"))?;
    if output.status.success() {
        return Ok(output.stdout);
    }
    let words = String::from_utf8_lossy(&output.stderr);
    Err(words.trim().to_owned())
}

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8_lossy(&bytes)
        .trim_end_matches(['\n', '\r'])
        .to_owned()
}

impl Repository {
    /// The repository that a folder is in.
    pub(crate) fn around(folder: &Path) -> Result<Repository, String> {
        let top = ask(folder, &["rev-parse", "--show-toplevel"])?;
        Ok(Repository {
            top: PathBuf::from(text(top)),
        })
    }

    /// The commit that a revision names; none where it names none.
    pub(crate) fn commit(&self, revision: &str) -> Option<String> {
        let wanted = format!("{revision}^{{commit}}");
        let found = ask(
            &self.top,
            &[
                "rev-parse",
                "--verify",
                "--quiet",
                "--end-of-options",
                &wanted,
            ],
        );
        found.ok().map(text).filter(|id| !id.is_empty())
    }

    /// The commit where two revisions parted.
    pub(crate) fn parting(&self, one: &str, other: &str) -> Result<String, String> {
        ask(&self.top, &["merge-base", one, other])
            .map(text)
            .map_err(|words| match words.as_str() {
                "" => format!("{one} and {other} have no commit in common"),
                words => words.to_owned(),
            })
    }

    /// The commit that last changed a line of a file on disk, the line by its number from 1. White space
    /// counts for nothing.
    pub(crate) fn last_change(&self, path: &str, line: u32) -> Result<String, String> {
        let lines = format!("{line},{line}");
        let told = ask(
            &self.top,
            &["blame", "-w", "--porcelain", "-L", &lines, "--", path],
        )?;
        let told = text(told);
        let id = told.split_whitespace().next().unwrap_or_default();
        match id.bytes().all(|byte| byte == b'0') {
            true => Err(format!(
                "{path} line {line}: who checked it is not committed yet"
            )),
            false => Ok(id.to_owned()),
        }
    }

    /// The newest of several commits, none of none.
    pub(crate) fn newest(&self, commits: &[String]) -> Result<Option<String>, String> {
        if commits.is_empty() {
            return Ok(None);
        }
        let mut arguments = vec!["rev-list", "--no-walk=sorted", "--max-count=1"];
        arguments.extend(commits.iter().map(String::as_str));
        ask(&self.top, &arguments).map(|id| Some(text(id)))
    }

    /// The text of a file in a commit, by its path from the top; none where the commit has no such file.
    pub(crate) fn text(&self, commit: &str, path: &str) -> Option<String> {
        let bytes = ask(
            &self.top,
            &["cat-file", "blob", &format!("{commit}:{path}")],
        )
        .ok()?;
        String::from_utf8(bytes).ok()
    }

    /// The calculations of a version, and the other files whose paths are named in `more`.
    pub(crate) fn texts(&self, version: &Version, more: &[&str]) -> Result<Texts, String> {
        let is_wanted = |path: &str| {
            let ending = Path::new(path).extension();
            ending.is_some_and(|ending| ending == ENDING) || more.contains(&path)
        };
        match version {
            Version::Commit(id) => {
                let listed = ask(&self.top, &["ls-tree", "-r", "-z", "--full-tree", id])?;
                self.blobs(entries(&listed, is_wanted))
            }
            Version::Staged => {
                let listed = ask(&self.top, &["ls-files", "--stage", "-z"])?;
                self.blobs(entries(&listed, is_wanted))
            }
            Version::Disk => {
                let listed = ask(
                    &self.top,
                    &[
                        "ls-files",
                        "-z",
                        "--cached",
                        "--others",
                        "--exclude-standard",
                        "--deduplicate",
                    ],
                )?;
                let listed = String::from_utf8_lossy(&listed).into_owned();
                let mut texts = Texts::new();
                for path in listed.split('\0').filter(|path| is_wanted(path)) {
                    match crate::sources::read(&self.top.join(path)) {
                        Ok(text) => {
                            texts.insert(path.to_owned(), text);
                        }
                        Err(crate::sources::Trouble::Missing { .. }) => {}
                        Err(trouble) => return Err(trouble.to_string()),
                    }
                }
                Ok(texts)
            }
        }
    }

    /// The contents of objects, read by one process.
    fn blobs(&self, entries: Vec<(String, String)>) -> Result<Texts, String> {
        let mut texts = Texts::new();
        if entries.is_empty() {
            return Ok(texts);
        }
        let failed = |failure: std::io::Error| format!("git could not be read from: {failure}");
        let mut child = git(&self.top)
            .args(["cat-file", "--batch"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .map_err(|failure| format!("git could not be started: {failure}"))?;
        let asked: String = entries.iter().map(|(id, _)| format!("{id}\n")).collect();
        let stdin = child.stdin.take();
        // Asked from a thread of its own: git answers while it is still being asked.
        let asking = std::thread::spawn(move || match stdin {
            Some(mut stdin) => stdin.write_all(asked.as_bytes()),
            None => Ok(()),
        });
        let output = child.wait_with_output().map_err(failed)?;
        // Where git ended early, its answer is short, and that is told below.
        let _ = asking.join();
        let mut rest = output.stdout.as_slice();
        for (_, path) in entries {
            let short = || format!("{path}: git gave no contents");
            let end = rest.iter().position(|b| *b == b'\n').ok_or_else(short)?;
            let (head, tail) = rest.split_at(end);
            let head = String::from_utf8_lossy(head).into_owned();
            let size: usize = head
                .rsplit(' ')
                .next()
                .and_then(|size| size.parse().ok())
                .ok_or_else(short)?;
            let bytes = tail.get(1..1 + size).ok_or_else(short)?;
            rest = tail.get(size + 2..).unwrap_or_default();
            let text = std::str::from_utf8(bytes)
                .map_err(|_| format!("{path}: this version of it is not UTF-8 text"))?;
            texts.insert(path, text.to_owned());
        }
        Ok(texts)
    }
}

/// Object and path of each entry of a listing: `MODE … OBJECT …\tPATH`.
fn entries(listed: &[u8], is_wanted: impl Fn(&str) -> bool) -> Vec<(String, String)> {
    let listed = String::from_utf8_lossy(listed).into_owned();
    let mut entries = Vec::new();
    for entry in listed.split('\0') {
        let Some((head, path)) = entry.split_once('\t') else {
            continue;
        };
        // Links and other repositories inside are no calculations.
        let is_file = head.starts_with("100");
        let id = head
            .split(' ')
            .find(|word| word.len() >= 40 && word.bytes().all(|b| b.is_ascii_hexdigit()));
        if let Some(id) = id.filter(|_| is_file && is_wanted(path)) {
            entries.push((id.to_owned(), path.to_owned()));
        }
    }
    entries
}
