//! A beam whose length is not given, or is given in two ways.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "missing-length",
    severity: Severity::Error,
    summary: "a beam has no length",
    page: include_str!("pages/missing-length.md"),
};

/// The code.
pub(crate) static TWICE: Code = Code {
    name: "length-given-twice",
    severity: Severity::Error,
    summary: "a beam has a length and spans",
    page: include_str!("pages/length-given-twice.md"),
};

/// Neither `length` nor `spans` is given.
pub(crate) fn finding(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} has no length. Give it on a line of its own, for example length = 3 m."),
    )
    .about(name)
}

/// Both are given; `place` is where the length is.
pub(crate) fn twice(place: Place, spans: Place) -> Finding {
    Finding::new(
        &TWICE,
        place,
        "the length follows from spans. Keep one of the two lines.",
    )
    .with_related(spans, "the spans are given here")
}
