//! A name with more than one definition.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "defined-twice",
    severity: Severity::Error,
    summary: "a name is defined more than once",
    page: include_str!("pages/defined-twice.md"),
};

/// Other definitions that one of them tells of.
pub(crate) const MOST_RELATED: usize = 3;

/// One of the definitions; the first of the others are related places.
pub(crate) fn finding(place: Place, name: &str, in_block: bool, others: &[Place]) -> Finding {
    let scope = if in_block { "block" } else { "file" };
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{name} is defined more than once in this {scope}, so it has no value. Keep one \
             definition or rename the others."
        ),
    )
    .about(name);
    for (number, other) in others.iter().take(MOST_RELATED).enumerate() {
        let and_more = match number + 1 == MOST_RELATED && others.len() > MOST_RELATED {
            true => ", and further down",
            false => "",
        };
        let message = format!("{name} is also defined here{and_more}");
        finding = finding.with_related(*other, message);
    }
    finding
}

/// Two arguments of one name.
pub(crate) fn parameter(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} stands twice among the arguments."),
    )
}

/// Two lines that set units and digits.
pub(crate) fn results_in(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a file has one line `results in`. None of them counts while there are several.",
    )
}
