//! A beam of a section whose principal axes are turned, under loads straight down.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "bends-sideways",
    severity: Severity::Warning,
    summary: "a beam of an unsymmetrical section also moves sideways under its loads",
    page: include_str!("pages/bends-sideways.md"),
};

/// Nothing is said to hold the beam sideways, and so it is taken as free to move there.
pub(crate) fn finding(place: Place, name: &str, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "the principal axes of {section} are turned, so {name} also moves sideways under its \
             loads. Stresses and the deflection downward are those of a beam that is free to do so."
        ),
    )
    .about(name)
}
