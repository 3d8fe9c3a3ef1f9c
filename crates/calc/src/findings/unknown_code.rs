//! An `allow` line for a finding that does not exist, or that is an error.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-code",
    severity: Severity::Warning,
    summary: "`allow` names a finding that does not exist, or an error",
    page: include_str!("pages/unknown-code.md"),
};

/// The code at fault; the nearest ones are offered.
pub(crate) fn finding(place: Place, code: &str) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!("there is no finding {code}, so this line allows nothing."),
    );
    for near in super::nearest(code) {
        finding = finding.with_repair(format!("Write {near}"), place, near);
    }
    finding
}

/// A code whose findings are errors.
pub(crate) fn of_error(place: Place, code: &str) -> Finding {
    let message = format!(
        "{code} is an error, and only warnings can be allowed, so this line allows nothing. Mend what it tells of."
    );
    Finding::new(&CODE, place, message)
}
