//! Holds the texts in place of the core while the core is being written.
use haunch_text::*;
use std::collections::BTreeMap;
use std::sync::Arc;
#[derive(Clone, Copy, Debug)]
pub(crate) struct FileId(usize);
#[derive(Clone, Debug, Default)]
pub(crate) struct Snapshot {
    files: Arc<Vec<(String, Arc<Vec<String>>)>>,
}
impl Snapshot {
    pub(crate) fn file(&self, p: &str) -> Option<FileId> {
        self.files.iter().position(|(q, _)| q == p).map(FileId)
    }
    pub(crate) fn path(&self, f: FileId) -> &str {
        &self.files[f.0].0
    }
    pub(crate) fn line_count(&self, f: FileId) -> usize {
        self.files[f.0].1.len()
    }
    pub(crate) fn physical_line(&self, f: FileId, n: usize) -> &str {
        &self.files[f.0].1[n]
    }
}
#[derive(Default)]
pub(crate) struct Host {
    files: BTreeMap<String, Arc<Vec<String>>>,
}
pub(crate) struct Changed {
    pub(crate) files: Vec<FileId>,
}
pub(crate) enum Change {
    SetText { path: String, text: String },
    Edit { path: String, edits: Vec<Edit> },
    Remove { path: String },
}
impl Host {
    pub(crate) fn new() -> Host {
        Host::default()
    }
    pub(crate) fn apply(&mut self, c: Change) -> Changed {
        match c {
            Change::SetText { path, text } => {
                if text.contains("stand-in panic") {
                    panic!("stand-in")
                }
                self.files.insert(
                    path,
                    Arc::new(split_lines(&text).map(str::to_owned).collect()),
                );
            }
            Change::Edit { path, edits } => {
                let l = Arc::make_mut(self.files.get_mut(&path).unwrap());
                for e in edits {
                    let s = e.splice(l.len(), |n| &l[n]);
                    l.splice(s.first..s.first + s.removed, s.inserted);
                }
                if l.concat().contains("stand-in panic") {
                    panic!("stand-in")
                }
            }
            Change::Remove { path } => {
                self.files.remove(&path);
            }
        }
        Changed { files: vec![] }
    }
    pub(crate) fn snapshot(&self) -> Snapshot {
        Snapshot {
            files: Arc::new(
                self.files
                    .iter()
                    .map(|(a, b)| (a.clone(), b.clone()))
                    .collect(),
            ),
        }
    }
    pub(crate) fn wanted_files(&self) -> Vec<String> {
        let mut v = vec![];
        for (p, l) in &self.files {
            for l in l.iter() {
                if let Some(r) = l.strip_prefix("use \"") {
                    if let Some(n) = r.split('"').next() {
                        let d = p.rsplit_once('/').map_or("", |x| x.0);
                        let q = format!("{d}/{n}");
                        if !self.files.contains_key(&q) {
                            v.push(q)
                        }
                    }
                }
            }
        }
        v
    }
}
