//! The results of a set of forces by their names.

use haunch_mechanics::section::CombinedStress;
use haunch_quantity::typed::{Stress, Typed};
use haunch_quantity::{Dimension, Quantity};
use smol_str::SmolStr;

use super::ForcesModel;
use crate::blocks::fibre::Fibre;
use crate::blocks::section::{NoShearFlow, NoShearStress, level};
use crate::blocks::{Absent, Argument, BlockMeaning, CallError, Model};
use crate::outcome::Check;
use crate::value::{Evaluated, Kind};

/// The dimension of a result.
pub(crate) fn member_dimension(member: &str) -> Option<Dimension> {
    match member {
        "stress" | "stress_top" | "stress_bottom" | "shear_stress" | "shear_stress_max"
        | "von_mises" | "principal_stress_1" | "principal_stress_2" => Some(Dimension::STRESS),
        "shear_flow" | "shear_flow_at" => Some(Dimension::FORCE_PER_LENGTH),
        "neutral_axis_y" => Some(Dimension::LENGTH),
        "neutral_axis_angle" => Some(Dimension::RATIO),
        "utilisation" => Some(Dimension::RATIO),
        _ => None,
    }
}

/// Why a result that forces can have is not among those of this block.
pub(crate) fn absent(model: &ForcesModel, member: &str) -> Option<Absent> {
    let dimension = member_dimension(member)?;
    let message = match member {
        "utilisation" if model.limits.is_empty() && model.limits_known => format!(
            "no limit is stated in {} or in the material of its section",
            model.name
        ),
        "utilisation" => format!("a limit of {} could not be checked", model.name),
        "shear_stress_max" => model.section.no_shear.clone()?,
        "neutral_axis_angle" => "without bending the stress is the same all over".to_owned(),
        "neutral_axis_y" => {
            "no line of zero stress crosses the upright axis through the centroid".to_owned()
        }
        _ => return None,
    };
    Some(Absent::NoValue { dimension, message })
}

/// Every result with a value.
pub(in crate::blocks) fn members(
    model: &ForcesModel,
    checks: &[Check],
) -> Vec<(SmolStr, Evaluated)> {
    let mut members = Vec::new();
    let mut add = |name: &'static str, value: Option<Quantity>| {
        if let Some(value) = value {
            members.push((SmolStr::new_static(name), Evaluated::quantity(value)));
        }
    };
    add("stress_top", edge_stress(model, true));
    add("stress_bottom", edge_stress(model, false));
    let shear = model.section.shear.iter();
    let shear = shear.map(|place| (model.shear.si() * place.per_shear).abs());
    let largest = shear.reduce(f64::max);
    add(
        "shear_stress_max",
        largest.and_then(|stress| Quantity::new(stress, Dimension::STRESS)),
    );
    let axis = model
        .section
        .neutral_axis(model.axial.si(), model.moment.si(), model.moment_y.si());
    if let Some((level, angle)) = axis {
        let level = level.and_then(|level| Quantity::new(level, Dimension::LENGTH));
        add("neutral_axis_y", level);
        add("neutral_axis_angle", Quantity::ratio(angle));
    }
    add("utilisation", utilisation(model, checks));
    members
}

/// The stress of the largest magnitude along an edge; of equal ones in both senses the tension.
fn edge_stress(model: &ForcesModel, is_top: bool) -> Option<Quantity> {
    let stresses: Vec<f64> = model
        .section
        .edge_fibres(is_top)
        .iter()
        .map(|fibre| model.stress_at(fibre))
        .collect();
    let tension = stresses.iter().copied().reduce(f64::max)?;
    let compression = stresses.iter().copied().reduce(f64::min)?;
    let stress = if tension.abs() >= compression.abs() * (1.0 - 1e-12) {
        tension
    } else {
        compression
    };
    Quantity::new(stress, Dimension::STRESS)
}

/// The largest of all checks; none where one of them is not known.
fn utilisation(model: &ForcesModel, checks: &[Check]) -> Option<Quantity> {
    if !model.limits_known {
        return None;
    }
    let used: Option<Vec<f64>> = checks.iter().map(|check| check.utilisation).collect();
    Quantity::ratio(used?.into_iter().reduce(f64::max)?)
}

/// `stress(POINT)`, `shear_stress(y)`, `shear_flow(PART)` and the like.
pub(crate) fn call(
    block: &BlockMeaning,
    name: &str,
    arguments: &[Argument],
) -> Result<Evaluated, CallError> {
    let known = member_dimension(name).filter(|_| super::FUNCTIONS.contains(&name));
    let dimension = known.ok_or(CallError::Unknown)?;
    let unknown = Evaluated::dimension_only(dimension);
    let Some(Model::Forces(model)) = &block.model else {
        return Ok(unknown);
    };
    let no_value = |message: String| CallError::NoValue {
        kind: Kind::Quantity(dimension),
        message,
    };
    let no_shear = |reason: NoShearStress| match reason {
        NoShearStress::Outside => no_value(format!("this level misses {}", model.section_name)),
        NoShearStress::Reason(message) => no_value(message),
    };
    let shear = model.shear.si();
    let result = match name {
        "stress" => model.stress_at(point(name, model, arguments)?),
        "von_mises" | "principal_stress_1" | "principal_stress_2" => {
            let fibre = point(name, model, arguments)?;
            let normal = model.stress_at(fibre);
            let tangential = model.section.shear_stress_at(&fibre.name, shear);
            combined(name, normal, tangential.map_err(no_shear)?)
        }
        "shear_flow" => {
            let part = part(model, arguments)?;
            match model.section.shear_flow_into(part, shear) {
                Ok(flow) => flow,
                Err(NoShearFlow::NoPart) => {
                    return Err(CallError::Argument {
                        index: 0,
                        message: format!("{} has no part {part}.", model.section_name),
                    });
                }
                Err(NoShearFlow::Reason(message)) => return Err(no_value(message)),
            }
        }
        _ => {
            let Some(y) = level(name, arguments)? else {
                return Ok(unknown);
            };
            let at = match name {
                "shear_flow_at" => model.section.shear_flow_at(y, shear),
                _ => model.section.shear_stress(y, shear),
            };
            at.map_err(no_shear)?
        }
    };
    let result = Quantity::new(result, dimension);
    Ok(result.map_or(unknown, Evaluated::quantity))
}

/// A normal and a shear stress at one place together.
fn combined(name: &str, normal: f64, shear: f64) -> f64 {
    let stress = CombinedStress {
        normal: Stress::from_si(normal),
        shear: Stress::from_si(shear),
    };
    let result = match name {
        "von_mises" => stress.von_mises(),
        "principal_stress_1" => stress.principal().greatest,
        _ => stress.principal().least,
    };
    result.si()
}

/// The name of a part, which may be dotted.
fn part<'a>(model: &ForcesModel, arguments: &'a [Argument]) -> Result<&'a str, CallError> {
    let [Argument::Point(written)] = arguments else {
        return Err(CallError::Argument {
            index: usize::from(arguments.len() > 1),
            message: "shear_flow takes the name of a part of the section, as shear_flow(flange)."
                .to_owned(),
        });
    };
    let full = format!("{}.", model.section_name);
    Ok(written.strip_prefix(full.as_str()).unwrap_or(written))
}

/// The fibre of a point by its name, which may be dotted.
fn point<'a>(
    function: &str,
    model: &'a ForcesModel,
    arguments: &[Argument],
) -> Result<&'a Fibre, CallError> {
    let wrong = |index: usize, message: String| CallError::Argument { index, message };
    let section = &model.section_name;
    let [Argument::Point(written)] = arguments else {
        let index = usize::from(arguments.len() > 1);
        let message =
            format!("{function} takes the name of a point of the section, as {function}(A).");
        return Err(wrong(index, message));
    };
    let full = format!("{section}.");
    let name = written.strip_prefix(full.as_str()).unwrap_or(written);
    let points = model
        .section
        .fibres
        .iter()
        .filter(|fibre| fibre.point.is_some());
    if let Some(found) = points.clone().find(|fibre| fibre.name == name) {
        return Ok(found);
    }
    let mut known: Vec<&str> = points.map(|fibre| fibre.name.as_str()).collect();
    known.sort_unstable();
    let message = if known.is_empty() {
        format!("{section} has no points. Add one to it, for example point {name} at bottom.")
    } else {
        format!(
            "{section} has no point {name}. It has {}.",
            known.join(", ")
        )
    };
    Err(wrong(0, message))
}
