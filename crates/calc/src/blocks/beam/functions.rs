//! Results of a beam at a place: `M(1.2 m)`, `strength.deflection(2 m)`, `stress(A, 1 m)`.
//!
//! Where a result jumps (a shear at a force, a moment at a couple), and where several combinations
//! apply, it is the value of the largest magnitude, with its sign.

use haunch_mechanics::beam::{Diagram, Envelope, Response};
use haunch_quantity::typed::{Length, Moment, Typed};
use haunch_quantity::{Dimension, Preferences, Quantity};
use smol_str::SmolStr;

use super::results::{larger, member_dimension};
use super::{BeamModel, Model};
use crate::blocks::fibre::Fibre;
use crate::blocks::limits::place_text;
use crate::blocks::{Argument, BlockMeaning, CallError};
use crate::value::{Evaluated, Kind};

/// The functions that give a result at a place.
pub(in crate::blocks) const FUNCTIONS: &[&str] = &["M", "V", "slope", "deflection", "stress"];

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
    let responses: Vec<&Response> = match combination {
        Some(name) => vec![&model.combination(name).ok_or(CallError::Unknown)?.response],
        None => model.combinations.iter().map(|c| &c.response).collect(),
    };
    let dimension = member_dimension(function).unwrap_or(Dimension::RATIO);
    if function == "stress" {
        return stress(model, &responses, arguments);
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
    let value = match function {
        "M" => at(responses.iter().map(|r| r.moment()), x),
        "V" => at(responses.iter().map(|r| r.shear()), x),
        "slope" => at(responses.iter().filter_map(|r| r.slope()), x),
        _ => at(responses.iter().filter_map(|r| r.deflection()), x),
    };
    if model.rigidity.is_none() && matches!(function, "slope" | "deflection") {
        return Err(CallError::NoValue {
            kind: Kind::Quantity(dimension),
            message: format!(
                "{} has no {function}, since no modulus of elasticity E is stated for {}",
                model.name, model.section_name
            ),
        });
    }
    Ok(value.map_or(Evaluated::dimension_only(dimension), Evaluated::quantity))
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
fn position(
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
        Kind::Quantity(found) if found != Dimension::LENGTH => {
            return Err(wrong(format!(
                "a place along the beam is a length, and this is {}.",
                found.describe_with_article()
            )));
        }
        Kind::Quantity(_) | Kind::Zero | Kind::Unknown => {}
        Kind::Truth | Kind::Text | Kind::List(_) => {
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
fn stress(
    model: &BeamModel,
    responses: &[&Response],
    arguments: &[Argument],
) -> Result<Evaluated, CallError> {
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
    let fibres = fibres(model, point)?;
    let unknown = Evaluated::dimension_only(Dimension::STRESS);
    let moments: Vec<Moment> = match place {
        None => responses
            .iter()
            .flat_map(|response| {
                let extremes = response.moment().extremes();
                [extremes.max.value, extremes.min.value]
            })
            .collect(),
        Some(place) => {
            let Some(x) = position(model, place, 1, Dimension::STRESS)? else {
                return Ok(unknown);
            };
            let diagrams: Vec<_> = responses.iter().map(|r| r.moment()).collect();
            let envelope = Envelope::at(&diagrams, x);
            envelope
                .map(|e| vec![e.max.extreme.value, e.min.extreme.value])
                .unwrap_or_default()
        }
    };
    let stresses = fibres.iter().flat_map(|fibre| {
        moments.iter().map(|moment| {
            haunch_quantity::typed::Stress::from_si(moment.si() * fibre.per_moment + 0.0)
        })
    });
    let value = larger(stresses).and_then(|stress| stress.to_quantity());
    Ok(value.map_or(unknown, Evaluated::quantity))
}

/// The fibres at a named point: several where the point lies on parts of different materials.
fn fibres<'a>(model: &'a BeamModel, point: &Argument) -> Result<Vec<&'a Fibre>, CallError> {
    let wrong = |message: String| CallError::Argument { index: 0, message };
    let named: Vec<&Fibre> = model
        .section
        .fibres
        .iter()
        .filter(|fibre| fibre.point.is_some())
        .collect();
    let Argument::Point(written) = point else {
        return Err(wrong(
            "stress takes the name of a point of the section first.".into(),
        ));
    };
    // A point may go by its dotted name.
    let full = format!("{}.", model.section_name);
    let name = written.strip_prefix(full.as_str()).unwrap_or(written);
    let found: Vec<&Fibre> = named
        .iter()
        .copied()
        .filter(|fibre| fibre.name == name)
        .collect();
    if !found.is_empty() {
        return Ok(found);
    }
    let mut known: Vec<SmolStr> = named.iter().map(|fibre| fibre.name.clone()).collect();
    known.sort();
    known.dedup();
    let section = &model.section_name;
    Err(wrong(if known.is_empty() {
        format!("{section} has no points. Add one to it, for example point {name} at bottom.")
    } else {
        let known: Vec<&str> = known.iter().map(SmolStr::as_str).collect();
        format!(
            "{section} has no point {name}. It has {}.",
            known.join(", ")
        )
    }))
}
