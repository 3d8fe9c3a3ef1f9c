//! A unit word after `*` or `/` that is also the name of a value.

use haunch_syntax::UnitText;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unit-or-name",
    severity: Severity::Error,
    summary: "a word could be a unit or the name of a value",
    page: include_str!("pages/unit-or-name.md"),
};

/// The word at fault is the one at `_word`; the whole unit is what the reader has to decide about.
pub(crate) fn finding(word_place: Place, whole: Place, unit: &UnitText, word: &str) -> Finding {
    let split = word_place.span.start.saturating_sub(unit.span.start) as usize;
    let before = unit.text.get(..split).unwrap_or("");
    let after = unit.text.get(split..).unwrap_or("");
    let (kept, operator) = match before.char_indices().next_back() {
        Some((at, operator)) => (&before[..at], operator),
        None => (before, '*'),
    };
    let mut finding = Finding::new(
        &CODE,
        whole,
        format!(
            "{} can be read in two ways, since {word} is a unit and also a value of this file. \
             For the value, put spaces around the operator; for the unit, give the value another \
             name.",
            unit.text
        ),
    )
    .about(word);
    finding = finding.with_repair(
        format!("Use the value {word}: {kept} {operator} {after}"),
        whole,
        format!("{kept} {operator} {after}"),
    );
    finding
}
