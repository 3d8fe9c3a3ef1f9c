//! The table of parts of a hand calculation.

use haunch_quantity::typed::{Area, FirstMomentOfArea, Length, Ratio, SecondMomentOfArea, Typed};

use super::Section;
use super::integrals::Moments;
use super::outline::Point;
use super::properties::SecondMoments;

/// One row of the table: a part, or what a deduction takes, with negative areas and moments.
///
/// Areas and moments are multiplied by the modular ratio, so that each column adds up to the
/// property of the transformed section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableRow {
    /// The part or deduction.
    pub part: usize,
    /// The row takes away.
    pub is_deduction: bool,
    /// Modular ratio of the part, or of what is taken away.
    pub modular_ratio: Ratio,
    /// ±n·A
    pub area: Area,
    /// Own centroid.
    pub centroid: Point,
    /// ±n·A·x
    pub area_x: FirstMomentOfArea,
    /// ±n·A·y
    pub area_y: FirstMomentOfArea,
    /// ±n times the second moments about the own centroid.
    pub own: SecondMoments,
    /// Own centroid less the section's, to the right.
    pub arm_x: Length,
    /// Own centroid less the section's, upwards.
    pub arm_y: Length,
    /// ±n·A·(arm_y)², what the x axis adds.
    pub area_arm_y_squared: SecondMomentOfArea,
    /// ±n·A·(arm_x)², what the y axis adds.
    pub area_arm_x_squared: SecondMomentOfArea,
    /// ±n·A·arm_x·arm_y
    pub area_arm_x_arm_y: SecondMomentOfArea,
}

impl Section {
    /// The rows in the order of the parts given.
    ///
    /// A deduction from parts of one modular ratio has one row, otherwise one for each ratio. Two
    /// deductions that overlap: the common area stands in the row of one of them.
    pub fn table(&self) -> Vec<TableRow> {
        let mut rows: Vec<TableRow> = self
            .members
            .iter()
            .map(|own| self.row(own.index, false, own.ratio, &own.gross_moments))
            .collect();
        for removal in &self.removals {
            let mut ratios: Vec<f64> = removal
                .taken
                .iter()
                .map(|&(member, _)| self.members[member].ratio)
                .collect();
            ratios.sort_by(f64::total_cmp);
            ratios.dedup();
            for ratio in ratios {
                let taken: Vec<(f64, Moments)> = removal
                    .taken
                    .iter()
                    .filter(|&&(member, _)| self.members[member].ratio == ratio)
                    .map(|&(_, moments)| (1.0, moments))
                    .collect();
                let whole = Moments::sum(&taken, self.extent.middle());
                rows.push(self.row(removal.index, true, ratio, &whole));
            }
        }
        rows.sort_by_key(|row| row.part);
        rows
    }

    fn row(&self, part: usize, is_deduction: bool, ratio: f64, own: &Moments) -> TableRow {
        let factor = if is_deduction { -ratio } else { ratio };
        let area = factor * own.area;
        let arm = own.centroid - self.moments.centroid;
        let second = SecondMomentOfArea::from_si;
        TableRow {
            part,
            is_deduction,
            modular_ratio: Ratio::from_si(ratio),
            area: Area::from_si(area),
            centroid: Point::from_vector(own.centroid),
            area_x: FirstMomentOfArea::from_si(area * own.centroid.x),
            area_y: FirstMomentOfArea::from_si(area * own.centroid.y),
            own: SecondMoments {
                ixx: second(factor * own.ixx),
                iyy: second(factor * own.iyy),
                ixy: second(factor * own.ixy),
            },
            arm_x: Length::from_si(arm.x),
            arm_y: Length::from_si(arm.y),
            area_arm_y_squared: second(area * arm.y * arm.y),
            area_arm_x_squared: second(area * arm.x * arm.x),
            area_arm_x_arm_y: second(area * arm.x * arm.y),
        }
    }
}
