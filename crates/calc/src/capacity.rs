//! `largest CASE of BLOCK` and `smallest CASE of BLOCK`: between which sizes of a load every limit
//! holds.
//!
//! Every demand changes linearly with the load, so that the utilisation is convex in it and one
//! search finds the answer ([`largest_factor`]); it is then tried again on both sides.

use haunch_mechanics::beam::{LargestFactor, largest_factor};
use haunch_quantity::display::UTILISATION_TOLERANCE;
use haunch_quantity::{Quantity, Unit, format_quantity, format_utilisation, holds};
use haunch_syntax::{Search, SearchDirection};

use crate::blocks::limits::{Demand, LimitDemands, LimitSubject, governing};
use crate::blocks::{BeamModel, ForcesModel, Model, ScaledCase, ScaledForce};
use crate::expression::Context;
use crate::finding::Place;
use crate::findings;
use crate::outcome::{Capacity, Meaning};
use crate::reads::names_of;
use crate::resolve::Target;
use crate::value::Evaluated;

/// Something whose limits are reached by making one of its actions larger.
pub(crate) trait Scaled {
    /// What the action is as written; none where it is scaled by a plain factor.
    fn magnitude(&self) -> Option<Quantity>;

    /// Whether the action is more than nothing.
    fn acts(&self) -> bool;

    /// The demands on every limit that applies, with the action at `factor` times its size.
    fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>>;
}

impl Scaled for ScaledCase<'_> {
    fn magnitude(&self) -> Option<Quantity> {
        self.magnitude()
    }

    fn acts(&self) -> bool {
        self.acts()
    }

    fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>> {
        self.demands(factor)
    }
}

impl Scaled for ScaledForce<'_> {
    fn magnitude(&self) -> Option<Quantity> {
        Some(self.magnitude())
    }

    fn acts(&self) -> bool {
        self.acts()
    }

    fn demands(&self, factor: f64) -> Option<Vec<LimitDemands>> {
        Some(self.demands(factor))
    }
}

const UNKNOWN: (Evaluated, Option<Capacity>) = (Evaluated::UNKNOWN, None);

/// The largest or smallest magnitude or factor, and what governs it.
pub(crate) fn search(context: &mut Context<'_>, search: &Search) -> (Evaluated, Option<Capacity>) {
    let names = names_of(&search.block);
    let full = names.join(".");
    let (Some(first), Some(last)) = (search.block.names.first(), search.block.names.last()) else {
        return UNKNOWN;
    };
    let block_place = context.place(first.span.cover(last.span));
    let state = context.state;
    let heading = match state.resolve(context.file, &names).target {
        Target::Block { heading, member } if member.is_empty() => heading,
        Target::Undefined => {
            let what = "beam or forces block";
            context.report(findings::unknown_name::block(block_place, &full, what));
            return UNKNOWN;
        }
        Target::Several(_) | Target::Broken(_) | Target::FileMissing(_) => return UNKNOWN,
        _ => {
            context.report(wrong_kind(block_place, &full));
            return UNKNOWN;
        }
    };
    let Some(cell) = state.cell(heading) else {
        return UNKNOWN;
    };
    let Meaning::Block(block) = &cell.outcome.meaning else {
        return UNKNOWN;
    };
    match &block.model {
        None => UNKNOWN,
        Some(Model::Beam(beam)) => of_beam(context, search, beam),
        Some(Model::Forces(forces)) => of_forces(context, search, forces),
        Some(_) => {
            context.report(wrong_kind(block_place, &full));
            UNKNOWN
        }
    }
}

fn wrong_kind(place: Place, name: &str) -> crate::finding::Finding {
    findings::reference::wrong_kind(place, name, "a beam or a set of forces")
}

fn of_beam(
    context: &mut Context<'_>,
    search: &Search,
    beam: &BeamModel,
) -> (Evaluated, Option<Capacity>) {
    let under = search.under.as_ref();
    if let Some(under) = under
        && beam.combination(&under.text).next().is_none()
    {
        let place = context.place(under.span);
        context.report(findings::unknown_name::block(
            place,
            &under.text,
            "combination",
        ));
        return UNKNOWN;
    }
    let case = &search.subject.text;
    let Some(scaled) = ScaledCase::new(beam, case, under.map(|name| name.text.as_str())) else {
        let place = context.place(search.subject.span);
        let what = format!("load case of {}", beam.name);
        context.report(findings::unknown_name::block(place, case, &what));
        return UNKNOWN;
    };
    if !beam.limits_known {
        // The limit that is not known has a finding of its own.
        return (unknown_of(&scaled), None);
    }
    let subject = Subject {
        place: context.place(search.span),
        direction: search.direction,
        name: case,
        block: &beam.name,
        length_unit: beam.length_unit.as_ref(),
    };
    extreme(context, &scaled, &subject)
}

fn of_forces(
    context: &mut Context<'_>,
    search: &Search,
    forces: &ForcesModel,
) -> (Evaluated, Option<Capacity>) {
    if let Some(under) = &search.under {
        let place = context.place(under.span);
        let what = format!("combination in {}", forces.name);
        context.report(findings::unknown_name::block(place, &under.text, &what));
        return UNKNOWN;
    }
    let force = &search.subject.text;
    let Some(scaled) = ScaledForce::new(forces, force) else {
        let place = context.place(search.subject.span);
        let what = format!("force in {}", forces.name);
        context.report(findings::unknown_name::block(place, force, &what));
        return UNKNOWN;
    };
    if !forces.limits_known {
        // The limit that is not known has a finding of its own.
        return (unknown_of(&scaled), None);
    }
    let subject = Subject {
        place: context.place(search.span),
        direction: search.direction,
        name: force,
        block: &forces.name,
        length_unit: None,
    };
    extreme(context, &scaled, &subject)
}

/// The words for what is searched.
pub(crate) struct Subject<'a> {
    pub(crate) place: Place,
    pub(crate) direction: SearchDirection,
    pub(crate) name: &'a str,
    pub(crate) block: &'a str,
    pub(crate) length_unit: Option<&'a Unit>,
}

fn unknown_of(scaled: &impl Scaled) -> Evaluated {
    let dimension = scaled.magnitude().map(|magnitude| magnitude.dimension());
    Evaluated::dimension_only(dimension.unwrap_or(haunch_quantity::Dimension::RATIO))
}

/// The largest or the smallest size for which every limit holds.
fn extreme(
    context: &mut Context<'_>,
    scaled: &impl Scaled,
    subject: &Subject<'_>,
) -> (Evaluated, Option<Capacity>) {
    let unknown = (unknown_of(scaled), None);
    let Subject {
        place,
        direction,
        name,
        block,
        ..
    } = *subject;
    let limits = scaled.demands(1.0).unwrap_or_default();
    if limits.is_empty() {
        context.report(findings::capacity::no_limit(place, direction, name, block));
        return unknown;
    }
    if !scaled.acts() {
        context.report(findings::capacity::zero(place, name, block));
        return unknown;
    }
    let utilisation = |factor: f64| scaled.demands(factor).map_or(f64::NAN, |d| used(&d));
    let found = match (direction, largest_factor(utilisation)) {
        (SearchDirection::Largest, LargestFactor::Value { largest, .. }) => {
            // Below this the other loads alone use the limits up.
            let largest = if largest < NOTHING { 0.0 } else { largest };
            Bound {
                factor: largest,
                beyond: Some((largest * (1.0 + NEIGHBOUR)).max(NEIGHBOUR)),
            }
        }
        (
            SearchDirection::Smallest,
            LargestFactor::Value { smallest, .. } | LargestFactor::Unlimited { smallest },
        ) => {
            let is_none = smallest < NOTHING && holds(utilisation(0.0));
            Bound {
                factor: if is_none { 0.0 } else { smallest },
                beyond: (!is_none).then_some(smallest * (1.0 - NEIGHBOUR)),
            }
        }
        (SearchDirection::Largest, LargestFactor::Unlimited { .. }) => {
            context.report(findings::capacity::unlimited(place, name, block));
            return unknown;
        }
        (_, LargestFactor::NoneHolds { best, utilisation }) => {
            let demands = scaled.demands(best).unwrap_or_default();
            let limit = governing_limit(&demands).map(|(limit, _)| limit.name.clone());
            let best = sized(scaled, best)
                .map(|best| format_quantity(best, None, context.preferences))
                .unwrap_or_default();
            let used = format_utilisation(utilisation, context.preferences.digits());
            context.report(findings::capacity::none_holds(
                place,
                (name, block),
                &format!("{name} at {best}"),
                &limit.unwrap_or_default(),
                &used.to_string(),
            ));
            return unknown;
        }
        (_, LargestFactor::Undefined { .. }) => {
            context.report(findings::not_accurate::search(place, name));
            return unknown;
        }
    };
    // The answer is tried on both sides.
    let stands = holds(utilisation(found.factor))
        && found.beyond.is_none_or(|beyond| utilisation(beyond) > 1.0);
    match (sized(scaled, found.factor), scaled.demands(found.factor)) {
        (Some(value), Some(demands)) if stands => {
            // What holds without the load is not governed by anything.
            let governed = found
                .beyond
                .and_then(|_| capacity(context, subject, &demands));
            (Evaluated::quantity(value), governed)
        }
        _ => {
            context.report(findings::not_accurate::search(place, name));
            unknown
        }
    }
}

/// An end of the sizes for which every limit holds.
struct Bound {
    factor: f64,
    /// A size a little farther, for which they do not; none where the end is no load at all.
    beyond: Option<f64>,
}

/// A factor that is no size at all.
const NOTHING: f64 = 1e-14;
/// How far beyond the answer a limit must be exceeded, as a share of it.
const NEIGHBOUR: f64 = 1e-9;

fn sized(scaled: &impl Scaled, factor: f64) -> Option<Quantity> {
    let factor = Quantity::ratio(factor)?;
    match scaled.magnitude() {
        Some(magnitude) => magnitude.checked_multiply(factor).ok(),
        None => Some(factor),
    }
}

/// The largest utilisation of all limits.
fn used(limits: &[LimitDemands]) -> f64 {
    let mut largest = 0.0_f64;
    for limit in limits {
        for demand in &limit.demands {
            let own = strict(demand, limit.subject);
            if own.is_nan() {
                return f64::NAN;
            }
            largest = largest.max(own);
        }
    }
    largest
}

/// How much of a bound is used, with a bound that may not be reached itself a little lower.
fn strict(demand: &Demand, subject: LimitSubject) -> f64 {
    let utilisation = demand.utilisation(subject);
    if demand.inclusive {
        utilisation
    } else {
        utilisation * (1.0 + 2.0 * UTILISATION_TOLERANCE)
    }
}

/// The limit that governs, and its governing demand. Of equal ones the first by name.
fn governing_limit(limits: &[LimitDemands]) -> Option<(&LimitDemands, &Demand)> {
    let mut best: Option<(&LimitDemands, &Demand, f64)> = None;
    for limit in limits {
        let (demand, utilisation) = governing(limit.subject, &limit.demands)?;
        let is_larger = best.is_none_or(|(other, _, largest)| {
            utilisation > largest * (1.0 + EQUAL)
                || (utilisation >= largest * (1.0 - EQUAL) && limit.name < other.name)
        });
        if is_larger {
            best = Some((limit, demand, utilisation));
        }
    }
    best.map(|(limit, demand, _)| (limit, demand))
}

/// Utilisations that differ by less than this share differ by rounding only.
const EQUAL: f64 = 1e-12;

fn capacity(
    context: &Context<'_>,
    subject: &Subject<'_>,
    limits: &[LimitDemands],
) -> Option<Capacity> {
    let (limit, demand) = governing_limit(limits)?;
    let here = Demand {
        combination: None,
        ..demand.clone()
    };
    let place = here.place(subject.length_unit, context.preferences);
    Some(Capacity {
        governing: limit.name.clone(),
        place: (!place.is_empty()).then_some(place),
        combination: demand.combination.as_ref().map(ToString::to_string),
    })
}
