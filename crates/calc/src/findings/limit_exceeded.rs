//! A limit that is not kept.

use crate::finding::{Code, Finding, Place, Severity};
use crate::outcome::Check;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "limit-exceeded",
    severity: Severity::Error,
    summary: "a stress or deflection is more than its limit allows",
    page: include_str!("pages/limit-exceeded.md"),
};

/// What is limited, with both numbers and how much of the limit is used, as already printed so
/// that they agree with the verdict.
pub(crate) fn finding(
    place: Place,
    check: &Check,
    what: &str,
    (value, bound): (&str, &str),
    inclusive: bool,
    used: &str,
) -> Finding {
    let allowed = if inclusive { "at most" } else { "less than" };
    let place_words = check
        .place
        .as_ref()
        .map(|place| format!(" ({place})"))
        .unwrap_or_default();
    Finding::new(
        &CODE,
        place,
        format!(
            "{what} is {value}{place_words}, and {allowed} {bound} is allowed: {used} of the limit \
             is used."
        ),
    )
    .about(check.name.clone())
}
