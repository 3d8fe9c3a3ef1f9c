//! What is known of a part from its own line: its size, area and second moments about its own
//! centroid. A part's place is known only to its section.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, Tree};

use super::section::own_properties;
use crate::value::Evaluated;

/// The members of a part that its own line gives.
pub(crate) const MEMBERS: &[&str] = &["width", "depth", "area", "Ixx", "Iyy"];

/// The dimension of such a member.
pub(crate) fn dimension(member: &str) -> Option<Dimension> {
    match member {
        "width" | "depth" => Some(Dimension::LENGTH),
        "area" => Some(Dimension::AREA),
        "Ixx" | "Iyy" => Some(Dimension::SECOND_MOMENT_OF_AREA),
        _ => None,
    }
}

/// A member of the part on a line, from the values of the line's expressions.
pub(crate) fn member(tree: &Tree, values: &[Evaluated], member: &str) -> Evaluated {
    let Some(dimension) = dimension(member) else {
        return Evaluated::UNKNOWN;
    };
    let value = |id: ExpressionId, dimension| {
        let value = values.get(id.0 as usize)?;
        value.as_dimension(dimension)
    };
    own_properties(tree, &value)
        .and_then(|own| own.get(member))
        .map_or(Evaluated::dimension_only(dimension), Evaluated::quantity)
}
