//! A beam with one of its load cases made larger or smaller: what a search for the largest load
//! looks at.

use haunch_mechanics::beam::Response;
use haunch_quantity::Quantity;
use smol_str::SmolStr;

use super::{BeamModel, Combination};
use crate::blocks::limits::LimitDemands;

/// A load case of a beam that is scaled while the others stay.
pub(crate) struct ScaledCase<'a> {
    model: &'a BeamModel,
    case: usize,
    /// The combinations that count, with everything but the case, and the case's factor.
    combinations: Vec<Part<'a>>,
}

struct Part<'a> {
    name: Option<&'a SmolStr>,
    /// All other cases with their factors; none where there are no others.
    others: Option<Response>,
    factor: f64,
}

impl<'a> ScaledCase<'a> {
    /// The case in all combinations, or in one. None if the beam has no case of this name.
    pub(crate) fn new(
        model: &'a BeamModel,
        case: &str,
        under: Option<&str>,
    ) -> Option<ScaledCase<'a>> {
        let case = model.cases.iter().position(|c| c.name == case)?;
        let counts = |combination: &&Combination| {
            under.is_none_or(|under| combination.name.as_deref() == Some(under))
        };
        let part = |combination: &'a Combination| {
            let terms: Vec<(f64, &Response)> = combination
                .factors
                .iter()
                .filter(|(index, _)| *index != case)
                .filter_map(|(index, factor)| Some((*factor, &model.cases.get(*index)?.response)))
                .collect();
            let own = combination.factors.iter().find(|(index, _)| *index == case);
            Part {
                name: combination.name.as_ref(),
                others: Response::combine(&terms),
                factor: own.map_or(0.0, |(_, factor)| *factor),
            }
        };
        Some(ScaledCase {
            model,
            case,
            combinations: model.combinations.iter().filter(counts).map(part).collect(),
        })
    }

    /// What the case's only line says; none where the case is scaled by a plain factor.
    pub(crate) fn magnitude(&self) -> Option<Quantity> {
        self.model.cases.get(self.case)?.magnitude
    }

    /// Whether the case acts at all.
    pub(crate) fn acts(&self) -> bool {
        self.model.cases.get(self.case).is_some_and(|case| {
            let shear = case.response.shear().extremes().largest_magnitude();
            let moment = case.response.moment().extremes().largest_magnitude();
            let reactions = case.response.reactions();
            use haunch_quantity::typed::Typed;
            shear.value.si() != 0.0
                || moment.value.si() != 0.0
                || reactions.iter().any(|reaction| reaction.force.si() != 0.0)
        })
    }

    /// The demands on every limit with the case at `factor` times its size.
    pub(crate) fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>> {
        let case = &self.model.cases.get(self.case)?.response;
        let mut responses = Vec::with_capacity(self.combinations.len());
        for part in &self.combinations {
            let mut terms = vec![(factor * part.factor, case)];
            terms.extend(part.others.as_ref().map(|others| (1.0, others)));
            responses.push((part.name, Response::combine(&terms)?));
        }
        let responses: Vec<(Option<&SmolStr>, &Response)> = responses
            .iter()
            .map(|(name, response)| (*name, response))
            .collect();
        Some(self.model.demands(&responses))
    }
}
