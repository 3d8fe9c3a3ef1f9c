//! Something that has no dimension where a quantity is needed.

use crate::finding::{Code, Finding, Place, Severity};
use crate::value::Kind;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "not-a-quantity",
    severity: Severity::Error,
    summary: "something that is no quantity stands where a quantity is needed",
    page: include_str!("pages/not-a-quantity.md"),
};

fn what(kind: Kind) -> &'static str {
    match kind {
        Kind::Truth => "true or false",
        Kind::Text => "words",
        Kind::List(_) => "a list of quantities",
        Kind::Quantity(_) | Kind::Zero => "a quantity",
        Kind::Unknown => "not known",
    }
}

/// An operand that is no quantity.
pub(crate) fn finding(place: Place, source: &str, kind: Kind) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("a quantity is needed here, but {source} is {}.", what(kind)),
    )
}

/// A name that stands for a block, a part, a point or a file.
pub(crate) fn of_line(place: Place, name: &str, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} is {what} and has no value of its own. Use one of its results, as {name}.NAME."
        ),
    )
    .about(name)
}
