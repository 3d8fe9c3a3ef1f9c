//! A quantity that cannot be what it stands for.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "value-not-positive",
    severity: Severity::Error,
    summary: "a quantity has to be more than zero",
    page: include_str!("pages/value-not-positive.md"),
};

/// Zero or less where only more than zero has a meaning.
pub(crate) fn not_positive(place: Place, name: &str) -> Finding {
    Finding::new(&CODE, place, format!("{name} has to be more than zero."))
}
