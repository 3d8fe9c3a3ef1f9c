//! The table by which a section is worked out by hand.

use haunch_quantity::Quantity;
use haunch_quantity::typed::Typed;
use smol_str::SmolStr;

use super::geometry::Geometry;

/// One row of the table: a part, or what a deduction takes away, with negative areas and moments.
/// With several materials areas and moments count n times, n being the modular ratio.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// The part's name.
    pub part: SmolStr,
    /// It takes away.
    pub is_deduction: bool,
    /// n, the modulus of elasticity over that of the reference material; 1 for one material.
    pub modular_ratio: f64,
    /// A
    pub area: Quantity,
    /// y of its own centroid.
    pub y: Quantity,
    /// A·y
    pub area_y: Quantity,
    /// Its own second moment about its level centroidal axis.
    pub own: Quantity,
    /// d, from the section's centroid up to its own.
    pub distance: Quantity,
    /// A·d²
    pub carried: Quantity,
}

/// The rows in the order of the parts; none where a number does not fit.
pub(super) fn rows(geometry: &Geometry) -> Vec<TableRow> {
    let rows = geometry.section.table().into_iter().map(|row| {
        Some(TableRow {
            part: geometry.name(row.part).into(),
            is_deduction: row.is_deduction,
            modular_ratio: row.modular_ratio.si(),
            area: row.area.to_quantity()?,
            y: row.centroid.y.to_quantity()?,
            area_y: row.area_y.to_quantity()?,
            own: row.own.ixx.to_quantity()?,
            distance: row.arm_y.to_quantity()?,
            carried: row.area_arm_y_squared.to_quantity()?,
        })
    });
    rows.collect::<Option<Vec<_>>>().unwrap_or_default()
}
