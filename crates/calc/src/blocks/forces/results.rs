//! The results of a set of forces by their names.

use std::collections::BTreeMap;

use haunch_quantity::{Dimension, Quantity};
use smol_str::SmolStr;

use super::ForcesModel;
use crate::blocks::fibre::Fibre;
use crate::blocks::section::{NoShearStress, level};
use crate::blocks::{Absent, Argument, BlockMeaning, CallError, Model};
use crate::outcome::Check;
use crate::value::{Evaluated, Kind};

/// The dimension of a result.
pub(crate) fn member_dimension(member: &str) -> Option<Dimension> {
    match member {
        "stress" | "stress_top" | "stress_bottom" | "shear_stress" | "shear_stress_max" => {
            Some(Dimension::STRESS)
        }
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
        _ => return None,
    };
    Some(Absent::NoValue { dimension, message })
}

/// Every result with a value.
pub(super) fn members(model: &ForcesModel, checks: &[Check]) -> BTreeMap<SmolStr, Evaluated> {
    let mut members = BTreeMap::new();
    let mut add = |name: &'static str, value: Option<Quantity>| {
        if let Some(value) = value {
            members.insert(SmolStr::new_static(name), Evaluated::quantity(value));
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

/// `stress(POINT)`, `shear_stress(y)`
pub(crate) fn call(
    block: &BlockMeaning,
    name: &str,
    arguments: &[Argument],
) -> Result<Evaluated, CallError> {
    let unknown = Evaluated::dimension_only(Dimension::STRESS);
    let Some(Model::Forces(model)) = &block.model else {
        return match name {
            "stress" | "shear_stress" => Ok(unknown),
            _ => Err(CallError::Unknown),
        };
    };
    let stress = match name {
        "stress" => model.stress_at(point(model, arguments)?),
        "shear_stress" => {
            let Some(y) = level(name, arguments)? else {
                return Ok(unknown);
            };
            match model.section.shear_stress(y, model.shear.si()) {
                Ok(stress) => stress,
                Err(NoShearStress::Outside) => {
                    return Err(CallError::NoValue {
                        kind: Kind::Quantity(Dimension::STRESS),
                        message: format!("this level misses {}", model.section_name),
                    });
                }
                Err(NoShearStress::Reason(message)) => {
                    return Err(CallError::NoValue {
                        kind: Kind::Quantity(Dimension::STRESS),
                        message,
                    });
                }
            }
        }
        _ => return Err(CallError::Unknown),
    };
    let stress = Quantity::new(stress, Dimension::STRESS);
    Ok(stress.map_or(unknown, Evaluated::quantity))
}

/// The fibre of a point by its name, which may be dotted.
fn point<'a>(model: &'a ForcesModel, arguments: &[Argument]) -> Result<&'a Fibre, CallError> {
    let wrong = |index: usize, message: String| CallError::Argument { index, message };
    let section = &model.section_name;
    let [Argument::Point(written)] = arguments else {
        let index = usize::from(arguments.len() > 1);
        let message = "stress takes the name of a point of the section, as stress(A).";
        return Err(wrong(index, message.into()));
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
