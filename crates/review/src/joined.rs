//! Reviews of parts that have nothing to do with each other, as one.

use std::collections::BTreeMap;

use crate::outcome::{Change, Review};

impl Review {
    /// The review of files whose parts were compared apart: what one review of them all would say. No
    /// file is in two parts, and no file of one part uses one of another in either version, unless it
    /// is the same in both.
    pub fn joined(parts: Vec<Review>) -> Review {
        let mut all = Review::default();
        for part in parts {
            let first = all.changes.len();
            let moved = |causes: &mut Vec<crate::Cause>| {
                for cause in causes {
                    cause.change += first;
                }
            };
            let mut part = part;
            for result in &mut part.results {
                moved(&mut result.causes);
            }
            for check in &mut part.checks {
                moved(&mut check.causes);
            }
            for balance in &mut part.balances {
                for change in &mut balance.changes {
                    *change += first;
                }
            }
            all.balances.append(&mut part.balances);
            all.untried.append(&mut part.untried);
            all.files.append(&mut part.files);
            all.concerns.append(&mut part.concerns);
            all.checks.append(&mut part.checks);
            all.changes.append(&mut part.changes);
            all.results.append(&mut part.results);
            for (file, count) in part.counted {
                *all.counted.entry(file).or_default() += count;
            }
            all.findings.append(&mut part.findings);
            all.recorded_checks.append(&mut part.recorded_checks);
        }
        all.in_order();
        all
    }

    /// Puts what the parts say in the order of the files; in a file the order stays.
    fn in_order(&mut self) {
        // Everything is told under the path after the change, where there is one.
        let renamed: BTreeMap<&str, &str> = self
            .files
            .iter()
            .filter_map(|file| Some((file.old.as_deref()?, file.new.as_deref()?)))
            .collect();
        let path = |change: &Change| match (&change.new, &change.old) {
            (Some(written), _) => written.file.clone(),
            (None, Some(written)) => {
                let path = written.file.as_str();
                renamed.get(path).copied().unwrap_or(path).to_owned()
            }
            (None, None) => String::new(),
        };
        let mut order: Vec<usize> = (0..self.changes.len()).collect();
        order.sort_by_cached_key(|&at| self.changes.get(at).map(path));
        let mut place = vec![0; order.len()];
        for (index, &at) in order.iter().enumerate() {
            if let Some(place) = place.get_mut(at) {
                *place = index;
            }
        }
        let mut changes: Vec<Option<Change>> = std::mem::take(&mut self.changes)
            .into_iter()
            .map(Some)
            .collect();
        self.changes = order
            .iter()
            .filter_map(|&at| changes.get_mut(at)?.take())
            .collect();
        let causes = self.results.iter_mut().map(|result| &mut result.causes);
        for causes in causes.chain(self.checks.iter_mut().map(|check| &mut check.causes)) {
            for cause in causes.iter_mut() {
                cause.change = place.get(cause.change).copied().unwrap_or(cause.change);
            }
            causes.sort_by_key(|cause| cause.change);
        }
        self.files.sort_by(|a, b| {
            (a.new.as_ref().or(a.old.as_ref())).cmp(&b.new.as_ref().or(b.old.as_ref()))
        });
        self.concerns
            .sort_by(|a, b| (a.kind, &a.file, a.line).cmp(&(b.kind, &b.file, b.line)));
        self.checks
            .sort_by(|a, b| (a.verdict, &a.file).cmp(&(b.verdict, &b.file)));
        self.results.sort_by(|a, b| a.file.cmp(&b.file));
        self.findings.sort_by(|a, b| a.file.cmp(&b.file));
        let file = |words: &String| {
            let file = words.split_once(": ").map_or("", |(file, _)| file);
            file.to_owned()
        };
        self.recorded_checks.sort_by_cached_key(file);
    }
}
