//! The results of a beam by name: extremes over the beam and reactions, of all combinations
//! together and of each.

use std::collections::BTreeSet;

use haunch_mechanics::beam::{Diagram, Envelope, Governing, Response};
use haunch_quantity::typed::{Force, Typed};
use haunch_quantity::{Dimension, Quantity};
use smol_str::{SmolStr, format_smolstr};

use super::limits::Under;
use super::{BeamModel, Buckling, WorstStanding, buckling};
use crate::blocks::Absent;
use crate::blocks::limits::governing;
use crate::blocks::members::UTILISATION;
use crate::value::Evaluated;

/// What comes before the name of an extreme for where it is.
const PLACE_OF: &str = "place_of_";

/// What is largest and smallest along the beam.
const EXTREMES: [&str; 10] = [
    "M_max",
    "M_min",
    "V_max",
    "V_min",
    "deflection_max",
    "My_max",
    "My_min",
    "V_sideways_max",
    "V_sideways_min",
    "deflection_sideways_max",
];

/// The dimension of a result or function by its name alone.
pub(in crate::blocks) fn member_dimension(member: &str) -> Option<Dimension> {
    match member {
        "M_max" | "M_min" | "M" | "My_max" | "My_min" | "My" => Some(Dimension::MOMENT),
        "V_max" | "V_min" | "V" | "V_sideways_max" | "V_sideways_min" | "V_sideways" => {
            Some(Dimension::FORCE)
        }
        "deflection_max" | "deflection" | "deflection_sideways_max" | "deflection_sideways" => {
            Some(Dimension::LENGTH)
        }
        "slope" | UTILISATION => Some(Dimension::RATIO),
        "stress" | "shear_stress" | "von_mises" | "principal_stress_1" | "principal_stress_2" => {
            Some(Dimension::STRESS)
        }
        "shear_flow" | "shear_flow_at" => Some(Dimension::FORCE_PER_LENGTH),
        member if buckling::RESULTS.contains(&member) => Some(Dimension::FORCE),
        member => {
            if let Some(extreme) = member.strip_prefix(PLACE_OF) {
                return EXTREMES.contains(&extreme).then_some(Dimension::LENGTH);
            }
            let number = member.strip_prefix('R')?;
            let number = number.strip_suffix(REACTION).unwrap_or(number);
            let one_sided = number.strip_suffix("_max").or(number.strip_suffix("_min"));
            let number = one_sided.unwrap_or(number);
            let is_number = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
            is_number.then_some(Dimension::FORCE)
        }
    }
}

/// Whether a result is a place along the beam.
pub(in crate::blocks) fn is_place(member: &str) -> bool {
    let last = member.rsplit('.').next().unwrap_or(member);
    let extreme = last.strip_prefix(PLACE_OF);
    extreme.is_some_and(|extreme| EXTREMES.contains(&extreme))
}

/// The results of what acts sideways, reactions left out.
pub(super) const SIDEWAYS: &[&str] = &[
    "My_max",
    "My_min",
    "My",
    "V_sideways_max",
    "V_sideways_min",
    "V_sideways",
    "deflection_sideways_max",
    "deflection_sideways",
];

/// What the name of a sideways reaction ends in.
const REACTION: &str = "_sideways";

/// Why a beam has no results sideways.
pub(super) fn not_worked_out(model: &BeamModel) -> String {
    format!(
        "how {} bends sideways is not worked out, since its section's principal axes are turned and \
         springs hold it, wheels run along it or its section changes",
        model.name
    )
}

/// Why a result that a beam can have is not among those of this one.
pub(in crate::blocks) fn absent(model: &BeamModel, member: &str) -> Option<Absent> {
    let last = member.rsplit('.').next().unwrap_or(member);
    let last = last.strip_prefix(PLACE_OF).unwrap_or(last);
    if SIDEWAYS.contains(&last) || last.ends_with(REACTION) {
        return Some(Absent::NoValue {
            dimension: member_dimension(member.rsplit('.').next()?)?,
            message: match model.moves_unknown {
                true => not_worked_out(model),
                false if !model.sideways_supports.is_empty() => format!(
                    "{} has no {member}: a support must hold it sideways there, and a deflection \
                     needs a modulus of elasticity",
                    model.name
                ),
                false => format!("nothing acts sideways on {}", model.name),
            },
        });
    }
    if !buckling::RESULTS.contains(&member) {
        return None;
    }
    let message = match model.buckling {
        Buckling::Unsaid | Buckling::Unknown => format!(
            "a buckling load needs the line {} = … in the beam",
            buckling::FIELD
        ),
        Buckling::Known(_) => {
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

/// Every result but the utilisations: of all combinations together under its own name, and of each
/// combination under the combination's.
pub(in crate::blocks) fn members(model: &BeamModel) -> Vec<(SmolStr, Evaluated)> {
    let all = model.responses();
    let mut members = of(model, &all);
    let names: BTreeSet<&SmolStr> = all.iter().filter_map(|under| under.name).collect();
    for name in names {
        let own = of(model, &under(&all, Some(name)));
        let own = own.into_iter();
        members.extend(own.map(|(member, value)| (format_smolstr!("{name}.{member}"), value)));
    }
    members.extend(buckling::members(&model.buckling));
    members
}

/// The utilisations, of all combinations together and of each. They are apart from the other results
/// since they take as long as all of these, and few lines ask for them.
pub(in crate::blocks) fn utilisations(model: &BeamModel) -> Vec<(SmolStr, Evaluated)> {
    let all = model.responses();
    let standing = model.worst.iter().map(|own| own.name.as_ref());
    let mut groups: BTreeSet<Option<&SmolStr>> = standing.collect();
    groups.extend(all.iter().map(|under| under.name));
    if groups.is_empty() {
        groups.insert(None);
    }
    let known = |used| match Quantity::ratio(used) {
        Some(used) => Evaluated::quantity(used),
        None => Evaluated::dimension_only(Dimension::RATIO),
    };
    let mut largest = None;
    let mut utilisations = Vec::new();
    for name in groups {
        let worst = model.worst.iter().filter(|own| own.name.as_ref() == name);
        let worst: Vec<&WorstStanding> = worst.collect();
        let Some(used) = utilisation(model, &under(&all, name), &worst) else {
            continue;
        };
        largest = Some(more_used(largest, used));
        let own = name.map(|name| (format_smolstr!("{name}.{UTILISATION}"), known(used)));
        utilisations.extend(own);
    }
    utilisations.extend(largest.map(|used| (SmolStr::new_static(UTILISATION), known(used))));
    utilisations
}

/// The responses of the combinations of a name.
fn under<'a>(all: &[Under<'a>], name: Option<&SmolStr>) -> Vec<Under<'a>> {
    let of_name = all.iter().filter(|under| under.name == name);
    of_name.copied().collect()
}

/// The results under these combinations.
fn of(model: &BeamModel, responses: &[Under<'_>]) -> Vec<(SmolStr, Evaluated)> {
    let mut members = Vec::new();
    let responses_alone = || responses.iter().map(|under| under.response);
    extremes(responses_alone().map(Response::moment), |moment| {
        add_extreme(&mut members, "M_max", moment.max);
        add_extreme(&mut members, "M_min", moment.min);
    });
    extremes(responses_alone().map(Response::shear), |shear| {
        add_extreme(&mut members, "V_max", shear.max);
        add_extreme(&mut members, "V_min", shear.min);
    });
    if model.has_deflection() {
        let deflections = responses_alone().filter_map(Response::deflection);
        extremes(deflections, |deflection| {
            add_extreme(
                &mut members,
                "deflection_max",
                deflection.largest_magnitude(),
            );
        });
    } else {
        let unknown = || Evaluated::dimension_only(Dimension::LENGTH);
        members.push(("deflection_max".into(), unknown()));
        members.push((format_smolstr!("{PLACE_OF}deflection_max"), unknown()));
    }
    sideways(model, responses, &mut members);
    let mut named = Vec::new();
    for (index, support) in model.supports.iter().enumerate() {
        let number = format_smolstr!("R{}", index + 1);
        members.extend(of_support(&number, index, responses));
        named.extend(
            support
                .name
                .iter()
                .flat_map(|name| of_support(name, index, responses)),
        );
    }
    for (support, force) in sideways_reactions(model, responses) {
        let force = force.to_quantity().map(Evaluated::quantity);
        let same = |own: &super::BeamSupport| own.support.at == support.support.at;
        if let (Some(index), Some(force)) = (model.supports.iter().position(same), &force) {
            members.push((format_smolstr!("R{}{REACTION}", index + 1), force.clone()));
        }
        if let (Some(name), Some(force)) = (&support.name, force) {
            named.push((format_smolstr!("{name}{REACTION}"), force));
        }
    }
    // A support's own name comes before a result of the same name, and before what belongs to
    // another support's: the last entry stays.
    named.sort_by_key(|(name, _)| is_support(model, name));
    members.extend(named);
    members
}

fn is_support(model: &BeamModel, name: &SmolStr) -> bool {
    let mut supports = model.supports.iter();
    supports.any(|support| support.name.as_ref() == Some(name))
}

fn extremes<'a, Q: Typed + 'a>(
    diagrams: impl Iterator<Item = &'a Diagram<Q>>,
    add: impl FnOnce(Envelope<Q>),
) {
    let diagrams: Vec<&Diagram<Q>> = diagrams.collect();
    if let Some(envelope) = Envelope::of(&diagrams) {
        add(envelope);
    }
}

/// An extreme under its name, and where it is.
fn add_extreme<Q: Typed>(
    members: &mut Vec<(SmolStr, Evaluated)>,
    name: &'static str,
    governing: Governing<Q>,
) {
    let value = governing.extreme.value.to_quantity();
    let place = governing.extreme.at.to_quantity();
    members.extend(value.map(|value| (name.into(), Evaluated::quantity(value))));
    members.extend(place.map(|place| {
        let name = format_smolstr!("{PLACE_OF}{name}");
        (name, Evaluated::quantity(place))
    }));
}

/// The reaction of a support under a name: of the largest magnitude with its sign, the largest
/// and the smallest by sign.
fn of_support(name: &str, support: usize, responses: &[Under<'_>]) -> Vec<(SmolStr, Evaluated)> {
    let forces: Vec<Force> = responses
        .iter()
        .filter_map(|under| reaction(under.response, support))
        .collect();
    let by_sign = |a: &Force, b: &Force| a.si().total_cmp(&b.si());
    let results = [
        (name.into(), larger(forces.iter().copied())),
        (
            format_smolstr!("{name}_max"),
            forces.iter().copied().max_by(by_sign),
        ),
        (
            format_smolstr!("{name}_min"),
            forces.iter().copied().min_by(by_sign),
        ),
    ];
    let known = results.into_iter().filter_map(|(name, force)| {
        let force = force?.to_quantity()?;
        Some((name, Evaluated::quantity(force)))
    });
    known.collect()
}

/// Extremes of what acts sideways, where it is worked out.
fn sideways(model: &BeamModel, responses: &[Under<'_>], members: &mut Vec<(SmolStr, Evaluated)>) {
    let all = || responses.iter().filter_map(|under| under.sideways);
    extremes(all().map(Response::moment), |moment| {
        add_extreme(members, "My_max", moment.max);
        add_extreme(members, "My_min", moment.min);
    });
    extremes(all().map(Response::shear), |shear| {
        add_extreme(members, "V_sideways_max", shear.max);
        add_extreme(members, "V_sideways_min", shear.min);
    });
    if model.has_deflection() {
        extremes(all().filter_map(Response::deflection), |deflection| {
            let largest = deflection.largest_magnitude();
            add_extreme(members, "deflection_sideways_max", largest);
        });
    }
}

/// The largest sideways reaction of each support that holds the beam there, positive to the right.
pub(super) fn sideways_reactions<'a>(
    model: &'a BeamModel,
    responses: &[Under<'_>],
) -> Vec<(&'a super::BeamSupport, Force)> {
    let supports = model.sideways_supports.iter().enumerate();
    let of = |(index, support): (usize, &'a super::BeamSupport)| {
        let all = responses.iter().filter_map(|under| under.sideways);
        let force = larger(all.filter_map(|response| reaction(response, index)))?;
        Some((support, force))
    };
    supports.filter_map(of).collect()
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

/// The largest utilisation of all limits; no number if one of them is not known, none if there is no
/// limit.
fn utilisation(
    model: &BeamModel,
    responses: &[Under<'_>],
    worst: &[&WorstStanding],
) -> Option<f64> {
    if !model.limits_known {
        return Some(f64::NAN);
    }
    let limits = model.demands(responses, worst);
    limits.iter().fold(None, |largest, limit| {
        let governing = governing(limit.subject, &limit.demands);
        let used = governing.map_or(f64::NAN, |(_, utilisation)| utilisation);
        Some(more_used(largest, used))
    })
}

/// The larger of two utilisations; no number if one of them is none.
fn more_used(one: Option<f64>, other: f64) -> f64 {
    match one {
        Some(one) if one.is_nan() || one > other => one,
        _ => other,
    }
}
