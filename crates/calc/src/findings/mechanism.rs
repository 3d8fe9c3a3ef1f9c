//! A beam that nothing holds in place.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "mechanism",
    severity: Severity::Error,
    summary: "a beam can move: its supports do not hold it",
    page: include_str!("pages/mechanism.md"),
};

/// The code.
pub(crate) static SUPPORT_MISSING: Code = Code {
    name: "support-missing",
    severity: Severity::Error,
    summary: "two spans meet where no support stands",
    page: include_str!("pages/support-missing.md"),
};

/// No support at all.
pub(crate) fn nothing_holds(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("nothing holds {name} up. Add its supports."),
    )
    .about(name)
}

/// Loads act sideways, and the beam can move there; `place` is such a load.
pub(crate) fn sideways(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} can move sideways under this load: a spring holds it only up and down, and a \
             hinge turns both ways. Add a support, for example support pin sideways at middle."
        ),
    )
    .about(name)
}

/// The whole beam turns about its only support.
pub(crate) fn turns(place: Place, name: &str, support: Place, at: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} can turn about its only support, {at}. Add a second support, or make this one \
             fixed."
        ),
    )
    .about(name)
    .with_related(support, "the only support")
}

/// Hinges let a part move.
pub(crate) fn hinges(
    place: Place,
    name: &str,
    from: &str,
    to: &str,
    hinges: &[(Place, String)],
) -> Finding {
    let listed: Vec<&str> = hinges.iter().map(|(_, at)| at.as_str()).collect();
    let (word, lets) = if hinges.len() == 1 {
        ("hinge", "lets")
    } else {
        ("hinges", "let")
    };
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "the {word} {} {lets} the part of {name} from {from} to {to} move. Add a support to \
             that part, or leave a hinge out.",
            listed.join(" and ")
        ),
    )
    .about(name);
    for (place, _) in hinges {
        finding = finding.with_related(*place, "this hinge lets it move");
    }
    finding
}

/// An inner end of a span without a support line.
pub(crate) fn support_missing(place: Place, name: &str, at: &str) -> Finding {
    Finding::new(
        &SUPPORT_MISSING,
        place,
        format!(
            "two spans of {name} meet at {at}, and no support stands there. With support lines \
             every place where spans meet needs its own."
        ),
    )
    .about(name)
}
