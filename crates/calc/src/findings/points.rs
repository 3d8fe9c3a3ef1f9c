//! Points of a section.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static OUTSIDE: Code = Code {
    name: "point-outside",
    severity: Severity::Error,
    summary: "a point lies where its section has no material",
    page: include_str!("pages/point-outside.md"),
};

/// The code.
pub(crate) static BETWEEN: Code = Code {
    name: "point-between-materials",
    severity: Severity::Error,
    summary: "a point lies where two materials meet",
    page: include_str!("pages/point-between-materials.md"),
};

/// A point without material; `of` is the part that it is said to be in, else the section.
pub(crate) fn outside(place: Place, point: &str, at: &str, of: &str, advice: &str) -> Finding {
    Finding::new(
        &OUTSIDE,
        place,
        format!("{point} is at {at}, where {of} has no material.{advice}"),
    )
    .about(point)
}

/// A point with a stress in each of two materials; naming a part at `end` decides.
pub(crate) fn between(place: Place, end: Place, point: &str, parts: &[&str]) -> Finding {
    let mut finding = Finding::new(
        &BETWEEN,
        place,
        format!(
            "{point} lies where different materials meet, and the stress differs between them. Say \
             which part is meant: {}.",
            parts
                .iter()
                .map(|part| format!("of {part}"))
                .collect::<Vec<_>>()
                .join(" or ")
        ),
    )
    .about(point);
    for part in parts {
        finding = finding.with_repair(format!("Write of {part}"), end, format!(" of {part}"));
    }
    finding
}
