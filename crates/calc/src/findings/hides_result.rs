//! A name of the user that hides a result of the same name.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "hides-result",
    severity: Severity::Warning,
    summary: "a name hides a result of its block",
    page: include_str!("pages/hides-result.md"),
};

/// The name at fault.
pub(crate) fn finding(place: Place, name: &str, block: &str) -> Finding {
    let full = if block.is_empty() {
        name.to_owned()
    } else {
        format!("{block}.{name}")
    };
    Finding::new(
        &CODE,
        place,
        format!(
            "{full} now means this line, and the result of that name can no longer be reached."
        ),
    )
    .about(name)
}
