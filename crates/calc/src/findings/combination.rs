//! Load cases and their combinations.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static LEFT_OUT: Code = Code {
    name: "case-in-no-combination",
    severity: Severity::Error,
    summary: "a load case is in none of the combinations",
    page: include_str!("pages/case-in-no-combination.md"),
};

/// The code.
pub(crate) static NOT_A_SUM: Code = Code {
    name: "combination-not-a-sum",
    severity: Severity::Error,
    summary: "a combination is something else than a sum of factored load cases",
    page: include_str!("pages/combination-not-a-sum.md"),
};

/// A case that would be left out silently.
pub(crate) fn left_out(place: Place, case: &str) -> Finding {
    Finding::new(
        &LEFT_OUT,
        place,
        format!(
            "the load case {case} is in none of the combinations, so it would be left out. Add it \
             to one, with a factor of 0 if that is meant."
        ),
    )
    .about(case)
}

/// A product of cases, a power of one, a function of one.
pub(crate) fn not_a_sum(place: Place, source: &str) -> Finding {
    Finding::new(
        &NOT_A_SUM,
        place,
        format!(
            "a combination is a sum of load cases, each with its factor, as 1.35*dead + 1.5*live; \
             {source} is none."
        ),
    )
}

/// A term without a case.
pub(crate) fn no_case(place: Place, source: &str) -> Finding {
    Finding::new(
        &NOT_A_SUM,
        place,
        format!(
            "a combination is a sum of load cases, each with its factor, as 1.35*dead + 1.5*live; \
             {source} has no load case."
        ),
    )
}
