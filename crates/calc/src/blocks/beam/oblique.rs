//! Stress from bending and shear both ways: where along the beam it is extreme.
//!
//! At a fibre the stress is linear in both moments, so that it is a polynomial along the beam like
//! these, and its extremes are exact. Which fibre of the section is the extreme one changes along the
//! beam with the ratio of the moments: the greatest stress of a section is convex in both moments,
//! and its largest value along the beam is found by that.

use haunch_mechanics::beam::{Diagram, Extreme, Response, Side, largest_of_both, weighted_sum};
use haunch_quantity::typed::{Force, Length, Moment, Stress, Typed};

use super::limits::Under;
use crate::blocks::SectionModel;
use crate::blocks::fibre::{Fibre, ShearPlace};
use crate::blocks::limits::Action;

/// Whether anything bends or shears the beam sideways.
pub(super) fn acts(sideways: &Response) -> bool {
    let moment = sideways.moment().extremes().largest_magnitude();
    let shear = sideways.shear().extremes().largest_magnitude();
    moment.value.si() != 0.0 || shear.value.si() != 0.0
}

/// The stress at a fibre along the beam.
pub(super) fn stress_along(
    fibre: &Fibre,
    upright: &Response,
    sideways: Option<&Response>,
) -> Option<Diagram<Stress>> {
    let moment = upright.moment();
    let across = match sideways {
        Some(sideways) => (fibre.per_moment_y, sideways.moment()),
        None => (0.0, moment),
    };
    weighted_sum([(fibre.per_moment, moment), across])
}

/// The moments at the places where a stress of the section can be the largest of all, each with
/// the section whose fibres are the extreme ones there. None where the search does not end.
pub(super) fn bending(
    section: &SectionModel,
    under: Under<'_>,
    sideways: &Response,
    within: (Length, Length),
) -> Option<Vec<(SectionModel, Action)>> {
    let (moment, moment_y) = (under.response.moment(), sideways.moment());
    let mut fibres: Vec<Fibre> = section.fibres.clone();
    fibres.retain(|fibre| fibre.point.is_some());
    for sense in [1.0, -1.0] {
        let grades = section.greatest_stresses(1.0, 0.0, sense).len();
        for grade in 0..grades {
            let measure = |x: Moment, y: Moment| {
                let stresses = section.greatest_stresses(x.si(), y.si(), sense);
                stresses.get(grade).copied().unwrap_or(f64::NAN)
            };
            let found = largest_of_both(moment, moment_y, within, measure)?;
            let extreme = section.fibres_under(found.first.si(), found.second.si());
            fibres.extend(extreme.into_iter().filter(|fibre| fibre.point.is_none()));
        }
    }
    let mut places: Vec<(Length, Side)> = Vec::new();
    for fibre in &fibres {
        let stress = stress_along(fibre, under.response, Some(sideways))?;
        let extremes = stress.extremes_within(within.0, within.1)?;
        for Extreme { at, side, .. } in [extremes.max, extremes.min] {
            if !places.contains(&(at, side)) {
                places.push((at, side));
            }
        }
    }
    let action = |&(at, side): &(Length, Side)| {
        let action = Action {
            moment: moment.at(at, side)?.si(),
            moment_y: moment_y.at(at, side)?.si(),
            ..action(under, at)
        };
        let section = section.clone().under(action.moment, action.moment_y);
        Some((section, action))
    };
    places.iter().map(action).collect()
}

/// The shears at the places where the sum of both shear stresses is largest. Each way has its own
/// largest stress in the section, wherever that is; their sum is at no place less than the vector
/// sum of both there.
pub(super) fn shearing(
    section: &SectionModel,
    under: Under<'_>,
    sideways: &Response,
    within: (Length, Length),
) -> Option<Vec<Action>> {
    let (shear, across) = (under.response.shear(), sideways.shear());
    let mut actions = Vec::new();
    for place in &section.shear {
        let ShearPlace {
            per_shear,
            per_shear_sideways,
            ..
        } = place;
        for sign in [1.0, -1.0] {
            let terms = [(*per_shear, shear), (sign * per_shear_sideways, across)];
            let stress: Diagram<Stress> = weighted_sum::<Force, Stress>(terms)?;
            let extremes = stress.extremes_within(within.0, within.1)?;
            for Extreme { at, side, .. } in [extremes.max, extremes.min] {
                actions.push(Action {
                    shear: shear.at(at, side)?.si(),
                    shear_sideways: across.at(at, side)?.si(),
                    ..action(under, at)
                });
            }
        }
    }
    Some(actions)
}

fn action(under: Under<'_>, at: Length) -> Action {
    Action {
        at: Some(at.si()),
        combination: under.name.cloned(),
        pattern: under.pattern.cloned(),
        ..Action::default()
    }
}
