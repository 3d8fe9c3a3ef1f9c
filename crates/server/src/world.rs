//! The state: the core, the open documents and the files read from the disk.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use haunch_calc::{Change, Snapshot};
use haunch_text::{Edit, Encoding};
use tower_lsp::lsp_types::{
    DidChangeTextDocumentParams, FileEvent, TextDocumentContentChangeEvent, TextDocumentItem, Url,
    WorkspaceFoldersChangeEvent,
};

use crate::address::path_of;
use crate::core::Core;
use crate::disk;
use crate::document::Document;
use crate::folders::Folders;
use crate::settings::Settings;

/// An open document as its client knows it.
#[derive(Debug, Clone)]
pub(crate) struct Title {
    /// Its address in the client's own spelling.
    pub(crate) uri: Url,
    /// The version of the text.
    pub(crate) version: i32,
}

/// The state at one moment: cheap to clone, never changes.
#[derive(Debug, Clone)]
pub(crate) struct View {
    /// What the core knew.
    pub(crate) snapshot: Snapshot,
    /// The open documents by path.
    pub(crate) titles: Arc<BTreeMap<String, Title>>,
    /// How the client counts columns.
    pub(crate) encoding: Encoding,
    /// What the user has set.
    pub(crate) settings: Settings,
}

/// What a notification did.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Effect {
    /// Documents by path and address whose diagnostics may differ now, closed ones included.
    pub(crate) changed: BTreeMap<String, Url>,
    /// Whether values may differ in open documents that the client did not change itself.
    pub(crate) reaches_others: bool,
    /// What the user should know.
    pub(crate) complaint: Option<String>,
}

impl Effect {
    /// Nothing was done, for this reason.
    pub(crate) fn refused(reason: String) -> Effect {
        Effect {
            complaint: Some(reason),
            ..Effect::default()
        }
    }
}

struct Open {
    document: Document,
    /// Whether the core has the text; not so after the core failed on it.
    in_core: bool,
}

/// The state that the ingress changes.
#[derive(Default)]
pub(crate) struct World {
    core: Core,
    open: BTreeMap<String, Open>,
    titles: Arc<BTreeMap<String, Title>>,
    /// Files that the server gave to the core.
    read: BTreeSet<String>,
    /// Files that the core wants and the disk does not have.
    missing: BTreeSet<String>,
    folders: Folders,
    encoding: Encoding,
    settings: Settings,
}

impl World {
    /// Sets how the client counts columns.
    pub(crate) fn set_encoding(&mut self, encoding: Encoding) {
        self.encoding = encoding;
    }

    /// Lets the core fail on every text that contains `fault`, for tests.
    pub(crate) fn fail_on(&mut self, fault: &'static str) {
        self.core.fail_on(fault);
    }

    /// The state as it is now.
    pub(crate) fn view(&self) -> View {
        View {
            snapshot: self.core.snapshot(),
            titles: self.titles.clone(),
            encoding: self.encoding,
            settings: self.settings,
        }
    }

    /// Sets what the user has set. The values that are shown may look different now.
    pub(crate) fn set_settings(&mut self, settings: Settings) -> Effect {
        let is_new = self.settings != settings;
        self.settings = settings;
        Effect {
            reaches_others: is_new,
            ..Effect::default()
        }
    }

    /// Sets the folders of the workspace.
    pub(crate) fn set_folders(&mut self, folders: Folders) {
        self.folders = folders;
    }

    /// The folders of the workspace on this machine.
    pub(crate) fn folders_on_disk(&self) -> Vec<PathBuf> {
        self.folders.on_disk()
    }

    /// Follows a change of the folders: files of those that are gone are forgotten. Gives the new folders on
    /// this machine, whose files are still to be read.
    pub(crate) fn change_folders(
        &mut self,
        event: &WorkspaceFoldersChangeEvent,
    ) -> (Effect, Vec<PathBuf>) {
        let added = self.folders.change(event);
        let in_removed = |path: &String| {
            event.removed.iter().any(|folder| {
                let folder = path_of(&folder.uri);
                let rest = path.strip_prefix(folder.trim_end_matches('/'));
                rest.is_some_and(|rest| rest.starts_with('/'))
            })
        };
        let gone: Vec<String> = self
            .read
            .iter()
            .filter(|path| in_removed(path) && !self.folders.have(path))
            .cloned()
            .collect();
        let mut effect = Effect::default();
        for path in gone {
            self.read.remove(&path);
            // One that is used is read again.
            effect = merged(effect, self.apply("", Change::Remove { path }));
        }
        (effect, added)
    }

    /// Takes in files of the workspace that were read. An open document wins over the disk.
    pub(crate) fn add_files(&mut self, files: Vec<(String, String)>) -> Effect {
        let mut effect = Effect::default();
        for (path, text) in files {
            let is_known = self.open.contains_key(&path) || self.read.contains(&path);
            if !is_known && self.folders.have(&path) {
                self.missing.remove(&path);
                self.read.insert(path.clone());
                effect = merged(effect, self.apply("", Change::SetText { path, text }));
            }
        }
        effect
    }

    /// A document was opened, or opened again with another text.
    pub(crate) fn open(&mut self, item: TextDocumentItem) -> Effect {
        let path = path_of(&item.uri);
        let open = Open {
            document: Document::new(&item.text),
            in_core: false,
        };
        self.read.remove(&path);
        self.missing.remove(&path);
        self.open.insert(path.clone(), open);
        let title = Title {
            uri: item.uri,
            version: item.version,
        };
        Arc::make_mut(&mut self.titles).insert(path.clone(), title);
        self.put(&path, Vec::new())
    }

    /// An open document changed.
    pub(crate) fn change(&mut self, params: DidChangeTextDocumentParams) -> Effect {
        let path = path_of(&params.text_document.uri);
        let encoding = self.encoding;
        let Some(open) = self.open.get_mut(&path) else {
            return Effect::refused(format!("{path} changed, but it is not open."));
        };
        let mut edits = Vec::new();
        for TextDocumentContentChangeEvent { range, text, .. } in params.content_changes {
            match range {
                Some(range) => {
                    let range = open.document.range(range, encoding);
                    let edit = Edit { range, text };
                    open.document.apply(&edit);
                    edits.push(edit);
                }
                None => {
                    open.document = Document::new(&text);
                    open.in_core = false;
                }
            }
        }
        if let Some(title) = Arc::make_mut(&mut self.titles).get_mut(&path) {
            title.version = params.text_document.version;
        }
        self.put(&path, edits)
    }

    /// A document was closed: what the disk has counts again.
    pub(crate) fn close(&mut self, uri: &Url) -> Effect {
        let path = path_of(uri);
        if self.open.remove(&path).is_none() {
            return Effect::refused(format!("{path} was closed, but it is not open."));
        }
        let title = Arc::make_mut(&mut self.titles).remove(&path);
        let on_disk = match self.folders.have(&path) {
            true => disk::read(&path),
            false => None,
        };
        let change = self.change_from_disk(&path, on_disk);
        let mut effect = self.apply(&path, change);
        let uri = title.map_or_else(|| uri.clone(), |title| title.uri);
        effect.changed.insert(path, uri);
        effect
    }

    /// The change that makes a file what the disk has: its text, or nothing.
    fn change_from_disk(&mut self, path: &str, text: Option<String>) -> Change {
        let path = path.to_owned();
        match text {
            Some(text) => {
                self.read.insert(path.clone());
                Change::SetText { path, text }
            }
            None => Change::Remove { path },
        }
    }

    /// Files changed on the disk. An open document wins over the disk.
    pub(crate) fn files_changed(&mut self, events: &[FileEvent]) -> Effect {
        self.missing.clear();
        let mut effect = Effect::default();
        for event in events {
            let path = path_of(&event.uri);
            let is_of_workspace = self.folders.have(&path) && !self.open.contains_key(&path);
            if self.read.remove(&path) || is_of_workspace {
                let change = self.change_from_disk(&path, disk::read(&path));
                effect = merged(effect, self.apply(&path, change));
            }
        }
        merged(effect, self.read_wanted(""))
    }

    /// Gives the core an open document: the edits where it has the text before them, else the whole.
    fn put(&mut self, path: &str, edits: Vec<Edit>) -> Effect {
        let Some(open) = self.open.get_mut(path) else {
            return Effect::default();
        };
        let path = path.to_owned();
        let change = if open.in_core {
            Change::Edit {
                path: path.clone(),
                edits,
            }
        } else {
            Change::SetText {
                path: path.clone(),
                text: open.document.text(),
            }
        };
        open.in_core = true;
        let mut effect = self.apply(&path, change);
        if let Some(title) = self.titles.get(&path) {
            effect.changed.insert(path, title.uri.clone());
        }
        effect
    }

    fn apply(&mut self, path: &str, change: Change) -> Effect {
        let effect = match self.core.apply(change) {
            Some(changed) => self.effect(path, &changed),
            None => self.rebuild(path),
        };
        merged(effect, self.read_wanted(path))
    }

    /// Reads what the core wants from the disk, until it wants no more.
    fn read_wanted(&mut self, edited: &str) -> Effect {
        let mut effect = Effect::default();
        while let Some(path) = self.next_wanted() {
            match disk::read(&path) {
                Some(text) => {
                    self.read.insert(path.clone());
                    let change = Change::SetText {
                        path: path.clone(),
                        text,
                    };
                    let step = match self.core.apply(change) {
                        Some(changed) => self.effect(edited, &changed),
                        None => {
                            self.read.remove(&path);
                            self.missing.insert(path.clone());
                            self.rebuild(&path)
                        }
                    };
                    effect = merged(effect, step);
                }
                None => {
                    self.missing.insert(path);
                }
            }
        }
        effect
    }

    fn next_wanted(&self) -> Option<String> {
        let known = |path: &String| {
            self.missing.contains(path) || self.read.contains(path) || self.open.contains_key(path)
        };
        self.core
            .wanted_files()
            .into_iter()
            .find(|path| !known(path))
    }

    fn effect(&self, edited: &str, changed: &haunch_calc::Changed) -> Effect {
        let snapshot = self.core.snapshot();
        let mut effect = Effect::default();
        for &file in &changed.files {
            let path = snapshot.path(file);
            if let Some(title) = self.titles.get(path) {
                effect.changed.insert(path.to_owned(), title.uri.clone());
                effect.reaches_others |= path != edited;
            }
        }
        effect
    }

    /// A fresh core with all texts, after the core failed on `culprit`. A text on which it fails again is
    /// left out until its next change.
    fn rebuild(&mut self, culprit: &str) -> Effect {
        let mut left_out = BTreeSet::new();
        while let Err(path) = self.rebuild_without(&left_out) {
            left_out.insert(path);
        }
        for (path, open) in &mut self.open {
            open.in_core = !left_out.contains(path);
        }
        for path in left_out {
            if self.read.remove(&path) {
                self.missing.insert(path);
            }
        }
        Effect {
            changed: self
                .titles
                .iter()
                .map(|(path, title)| (path.clone(), title.uri.clone()))
                .collect(),
            reaches_others: true,
            complaint: Some(format!(
                "Reading {culprit} failed inside the server. Its text is safe; its values may be missing."
            )),
        }
    }

    /// Fails with the path of a text on which the core fails.
    fn rebuild_without(&mut self, left_out: &BTreeSet<String>) -> Result<(), String> {
        self.core.empty();
        let open = self
            .open
            .iter()
            .map(|(path, open)| (path, Some(open.document.text())));
        let read = self.read.iter().map(|path| (path, disk::read(path)));
        for (path, text) in open.chain(read) {
            if let Some(text) = text.filter(|_| !left_out.contains(path)) {
                let change = Change::SetText {
                    path: path.clone(),
                    text,
                };
                self.core.apply(change).ok_or_else(|| path.clone())?;
            }
        }
        Ok(())
    }
}

fn merged(mut one: Effect, other: Effect) -> Effect {
    one.changed.extend(other.changed);
    one.reaches_others |= other.reaches_others;
    one.complaint = one.complaint.or(other.complaint);
    one
}
