//! An exponent.

use haunch_quantity::Dimension;

use super::CODE;
use crate::finding::{Finding, Place};

/// An exponent with a unit.
pub(crate) fn exponent(place: Place, source: &str, found: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "an exponent is a plain number, but {source} is {}.",
            found.describe_with_article()
        ),
    )
}
