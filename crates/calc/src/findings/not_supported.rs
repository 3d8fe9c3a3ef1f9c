//! A line of the notation that cannot be computed yet.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "not-supported-yet",
    severity: Severity::Error,
    summary: "a line of the notation cannot be computed yet",
    page: include_str!("pages/not-supported-yet.md"),
};

/// What is not supported; the block has no results.
pub(crate) fn finding(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{what} cannot be computed yet, so this block has no results."),
    )
}

/// A search that is not supported; the value is not known.
pub(crate) fn value(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{what} cannot be worked out yet, so this value is not known."),
    )
}
