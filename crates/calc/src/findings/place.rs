//! Places along a beam: of supports, hinges and loads.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static MISSING: Code = Code {
    name: "place-missing",
    severity: Severity::Error,
    summary: "a load does not say where it acts",
    page: include_str!("pages/place-missing.md"),
};

/// `sideways` after a limit of a material or of forces.
pub(crate) const SIDEWAYS: &str = "sideways is for a limit on the deflection of a beam.";

/// The code.
pub(crate) static OUTSIDE: Code = Code {
    name: "place-outside",
    severity: Severity::Error,
    summary: "a support, hinge or load lies outside its beam",
    page: include_str!("pages/place-outside.md"),
};

/// The code.
pub(crate) static WRONG: Code = Code {
    name: "place-wrong",
    severity: Severity::Error,
    summary: "a support, hinge or load cannot stand where it is said to",
    page: include_str!("pages/place-wrong.md"),
};

/// A force or couple without a place.
pub(crate) fn missing_at(place: Place, what: &str) -> Finding {
    let end = end_of(place);
    Finding::new(
        &MISSING,
        place,
        format!("{what} needs its place: write at and a distance from the start, or at middle."),
    )
    .with_repair("Write at middle", end, " at middle")
}

/// A load per length without its stretch.
pub(crate) fn missing_stretch(place: Place) -> Finding {
    let end = end_of(place);
    Finding::new(
        &MISSING,
        place,
        "a load per length says where it acts: write throughout, or from and to.",
    )
    .with_repair("Write throughout", end, " throughout")
}

/// Something along a stretch that does not say which.
pub(crate) fn missing_stretch_of(place: Place, what: &str) -> Finding {
    Finding::new(
        &MISSING,
        place,
        format!("{what} says where it acts: write throughout, or from and to."),
    )
}

/// A length as a load, where no support stands.
pub(crate) fn no_support(place: Place, written: &str) -> Finding {
    Finding::new(
        &WRONG,
        place,
        format!(
            "{written} is a length, which as a load is how far a support settles, and no support \
             stands there. Give the place of a support, or the unit of a force."
        ),
    )
}

/// A load that cannot be parted by spans.
pub(crate) fn not_on_any_spans(place: Place) -> Finding {
    Finding::new(
        &WRONG,
        place,
        "on any spans is for a load per length of one size all along. Write throughout, or each \
         span on a line of its own.",
    )
}

fn end_of(place: Place) -> Place {
    Place {
        span: haunch_text::Span::empty(place.span.end as usize),
        ..place
    }
}

/// A place before the start or after the end.
pub(crate) fn outside(place: Place, written: &str, length: &str) -> Finding {
    Finding::new(
        &OUTSIDE,
        place,
        format!("{written} lies outside the beam, which is {length} long."),
    )
}

/// Something that cannot stand there, in a sentence.
pub(crate) fn wrong(place: Place, message: impl Into<String>) -> Finding {
    Finding::new(&WRONG, place, message)
}
