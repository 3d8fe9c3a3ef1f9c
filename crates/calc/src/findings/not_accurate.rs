//! Numbers so far apart that no accurate result can be given.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "not-accurate",
    severity: Severity::Error,
    summary: "a result would not be accurate, and is not given",
    page: include_str!("pages/not-accurate.md"),
};

/// A beam close to a mechanism, or with sizes beyond all proportion.
pub(crate) fn beam(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "no accurate results can be given for {name}: its lengths, stiffnesses or loads differ \
             beyond all proportion, or it is nearly free to move."
        ),
    )
    .about(name)
}

/// A search whose answer did not stand up to its own check.
pub(crate) fn search(place: Place, subject: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("no size of {subject} can be told with certainty, so none is given."),
    )
}

/// The worst place of a section for normal and shear stress together.
pub(crate) fn critical(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{what} could not be worked out accurately enough over the whole section."),
    )
}
