//! A beam with one of its load cases made larger or smaller: what a search for the largest load
//! looks at.

use haunch_mechanics::beam::Response;
use haunch_quantity::Quantity;
use haunch_quantity::typed::Typed;
use smol_str::SmolStr;

use super::limits::Under;
use super::wheels::Besides;
use super::{BeamModel, Combination, LoadCase, Running, WorstStanding};
use crate::blocks::limits::LimitDemands;

/// A load case of a beam that is scaled while the others stay.
pub(crate) struct ScaledCase<'a> {
    model: &'a BeamModel,
    case: &'a SmolStr,
    /// The combinations that count, each parted; without wheels.
    combinations: Vec<Part<'a>>,
    /// Those with wheels.
    running: Vec<(&'a Running, Part<'a>)>,
}

/// A combination parted into the scaled case and the others. Which spans are loaded stays the same
/// whatever the size: it depends on signs alone.
struct Part<'a> {
    combination: &'a Combination,
    /// The case times its factor; none where it does not act.
    scaled: Option<Response>,
    scaled_sideways: Option<Response>,
    /// All other cases times their factors; none where there are no others.
    others: Option<Response>,
    others_sideways: Option<Response>,
}

impl<'a> ScaledCase<'a> {
    /// The case in all combinations, or in one. None if the beam has no case of this name.
    pub(crate) fn new(
        model: &'a BeamModel,
        case: &str,
        under: Option<&str>,
    ) -> Option<ScaledCase<'a>> {
        let case = &model.cases.iter().find(|c| c.name == case)?.name;
        let counts = |combination: &Combination| {
            under.is_none_or(|under| combination.name.as_deref() == Some(under))
        };
        let part = |combination: &'a Combination| {
            let terms = |is_scaled: bool, of: fn(&LoadCase) -> Option<&Response>| {
                let terms: Vec<(f64, &Response)> = combination
                    .factors
                    .iter()
                    .filter_map(|(index, factor)| {
                        let own = model.cases.get(*index)?;
                        let counts = (own.name == *case) == is_scaled;
                        Some((*factor, of(own).filter(|_| counts)?))
                    })
                    .collect();
                Response::combine(&terms)
            };
            Part {
                combination,
                scaled: terms(true, upright),
                scaled_sideways: terms(true, sideways),
                others: terms(false, upright),
                others_sideways: terms(false, sideways),
            }
        };
        Some(ScaledCase {
            model,
            case,
            combinations: model
                .combinations
                .iter()
                .filter(|combination| counts(combination) && combination.wheels.is_none())
                .map(part)
                .collect(),
            running: model
                .running
                .iter()
                .filter(|running| {
                    let name = running.others.name.as_ref();
                    let mut limits = model.limits.iter();
                    let is_limited = limits.any(|l| l.under.is_none() || l.under.as_ref() == name);
                    counts(&running.others) && is_limited
                })
                .map(|running| (running, part(&running.others)))
                .collect(),
        })
    }

    fn cases(&self) -> impl Iterator<Item = &LoadCase> {
        self.model.cases.iter().filter(|c| c.name == *self.case)
    }

    /// What the case's only line says; none where the case is scaled by a plain factor.
    pub(crate) fn magnitude(&self) -> Option<Quantity> {
        self.cases().next()?.magnitude
    }

    /// Whether the case acts at all.
    pub(crate) fn acts(&self) -> bool {
        let acts = |response: &Response| {
            let shear = response.shear().extremes().largest_magnitude();
            let moment = response.moment().extremes().largest_magnitude();
            let deflection = response.deflection().map(|diagram| diagram.extremes());
            let reactions = response.reactions();
            shear.value.si() != 0.0
                || moment.value.si() != 0.0
                || deflection.is_some_and(|d| d.largest_magnitude().value.si() != 0.0)
                || reactions.iter().any(|reaction| reaction.force.si() != 0.0)
        };
        self.cases().any(|case| {
            case.train.is_some() || acts(&case.response) || case.sideways.as_ref().is_some_and(acts)
        })
    }

    /// The demands on every limit with the case at `factor` times its size.
    pub(crate) fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>> {
        let mut responses = Vec::with_capacity(self.combinations.len());
        for part in &self.combinations {
            responses.push((
                part.combination,
                part.response(factor)?,
                part.sideways(factor)?,
            ));
        }
        // What acts besides decides where the wheels stand worst: they are put anew.
        let (mut with_wheels, mut worst) = (Vec::new(), Vec::new());
        for (running, part) in &self.running {
            let case = self.model.cases.get(running.case)?;
            let own = if case.name == *self.case { factor } else { 1.0 };
            let (upright, sideways) = (part.response(factor)?, part.sideways(factor)?);
            let besides = Besides {
                upright: &upright,
                sideways: sideways.as_ref(),
                factor: own * running.factor,
            };
            with_wheels.extend(running.combinations_with(&besides).ok()?);
            worst.extend(self.model.worst_of(running, &besides));
        }
        let still = responses
            .iter()
            .map(|(combination, response, sideways)| Under {
                name: combination.name.as_ref(),
                pattern: combination.pattern.as_ref(),
                response,
                sideways: sideways.as_ref(),
                wheels: false,
            });
        let responses: Vec<Under<'_>> = still.chain(with_wheels.iter().map(Under::of)).collect();
        let worst: Vec<&WorstStanding> = worst.iter().collect();
        Some(self.model.demands(&responses, &worst))
    }
}

impl Part<'_> {
    /// With the case at `factor` times its size.
    fn response(&self, factor: f64) -> Option<Response> {
        let own = &self.combination.response;
        scaled_sum(factor, &self.scaled, &self.others, own)
    }

    /// The same sideways; none within, where nothing acts there.
    fn sideways(&self, factor: f64) -> Option<Option<Response>> {
        let Some(own) = &self.combination.sideways else {
            return Some(None);
        };
        scaled_sum(factor, &self.scaled_sideways, &self.others_sideways, own).map(Some)
    }
}

/// The scaled cases times `factor` and the others; what acts in all where there are neither.
fn scaled_sum(
    factor: f64,
    scaled: &Option<Response>,
    others: &Option<Response>,
    all: &Response,
) -> Option<Response> {
    let scaled = scaled.as_ref().map(|scaled| (factor, scaled));
    let others = others.as_ref().map(|others| (1.0, others));
    let terms: Vec<(f64, &Response)> = scaled.into_iter().chain(others).collect();
    match terms.is_empty() {
        true => Some(all.clone()),
        false => Response::combine(&terms),
    }
}

fn upright(case: &LoadCase) -> Option<&Response> {
    Some(&case.response)
}

fn sideways(case: &LoadCase) -> Option<&Response> {
    case.sideways.as_ref()
}
