//! A name that the notation keeps for itself.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "reserved-name",
    severity: Severity::Error,
    summary: "a name that the notation keeps for itself is defined again",
    page: include_str!("pages/reserved-name.md"),
};

/// The name at fault.
pub(crate) fn finding(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} has a meaning of its own and cannot be defined again. Choose another name."
        ),
    )
    .about(name)
    .with_repair(format!("Rename to {name}_1"), place, format!("{name}_1"))
}
