//! Parts of a section that do not make sound material together.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static OVERLAP: Code = Code {
    name: "parts-overlap",
    severity: Severity::Error,
    summary: "two parts of a section cover the same area",
    page: include_str!("pages/parts-overlap.md"),
};

/// The code.
pub(crate) static APART: Code = Code {
    name: "parts-apart",
    severity: Severity::Warning,
    summary: "parts of a section do not touch the others",
    page: include_str!("pages/parts-apart.md"),
};

/// The code.
pub(crate) static EMPTY: Code = Code {
    name: "no-parts",
    severity: Severity::Error,
    summary: "a section has no parts",
    page: include_str!("pages/no-parts.md"),
};

/// The code.
pub(crate) static OUT_OF_PROPORTION: Code = Code {
    name: "out-of-proportion",
    severity: Severity::Error,
    summary: "a section's sizes lie too far apart for accurate results",
    page: include_str!("pages/out-of-proportion.md"),
};

/// The later of two parts, the earlier one, and the area that would count twice.
pub(crate) fn overlap(place: Place, part: &str, (first, at): (&str, Place), area: &str) -> Finding {
    Finding::new(
        &OVERLAP,
        place,
        format!(
            "{part} and {first} cover the same area, {area} that would count twice. Move or resize \
             one of them, or put deduct in front of it if it is a hole."
        ),
    )
    .about(part)
    .with_related(at, format!("{first} is here"))
}

/// Parts with a gap between them and the rest.
pub(crate) fn apart(place: Place, parts: &[&str]) -> Finding {
    let name = parts.first().copied().unwrap_or_default();
    let (subject, verb) = match parts {
        [only] => ((*only).to_owned(), "does"),
        several => (several.join(", "), "do"),
    };
    Finding::new(
        &APART,
        place,
        format!(
            "{subject} {verb} not touch the other parts, so something that is not shown here must \
             hold them together. If that is meant, write allow parts-apart for {name}."
        ),
    )
    .about(name)
}

/// A section without any line that could be a part.
pub(crate) fn none(place: Place, section: &str) -> Finding {
    Finding::new(
        &EMPTY,
        place,
        format!("{section} has no parts yet. Add one, for example rect plate 100 x 10 mm."),
    )
    .about(section)
}

/// A section of deductions only.
pub(crate) fn nothing_but_deductions(place: Place, section: &str) -> Finding {
    Finding::new(
        &EMPTY,
        place,
        format!("{section} has deductions but no part that they are taken out of."),
    )
    .about(section)
}

/// A part too thin beside the whole section, or of no size that can be worked with.
pub(crate) fn too_thin(place: Place, part: &str) -> Finding {
    Finding::new(
        &OUT_OF_PROPORTION,
        place,
        format!(
            "{part}, or what deductions leave of it, is thinner than a hundred-thousandth of the \
             section, so no accurate results can be given."
        ),
    )
    .about(part)
}

/// Sizes beyond anything that is built.
pub(crate) fn beyond_proportion(place: Place, part: &str) -> Finding {
    Finding::new(
        &OUT_OF_PROPORTION,
        place,
        format!(
            "the sizes of {part} lie beyond all proportion, so no accurate results can be given."
        ),
    )
    .about(part)
}

/// A section far from its frame's origin.
pub(crate) fn too_far_away(place: Place, section: &str) -> Finding {
    Finding::new(
        &OUT_OF_PROPORTION,
        place,
        format!(
            "{section} lies so far from x = 0, y = 0 that its own sizes are lost in rounding. Place \
             it nearer."
        ),
    )
    .about(section)
}
