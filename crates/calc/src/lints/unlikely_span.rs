//! A span that does not go with the depth of the section.

use haunch_quantity::{Preferences, Quantity, Unit, format_number, format_quantity};

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unlikely-span",
    severity: Severity::Warning,
    summary: "a span is far shorter or longer than beams of this depth are",
    page: include_str!("../findings/pages/unlikely-span.md"),
};

/// Spans are at least this many depths long: in a deeper beam stresses are not those of beam theory;
/// common practice, no source.
const LEAST: f64 = 2.0;
/// … and at most this many, far beyond any that bears more than itself; common practice, no source.
const MOST: f64 = 200.0;

/// What is compared.
pub(crate) struct Span<'a> {
    /// The line that gives the length.
    pub(crate) place: Place,
    /// The beam's name.
    pub(crate) beam: &'a str,
    /// The longest span, of an overhang twice its length.
    pub(crate) longest: Quantity,
    /// The unit in which lengths along the beam are written.
    pub(crate) unit: Option<&'a Unit>,
    /// The depths of the shallowest and the deepest section.
    pub(crate) depths: (Quantity, Quantity),
}

/// The longest span of a beam, with the shallowest section where it is short and the deepest where it
/// is long.
pub(crate) fn finding(span: &Span<'_>, preferences: &Preferences) -> Option<Finding> {
    let (shallowest, deepest) = span.depths;
    let ratio = |depth: Quantity| span.longest.si() / depth.si();
    let (depth, advice) = if ratio(shallowest) < LEAST {
        let theory = "In so short a beam stresses are not those of beam theory.";
        (shallowest, theory)
    } else if ratio(deepest) > MOST {
        (deepest, "Check the numbers and their units.")
    } else {
        return None;
    };
    let beam = span.beam;
    let times = format_number(ratio(depth), 2);
    let longest = format_quantity(span.longest, span.unit, preferences);
    let depth = format_quantity(depth, None, preferences);
    let message = format!(
        "the span of {beam}, {longest}, is {times} times the depth of its section, {depth}. Spans are \
         2 to 200 times the depth. {advice}"
    );
    Some(Finding::new(&CODE, span.place, message).about(beam))
}
