//! Trees of lines that were read lately: lines that say the same share one.

use std::cell::RefCell;
use std::sync::Arc;

use haunch_quantity::is_unit_word;
use haunch_syntax::{Tree, read_line};
use rustc_hash::FxHashMap;

/// Lines whose trees a thread keeps at most.
const KEPT_TREES: usize = 512;
/// The longest line whose tree is kept, in bytes: longer ones are written once.
const KEPT_LENGTH: usize = 200;

thread_local! {
    /// The trees of lines that were read lately: of 200 lines of beams about half say what another one
    /// says, and sheets of one office say much the same in all files.
    static READ_LATELY: RefCell<FxHashMap<Box<str>, Arc<Tree>>> = RefCell::default();
}

/// The tree of a line, which is a function of its text alone.
pub(crate) fn tree_of(text: &str) -> Arc<Tree> {
    if text.len() > KEPT_LENGTH {
        return Arc::new(read_line(text, is_unit_word));
    }
    let known = READ_LATELY.with_borrow(|known| known.get(text).cloned());
    known.unwrap_or_else(|| {
        let tree = Arc::new(read_line(text, is_unit_word));
        READ_LATELY.with_borrow_mut(|known| {
            if known.len() >= KEPT_TREES {
                known.clear();
            }
            known.insert(text.into(), tree.clone());
        });
        tree
    })
}
