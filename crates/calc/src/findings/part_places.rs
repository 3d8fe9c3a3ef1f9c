//! Places of the parts of a section.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static TWO_WITHOUT: Code = Code {
    name: "two-parts-without-place",
    severity: Severity::Error,
    summary: "more than one part of a section has no place",
    page: include_str!("pages/two-parts-without-place.md"),
};

/// The code.
pub(crate) static CONTRADICTION: Code = Code {
    name: "place-words",
    severity: Severity::Error,
    summary: "the words of a part's place do not fit together",
    page: include_str!("pages/place-words.md"),
};

/// A further part without a place, and the first one.
pub(crate) fn two_without(place: Place, part: &str, (first, at): (&str, Place)) -> Finding {
    Finding::new(
        &TWO_WITHOUT,
        place,
        format!(
            "{part} does not say where it goes, and neither does {first}. One part is placed by \
             itself, the others on it: write for example above {first} at the end."
        ),
    )
    .about(part)
    .with_related(at, format!("{first} has no place either"))
}

/// A name that is no part; the nearest ones are offered.
pub(crate) fn unknown_part<'a>(
    place: Place,
    name: &str,
    section: &str,
    parts: impl Iterator<Item = &'a str>,
) -> Finding {
    let mut finding = Finding::new(
        &super::unknown_name::CODE,
        place,
        format!("{section} has no part {name}. Define it, or check its spelling."),
    )
    .about(name);
    for near in crate::spelling::nearest(name, parts) {
        finding = finding.with_repair(format!("Write {near}"), place, near);
    }
    finding
}

/// A point where a part is needed.
pub(crate) fn not_a_part(place: Place, name: &str) -> Finding {
    Finding::new(
        &super::reference::CODE,
        place,
        format!("{name} is a point, and a part is needed here."),
    )
    .about(name)
}

/// Parts that are placed on each other in a ring.
pub(crate) fn ring(place: Place, names: &[&str], others: &[(Place, &str)]) -> Finding {
    let message = match names {
        [only] => format!("{only} is placed on itself, so it has no place."),
        _ => format!(
            "{} are placed on each other in a ring, so none of them has a place. Give one of them \
             a place of its own.",
            names.join(", ")
        ),
    };
    let mut finding = Finding::new(&super::ring::CODE, place, message)
        .about(names.first().copied().unwrap_or_default());
    for (place, name) in others.iter().take(20) {
        finding = finding.with_related(*place, format!("{name} is in the ring"));
    }
    finding
}

/// An edge that does not move the part sideways.
pub(crate) fn wrong_edge(place: Place, part: &str, relation: &str, edges: &str) -> Finding {
    Finding::new(
        &CONTRADICTION,
        place,
        format!(
            "{part} stands {relation} another part, so it can only be moved sideways: write flush \
             {edges}."
        ),
    )
    .about(part)
}

/// Two words for the same direction.
pub(crate) fn said_twice(place: Place, part: &str) -> Finding {
    Finding::new(
        &CONTRADICTION,
        place,
        format!("where {part} goes in this direction is already said. Keep one of the two."),
    )
    .about(part)
}

/// An inset without the edge that it starts from.
pub(crate) fn inset_without_edge(place: Place, part: &str) -> Finding {
    Finding::new(
        &CONTRADICTION,
        place,
        format!(
            "an inset of {part} is measured from an edge: write flush and the edge in front of it."
        ),
    )
    .about(part)
}
