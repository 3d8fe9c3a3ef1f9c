//! Sizes of a shape that cannot be.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static NOT_POSITIVE: Code = Code {
    name: "size-not-positive",
    severity: Severity::Error,
    summary: "a size of a part is zero or less",
};

/// The code.
pub(crate) static COUNT: Code = Code {
    name: "number-of-sizes",
    severity: Severity::Error,
    summary: "a shape has another number of sizes than is given",
};

/// The code.
pub(crate) static WALL: Code = Code {
    name: "wall-too-thick",
    severity: Severity::Error,
    summary: "the wall of a tube is thicker than its radius",
};

/// The size at fault and what it is, e.g. "the height".
pub(crate) fn not_positive(place: Place, what: &str, part: &str) -> Finding {
    Finding::new(
        &NOT_POSITIVE,
        place,
        format!("the {what} of {part} has to be more than zero."),
    )
    .about(part)
}

/// How the shape is written, e.g. "rect NAME B x H".
pub(crate) fn count(place: Place, part: &str, written: &str) -> Finding {
    Finding::new(
        &COUNT,
        place,
        format!("{part} needs other sizes: write {written}."),
    )
    .about(part)
}

/// The wall and the radius as printed.
pub(crate) fn wall(place: Place, part: &str, radius: &str) -> Finding {
    Finding::new(
        &WALL,
        place,
        format!("the wall of {part} is thicker than its outer radius, {radius}."),
    )
    .about(part)
}
