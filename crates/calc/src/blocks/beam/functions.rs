//! Results of a beam at a place: `M(1.2 m)`, `strength.deflection(2 m)`, `stress(A, 1 m)`.
//!
//! Where a result jumps (a shear at a force, a moment at a couple), and where several combinations
//! apply, it is the value of the largest magnitude, with its sign.

use std::borrow::Cow;

use haunch_mechanics::beam::{AtPlace, Diagram, Envelope, Response};
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Preferences, Quantity};

use super::limits::Under;
use super::results::{SIDEWAYS, larger, member_dimension, not_worked_out};
use super::section_functions;
use super::stress::{self, LargestStress};
use super::{BeamModel, Combination, Model, Running};
use crate::blocks::fibre::Fibre;
use crate::blocks::limits::place_text;
use crate::blocks::{Argument, BlockMeaning, CallError};
use crate::value::{Evaluated, Kind};

/// The functions that give a result at a place.
pub(in crate::blocks) const FUNCTIONS: &[&str] = &[
    "M",
    "V",
    "slope",
    "deflection",
    "stress",
    "von_mises",
    "principal_stress_1",
    "principal_stress_2",
    "shear_stress",
    "shear_flow",
    "shear_flow_at",
    "My",
    "V_sideways",
    "deflection_sideways",
];

/// A result at a place.
pub(in crate::blocks) fn call(
    block: &BlockMeaning,
    name: &str,
    arguments: &[Argument],
) -> Result<Evaluated, CallError> {
    let Some(Model::Beam(model)) = &block.model else {
        return Err(CallError::Unknown);
    };
    let (combination, function) = match name.rsplit_once('.') {
        Some((combination, function)) => (Some(combination), function),
        None => (None, name),
    };
    if !FUNCTIONS.contains(&function) {
        return Err(CallError::Unknown);
    }
    let asked = Asked { model, combination };
    if asked.combinations().next().is_none() {
        return Err(CallError::Unknown);
    }
    let dimension = member_dimension(function).unwrap_or(Dimension::RATIO);
    if function == "stress" {
        return stress_at(&asked, arguments);
    }
    if let Some(result) = section_functions::call(&asked, function, arguments) {
        return result;
    }
    let [place] = arguments else {
        return Err(CallError::Argument {
            index: arguments.len().min(1),
            message: format!("{function} takes one place along the beam, as {function}(1.2 m)."),
        });
    };
    let Some(x) = position(model, place, 0, dimension)? else {
        return Ok(Evaluated::dimension_only(dimension));
    };
    let is_unknown = |combination: &Combination| combination.sideways.is_none();
    if SIDEWAYS.contains(&function) && asked.combinations().any(is_unknown) {
        return match model.moves_unknown {
            true => Err(CallError::NoValue {
                kind: Kind::Quantity(dimension),
                message: not_worked_out(model),
            }),
            false => Ok(Evaluated::quantity(Quantity::zero(dimension))),
        };
    }
    let what = match function {
        "M" => AtPlace::Moment,
        "V" => AtPlace::Shear,
        "slope" => AtPlace::Slope,
        _ => AtPlace::Deflection,
    };
    let sideways = || asked.combinations().filter_map(|c| c.sideways.as_ref());
    let upright = asked.responses_at(x, what, dimension)?;
    let responses = || upright.iter().map(Cow::as_ref);
    let value = match function {
        "M" => at(responses().map(|r| r.moment()), x),
        "V" => at(responses().map(|r| r.shear()), x),
        "slope" => at(responses().filter_map(|r| r.slope()), x),
        "My" => at(sideways().map(|r| r.moment()), x),
        "V_sideways" => at(sideways().map(|r| r.shear()), x),
        "deflection_sideways" => at(sideways().filter_map(|r| r.deflection()), x),
        _ => at(responses().filter_map(|r| r.deflection()), x),
    };
    if let Some(section) = model.without_modulus()
        && matches!(function, "slope" | "deflection" | "deflection_sideways")
    {
        return Err(CallError::NoValue {
            kind: Kind::Quantity(dimension),
            message: format!(
                "{} has no {function}, since no modulus of elasticity E is stated for {}",
                model.name, section.name
            ),
        });
    }
    Ok(value.map_or(Evaluated::dimension_only(dimension), Evaluated::quantity))
}

/// Whose results are asked for: of one combination, or of all.
pub(super) struct Asked<'a> {
    pub(super) model: &'a BeamModel,
    combination: Option<&'a str>,
}

impl<'a> Asked<'a> {
    fn is_asked(&self, combination: &Combination) -> bool {
        let named = |name: &str| combination.name.as_deref() == Some(name);
        self.combination.is_none_or(named)
    }

    pub(super) fn combinations(&self) -> impl Iterator<Item = &'a Combination> {
        let all = self.model.combinations.iter();
        all.filter(|combination| self.is_asked(combination))
    }

    /// Those without wheels.
    pub(super) fn still(&self) -> impl Iterator<Item = &'a Combination> {
        self.combinations().filter(|c| c.wheels.is_none())
    }

    /// The responses among which the extremes of a quantity at a place are.
    pub(super) fn responses_at(
        &self,
        x: Length,
        what: AtPlace,
        dimension: Dimension,
    ) -> Result<Vec<Cow<'a, Response>>, CallError> {
        let running = self.running_at(x, what, dimension)?;
        let still = self.still().map(|c| Cow::Borrowed(&c.response));
        let running = running
            .into_iter()
            .map(|(response, _)| Cow::Owned(response));
        Ok(still.chain(running).collect())
    }

    /// The combinations with wheels.
    pub(super) fn running(&self) -> impl Iterator<Item = &'a Running> {
        let all = self.model.running.iter();
        all.filter(|running| self.is_asked(&running.others))
    }

    /// The responses to wheels among which the extremes of a quantity at a place are, each with what
    /// acts sideways besides.
    fn running_at(
        &self,
        x: Length,
        what: AtPlace,
        dimension: Dimension,
    ) -> Result<Vec<(Response, Option<&'a Response>)>, CallError> {
        let mut responses = Vec::new();
        for running in self.running() {
            let own = running.responses_at(x, what);
            let own = own.map_err(|_| self.not_told(dimension))?;
            let sideways = running.others.sideways.as_ref();
            responses.extend(own.into_iter().map(|response| (response, sideways)));
        }
        Ok(responses)
    }

    /// Where wheels are worst is not known closely enough.
    pub(super) fn not_told(&self, dimension: Dimension) -> CallError {
        CallError::NoValue {
            kind: Kind::Quantity(dimension),
            message: format!(
                "the worst place of the wheels on {} cannot be told accurately",
                self.model.name
            ),
        }
    }
}

/// The value of the largest magnitude at a place, on either side of it and in any combination.
fn at<'a, Q: Typed + 'a>(
    diagrams: impl Iterator<Item = &'a Diagram<Q>>,
    x: Length,
) -> Option<Quantity> {
    let diagrams: Vec<&Diagram<Q>> = diagrams.collect();
    let envelope = Envelope::at(&diagrams, x)?;
    let both = [envelope.max.extreme.value, envelope.min.extreme.value];
    larger(both.into_iter())?.to_quantity()
}

/// A place along the beam. None where its value is not known.
pub(super) fn position(
    model: &BeamModel,
    argument: &Argument,
    index: usize,
    dimension: Dimension,
) -> Result<Option<Length>, CallError> {
    let wrong = |message: String| CallError::Argument { index, message };
    let Argument::Value(evaluated) = argument else {
        return Err(wrong(
            "a place along the beam is a length, as 1.2 m.".into(),
        ));
    };
    match evaluated.kind {
        Kind::Quantity(Dimension::LENGTH) | Kind::Zero | Kind::Unknown => {}
        Kind::Quantity(_) | Kind::Truth | Kind::Text | Kind::List(_) => {
            return Err(wrong(
                "a place along the beam is a length, as 1.2 m.".into(),
            ));
        }
    }
    let Some(x) = evaluated.as_dimension(Dimension::LENGTH) else {
        return Ok(None);
    };
    let place = Length::from_si(x.si());
    let inside = model
        .combinations
        .first()
        .is_some_and(|c| Envelope::at(&[c.response.shear()], place).is_some());
    if inside {
        return Ok(Some(place));
    }
    let preferences = Preferences::default();
    let text = |x: f64| place_text(x, model.length_unit.as_ref(), &preferences);
    Err(CallError::NoValue {
        kind: Kind::Quantity(dimension),
        message: format!(
            "{} lies outside {}, which is {} long",
            text(x.si()),
            model.name,
            text(model.length.si())
        ),
    })
}

/// `stress(POINT)` over the whole beam, `stress(POINT, x)` at a place.
fn stress_at(asked: &Asked<'_>, arguments: &[Argument]) -> Result<Evaluated, CallError> {
    let found = largest_stress(asked, arguments)?;
    let value = found.and_then(|(found, _)| Quantity::new(found.stress, Dimension::STRESS));
    let unknown = Evaluated::dimension_only(Dimension::STRESS);
    Ok(value.map_or(unknown, Evaluated::quantity))
}

/// The same for a call by its parts, with the fibre; none where it has no value.
pub(super) fn stress_by_name<'a>(
    model: &'a BeamModel,
    name: &'a str,
    point: &str,
    x: Option<Quantity>,
) -> Option<(LargestStress, &'a Fibre)> {
    let (combination, function) = match name.rsplit_once('.') {
        Some((combination, function)) => (Some(combination), function),
        None => (None, name),
    };
    if function != "stress" {
        return None;
    }
    let asked = Asked { model, combination };
    let point = Argument::Point(point.into());
    let x = x.map(|x| Argument::Value(Evaluated::quantity(x)));
    let arguments: Vec<Argument> = [Some(point), x].into_iter().flatten().collect();
    largest_stress(&asked, &arguments).ok()?
}

/// The stress of the largest magnitude that a call asks for; none where something that it depends on is
/// not known.
fn largest_stress<'a>(
    asked: &Asked<'a>,
    arguments: &[Argument],
) -> Result<Option<(LargestStress, &'a Fibre)>, CallError> {
    let model = asked.model;
    let (point, place) = match arguments {
        [point] => (point, None),
        [point, place] => (point, Some(place)),
        _ => {
            return Err(CallError::Argument {
                index: arguments.len().min(2),
                message: "stress takes a point of the section and, where wanted, a place along \
                          the beam, as stress(A, 1.2 m)."
                    .into(),
            });
        }
    };
    let Found { section, fibres } = fibres("stress", model, point)?;
    let largest: Vec<(Option<LargestStress>, &'a Fibre)> = match place {
        None => {
            let responses: Vec<Under<'_>> = asked.combinations().map(Under::of).collect();
            let largest = |fibre: &'a Fibre| model.largest_stress(section, fibre, &responses);
            fibres.iter().map(|own| (largest(own), *own)).collect()
        }
        Some(place) => {
            let Some(x) = position(model, place, 1, Dimension::STRESS)? else {
                return Ok(None);
            };
            if !model.is_at(section, x) {
                return Err(elsewhere(model, section, x, Dimension::STRESS));
            }
            let running = asked.running_at(x, AtPlace::Moment, Dimension::STRESS)?;
            // Where nothing moves sideways the extremes are those of the upright moment.
            let still = asked.still().map(Under::of);
            let running = running.iter().map(|(response, sideways)| Under {
                sideways: *sideways,
                ..Under::upright(response)
            });
            let responses: Vec<Under<'_>> = still.chain(running).collect();
            let at = |fibre: &'a Fibre| stress::at_place(fibre, &responses, x);
            fibres.iter().map(|own| (at(own), *own)).collect()
        }
    };
    let known = largest
        .into_iter()
        .filter_map(|(found, fibre)| Some((found?, fibre)));
    // Of equal ones that in tension, as along the beam.
    Ok(known.reduce(|one, other| {
        let larger = one.0.clone().or_larger(other.0.clone());
        if larger == one.0 { one } else { other }
    }))
}

/// A place at which the beam has another section than the point's.
pub(super) fn elsewhere(
    model: &BeamModel,
    section: usize,
    x: Length,
    dimension: Dimension,
) -> CallError {
    let name = |index: usize| model.sections.get(index).map_or("", |bent| &bent.name);
    let there = (0..model.sections.len()).find(|&other| model.is_at(other, x));
    let at = place_text(x.si(), model.length_unit.as_ref(), &Preferences::default());
    CallError::NoValue {
        kind: Kind::Quantity(dimension),
        message: format!(
            "the section of {} at {at} is {}, not {}",
            model.name,
            there.map_or("", name),
            name(section)
        ),
    }
}

/// The fibres at a named point: several where the point lies on parts of different materials.
pub(super) struct Found<'a> {
    /// The index of the point's section.
    pub(super) section: usize,
    pub(super) fibres: Vec<&'a Fibre>,
}

/// The fibres at a point. A bare name is of the heading's section, or of the only other one that
/// has it; a point may go by its dotted name.
pub(super) fn fibres<'a>(
    function: &str,
    model: &'a BeamModel,
    point: &Argument,
) -> Result<Found<'a>, CallError> {
    let wrong = |message: String| CallError::Argument { index: 0, message };
    let Argument::Point(written) = point else {
        return Err(wrong(format!(
            "{function} takes the name of a point of the section first."
        )));
    };
    let is_used = |index: usize| model.stretches.iter().any(|s| s.section == index);
    let mut found: Vec<Found<'a>> = Vec::new();
    for (section, bent) in model.sections.iter().enumerate() {
        let full = format!("{}.", bent.name);
        let dotted = written.strip_prefix(full.as_str());
        let name = dotted.unwrap_or(written);
        let named = |fibre: &&Fibre| fibre.point.is_some() && fibre.name == name;
        let fibres: Vec<&Fibre> = bent.section.fibres.iter().filter(named).collect();
        if fibres.is_empty() || !is_used(section) {
            continue;
        }
        found.push(Found { section, fibres });
        if dotted.is_some() || section == 0 {
            return found.pop().ok_or(CallError::Unknown);
        }
    }
    if let [_] = found.as_slice() {
        return found.pop().ok_or(CallError::Unknown);
    }
    if let Some(first) = found.first() {
        let section = model.sections.get(first.section);
        let section = section.map_or("", |bent| bent.name.as_str());
        return Err(wrong(format!(
            "several sections of {} have a point {written}. Write which, as {section}.{written}.",
            model.name
        )));
    }
    Err(wrong(unknown_point(model, written)))
}

fn unknown_point(model: &BeamModel, written: &str) -> String {
    let Some(bent) = model.sections.first() else {
        return String::new();
    };
    let section = &bent.name;
    let full = format!("{section}.");
    let name = written.strip_prefix(full.as_str()).unwrap_or(written);
    let fibres = bent.section.fibres.iter();
    let mut known: Vec<&str> = fibres
        .filter(|fibre| fibre.point.is_some())
        .map(|fibre| fibre.name.as_str())
        .collect();
    known.sort_unstable();
    known.dedup();
    if known.is_empty() {
        format!("{section} has no points. Add one to it, for example point {name} at bottom.")
    } else {
        format!(
            "{section} has no point {name}. It has {}.",
            known.join(", ")
        )
    }
}
