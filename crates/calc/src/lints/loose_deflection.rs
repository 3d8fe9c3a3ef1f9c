//! A limit on deflection that hardly limits anything.

use haunch_quantity::format_number;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "loose-deflection",
    severity: Severity::Warning,
    summary: "a limit on deflection is far looser than the trade's",
    page: include_str!("../findings/pages/loose-deflection.md"),
};

/// The loosest part of a span that is common is 1/100; common practice, no source.
const OF_SPAN: f64 = 1.0 / 60.0;
/// A plain length such as 25 mm serves beams of many spans, short ones too …
const AS_LENGTH: f64 = 1.0 / 20.0;
/// … where it is no longer than this, in m; common practice, no source.
const LONGEST: f64 = 0.05;

/// A bound and the span that it is for, in m; whether the bound is written as a part of the span.
pub(crate) fn finding(place: Place, bound: f64, span: f64, is_part: bool) -> Option<Finding> {
    let serves_many = !is_part && bound <= LONGEST;
    let most = if serves_many { AS_LENGTH } else { OF_SPAN };
    // What is written as the limit itself is not looser by rounding.
    (bound > span * most * (1.0 + 1e-9)).then(|| {
        let part = format_number(span / bound, 2);
        Finding::new(
            &CODE,
            place,
            format!(
                "this allows a deflection of span/{part}. The loosest limits that are common are \
                 near span/100. Check the number and its unit."
            ),
        )
    })
}
