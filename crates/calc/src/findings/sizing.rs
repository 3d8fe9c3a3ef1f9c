//! Searches over a range of sizes.

use super::capacity::{NONE_HOLDS, NOTHING_LIMITS};
use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "size-range",
    severity: Severity::Error,
    summary: "a range of sizes cannot be searched",
    page: include_str!("pages/size-range.md"),
};

/// The block does not depend on the size.
pub(crate) fn not_used(place: Place, block: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{block} does not depend on this size. Use it there, or in the section that {block} is of."
        ),
    )
    .about(block)
}

/// The range ends before it begins.
pub(crate) fn wrong_way(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a range ends at a larger size than it begins with: write the smaller one first.",
    )
}

/// More sizes than are tried.
pub(crate) fn too_many(place: Place, most: usize) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("a range has at most {most} sizes. Make it shorter, or the step larger."),
    )
}

/// No limit is stated.
pub(crate) fn no_limit(place: Place, block: &str) -> Finding {
    Finding::new(
        &NOTHING_LIMITS,
        place,
        format!(
            "no limit is stated for {block}, so that every size would do. State one in {block} \
                 or in its material."
        ),
    )
    .about(block)
}

/// No size keeps every limit: the best one and what it uses.
pub(crate) fn none_holds(
    place: Place,
    block: &str,
    best: &str,
    governing: &str,
    used: &str,
) -> Finding {
    Finding::new(
        &NONE_HOLDS,
        place,
        format!(
            "the limits of {block} hold for no size of this range: at best, with {best}, {used} of \
             {governing} is used."
        ),
    )
    .about(block)
}

/// With no size of the range the limits can be compared with anything.
pub(crate) fn none_known(place: Place, block: &str) -> Finding {
    Finding::new(
        &NONE_HOLDS,
        place,
        format!(
            "with no size of this range all limits of {block} can be worked out. Write one of the \
             sizes here to see why."
        ),
    )
    .about(block)
}
