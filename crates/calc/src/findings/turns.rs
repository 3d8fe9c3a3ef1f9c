//! Turned and mirrored parts.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "part-turned",
    severity: Severity::Error,
    summary: "a part cannot be turned as its line says",
    page: include_str!("pages/part-turned.md"),
};

/// A bare number for an angle.
pub(crate) fn without_unit(place: Place, number: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{number} is an angle without a unit: write {number} deg or {number} rad."),
    )
    .with_repair(
        format!("Write {number} deg"),
        place,
        format!("{number} deg"),
    )
}

/// More than a full turn, most often degrees without their unit.
pub(crate) fn more_than_a_turn(place: Place, written: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{written} is more than a full turn. An angle without a unit is in radians: give it \
             its unit, for example 90 deg."
        ),
    )
}

/// A polygon that stands where its corners are.
pub(crate) fn in_place(place: Place, part: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{part} stands where its corners are, and it is not said where it goes when it is \
             turned. Give it a place, for example at (0 mm, 0 mm), or turn its corners."
        ),
    )
    .about(part)
}
