//! The core behind a fence: a panic in it leaves the server standing.

use std::panic::{AssertUnwindSafe, catch_unwind};

use haunch_calc::{Change, Changed, Host, Snapshot};

/// The one host.
#[derive(Default)]
pub(crate) struct Core {
    host: Host,
    /// A text on which the core shall fail, for the tests of what happens then.
    fault: Option<&'static str>,
}

impl Core {
    /// Lets the core fail on every text that contains `fault`.
    pub(crate) fn fail_on(&mut self, fault: &'static str) {
        self.fault = Some(fault);
    }

    /// Applies a change. `None` if the core panicked on it: then its state is unfit, and it must be
    /// emptied and filled again.
    pub(crate) fn apply(&mut self, change: Change) -> Option<Changed> {
        let fails = self.fault.is_some_and(|fault| contains(&change, fault));
        let host = &mut self.host;
        catch_unwind(AssertUnwindSafe(|| {
            assert!(!fails, "a fault that was asked for");
            host.apply(change)
        }))
        .ok()
    }

    /// Forgets everything.
    pub(crate) fn empty(&mut self) {
        self.host = Host::new();
    }

    /// What the core knows now.
    pub(crate) fn snapshot(&self) -> Snapshot {
        self.host.snapshot()
    }

    /// Files that are used and not known, sorted.
    pub(crate) fn wanted_files(&self) -> Vec<String> {
        self.host.wanted_files()
    }
}

fn contains(change: &Change, fault: &str) -> bool {
    match change {
        Change::SetText { text, .. } => text.contains(fault),
        Change::Edit { edits, .. } => edits.iter().any(|edit| edit.text.contains(fault)),
        Change::Remove { .. } => false,
    }
}
