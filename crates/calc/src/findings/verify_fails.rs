//! A `verify` line that does not hold.

use crate::finding::{Code, Finding, Place, Severity};
use crate::outcome::Check;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "verify-fails",
    severity: Severity::Error,
    summary: "a condition that must hold does not",
    page: include_str!("pages/verify-fails.md"),
};

/// The condition and its two sides.
pub(crate) fn finding(place: Place, source: &str, check: &Check) -> Finding {
    let sides = if check.text == source {
        String::new()
    } else {
        format!(": {}", check.text)
    };
    Finding::new(&CODE, place, format!("this does not hold{sides}.")).about(check.name.clone())
}
