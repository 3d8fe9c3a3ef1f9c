//! The linear system of a beam: the states at the beginning of every stretch between nodes.
//!
//! Unknown are the four quantities at the beginning of each stretch. The state at its end follows
//! from it exactly; the conditions at the nodes join them. Unlike stiffnesses `12·EI/h³`, all
//! coefficients stay moderate however short a stretch is, so that very unequal spans keep their
//! digits, and forces of a statically determinate beam do not feel the rigidity at all.

use super::action::{Action, Piece, PlaceAction};
use super::band::{Band, Factors, power_of_two_below};
use super::error::BeamError;
use super::state::{Scale, State};
use super::structure::{Hold, Node, Structure};

/// A correction larger than this share of the result means that digits are lost.
const TRUSTED: f64 = 1e-10;

/// One equation at a node: `end · (state before) + start · (state after) = right`.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Condition {
    pub(super) end: State,
    pub(super) start: State,
    pub(super) right: f64,
}

impl Condition {
    /// How readily the elimination takes the equation for a force or moment.
    ///
    /// Equations of equilibrium go first, so that forces which statics alone decides never mix with
    /// deflections and their rounding. The weight is far below every ratio of lengths in use and far
    /// above the rounding of a coefficient that should have cancelled to zero.
    fn weight(&self) -> f64 {
        const AFTER_STATICS: f64 = 1.0 / (1_u64 << 30) as f64;
        let bends = |state: &State| state.deflection != 0.0 || state.slope != 0.0;
        if bends(&self.end) || bends(&self.start) {
            AFTER_STATICS
        } else {
            1.0
        }
    }
}

/// A beam's equations, solved but for what acts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Solver {
    matrix: Band,
    divisors: Vec<f64>,
    factors: Factors,
    pub(super) scale: Scale,
}

impl Solver {
    pub(super) fn new(structure: &Structure) -> Result<Self, BeamError> {
        let stretches = structure.rigidity.len();
        let largest = structure.rigidity.iter().fold(0.0_f64, |m, r| m.max(*r));
        let scale = Scale {
            length: power_of_two_below(structure.length / stretches as f64),
            rigidity: power_of_two_below(largest),
        };
        let mut matrix = Band::zero(4 * stretches);
        let mut weights = Vec::with_capacity(4 * stretches);
        for (index, node) in structure.nodes.iter().enumerate() {
            let ends = Ends {
                before: index > 0,
                after: index < stretches,
            };
            for condition in conditions(node, &PlaceAction::default(), ends, scale) {
                let row = weights.len();
                weights.push(condition.weight());
                if ends.before {
                    let stretch = scale.piece(&structure.stretch(index - 1));
                    for (column, coefficient) in before(&condition.end, &stretch) {
                        matrix.set(row, 4 * (index - 1) + column, coefficient);
                    }
                }
                if ends.after {
                    for (column, coefficient) in components(&condition.start) {
                        matrix.set(row, 4 * index + column, coefficient);
                    }
                }
            }
        }
        let divisors = matrix.balance_rows(&weights);
        let factors = matrix.factorised().ok_or(BeamError::IllConditioned)?;
        Ok(Self {
            matrix,
            divisors,
            factors,
            scale,
        })
    }

    /// The scaled states at the beginning of every stretch.
    pub(super) fn states(
        &self,
        structure: &Structure,
        action: &Action,
    ) -> Result<Vec<State>, BeamError> {
        let right = self.right_side(structure, action);
        let mut solution = self.factors.solved(right.clone());
        let correction = self.correction(&right, &solution);
        solution
            .iter_mut()
            .zip(&correction)
            .for_each(|(x, d)| *x += d);
        // The size of a second correction tells how many digits can be trusted.
        let error = largest(&self.correction(&right, &solution));
        let size = solution.chunks_exact(4).map(state).zip(0..).fold(
            self.smallest_size(structure, action),
            |size, (start, stretch)| {
                size.larger(&start.size_along(&self.scale.piece(&structure.stretch(stretch))))
            },
        );
        let trusted = |error: f64, size: f64| error <= TRUSTED * size;
        if !(trusted(error.deflection, size.deflection)
            && trusted(error.slope, size.slope)
            && trusted(error.moment, size.moment)
            && trusted(error.shear, size.shear))
        {
            return Err(BeamError::IllConditioned);
        }
        Ok(solution.chunks_exact(4).map(state).collect())
    }

    fn correction(&self, right: &[f64], solution: &[f64]) -> Vec<f64> {
        let found = self.matrix.times(solution);
        self.factors
            .solved(right.iter().zip(&found).map(|(r, f)| r - f).collect())
    }

    /// The size of the numbers that the actions bring in, even if their effect is zero: a load
    /// right over a support, or a settlement that nothing resists, leaves a rounding of its own size.
    pub(super) fn smallest_size(&self, structure: &Structure, action: &Action) -> State {
        let settlements = action
            .places
            .iter()
            .map(|place| self.scale.place(place).settlement.abs());
        let settlement = settlements.fold(0.0, f64::max);
        let free_moments = action.pieces.iter().map(|piece| {
            let piece = self.scale.piece(piece);
            piece.free_curvature.abs() * piece.rigidity
        });
        // Stretches of mean length have length 1 in this scale, and the stiffest has rigidity 1.
        let resisted = free_moments.fold(settlement, f64::max);
        let (mut widest, mut softest) = (0.0_f64, f64::INFINITY);
        for index in 0..structure.rigidity.len() {
            let stretch = self.scale.piece(&structure.stretch(index));
            widest = widest.max(stretch.length);
            softest = softest.min(stretch.rigidity);
        }
        State {
            deflection: settlement,
            slope: settlement,
            moment: resisted,
            shear: action.total + resisted,
        }
        .size_along(&Piece {
            length: widest,
            rigidity: softest,
            ..Piece::default()
        })
    }

    fn right_side(&self, structure: &Structure, action: &Action) -> Vec<f64> {
        let last = structure.nodes.len() - 1;
        let mut right = Vec::with_capacity(self.divisors.len());
        let mut loads_alone = State::default();
        for (index, node) in structure.nodes.iter().enumerate() {
            let ends = Ends {
                before: index > 0,
                after: index < last,
            };
            let place = self.scale.place(&action.places[action.node_places[index]]);
            for condition in conditions(node, &place, ends, self.scale) {
                right.push(condition.right - condition.end.dot(&loads_alone));
            }
            if ends.after {
                loads_alone = State::default();
                for step in action.steps_of(index) {
                    loads_alone = step
                        .beginning(&loads_alone, &self.scale)
                        .after(&self.scale.piece(step.piece));
                }
            }
        }
        right
            .iter_mut()
            .zip(&self.divisors)
            .for_each(|(r, d)| *r /= d);
        right
    }
}

/// Whether there is beam before and after a node.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ends {
    pub(super) before: bool,
    pub(super) after: bool,
}

/// The equations at a node, four inside the beam and two at an end.
pub(super) fn conditions(
    node: &Node,
    action: &PlaceAction,
    ends: Ends,
    scale: Scale,
) -> impl Iterator<Item = Condition> {
    let zero = State::default();
    let deflection = State {
        deflection: 1.0,
        ..zero
    };
    let slope = State { slope: 1.0, ..zero };
    let moment = State {
        moment: 1.0,
        ..zero
    };
    let shear = State { shear: 1.0, ..zero };
    let each = |what: State, right: f64| {
        let before = Condition {
            end: what,
            start: zero,
            right,
        };
        let after = Condition {
            end: zero,
            start: what,
            right,
        };
        [ends.before.then_some(before), ends.after.then_some(after)]
    };
    let joined = |what: State| {
        let condition = Condition {
            end: what.map(|c| -c),
            start: what,
            right: 0.0,
        };
        (ends.before && ends.after).then_some(condition)
    };
    let jump = |what: State, right: f64| {
        let end = if ends.before { what.map(|c| -c) } else { zero };
        let start = if ends.after { what } else { zero };
        Condition { end, start, right }
    };

    let hold = node.support.map(|(_, hold)| hold);
    let vertical = match hold {
        Some(Hold::Pin | Hold::Fixed) => each(deflection, action.settlement),
        Some(Hold::Spring(stiffness)) => {
            let spring = scale.spring(stiffness);
            let mut balance = jump(shear, -action.force - spring * action.settlement);
            let side = if ends.after {
                &mut balance.start
            } else {
                &mut balance.end
            };
            side.deflection = -spring;
            [joined(deflection), Some(balance)]
        }
        None => [joined(deflection), Some(jump(shear, -action.force))],
    };
    let turning = match hold {
        Some(Hold::Fixed) => each(slope, 0.0),
        _ if node.hinge.is_some() => each(moment, 0.0),
        _ => [joined(slope), Some(jump(moment, action.couple))],
    };
    vertical.into_iter().chain(turning).flatten()
}

fn components(state: &State) -> [(usize, f64); 4] {
    [
        (0, state.deflection),
        (1, state.slope),
        (2, state.moment),
        (3, state.shear),
    ]
}

/// A condition on the end of a stretch, as coefficients of the state at its beginning.
fn before(end: &State, stretch: &Piece) -> [(usize, f64); 4] {
    let (h, bend) = (stretch.length, 1.0 / stretch.rigidity);
    let deflection = end.deflection;
    let slope = end.deflection * h + end.slope;
    let moment = -end.deflection * h * h * bend / 2.0 - end.slope * h * bend + end.moment;
    let shear = -end.deflection * h * h * h * bend / 6.0 - end.slope * h * h * bend / 2.0
        + end.moment * h
        + end.shear;
    components(&State {
        deflection,
        slope,
        moment,
        shear,
    })
}

fn state(values: &[f64]) -> State {
    match *values {
        [deflection, slope, moment, shear] => State {
            deflection,
            slope,
            moment,
            shear,
        },
        _ => State::default(),
    }
}

fn largest(values: &[f64]) -> State {
    values
        .chunks_exact(4)
        .map(state)
        .fold(State::default(), |most, next| most.larger(&next))
}
