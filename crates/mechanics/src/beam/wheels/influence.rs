//! What a beam does under a force anywhere on it: its influence lines, exactly.

use super::super::Analysis;
use super::super::diagram::Side;
use super::super::error::BeamError;
use super::super::model::{Load, Loading};
use super::super::response::Response;
use super::super::state::State;
use haunch_quantity::typed::{Force, Length, Typed};

/// The beam's answers to a force of 1 N downward, by the force's place.
///
/// While the force stays within one stretch between nodes, the answer everywhere outside that
/// stretch, and at its beginning, is a cubic in the force's place: the force reaches the end of its
/// stretch, at a distance r, as a shear 1, a moment r, a slope r²/(2·EI) and a deflection
/// r³/(6·EI), and everything else is linear in these. Four places in each stretch say all.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Influence {
    /// Ends of the stretches, in m.
    pub(super) nodes: Vec<f64>,
    rigidity: Vec<f64>,
    supports: usize,
    /// For each stretch the answers to the force at its four [`PLACES`].
    answers: Vec<[Answer; 4]>,
}

/// In SI units, not scaled.
#[derive(Debug, Clone, Default, PartialEq)]
struct Answer {
    /// At the beginning of each stretch.
    starts: Vec<State>,
    /// Reaction and fixing moment of each support.
    reactions: Vec<(f64, f64)>,
}

/// Near the roots of the fourth Chebyshev polynomial, where a cubic is best told by its values.
const PLACES: [f64; 4] = [0.0625, 0.3125, 0.6875, 0.9375];

/// A wheel at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed {
    pub(super) x: f64,
    pub(super) down: f64,
    /// The stretch on which it is.
    pub(super) stretch: usize,
}

/// What wheels at their places do.
#[derive(Debug, Clone)]
pub(super) struct Under {
    starts: Vec<State>,
    /// Reaction and fixing moment of each support.
    pub(super) reactions: Vec<(f64, f64)>,
}

impl Influence {
    pub(super) fn new(analysis: &Analysis) -> Result<Self, BeamError> {
        let structure = &analysis.structure;
        let nodes: Vec<f64> = structure.nodes.iter().map(|node| node.x).collect();
        let answers = nodes
            .windows(2)
            .map(|ends| {
                let mut answers: [Answer; 4] = Default::default();
                for (answer, share) in answers.iter_mut().zip(PLACES) {
                    let at = Length::from_si(ends[0] + share * (ends[1] - ends[0]));
                    let down = Force::from_si(1.0);
                    let loads = vec![Load::Force { at, down }];
                    let response = analysis.response(0, &Loading { loads })?;
                    *answer = Answer::of(&response, &nodes)?;
                }
                Ok(answers)
            })
            .collect::<Result<_, BeamError>>()?;
        Ok(Self {
            rigidity: structure.rigidity.clone(),
            supports: structure.support_places.len(),
            nodes,
            answers,
        })
    }

    pub(super) fn length(&self) -> f64 {
        self.nodes.last().copied().unwrap_or(0.0)
    }

    /// The stretch in which a place is.
    pub(super) fn stretch(&self, x: f64) -> usize {
        let after = self.nodes.partition_point(|node| *node <= x);
        after.saturating_sub(1).min(self.rigidity.len() - 1)
    }

    pub(super) fn under(&self, wheels: &[Placed]) -> Under {
        let mut under = Under {
            starts: vec![State::default(); self.rigidity.len()],
            reactions: vec![(0.0, 0.0); self.supports],
        };
        for wheel in wheels {
            let left = self.nodes[wheel.stretch];
            let share = (wheel.x - left) / (self.nodes[wheel.stretch + 1] - left);
            for (answer, weight) in self.answers[wheel.stretch].iter().zip(weights(share)) {
                let weight = weight * wheel.down;
                for (sum, start) in under.starts.iter_mut().zip(&answer.starts) {
                    sum.deflection += weight * start.deflection;
                    sum.slope += weight * start.slope;
                    sum.moment += weight * start.moment;
                    sum.shear += weight * start.shear;
                }
                for (sum, (force, moment)) in under.reactions.iter_mut().zip(&answer.reactions) {
                    sum.0 += weight * force;
                    sum.1 += weight * moment;
                }
            }
        }
        under
    }

    /// The state at a place of a stretch, with those wheels of the stretch that stand before it.
    pub(super) fn state<'a>(
        &self,
        under: &Under,
        stretch: usize,
        x: f64,
        before: impl Iterator<Item = &'a Placed>,
    ) -> State {
        let h = x - self.nodes[stretch];
        let bend = 1.0 / self.rigidity[stretch];
        let start = &under.starts[stretch];
        let mut state = State {
            deflection: start.deflection + h * start.slope
                - h * h * bend * (start.moment / 2.0 + h * start.shear / 6.0),
            slope: start.slope - h * bend * (start.moment + h * start.shear / 2.0),
            moment: start.moment + h * start.shear,
            shear: start.shear,
        };
        for wheel in before {
            let r = x - wheel.x;
            state.shear -= wheel.down;
            state.moment -= wheel.down * r;
            state.slope += wheel.down * r * r * bend / 2.0;
            state.deflection += wheel.down * r * r * r * bend / 6.0;
        }
        state
    }
}

impl Answer {
    fn of(response: &Response, nodes: &[f64]) -> Result<Self, BeamError> {
        let at = |x: f64| {
            let x = Length::from_si(x);
            let slope = response.slope().map(|d| d.at(x, Side::After));
            let deflection = response.deflection().map(|d| d.at(x, Side::After));
            Some(State {
                deflection: deflection.map_or(Some(0.0), |v| v.map(Typed::si))?,
                slope: slope.map_or(Some(0.0), |v| v.map(Typed::si))?,
                moment: response.moment().at(x, Side::After)?.si(),
                shear: response.shear().at(x, Side::After)?.si(),
            })
        };
        let starts: Option<Vec<State>> = nodes[..nodes.len() - 1].iter().map(|x| at(*x)).collect();
        let reactions = response.reactions();
        let pair = |r: &super::super::Reaction| (r.force.si(), r.moment.map_or(0.0, Typed::si));
        Ok(Self {
            starts: starts.ok_or(BeamError::IllConditioned)?,
            reactions: reactions.iter().map(pair).collect(),
        })
    }
}

/// How much each of the four values counts at a share of the stretch (Lagrange).
fn weights(share: f64) -> [f64; 4] {
    let mut weights = [1.0; 4];
    for (own, weight) in weights.iter_mut().enumerate() {
        for (other, place) in PLACES.iter().enumerate() {
            if other != own {
                *weight *= (share - place) / (PLACES[own] - place);
            }
        }
    }
    weights
}
