//! The results of a beam by name: extremes over the beam and reactions, of all combinations
//! together and of each.

use std::collections::{BTreeMap, BTreeSet};

use haunch_mechanics::beam::{Envelope, Response};
use haunch_quantity::typed::{Force, Typed};
use haunch_quantity::{Dimension, Quantity};
use smol_str::{SmolStr, format_smolstr};

use super::limits::Under;
use super::{BeamModel, buckling};
use crate::blocks::Absent;
use crate::blocks::limits::governing;
use crate::value::Evaluated;

/// The dimension of a result or function by its name alone.
pub(in crate::blocks) fn member_dimension(member: &str) -> Option<Dimension> {
    match member {
        "M_max" | "M_min" | "M" => Some(Dimension::MOMENT),
        "V_max" | "V_min" | "V" => Some(Dimension::FORCE),
        "deflection_max" | "deflection" => Some(Dimension::LENGTH),
        "slope" | "utilisation" => Some(Dimension::RATIO),
        "stress" => Some(Dimension::STRESS),
        member if buckling::RESULTS.contains(&member) => Some(Dimension::FORCE),
        _ => {
            let number = member.strip_prefix('R')?;
            let is_number = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
            is_number.then_some(Dimension::FORCE)
        }
    }
}

/// Why a result that a beam can have is not among those of this one.
pub(in crate::blocks) fn absent(model: &BeamModel, member: &str) -> Option<Absent> {
    if !buckling::RESULTS.contains(&member) {
        return None;
    }
    let message = match model.buckling {
        None => format!(
            "a buckling load needs the line {} = … in the beam",
            buckling::FIELD
        ),
        Some(_) => {
            "the section's principal axes are turned, so that it buckles about neither the x \
                    nor the y axis; euler_load is about the axis of the least stiffness"
                .to_owned()
        }
    };
    Some(Absent::NoValue {
        dimension: Dimension::FORCE,
        message,
    })
}

/// Every result: of all combinations together under its own name, and of each combination under
/// the combination's.
pub(super) fn members(model: &BeamModel) -> BTreeMap<SmolStr, Evaluated> {
    let mut members = BTreeMap::new();
    let all = model.responses();
    members.extend(of(model, &all));
    let named: BTreeSet<&SmolStr> = all.iter().filter_map(|under| under.name).collect();
    for name in named {
        let of_name = all.iter().filter(|under| under.name == Some(name));
        let own = of(model, &of_name.copied().collect::<Vec<_>>());
        members.extend(
            own.into_iter()
                .map(|(member, value)| (format_smolstr!("{name}.{member}"), value)),
        );
    }
    members
}

/// The results under these combinations.
fn of(model: &BeamModel, responses: &[Under<'_>]) -> Vec<(SmolStr, Evaluated)> {
    let mut members = Vec::new();
    let mut add = |name: SmolStr, value: Option<Quantity>| {
        if let Some(value) = value {
            members.push((name, Evaluated::quantity(value)));
        }
    };
    let moments: Vec<_> = responses.iter().map(|u| u.response.moment()).collect();
    if let Some(moment) = Envelope::of(&moments) {
        add("M_max".into(), moment.max.extreme.value.to_quantity());
        add("M_min".into(), moment.min.extreme.value.to_quantity());
    }
    let shears: Vec<_> = responses.iter().map(|u| u.response.shear()).collect();
    if let Some(shear) = Envelope::of(&shears) {
        add("V_max".into(), shear.max.extreme.value.to_quantity());
        add("V_min".into(), shear.min.extreme.value.to_quantity());
    }
    let deflections = responses.iter().filter_map(|u| {
        Some(
            u.response
                .deflection()?
                .extremes()
                .largest_magnitude()
                .value,
        )
    });
    let has_deflection = model.has_deflection();
    if has_deflection {
        let largest = larger(deflections);
        add(
            "deflection_max".into(),
            largest.and_then(|value| value.to_quantity()),
        );
    }
    let mut named = Vec::new();
    for (index, support) in model.supports.iter().enumerate() {
        let forces = responses
            .iter()
            .filter_map(|under| reaction(under.response, index));
        let force = larger(forces).and_then(|force| force.to_quantity());
        add(format_smolstr!("R{}", index + 1), force);
        if let (Some(name), Some(force)) = (&support.name, force) {
            named.push((name.clone(), Evaluated::quantity(force)));
        }
    }
    if !has_deflection {
        members.push((
            "deflection_max".into(),
            Evaluated::dimension_only(Dimension::LENGTH),
        ));
    }
    members.extend(utilisation(model, responses).map(|value| ("utilisation".into(), value)));
    // A support's own name comes before a result of the same name: the last entry stays.
    members.extend(named);
    members
}

/// The reaction of a support, positive up.
pub(super) fn reaction(response: &Response, support: usize) -> Option<Force> {
    response
        .reactions()
        .get(support)
        .map(|reaction| reaction.force)
}

/// The value of the largest magnitude with its sign; the positive one of two equal ones.
pub(super) fn larger<Q: Typed>(values: impl Iterator<Item = Q>) -> Option<Q> {
    let mut largest: Option<Q> = None;
    for value in values {
        let is_larger = largest.is_none_or(|largest| {
            let (new, old) = (value.si(), largest.si());
            new.abs() > old.abs() || (new.abs() == old.abs() && new > old)
        });
        if is_larger {
            largest = Some(value);
        }
    }
    largest
}

/// The largest utilisation of all limits; without its value if one of them is not known, none if
/// there is no limit.
fn utilisation(model: &BeamModel, responses: &[Under<'_>]) -> Option<Evaluated> {
    let unknown = Evaluated::dimension_only(Dimension::RATIO);
    if !model.limits_known {
        return Some(unknown);
    }
    let mut largest: Option<f64> = None;
    for limit in model.demands(responses) {
        let Some((_, utilisation)) = governing(limit.subject, &limit.demands) else {
            return Some(unknown);
        };
        largest = Some(largest.map_or(utilisation, |other| other.max(utilisation)));
    }
    Some(Quantity::ratio(largest?).map_or(unknown, Evaluated::quantity))
}
