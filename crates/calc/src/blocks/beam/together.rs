//! Normal and shear stress together along a beam.

use haunch_mechanics::beam::{Response, Side};
use haunch_mechanics::section::{ForceRange, ForcesAlong};
use haunch_quantity::typed::{Force, Length, Moment, Typed};

use super::limits::Under;

/// Places closer than this share of a stretch are one.
const SAME_PLACE: f64 = 1e-11;

/// Moments and shears of one combination, both ways.
struct Bending<'a> {
    upright: &'a Response,
    /// None where nothing acts sideways.
    sideways: Option<&'a Response>,
}

impl ForcesAlong for Bending<'_> {
    fn over(&self, from: Length, to: Length) -> Option<Vec<ForceRange>> {
        let controls = |response: &Response| {
            let moments = response.moment().controls(from, to);
            moments.into_iter().zip(response.shear().controls(from, to))
        };
        let upright = controls(self.upright);
        Some(match self.sideways {
            Some(sideways) => {
                let both = upright.zip(controls(sideways));
                both.map(|(upright, sideways)| forces(upright, sideways))
                    .collect()
            }
            None => upright.map(|own| forces(own, nothing())).collect(),
        })
    }

    fn at(&self, place: Length, before: bool) -> Option<ForceRange> {
        let side = if before { Side::Before } else { Side::After };
        let both = |response: &Response| {
            let moment = response.moment().at(place, side)?;
            Some((moment, response.shear().at(place, side)?))
        };
        let sideways = match self.sideways {
            Some(sideways) => both(sideways)?,
            None => nothing(),
        };
        Some(forces(both(self.upright)?, sideways))
    }
}

fn nothing() -> (Moment, Force) {
    (Moment::from_si(0.0), Force::from_si(0.0))
}

/// Moment and shear each way.
fn forces(upright: (Moment, Force), sideways: (Moment, Force)) -> ForceRange {
    let none = Force::from_si(0.0);
    ForceRange {
        axial: (none, none),
        moment_x: (upright.0, upright.0),
        moment_y: (sideways.0, sideways.0),
        shear: (upright.1, upright.1),
        shear_sideways: (sideways.1, sideways.1),
    }
}

/// The forces along a stretch of the beam, and the places between which they vary smoothly.
pub(super) fn along(under: Under<'_>, from: Length, to: Length) -> (Vec<Length>, impl ForcesAlong) {
    let slack = SAME_PLACE * (to - from).si();
    let forces = Bending {
        upright: under.response,
        sideways: under.sideways,
    };
    let places = |response: &Response| {
        let (moment, shear) = (response.moment().places(), response.shear().places());
        moment.chain(shear).map(Typed::si).collect::<Vec<f64>>()
    };
    let mut stops = places(forces.upright);
    stops.extend(forces.sideways.map(places).unwrap_or_default());
    stops.retain(|&place| place > from.si() + slack && place < to.si() - slack);
    stops.extend([from.si(), to.si()]);
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|after, before| *after - *before <= slack);
    let stops = stops.into_iter().map(Length::from_si).collect();
    (stops, forces)
}
