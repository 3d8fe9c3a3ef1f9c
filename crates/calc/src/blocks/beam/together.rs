//! Normal and shear stress together along a beam.

use haunch_mechanics::beam::{Diagram, Response, Side};
use haunch_mechanics::section::{ForceRange, ForcesAlong};
use haunch_quantity::typed::{Force, Length, Moment, Typed};

/// Places closer than this share of a stretch are one.
const SAME_PLACE: f64 = 1e-11;

/// The moment and the shear of one response.
struct Bending<'a>(&'a Response);

impl ForcesAlong for Bending<'_> {
    fn over(&self, from: Length, to: Length) -> Option<ForceRange> {
        let moment = range(self.0.moment(), from, to)?;
        let shear = range(self.0.shear(), from, to)?;
        Some(bending(moment, shear))
    }

    fn at(&self, place: Length, before: bool) -> Option<ForceRange> {
        let side = if before { Side::Before } else { Side::After };
        let moment = self.0.moment().at(place, side)?;
        let shear = self.0.shear().at(place, side)?;
        Some(bending((moment, moment), (shear, shear)))
    }
}

fn bending(moment: (Moment, Moment), shear: (Force, Force)) -> ForceRange {
    let zero = Moment::from_si(0.0);
    ForceRange {
        axial: (Force::from_si(0.0), Force::from_si(0.0)),
        moment_x: moment,
        moment_y: (zero, zero),
        shear,
    }
}

fn range<Q: Typed>(diagram: &Diagram<Q>, from: Length, to: Length) -> Option<(Q, Q)> {
    let extremes = diagram.extremes_within(from, to)?;
    Some((extremes.min.value, extremes.max.value))
}

/// The forces along a stretch of the beam, and the places between which they vary smoothly.
pub(super) fn along(
    response: &Response,
    from: Length,
    to: Length,
) -> (Vec<Length>, impl ForcesAlong + '_) {
    let slack = SAME_PLACE * (to - from).si();
    let (moment, shear) = (response.moment(), response.shear());
    let mut stops: Vec<f64> = moment
        .places()
        .chain(shear.places())
        .map(Typed::si)
        .collect();
    stops.retain(|&place| place > from.si() + slack && place < to.si() - slack);
    stops.extend([from.si(), to.si()]);
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|after, before| *after - *before <= slack);
    let stops = stops.into_iter().map(Length::from_si).collect();
    (stops, Bending(response))
}
