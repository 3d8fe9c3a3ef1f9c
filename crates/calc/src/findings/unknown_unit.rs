//! A unit or dimension that the tables do not have.

use haunch_quantity::dimension_names;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-unit",
    severity: Severity::Error,
    summary: "a unit or the name of a dimension is not known",
    page: include_str!("pages/unknown-unit.md"),
};

/// A unit. Units that differ only in the case of their letters are offered.
pub(crate) fn finding(place: Place, text: &str) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{text} is not a unit that is known here. Units are written as kN, mm^2, kN*m or kip-ft."
        ),
    );
    let folded = text.to_lowercase();
    for unit in haunch_quantity::unit_words() {
        if unit.spelling.to_lowercase() == folded {
            finding = finding.with_repair(format!("Write {}", unit.spelling), place, unit.spelling);
        }
    }
    finding
}

/// The words after `any`.
pub(crate) fn dimension(place: Place, words: &str) -> Finding {
    let known: Vec<&str> = dimension_names::names()
        .iter()
        .map(|name| name.name)
        .take(8)
        .collect();
    Finding::new(
        &CODE,
        place,
        format!(
            "{words} is not the name of a dimension. Known names are {} and others.",
            known.join(", ")
        ),
    )
}
