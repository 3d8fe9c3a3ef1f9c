//! An `expect` line whose two values differ by more than is allowed.

use crate::finding::{Code, Finding, Place, Severity};
use crate::outcome::Check;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "expect-differs",
    severity: Severity::Error,
    summary: "a result is not what was expected",
    page: include_str!("pages/expect-differs.md"),
};

/// The code.
pub(crate) static NO_TOLERANCE: Code = Code {
    name: "tolerance-missing",
    severity: Severity::Error,
    summary: "`expect` does not say how close the values must be",
    page: include_str!("pages/tolerance-missing.md"),
};

/// Both values and their difference.
pub(crate) fn finding(place: Place, check: &Check) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{} is not what is expected: {}.", check.name, check.text),
    )
    .about(check.name.clone())
}

/// No tolerance is given.
pub(crate) fn no_tolerance(place: Place) -> Finding {
    let end = Place {
        span: haunch_text::Span::empty(place.span.end as usize),
        ..place
    };
    Finding::new(
        &NO_TOLERANCE,
        place,
        "say how close the result has to be, for example within 0.5 %.",
    )
    .with_repair("Write within 0.5 %", end, " within 0.5 %")
}

/// A tolerance below zero.
pub(crate) fn negative_tolerance(place: Place) -> Finding {
    Finding::new(&NO_TOLERANCE, place, "a tolerance is zero or more.")
}
