//! What changed in meaning between two versions of a set of calculations, and why.
//!
//! Results are not in the files, so a comparison of texts shows that a plate went from 12 to 10 mm
//! and not that the beam fails. [`review`] compares two snapshots:
//!
//! - [`lines`](self) are put side by side by what they say (`matching`), so that moved and newly laid out
//!   lines are silent and a rename (`renames`) is neither a removal nor an addition;
//! - what was changed by hand is told apart from what followed, and each result that followed has
//!   the changed lines that caused it (`causes`, `trials`);
//! - checks that went, were loosened (`loosened`), no longer hold or came close to their bound come
//!   first (`checks`).
//!
//! What "caused" means, and what the random tests hold: let the causes of a result be undone in the new
//! version, exactly these and nothing else. Then
//!
//! 1. the result is as it was;
//! 2. each other result or check is as it was if all its causes are among them, and as it is in the new
//!    version if none is; if some are, nothing is said of it;
//! 3. except those that are told as held in balance ([`Balance`]) beside these very changes: for them 2
//!    is not so. Where two changes cancel each other on the way to a result, no list of causes could make
//!    2 true without them.
//!
//! In files where very many changes meet ([`Review::untried`]) only 1 holds.
//!
//! The room also keeps results on record: [`baseline`] as a text that can be committed, and
//! [`recorded_checks`], who checked what.
//!
//! Two numbers that differ by less than [`ROUNDING`] of the larger are the same result.

mod balances;
pub mod baseline;
mod causes;
mod changes;
mod checks;
mod compare;
mod items;
mod joined;
mod lines;
mod loosened;
mod matching;
mod outcome;
mod pairs;
pub mod recorded_checks;
mod renames;
mod results;
mod shown;
mod subject;
mod trials;
mod undoing;
mod unfollowed;

pub use compare::{Asked, FilePair, review};
pub use outcome::{
    Action, Balance, Balanced, Cause, Change, CheckChange, CheckState, Concern, ConcernKind,
    FileChange, FindingChange, ResultChange, Review, Verdict, Written,
};
pub use shown::{ROUNDING, percentage};
pub use subject::Subject;

/// A check that holds is near its bound from this utilisation on, unless told otherwise: 5 % of the
/// bound is left. Our own choice; no standard says it.
pub const MARGIN: f64 = 0.05;
