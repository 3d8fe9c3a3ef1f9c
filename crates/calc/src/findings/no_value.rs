//! An operation without a result: a division by zero, a root of a negative number.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "no-number",
    severity: Severity::Error,
    summary: "a result cannot be computed from these numbers",
    page: include_str!("pages/no-number.md"),
};

/// The operation at fault and the reason.
pub(crate) fn finding(place: Place, reason: &str) -> Finding {
    Finding::new(&CODE, place, format!("there is no number here: {reason}."))
}

/// Exponents of units beyond all proportion.
pub(crate) fn powers_too_high(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "the powers of the units grow too high to be worked with here.",
    )
}

/// A line whose formulas call each other too often.
pub(crate) fn too_much(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "the formulas that this line calls need too many steps. Give intermediate results lines of their own.",
    )
}
