//! A name that no line defines.

use crate::finding::{Code, Finding, Place, Severity};
use crate::inference::Inferred;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-name",
    severity: Severity::Error,
    summary: "no line defines this name",
    page: include_str!("pages/unknown-name.md"),
};

/// A name inside an expression.
pub(crate) fn finding(place: Place, full: &str, call: bool) -> Finding {
    let message = if call {
        format!("there is no formula {full}. Define it, or check its spelling.")
    } else {
        format!(
            "{full} is not defined. Give it a value on a line of its own, or check its spelling."
        )
    };
    Finding::new(&CODE, place, message).about(full)
}

/// Adds what an undefined name has to be, as its use on the line says.
pub(crate) fn teach(finding: &mut Finding, inferred: &Inferred) {
    if let Some(words) = inferred.in_words() {
        finding.message.push_str(&format!(" {words}"));
    }
}

/// A name of a block that a heading or line refers to.
pub(crate) fn block(place: Place, full: &str, what: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("there is no {what} {full}. Define it, or check its spelling."),
    )
    .about(full)
}
