//! Designations of rolled sizes.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static UNKNOWN: Code = Code {
    name: "unknown-designation",
    severity: Severity::Error,
    summary: "no rolled size of the table has this designation",
    page: include_str!("pages/unknown-designation.md"),
};

/// A designation that is not in the table, and the nearest that are; the place covers the quotes.
pub(crate) fn unknown(place: Place, designation: &str, nearest: &[&str]) -> Finding {
    let message = format!(
        "the table of rolled sizes has no {designation}. Choose one that it has, or write the \
         shape by its sizes, for example as an I shape with its root radius."
    );
    let finding = Finding::new(&UNKNOWN, place, message);
    nearest.iter().fold(finding, |finding, near| {
        finding.with_repair(format!("Write \"{near}\""), place, format!("\"{near}\""))
    })
}
