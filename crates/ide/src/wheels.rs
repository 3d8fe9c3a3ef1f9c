//! Wheels along a beam: where they stand worst, and the sum of loads times influence ordinates.

use haunch_calc::blocks::{BeamModel, BlockMeaning, Model, WheelShare, WheelsWorking};
use haunch_calc::{Evaluated, LineId};
use haunch_quantity::{Preferences, Unit};

use crate::show;

/// The results whose worst places are told at the line of wheels.
const TOLD: [&str; 4] = ["M_max", "M_min", "V_max", "V_min"];

/// Where the wheels of a line stand worst for moment and shear; none for another line.
pub(crate) fn worst(
    block: &BlockMeaning,
    line: LineId,
    preferences: &Preferences,
) -> Option<String> {
    let Some(Model::Beam(beam)) = &block.model else {
        return None;
    };
    let mut cases = beam.cases.iter();
    let case = cases.position(|case| case.train.is_some() && case.lines.last() == Some(&line))?;
    let of = |name: &&str| {
        let evaluated = block.member(name)?;
        evaluated.as_quantity().filter(|value| value.si() != 0.0)?;
        let value = show::value(&evaluated, None, preferences)?;
        let working = beam.wheels_working(name).filter(|own| own.case == case)?;
        let place = working.place;
        Some(format!("| {name} | {value} | {place} |"))
    };
    let rows: Vec<String> = TOLD.iter().filter_map(of).collect();
    if rows.is_empty() {
        return None;
    }
    let head = "| worst for | value | where |\n|---|---|---|";
    Some(format!("{head}\n{}", rows.join("\n")))
}

/// `at 2.6 m, trolley at 2.6 m and 4.4 m`, and the sum of wheels times ordinates.
pub(crate) fn working(
    working: &WheelsWorking,
    beam: &BeamModel,
    preferences: &Preferences,
) -> String {
    let shown = |evaluated: Evaluated, unit: Option<&Unit>| {
        show::value(&evaluated, unit, preferences).unwrap_or_default()
    };
    let product = |share: &WheelShare| {
        let load = show::plain(share.load, None, preferences);
        let unit = beam.length_unit.as_ref();
        let unit = unit.filter(|unit| unit.dimension() == share.ordinate.dimension());
        let ordinate = shown(Evaluated::quantity(share.ordinate), unit);
        match share.ordinate.si() < 0.0 {
            true => format!("{load} * ({ordinate})"),
            false => format!("{load} * {ordinate}"),
        }
    };
    let products: Vec<String> = working.wheels.iter().map(product).collect();
    let mut sum = products.join(" + ");
    if working.factor != 1.0 {
        let factor = haunch_quantity::Quantity::ratio(working.factor);
        let factor = factor.map(|factor| show::plain(factor, None, preferences));
        sum = format!("{} * ({sum})", factor.unwrap_or_default());
    }
    let of_wheels = shown(Evaluated::quantity(working.of_wheels), None);
    let mut text = format!(
        "Worst {}.\n\nWheels times influence ordinates: {sum} = {of_wheels}",
        working.place
    );
    // What is left of a sum without other loads is its rounding.
    let (wheels, others) = (working.of_wheels.si(), working.of_others.si());
    if others.abs() > 1e-9 * wheels.abs() {
        let others = shown(Evaluated::quantity(working.of_others), None);
        text += &format!("; the other loads: {others}");
    }
    text + "."
}
