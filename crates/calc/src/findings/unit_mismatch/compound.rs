//! The parts of one compound quantity.

use haunch_quantity::Dimension;

use super::CODE;
use crate::finding::{Finding, Place};

/// The parts of one compound quantity, as `6 ft 3 kg`.
pub(crate) fn compound(place: Place, first: Dimension, found: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "this part is {}, but the quantity begins with {}. Parts of one quantity are of one \
             kind, as in 6 ft 3 in.",
            found.describe_with_article(),
            first.describe_with_article()
        ),
    )
}
