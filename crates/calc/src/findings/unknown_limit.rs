//! A limit on something that cannot be limited there.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-limit",
    severity: Severity::Error,
    summary: "a limit is stated on something that cannot be limited there",
    page: include_str!("pages/unknown-limit.md"),
};

/// The subject at fault.
pub(crate) fn finding(place: Place, subject: &str, known: &[&str]) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{subject} cannot be limited here. Limits are on {}.",
            known.join(", ")
        ),
    );
    for near in crate::spelling::nearest(subject, known.iter().copied()) {
        finding = finding.with_repair(format!("Write {near}"), place, near);
    }
    finding
}

/// A limit from below.
pub(crate) fn wrong_way(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a limit says how much may be reached: write <= and the magnitude.",
    )
    .with_repair("Write <=", place, "<=")
}

/// A limit with a place that it cannot have.
pub(crate) fn no_place(place: Place, subject: &str) -> Finding {
    let message = match subject {
        "reaction" | "uplift" => format!(
            "{subject} is limited at a support: write at and the support's name or place, or \
             nothing for all of them."
        ),
        _ => format!(
            "{subject} is limited everywhere, or in a beam on one span: write on span 1, or nothing."
        ),
    };
    Finding::new(&CODE, place, message)
}

/// A limit for a thickness outside a material.
pub(crate) fn no_thickness(place: Place) -> Finding {
    let message = "only a material states limits by the thickness of its parts. Write this limit \
                   into the material.";
    Finding::new(&CODE, place, message)
}
