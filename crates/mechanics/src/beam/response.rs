//! What a beam does under one load case, or under a combination of cases.

use super::action::{Action, Piece};
use super::diagram::{Diagram, ROUNDING, SAME_PLACE};
use super::error::BeamError;
use super::polynomial::Polynomial;
use super::solver::{Ends, Solver, conditions};
use super::state::{Scale, State};
use super::structure::{Hold, Structure};
use haunch_quantity::typed::{Force, Length, Moment, Ratio, Typed};
use std::cmp::Ordering;
use std::sync::Arc;

/// The conditions at the nodes hold to this share of the numbers in them, or there is no result.
const CLOSED: f64 = 1e-9;

/// Reactions and diagrams of one load case or combination.
#[derive(Debug, Clone, PartialEq)]
pub struct Response {
    reactions: Vec<ReactionValue>,
    /// Size of the numbers in forces and in moments, for their rounding.
    size: (f64, f64),
    pub(super) shear: Diagram<Force>,
    pub(super) moment: Diagram<Moment>,
    pub(super) bending: Option<Bending>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bending {
    pub(super) slope: Diagram<Ratio>,
    pub(super) deflection: Diagram<Length>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct ReactionValue {
    x: f64,
    force: f64,
    moment: Option<f64>,
}

/// What a support does to the beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reaction {
    /// Index of the support in the beam's list.
    pub support: usize,
    /// Its place.
    pub at: Length,
    /// Positive upward.
    pub force: Force,
    /// The fixing moment on the beam, positive clockwise; fixed supports only. At the start of a
    /// beam it is the bending moment there, at the end the bending moment with its sign changed.
    pub moment: Option<Moment>,
}

impl Response {
    /// Reactions in the order of the beam's supports.
    pub fn reactions(&self) -> Vec<Reaction> {
        let without_rounding = |value: f64, size: f64| {
            if value.abs() <= ROUNDING * size {
                0.0
            } else {
                value
            }
        };
        let (force_size, moment_size) = self.size;
        let typed = |(support, value): (usize, &ReactionValue)| Reaction {
            support,
            at: Length::from_si(value.x),
            force: Force::from_si(without_rounding(value.force, force_size)),
            moment: value
                .moment
                .map(|m| Moment::from_si(without_rounding(m, moment_size))),
        };
        self.reactions.iter().enumerate().map(typed).collect()
    }

    /// Shear force; positive where the part on the left pushes up.
    pub fn shear(&self) -> &Diagram<Force> {
        &self.shear
    }

    /// Bending moment; positive sagging.
    pub fn moment(&self) -> &Diagram<Moment> {
        &self.moment
    }

    /// Slope in radians, the change of the deflection along the beam: positive where the beam goes
    /// down to the right. It jumps at hinges. `None` if the flexural rigidity is not known.
    pub fn slope(&self) -> Option<&Diagram<Ratio>> {
        self.bending.as_ref().map(|bending| &bending.slope)
    }

    /// Deflection; positive down. `None` if the flexural rigidity is not known.
    pub fn deflection(&self) -> Option<&Diagram<Length>> {
        self.bending.as_ref().map(|bending| &bending.deflection)
    }

    /// The sum of responses times factors, exact as the parts are: pieces are added as polynomials.
    ///
    /// The order of the terms does not matter, not even in the last bit. `None` if there is no
    /// term, a factor is not finite, or the responses do not belong to one beam.
    pub fn combine(terms: &[(f64, &Self)]) -> Option<Self> {
        let (_, first) = terms.first()?;
        let fits = |(factor, other): &(f64, &Self)| factor.is_finite() && first.same_beam(other);
        if !terms.iter().all(fits) {
            return None;
        }
        let mut terms = terms.to_vec();
        terms.sort_by(|(f, a), (g, b)| f.total_cmp(g).then_with(|| a.compare(b)));

        let places = common_places(&terms);
        let size =
            |value: fn(&Self) -> f64| terms.iter().map(|(f, r)| f.abs() * value(r)).sum::<f64>();
        let reaction = |index: usize| {
            let parts = || terms.iter().map(|(f, r)| (f, &r.reactions[index]));
            ReactionValue {
                x: first.reactions[index].x,
                force: parts().map(|(f, part)| f * part.force).sum(),
                moment: first.reactions[index].moment.map(|_| {
                    parts()
                        .map(|(f, part)| f * part.moment.unwrap_or(0.0))
                        .sum()
                }),
            }
        };
        let bending: Option<Vec<_>> = terms
            .iter()
            .map(|(f, r)| r.bending.as_ref().map(|bending| (*f, bending)))
            .collect();
        Some(Self {
            reactions: (0..first.reactions.len()).map(reaction).collect(),
            size: (size(|r| r.size.0), size(|r| r.size.1)),
            shear: Diagram::sum(&places, &with(&terms, |r| &r.shear)),
            moment: Diagram::sum(&places, &with(&terms, |r| &r.moment)),
            bending: bending.map(|terms| Bending {
                slope: Diagram::sum(&places, &with(&terms, |b| &b.slope)),
                deflection: Diagram::sum(&places, &with(&terms, |b| &b.deflection)),
            }),
        })
    }

    /// Integrates along the beam from the solved states.
    pub(super) fn new(
        structure: &Structure,
        solver: &Solver,
        action: &Action,
    ) -> Result<Self, BeamError> {
        let scale = solver.scale;
        let states = solver.states(structure, action)?;
        let mut walk = Walk::new(
            action.pieces.len(),
            scale,
            solver.smallest_size(structure, action),
        );
        let mut reactions = vec![
            ReactionValue {
                x: 0.0,
                force: 0.0,
                moment: None
            };
            structure.support_places.len()
        ];
        let mut springs = Vec::new();
        let mut closing = Vec::new();
        let mut end = State::default();
        for (index, node) in structure.nodes.iter().enumerate() {
            let start = states.get(index).copied().unwrap_or_default();
            let place = scale.place(&action.places[action.node_places[index]]);
            let ends = Ends {
                before: index > 0,
                after: index < states.len(),
            };
            for condition in conditions(node, &place, ends, scale) {
                let miss = condition.end.dot(&end) + condition.start.dot(&start) - condition.right;
                closing.push((miss, condition));
            }
            if let Some((support, hold)) = node.support {
                let fixing = start.moment - end.moment - place.couple;
                if let Hold::Spring(stiffness) = hold {
                    let deflection = if ends.after {
                        start.deflection
                    } else {
                        end.deflection
                    };
                    let stiffness = scale.spring(stiffness);
                    springs.push((support, stiffness, deflection - place.settlement));
                }
                reactions[support] = ReactionValue {
                    x: node.x,
                    force: start.shear - end.shear + place.force,
                    moment: (hold == Hold::Fixed).then_some(fixing * scale.length),
                };
            }
            if ends.after {
                end = start;
                for step in action.steps_of(index) {
                    end = walk.along(&step.beginning(&end, &scale), &scale.piece(step.piece));
                }
            }
        }
        let size = walk.size;
        // A soft spring's force is lost in the difference of two shears: take it from the deflection.
        for (support, stiffness, shortening) in springs {
            if stiffness * size.deflection < size.shear {
                reactions[support].force = stiffness * shortening;
            }
        }
        let closed = closing.iter().all(|(miss, condition)| {
            let all = condition.end.larger(&condition.start).dot(&size);
            miss.abs() <= CLOSED * (all + condition.right.abs())
        });
        if !closed {
            return Err(BeamError::IllConditioned);
        }
        let places: Arc<[f64]> = action.places.iter().map(|place| place.x).collect();
        let bending = structure.rigidity_known.then(|| Bending {
            slope: Diagram::new(Arc::clone(&places), walk.slope, size.slope * scale.slope()),
            deflection: Diagram::new(
                Arc::clone(&places),
                walk.deflection,
                size.deflection * scale.deflection(),
            ),
        });
        let response = Self {
            reactions,
            size: (size.shear, size.moment * scale.length),
            shear: Diagram::new(Arc::clone(&places), walk.shear, size.shear),
            moment: Diagram::new(places, walk.moment, size.moment * scale.length),
            bending,
        };
        if response.is_finite() {
            Ok(response)
        } else {
            Err(BeamError::IllConditioned)
        }
    }

    fn is_finite(&self) -> bool {
        let bending = self.bending.as_ref();
        self.shear.is_finite()
            && self.moment.is_finite()
            && bending.is_none_or(|b| b.slope.is_finite() && b.deflection.is_finite())
    }

    fn same_beam(&self, other: &Self) -> bool {
        let places = |response: &Self| response.shear.places_si().last().copied();
        places(self) == places(other)
            && self.bending.is_some() == other.bending.is_some()
            && self.reactions.len() == other.reactions.len()
            && self
                .reactions
                .iter()
                .zip(&other.reactions)
                .all(|(a, b)| a.x == b.x && a.moment.is_some() == b.moment.is_some())
    }

    fn compare(&self, other: &Self) -> Ordering {
        let order = self
            .shear
            .compare(&other.shear)
            .then_with(|| self.moment.compare(&other.moment));
        match (&self.bending, &other.bending) {
            (Some(a), Some(b)) => order
                .then_with(|| a.deflection.compare(&b.deflection))
                .then_with(|| a.slope.compare(&b.slope)),
            _ => order,
        }
    }
}

fn with<'a, T, Q>(
    terms: &[(f64, &'a T)],
    diagram: fn(&'a T) -> &'a Diagram<Q>,
) -> Vec<(f64, &'a Diagram<Q>)> {
    terms
        .iter()
        .map(|(factor, term)| (*factor, diagram(term)))
        .collect()
}

/// All places of all terms, nearly equal ones made one.
fn common_places(terms: &[(f64, &Response)]) -> Arc<[f64]> {
    let places: Vec<_> = terms.iter().map(|(_, r)| r.shear.places_si()).collect();
    together(&places)
}

/// All places of several lists, nearly equal ones made one.
pub(super) fn together(lists: &[&Arc<[f64]>]) -> Arc<[f64]> {
    let first = lists[0];
    if lists.iter().all(|places| *places == first) {
        return Arc::clone(first);
    }
    let mut all: Vec<f64> = lists
        .iter()
        .flat_map(|places| places.iter().copied())
        .collect();
    all.sort_by(f64::total_cmp);
    let length = all[all.len() - 1];
    let tolerance = SAME_PLACE * length;
    all.dedup_by(|next, kept| *next - *kept <= tolerance && *next < length);
    all.into()
}

/// Collects the polynomials of all pieces.
struct Walk {
    scale: Scale,
    size: State,
    shear: Vec<Polynomial>,
    moment: Vec<Polynomial>,
    slope: Vec<Polynomial>,
    deflection: Vec<Polynomial>,
}

impl Walk {
    fn new(pieces: usize, scale: Scale, size: State) -> Self {
        Self {
            scale,
            size,
            shear: Vec::with_capacity(pieces),
            moment: Vec::with_capacity(pieces),
            slope: Vec::with_capacity(pieces),
            deflection: Vec::with_capacity(pieces),
        }
    }

    /// Adds one piece (in scaled numbers) and gives the state at its end.
    fn along(&mut self, start: &State, piece: &Piece) -> State {
        let h = piece.length;
        let (load, more) = (
            h * piece.load_left,
            h * (piece.load_right - piece.load_left),
        );
        let bend = h / piece.rigidity;
        let free = h * piece.free_curvature;
        let shear = [start.shear, -load, -more / 2.0, 0.0, 0.0, 0.0];
        let moment = [
            start.moment,
            h * start.shear,
            -h * load / 2.0,
            -h * more / 6.0,
            0.0,
            0.0,
        ];
        let slope = [
            start.slope,
            -bend * moment[0] - free,
            -bend * moment[1] / 2.0,
            -bend * moment[2] / 3.0,
            -bend * moment[3] / 4.0,
            0.0,
        ];
        let deflection = [
            start.deflection,
            h * slope[0],
            h * slope[1] / 2.0,
            h * slope[2] / 3.0,
            h * slope[3] / 4.0,
            h * slope[4] / 5.0,
        ];
        let scale = self.scale;
        self.shear.push(Polynomial::new(shear));
        self.moment
            .push(Polynomial::new(moment).scaled(scale.length));
        self.slope
            .push(Polynomial::new(slope).scaled(scale.slope()));
        self.deflection
            .push(Polynomial::new(deflection).scaled(scale.deflection()));
        self.size = self.size.larger(&start.size_along(piece));
        start.after(piece)
    }
}
