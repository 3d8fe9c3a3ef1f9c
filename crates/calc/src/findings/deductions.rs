//! Deductions that do not take away what they say.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static OUTSIDE: Code = Code {
    name: "deduction-outside",
    severity: Severity::Error,
    summary: "a deduction lies outside the material",
    page: include_str!("pages/deduction-outside.md"),
};

/// The code.
pub(crate) static OVERLAP: Code = Code {
    name: "deductions-overlap",
    severity: Severity::Warning,
    summary: "two deductions take away the same area",
    page: include_str!("pages/deductions-overlap.md"),
};

/// The code.
pub(crate) static NOTHING_LEFT: Code = Code {
    name: "nothing-left",
    severity: Severity::Error,
    summary: "deductions leave nothing of a part",
    page: include_str!("pages/nothing-left.md"),
};

/// The code.
pub(crate) static MATERIAL: Code = Code {
    name: "material-of-deduction",
    severity: Severity::Error,
    summary: "a deduction is given a material",
    page: include_str!("pages/material-of-deduction.md"),
};

/// How much of it lies outside; none where all of it does.
pub(crate) fn outside(place: Place, name: &str, area: Option<&str>) -> Finding {
    let what = match area {
        Some(area) => format!("{area} of {name} lie outside the material"),
        None => format!("{name} lies outside the material"),
    };
    Finding::new(
        &OUTSIDE,
        place,
        format!("{what}, where there is nothing to take away. Move or resize it."),
    )
    .about(name)
}

/// Two deductions; the common area is taken away once.
pub(crate) fn overlap(place: Place, name: &str, (first, at): (&str, Place)) -> Finding {
    Finding::new(
        &OVERLAP,
        place,
        format!("{name} and {first} take away the same area in part, which counts once."),
    )
    .about(name)
    .with_related(at, format!("{first} is here"))
}

/// A part of which nothing is left.
pub(crate) fn nothing_left(place: Place, part: &str) -> Finding {
    Finding::new(
        &NOTHING_LEFT,
        place,
        format!("deductions leave nothing of {part}. Leave the part out, or make them smaller."),
    )
    .about(part)
}

/// `deduct … of MATERIAL`; `removable` is the stretch that would go.
pub(crate) fn material(place: Place, removable: Place, name: &str) -> Finding {
    Finding::new(
        &MATERIAL,
        place,
        format!("{name} takes away whatever material it meets, so it has none of its own."),
    )
    .about(name)
    .with_repair("Leave the material out", removable, "")
}
