//! A field that is given something else than it takes.

use crate::blocks::fields::FieldKind;
use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "wrong-field",
    severity: Severity::Error,
    summary: "a field is given something else than it takes",
    page: include_str!("pages/wrong-field.md"),
};

/// Another kind of value than the field takes.
pub(crate) fn finding(place: Place, field: &str, kind: FieldKind) -> Finding {
    let takes = match kind {
        FieldKind::Text => "words in quotes".to_owned(),
        FieldKind::Quantity(dimension) => dimension.describe_with_article(),
        FieldKind::List(dimension) => {
            format!(
                "one or more quantities, each {}",
                dimension.describe_with_article()
            )
        }
    };
    Finding::new(&CODE, place, format!("{field} takes {takes}."))
}

/// Words outside a sheet.
pub(crate) fn text_outside(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "words in quotes are for the fields of a sheet. A value is a number with its unit.",
    )
}

/// A list outside the field that takes one.
pub(crate) fn list_outside(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a value is one quantity. Only spans of a beam takes several, parted by commas.",
    )
}

/// A number of digits out of range.
pub(crate) fn digits(place: Place, most: u8) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("results can have 1 to {most} digits."),
    )
}
