//! A kind of support that is not known.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-support",
    severity: Severity::Error,
    summary: "a kind of support is not known",
    page: include_str!("pages/unknown-support.md"),
};

/// The kinds of support.
pub(crate) const KINDS: [&str; 4] = ["pin", "roller", "fixed", "spring"];

/// The word at fault; the nearest kinds are offered.
pub(crate) fn finding(place: Place, kind: &str) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!("{kind} is not a kind of support. There are pin, roller, fixed and spring."),
    );
    for near in crate::spelling::nearest(kind, KINDS.into_iter()) {
        finding = finding.with_repair(format!("Write {near}"), place, near);
    }
    finding
}
