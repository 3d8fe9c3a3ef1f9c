//! A line of the notation that cannot be computed yet.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "not-supported-yet",
    severity: Severity::Error,
    summary: "a line of the notation cannot be computed yet",
    page: include_str!("pages/not-supported-yet.md"),
};

/// What is not supported; the block has no results.
pub(crate) fn finding(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{what} cannot be computed yet, so this block has no results."),
    )
}

/// A search that is not supported; the value is not known.
pub(crate) fn value(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{what} cannot be worked out yet, so this value is not known."),
    )
}

/// Wheels would bend the beam both ways wherever they stand.
pub(crate) fn wheels_on_turned_axes(place: Place, beam: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "wheels on {beam} bend it sideways, too, since its section's principal axes are turned. \
             Where they stand worst then is not worked out, so this block has no results. Put the \
             wheels at places of your own, each a load case."
        ),
    )
}

/// Two trains of wheels act together, in one load case or in one combination.
pub(crate) fn two_trains(place: Place, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{what} are not worked out together, so this block has no results: each train has its \
             own worst place, and both together have others. Write what runs in step as one train on \
             one line, or put one of them at places of your own as loads that stay."
        ),
    )
}
