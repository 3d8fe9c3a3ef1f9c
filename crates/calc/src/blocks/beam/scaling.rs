//! A beam with one of its load cases made larger or smaller: what a search for the largest load
//! looks at.

use haunch_mechanics::beam::Response;
use haunch_quantity::Quantity;
use haunch_quantity::typed::Typed;
use smol_str::SmolStr;

use super::limits::Under;
use super::{BeamModel, Combination, LoadCase, Running};
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
    /// All other cases times their factors; none where there are no others.
    others: Option<Response>,
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
            let terms = |is_scaled: bool| {
                let terms: Vec<(f64, &Response)> = combination
                    .factors
                    .iter()
                    .filter_map(|(index, factor)| {
                        let own = model.cases.get(*index)?;
                        ((own.name == *case) == is_scaled).then_some((*factor, &own.response))
                    })
                    .collect();
                Response::combine(&terms)
            };
            Part {
                combination,
                scaled: terms(true),
                others: terms(false),
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
        self.cases().any(|case| {
            let shear = case.response.shear().extremes().largest_magnitude();
            let moment = case.response.moment().extremes().largest_magnitude();
            let deflection = case.response.deflection().map(|diagram| diagram.extremes());
            let reactions = case.response.reactions();
            case.train.is_some()
                || shear.value.si() != 0.0
                || moment.value.si() != 0.0
                || deflection.is_some_and(|d| d.largest_magnitude().value.si() != 0.0)
                || reactions.iter().any(|reaction| reaction.force.si() != 0.0)
        })
    }

    /// The demands on every limit with the case at `factor` times its size.
    pub(crate) fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>> {
        let mut responses = Vec::with_capacity(self.combinations.len());
        for part in &self.combinations {
            responses.push((part.combination, part.response(factor)?));
        }
        // What acts besides decides where the wheels stand worst: they are put anew.
        let mut with_wheels = Vec::new();
        for (running, part) in &self.running {
            let case = self.model.cases.get(running.case)?;
            let own = if case.name == *self.case { factor } else { 1.0 };
            let fixed = part.response(factor)?;
            let all = running.combinations_with(&fixed, own * running.factor);
            with_wheels.extend(all.ok()?);
        }
        let still = responses.iter().map(|(combination, response)| Under {
            name: combination.name.as_ref(),
            pattern: combination.pattern.as_ref(),
            response,
        });
        let responses: Vec<Under<'_>> = still.chain(with_wheels.iter().map(Under::of)).collect();
        Some(self.model.demands(&responses))
    }
}

impl Part<'_> {
    /// With the case at `factor` times its size.
    fn response(&self, factor: f64) -> Option<Response> {
        let scaled = self.scaled.as_ref().map(|scaled| (factor, scaled));
        let others = self.others.as_ref().map(|others| (1.0, others));
        let terms: Vec<(f64, &Response)> = scaled.into_iter().chain(others).collect();
        match terms.is_empty() {
            true => Some(self.combination.response.clone()),
            false => Response::combine(&terms),
        }
    }
}
