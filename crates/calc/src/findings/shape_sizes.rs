//! Sizes of a shape that cannot be.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static NOT_POSITIVE: Code = Code {
    name: "size-not-positive",
    severity: Severity::Error,
    summary: "a size of a part is zero or less",
    page: include_str!("pages/size-not-positive.md"),
};

/// The code.
pub(crate) static COUNT: Code = Code {
    name: "number-of-sizes",
    severity: Severity::Error,
    summary: "a shape has another number of sizes than is given",
    page: include_str!("pages/number-of-sizes.md"),
};

/// The code.
pub(crate) static WALL: Code = Code {
    name: "wall-too-thick",
    severity: Severity::Error,
    summary: "the wall of a tube is thicker than its radius",
    page: include_str!("pages/wall-too-thick.md"),
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

/// The code.
pub(crate) static IMPOSSIBLE: Code = Code {
    name: "size-impossible",
    severity: Severity::Error,
    summary: "a size of a part does not go with its other sizes",
    page: include_str!("pages/size-impossible.md"),
};

/// The code.
pub(crate) static WORDS: Code = Code {
    name: "size-words",
    severity: Severity::Error,
    summary: "a word for a size does not fit the shape, or one is missing",
    page: include_str!("pages/size-words.md"),
};

/// The code.
pub(crate) static CORNERS: Code = Code {
    name: "polygon-corners",
    severity: Severity::Error,
    summary: "the corners of a polygon enclose no single area",
    page: include_str!("pages/polygon-corners.md"),
};

/// The size at fault and what would be possible, e.g. "less than 40 mm".
pub(crate) fn impossible(place: Place, what: &str, part: &str, possible: &str) -> Finding {
    Finding::new(
        &IMPOSSIBLE,
        place,
        format!("the {what} of {part} has to be {possible}, given its other sizes."),
    )
    .about(part)
}

/// A size that may be zero but not less.
pub(crate) fn negative(place: Place, what: &str, part: &str) -> Finding {
    Finding::new(
        &NOT_POSITIVE,
        place,
        format!("the {what} of {part} cannot be less than zero."),
    )
    .about(part)
}

/// Another number of sizes after a word, and how it is written.
pub(crate) fn detail_count(place: Place, part: &str, written: &str) -> Finding {
    Finding::new(
        &COUNT,
        place,
        format!("{part} needs other sizes here: write {written}."),
    )
    .about(part)
}

/// A word that the shape does not have.
pub(crate) fn no_such_detail(place: Place, word: &str, shape: &str, known: &[&str]) -> Finding {
    let advice = if known.is_empty() {
        "Take it away.".to_owned()
    } else {
        format!("It can have {}.", known.join(", "))
    };
    Finding::new(
        &WORDS,
        place,
        format!("the shape {shape} has no {word}. {advice}"),
    )
}

/// A word that stands twice.
pub(crate) fn twice(place: Place, part: &str, word: &str) -> Finding {
    Finding::new(
        &WORDS,
        place,
        format!("{part} has {word} twice: keep one of them."),
    )
    .about(part)
}

/// A word that the shape needs, and how it is written.
pub(crate) fn detail_missing(place: Place, part: &str, written: &str) -> Finding {
    Finding::new(
        &WORDS,
        place,
        format!("{part} is not known in full: add {written}."),
    )
    .about(part)
}

/// What is wrong with the corners, in words that go on a sentence.
pub(crate) fn corners(place: Place, part: &str, problem: &str) -> Finding {
    Finding::new(&CORNERS, place, format!("{part} is no area: {problem}.")).about(part)
}
