//! A quantity with a unit raised to a power that is not written as a number.

use haunch_quantity::Dimension;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "power-not-literal",
    severity: Severity::Error,
    summary: "the power of a quantity with a unit is not written as a number",
    page: include_str!("pages/power-not-literal.md"),
};

/// The exponent at fault.
pub(crate) fn finding(place: Place, base: &str, dimension: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{base} is {}, so its power has to be written as a number, such as 2 or (1/3): otherwise \
             the unit of the result depends on a value.",
            dimension.describe_with_article()
        ),
    )
}
