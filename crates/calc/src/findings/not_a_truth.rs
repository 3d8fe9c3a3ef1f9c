//! A quantity where a condition is needed.

use crate::finding::{Code, Finding, Place, Severity};
use crate::value::Kind;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "not-a-truth",
    severity: Severity::Error,
    summary: "a condition is needed and something else stands there",
    page: include_str!("pages/not-a-truth.md"),
};

/// Something else than a condition.
pub(crate) fn finding(place: Place, source: &str, kind: Kind) -> Finding {
    let what = match kind {
        Kind::Quantity(dimension) => dimension.describe_with_article(),
        Kind::Zero => "a plain number".to_owned(),
        Kind::Text => "words".to_owned(),
        Kind::List(_) => "a list of quantities".to_owned(),
        Kind::Truth | Kind::Unknown => "something else".to_owned(),
    };
    Finding::new(
        &CODE,
        place,
        format!("a condition is needed here, such as a <= b, but {source} is {what}."),
    )
}
