//! Names that are given several times.
//!
//! Such a name has no value, whichever lines give it. All that its lines and its readers hear of it
//! are the first few places, so that one more among many changes nothing for the others.

use std::sync::Arc;

use crate::compute::defined_span;
use crate::finding::Place;
use crate::findings::defined_twice::MOST_RELATED;
use crate::graph::Key;
use crate::line::LineId;
use crate::state::State;
use crate::update::Update;

/// So many places are kept that a line among them can tell of `MOST_RELATED` others, and knows
/// whether there are more.
const KEPT: usize = MOST_RELATED + 2;

impl State {
    /// The first places at which a name is given, in the order of the file; none for a name that is
    /// given once.
    fn first_places(&self, key: &Key) -> Option<Arc<[Place]>> {
        let lines = self.graph.definitions(key.0, &key.1);
        if lines.len() < 2 {
            return None;
        }
        let mut first: Vec<(u128, Place)> = Vec::with_capacity(KEPT + 1);
        for &line in lines {
            let order = self.order(line);
            let at = first.partition_point(|(own, _)| *own < order);
            if at < KEPT {
                let span = defined_span(self, line);
                first.insert(at, (order, Place { line, span }));
                first.truncate(KEPT);
            }
        }
        Some(first.into_iter().map(|(_, place)| place).collect())
    }
}

impl Update<'_> {
    /// Keeps the first places of a name of which definitions came or went. For a name that is still
    /// given several times: those of its lines that have something else to tell.
    pub(crate) fn follow_several(&mut self, key: &Key) -> Option<Vec<LineId>> {
        let now = self.state.first_places(key);
        let before = self.state.graph.several(key).cloned();
        if before != now {
            self.state.graph.set_several(key, now.clone());
        }
        match (before, now) {
            (Some(before), Some(now)) if before == now => Some(Vec::new()),
            (Some(_), Some(_)) => Some(self.state.graph.definitions(key.0, &key.1).to_vec()),
            (None, Some(_)) => {
                self.became_several.insert(key.clone());
                None
            }
            _ => None,
        }
    }

    /// Whether a name was given several times before the change and is after it.
    pub(crate) fn stays_several(&self, key: &Key) -> bool {
        self.state.graph.several(key).is_some() && !self.became_several.contains(key)
    }
}
