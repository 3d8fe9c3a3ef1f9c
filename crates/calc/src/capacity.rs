//! `largest CASE of BLOCK`: how far a load can grow until the first limit is reached.

use haunch_syntax::Search;

use crate::expression::Context;
use crate::outcome::Capacity;
use crate::value::Evaluated;

/// The largest magnitude or factor, and what governs it.
pub(crate) fn search(
    _context: &mut Context<'_>,
    _search: &Search,
) -> (Evaluated, Option<Capacity>) {
    (Evaluated::UNKNOWN, None)
}
