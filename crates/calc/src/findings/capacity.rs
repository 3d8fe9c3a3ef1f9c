//! Searches for the largest or smallest load that find none.

use haunch_syntax::SearchDirection;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static NOTHING_LIMITS: Code = Code {
    name: "nothing-limits",
    severity: Severity::Error,
    summary: "a load has no largest size, since nothing limits it",
    page: include_str!("pages/nothing-limits.md"),
};

/// The code.
pub(crate) static NONE_HOLDS: Code = Code {
    name: "no-size-holds",
    severity: Severity::Error,
    summary: "the limits hold for no size",
    page: include_str!("pages/no-size-holds.md"),
};

/// The block has no limit at all.
pub(crate) fn no_limit(
    place: Place,
    direction: SearchDirection,
    subject: &str,
    block: &str,
) -> Finding {
    let word = match direction {
        SearchDirection::Largest => "largest",
        SearchDirection::Smallest => "smallest",
    };
    Finding::new(
        &NOTHING_LIMITS,
        place,
        format!(
            "{subject} of {block} has no {word} size, since no limit is stated. State one in \
             {block} or in its material."
        ),
    )
    .about(subject)
}

/// The limits are there, but the load does not use them up.
pub(crate) fn unlimited(place: Place, subject: &str, block: &str) -> Finding {
    Finding::new(
        &NOTHING_LIMITS,
        place,
        format!(
            "{subject} of {block} has no largest size: however large it is, every limit of {block} \
             holds."
        ),
    )
    .about(subject)
}

/// The load is zero as written, so that no factor makes it larger.
pub(crate) fn zero(place: Place, subject: &str, block: &str) -> Finding {
    Finding::new(
        &NOTHING_LIMITS,
        place,
        format!("{subject} of {block} is zero as it is written, and cannot be made larger."),
    )
    .about(subject)
}

/// No size keeps every limit: the best one and what it uses.
pub(crate) fn none_holds(
    place: Place,
    (subject, block): (&str, &str),
    best: &str,
    governing: &str,
    used: &str,
) -> Finding {
    Finding::new(
        &NONE_HOLDS,
        place,
        format!(
            "the limits of {block} hold for no size of {subject}: at best, with {best}, {used} of \
             {governing} is used."
        ),
    )
    .about(subject)
}
