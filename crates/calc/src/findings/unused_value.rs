//! A given number that nothing uses.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unused-value",
    severity: Severity::Warning,
    summary: "a given number is never used",
    page: include_str!("pages/unused-value.md"),
};

/// The name at fault.
pub(crate) fn finding(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} is given here but never used. A misspelled name elsewhere, perhaps?"),
    )
    .about(name)
}
