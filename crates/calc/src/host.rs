//! The one place that changes state.

use std::sync::Arc;

use haunch_text::Edit;

use crate::line::FileId;
use crate::snapshot::Snapshot;
use crate::state::State;
use crate::update::Update;

/// A change to the files that the host knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// The whole text of a file.
    SetText {
        /// Its path; `use` lines name it relative to the folder of the using file.
        path: String,
        /// Its text.
        text: String,
    },
    /// Edits to a file, each relative to the text after the one before it.
    Edit {
        /// Its path.
        path: String,
        /// The edits.
        edits: Vec<Edit>,
    },
    /// A file is no longer there.
    Remove {
        /// Its path.
        path: String,
    },
}

/// What a change touched.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Changed {
    /// Files whose text, values or findings may have changed, sorted.
    pub files: Vec<FileId>,
    /// How many lines were computed again: for tests of the cost of an edit.
    pub recomputed: usize,
}

/// Holds the files and keeps what they mean up to date. State is a function of the texts alone:
/// after any changes, values and findings equal those of a fresh reading. A clone is cheap, and goes on
/// by itself.
#[derive(Debug, Clone, Default)]
pub struct Host {
    state: Arc<State>,
}

impl Host {
    /// A host without files.
    pub fn new() -> Host {
        Host::default()
    }

    /// A host that goes on from a state.
    pub(crate) fn of(state: Arc<State>) -> Host {
        Host { state }
    }

    /// A consistent view of everything, unaffected by later changes; cheap.
    pub fn snapshot(&self) -> Snapshot {
        Snapshot::new(self.state.clone())
    }

    /// Applies a change and computes again what depends on it.
    pub fn apply(&mut self, change: Change) -> Changed {
        let state = Arc::make_mut(&mut self.state);
        let mut update = Update::new(state);
        match change {
            Change::SetText { path, text } => update.set_text(&path, &text),
            Change::Edit { path, edits } => update.edit(&path, &edits),
            Change::Remove { path } => update.remove(&path),
        }
        update.finish()
    }

    /// Paths that `use` lines name and whose text was never given, sorted.
    pub fn wanted_files(&self) -> Vec<String> {
        let wanted = self.state.wanted.iter();
        let mut wanted: Vec<String> = wanted
            .filter_map(|&file| Some(self.state.file(file)?.path.to_string()))
            .collect();
        wanted.sort();
        wanted
    }
}
