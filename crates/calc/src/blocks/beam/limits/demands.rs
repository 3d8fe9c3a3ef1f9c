//! What a limit of a beam is compared with.

use haunch_mechanics::beam::{Extreme, Response};
use haunch_mechanics::section::Equivalent;
use haunch_quantity::typed::{Force, Length, Moment, Typed};
use smol_str::SmolStr;

use super::{BeamLimit, DeflectionBound, Under, WorstStanding};
use crate::blocks::SectionModel;
use crate::blocks::beam::together::along;
use crate::blocks::beam::{BeamModel, BeamStretch, BentSection, oblique};
use crate::blocks::limits::{Action, Demand, LimitSubject, governing};
use crate::blocks::material::StressLimit;
use crate::blocks::section::CriticalPlace;

impl BeamLimit {
    /// What this limit compares under these combinations: the extremes of moment and shear in each
    /// stretch of one section, and the largest deflection of each span; of wheels also where they are
    /// `worst`.
    pub(super) fn demands(
        &self,
        model: &BeamModel,
        responses: &[Under<'_>],
        worst: &[&WorstStanding],
    ) -> Vec<Demand> {
        let responses = responses.iter().filter(|under| self.applies(under.name));
        if matches!(
            self.stated.subject,
            LimitSubject::Deflection | LimitSubject::SidewaysDeflection
        ) {
            return responses
                .flat_map(|under| self.deflection_demands(*under))
                .collect();
        }
        if matches!(
            self.stated.subject,
            LimitSubject::Reaction | LimitSubject::Uplift | LimitSubject::SidewaysReaction
        ) {
            return responses
                .flat_map(|under| self.reaction_demands(model, *under))
                .collect();
        }
        // Wheels have places of their own for these.
        let has_own_places = |under: &Under<'_>| {
            under.wheels && self.is_of_several(under.sideways.is_some_and(oblique::acts))
        };
        let mut demands = Vec::new();
        for under in responses.filter(|under| !has_own_places(under)) {
            for stretch in &model.stretches {
                self.stress_demands_along(model, *under, stretch, &mut demands);
            }
        }
        let worst = worst.iter().filter(|own| self.applies(own.name.as_ref()));
        demands.extend(worst.map(|own| self.worst_demand(model, own)));
        demands
    }

    /// Whether the limit is for the combination of this name.
    pub(super) fn applies(&self, name: Option<&SmolStr>) -> bool {
        match &self.under {
            Some(under) => name == Some(under),
            None => true,
        }
    }

    /// Whether the limit is on a stress that comes from more than one moment or shear.
    pub(super) fn is_of_several(&self, acts_sideways: bool) -> bool {
        match self.stated.subject {
            LimitSubject::Stress(subject) => acts_sideways || subject.together().is_some(),
            _ => false,
        }
    }

    fn stress_demands_along(
        &self,
        model: &BeamModel,
        under: Under<'_>,
        stretch: &BeamStretch,
        demands: &mut Vec<Demand>,
    ) {
        let Some(bent) = model.sections.get(stretch.section) else {
            return;
        };
        let sideways = under.sideways.filter(|sideways| oblique::acts(sideways));
        if let LimitSubject::Stress(subject) = self.stated.subject
            && let Some(equivalent) = subject.together()
        {
            let under = Under { sideways, ..under };
            demands.extend(self.demands_together(model, under, stretch, equivalent));
        } else if let Some(sideways) = sideways {
            let oblique = self.oblique_demands(bent, under, sideways, stretch);
            // A search without an end leaves nothing to judge by.
            demands.extend(oblique.unwrap_or_else(|| vec![self.unknown_demand()]));
        } else if let Some(actions) = extreme_actions(under, stretch, self.within) {
            let section = &bent.section;
            self.stated.add_stress_demands(section, &actions, demands);
        }
    }

    /// What governs where the wheels are worst, never less than the bound that holds for all of their
    /// places.
    fn worst_demand(&self, model: &BeamModel, worst: &WorstStanding) -> Demand {
        let subject = self.stated.subject;
        let Some(stretch) = model.stretches.get(worst.stretch) else {
            return self.unknown_demand();
        };
        let mut demands = Vec::new();
        for own in &worst.combinations {
            self.stress_demands_along(model, Under::of(own), stretch, &mut demands);
        }
        let Some((demand, utilisation)) = governing(subject, &demands) else {
            return self.unknown_demand();
        };
        let mut demand = demand.clone();
        if worst.bound.is_nan() {
            demand.value = f64::NAN;
        } else if worst.bound > utilisation && utilisation > 0.0 {
            demand.value *= worst.bound / utilisation;
        }
        demand
    }

    /// Normal and shear stress together along the part of a stretch where the limit applies.
    fn demands_together(
        &self,
        model: &BeamModel,
        under: Under<'_>,
        stretch: &BeamStretch,
        equivalent: Equivalent,
    ) -> Vec<Demand> {
        let from = stretch.from.si().max(self.within.0.si());
        let to = stretch.to.si().min(self.within.1.si());
        let Some(bent) = model.sections.get(stretch.section).filter(|_| from < to) else {
            return Vec::new();
        };
        let (from, to) = (Length::from_si(from), Length::from_si(to));
        let (stops, forces) = along(under, from, to);
        let places = bent.section.critical(equivalent, &stops, &forces);
        let of_place = |place: &CriticalPlace| {
            let compared = self.stated.bounds(&place.limits).map(|bound| Demand {
                value: place.stress,
                bound: bound.value,
                inclusive: bound.inclusive,
                stated: bound.stated,
                point: Some(place.name.clone()),
                is_named: false,
                at: Some(place.at),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            });
            compared.collect::<Vec<Demand>>()
        };
        places.iter().flat_map(of_place).collect()
    }

    /// As [`demands`](Self::demands), with bending and shear both ways.
    fn oblique_demands(
        &self,
        bent: &BentSection,
        under: Under<'_>,
        sideways: &Response,
        stretch: &BeamStretch,
    ) -> Option<Vec<Demand>> {
        let from = Length::from_si(stretch.from.si().max(self.within.0.si()));
        let to = Length::from_si(stretch.to.si().min(self.within.1.si()));
        if from >= to {
            return Some(Vec::new());
        }
        let (section, within) = (&bent.section, (from, to));
        if self.stated.subject == LimitSubject::Stress(StressLimit::Shear) {
            let actions = oblique::shearing(section, under, sideways, within)?;
            return Some(self.stated.stress_demands(section, &actions));
        }
        let places = oblique::bending(section, under, sideways, within)?;
        let of = |(section, action): &(SectionModel, Action)| {
            let actions = std::slice::from_ref(action);
            self.stated.stress_demands(section, actions)
        };
        Some(places.iter().flat_map(of).collect())
    }

    /// A demand without a number.
    fn unknown_demand(&self) -> Demand {
        Demand {
            value: f64::NAN,
            bound: f64::NAN,
            inclusive: true,
            stated: self.stated.line,
            point: None,
            is_named: false,
            at: None,
            combination: None,
            pattern: None,
        }
    }

    fn reaction_demands(&self, model: &BeamModel, under: Under<'_>) -> Vec<Demand> {
        let Some((bound, inclusive)) = self.stated.bound else {
            return Vec::new();
        };
        let (response, supports) = match self.stated.subject {
            LimitSubject::SidewaysReaction => (under.sideways, &model.sideways_supports),
            _ => (Some(under.response), &model.supports),
        };
        let Some(response) = response else {
            // Nothing acts sideways, and so nothing is held there.
            let still = Demand {
                value: 0.0,
                bound: bound.si(),
                inclusive,
                ..self.unknown_demand()
            };
            return vec![still];
        };
        let reactions = response.reactions();
        let of_support = |&support: &usize| {
            let reaction = reactions.get(support)?;
            Some(Demand {
                value: reaction.force.si(),
                bound: bound.si(),
                inclusive,
                stated: self.stated.line,
                point: supports.get(support)?.name.clone(),
                is_named: false,
                at: Some(reaction.at.si()),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            })
        };
        self.supports.iter().filter_map(of_support).collect()
    }

    fn deflection_demands(&self, under: Under<'_>) -> Vec<Demand> {
        let response = match self.stated.subject {
            // Nothing acts sideways, and so nothing moves there.
            LimitSubject::SidewaysDeflection if under.sideways.is_none() => {
                let still = |stretch: &DeflectionBound| Demand {
                    value: 0.0,
                    bound: stretch.bound.si(),
                    inclusive: stretch.inclusive,
                    ..self.unknown_demand()
                };
                return self.deflections.iter().map(still).collect();
            }
            LimitSubject::SidewaysDeflection => under.sideways,
            _ => Some(under.response),
        };
        let Some(deflection) = response.and_then(Response::deflection) else {
            return Vec::new();
        };
        let of_stretch = |stretch: &DeflectionBound| {
            let extremes = deflection.extremes_within(stretch.from, stretch.to)?;
            let extreme = extremes.largest_magnitude();
            Some(Demand {
                value: extreme.value.si(),
                bound: stretch.bound.si(),
                inclusive: stretch.inclusive,
                stated: self.stated.line,
                point: None,
                is_named: false,
                at: Some(extreme.at.si()),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            })
        };
        self.deflections.iter().filter_map(of_stretch).collect()
    }
}

/// The extremes of moment and shear along the part of a stretch where a limit applies. Stress is linear in each, so that its own
/// extremes are there.
fn extreme_actions(
    under: Under<'_>,
    stretch: &BeamStretch,
    within: (Length, Length),
) -> Option<[Action; 4]> {
    let from = Length::from_si(stretch.from.si().max(within.0.si()));
    let to = Length::from_si(stretch.to.si().min(within.1.si()));
    let moment = under.response.moment().extremes_within(from, to)?;
    let shear = under.response.shear().extremes_within(from, to)?;
    let bending = |extreme: Extreme<Moment>| Action {
        moment: extreme.value.si(),
        at: Some(extreme.at.si()),
        combination: under.name.cloned(),
        pattern: under.pattern.cloned(),
        ..Action::default()
    };
    let shearing = |extreme: Extreme<Force>| Action {
        shear: extreme.value.si(),
        at: Some(extreme.at.si()),
        combination: under.name.cloned(),
        pattern: under.pattern.cloned(),
        ..Action::default()
    };
    Some([
        bending(moment.max),
        bending(moment.min),
        shearing(shear.max),
        shearing(shear.min),
    ])
}
