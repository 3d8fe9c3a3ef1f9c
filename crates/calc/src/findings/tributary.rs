//! The width of the strip that a beam carries.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static MISSING: Code = Code {
    name: "tributary-missing",
    severity: Severity::Error,
    summary: "a force per area does not say the width that the beam carries",
    page: include_str!("pages/tributary-missing.md"),
};

/// The code.
pub(crate) static WRONG: Code = Code {
    name: "tributary-wrong",
    severity: Severity::Error,
    summary: "a tributary width belongs to a force per area",
    page: include_str!("pages/tributary-wrong.md"),
};

/// A pressure without its width.
pub(crate) fn missing(place: Place, source: &str) -> Finding {
    Finding::new(
        &MISSING,
        place,
        format!(
            "{source} is a force per area: say the width of the strip that the beam carries, for \
             example tributary 1.8 m at the end of the line."
        ),
    )
}

/// A width beside something else.
pub(crate) fn wrong(place: Place, what: &str) -> Finding {
    Finding::new(
        &WRONG,
        place,
        format!("{what} takes no tributary width: that is for a force per area."),
    )
}
