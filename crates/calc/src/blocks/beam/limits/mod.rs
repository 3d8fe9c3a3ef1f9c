//! The limits of a beam: those of its own lines and those of its section's materials.

mod demands;
mod measures;
mod reading;

use haunch_mechanics::beam::Response;
use haunch_quantity::typed::Length;
use smol_str::SmolStr;

use super::super::context::BlockContext;
use super::super::limits::{Judgement, LimitDemands, StatedLimit, judge};
use super::{BeamModel, Combination, WorstStanding};
use crate::finding::Finding;
use crate::outcome::Check;

use reading::Stated;
pub(super) use reading::read;

/// A limit that applies to a beam.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamLimit {
    /// The name of its check, e.g. `shelf.tension.2`.
    pub name: String,
    /// What is limited, and the bound of a stress.
    pub stated: StatedLimit,
    /// The only combination that it applies to.
    pub under: Option<SmolStr>,
    /// For a deflection, the bound of each stretch between supports or past the last one.
    pub deflections: Vec<DeflectionBound>,
    /// For a reaction, the supports by their index.
    pub supports: Vec<usize>,
    /// For a stress, where along the beam.
    pub within: (Length, Length),
}

/// What the deflection of one stretch of a beam may reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeflectionBound {
    /// Where the stretch begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The magnitude that may be reached.
    pub bound: Length,
    /// Whether the bound itself is allowed.
    pub inclusive: bool,
}

impl BeamModel {
    /// The demands on every limit under these combinations; limits for other combinations left
    /// out.
    pub(super) fn demands(
        &self,
        responses: &[Under<'_>],
        worst: &[&WorstStanding],
    ) -> Vec<LimitDemands> {
        let demands = |(index, limit): (usize, &BeamLimit)| LimitDemands {
            name: limit.name.clone(),
            subject: limit.stated.subject,
            demands: limit.demands(self, responses, &of_limit(worst, index)),
        };
        let all = self.limits.iter().enumerate().map(demands);
        all.filter(|limit| !limit.demands.is_empty()).collect()
    }

    /// The responses of all combinations with their names.
    pub(super) fn responses(&self) -> Vec<Under<'_>> {
        self.combinations.iter().map(Under::of).collect()
    }
}

/// The standings for a limit.
fn of_limit<'a>(worst: &[&'a WorstStanding], limit: usize) -> Vec<&'a WorstStanding> {
    let all = worst.iter().copied();
    all.filter(|standing| standing.limit == limit).collect()
}

/// A response with the combination that it is of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Under<'a> {
    /// The combination's name.
    pub(super) name: Option<&'a SmolStr>,
    /// Which spans are loaded, and where wheels stand.
    pub(super) pattern: Option<&'a SmolStr>,
    /// What it does to the beam, downwards.
    pub(super) response: &'a Response,
    /// What it does sideways.
    pub(super) sideways: Option<&'a Response>,
    /// Wheels are in it.
    pub(super) wheels: bool,
}

impl<'a> Under<'a> {
    /// What acts down or up alone.
    pub(super) fn upright(response: &'a Response) -> Under<'a> {
        Under {
            name: None,
            pattern: None,
            response,
            sideways: None,
            wheels: false,
        }
    }

    pub(super) fn of(combination: &'a Combination) -> Under<'a> {
        Under {
            name: combination.name.as_ref(),
            pattern: combination.pattern.as_ref(),
            response: &combination.response,
            sideways: combination.sideways.as_ref(),
            wheels: combination.wheels.is_some(),
        }
    }
}

/// The checks in the order in which the limits were read, with the findings of those that fail.
pub(super) fn checks(
    context: &BlockContext<'_>,
    model: &BeamModel,
    stated: &[Stated],
) -> (Vec<Check>, Vec<Finding>) {
    let responses = model.responses();
    let worst: Vec<&WorstStanding> = model.worst.iter().collect();
    let mut checks = Vec::new();
    let mut found = Vec::new();
    for stated in stated {
        let known = stated
            .limit
            .and_then(|index| Some((index, model.limits.get(index)?)));
        let Some((index, limit)) = known else {
            checks.push(stated.unknown.clone());
            continue;
        };
        let judgement = Judgement {
            block: context,
            place: stated.place,
            unit: stated.unit.as_ref(),
            length_unit: model.length_unit.as_ref(),
        };
        let demands = limit.demands(model, &responses, &of_limit(&worst, index));
        let (check, finding) = judge(&limit.stated, &demands, &judgement);
        checks.push(check);
        found.extend(finding);
    }
    (checks, found)
}
