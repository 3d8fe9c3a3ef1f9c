//! Straight elastic beams (Euler-Bernoulli), solved exactly.
//!
//! A [`Beam`] has any number of supports and hinges, overhangs, and a flexural rigidity that may
//! change in steps; a [`Loading`] is one load case. [`solve`] gives a [`Response`] for each:
//! reactions, and shear, moment, slope and deflection as piecewise polynomials, whose values and
//! extremes are found anywhere, not at sample points. [`Response::combine`] superposes cases,
//! [`Envelope`] compares combinations, [`largest_factor`] finds what can be carried, [`Train`] where
//! wheels stand worst.
//!
//! # Signs
//! `x` runs from the start to the right. Loads, settlements and deflections are positive down,
//! reactions positive up. Shear is positive where the part on the left pushes up, moment positive
//! sagging, so that `dM/dx = V` and `dV/dx = −q`. Slope is the change of the deflection along `x`.
//! A clockwise couple makes the moment jump up. A free curvature is positive sagging.
//!
//! # Theory and where it holds
//! `M = EI·(κ − κ₀)` with the curvature `κ = −w''`: linear elastic material, plane sections,
//! small slopes, no shear deformation (slender beams), no axial force. A source for the theory is
//! any textbook of strength of materials, for instance Timoshenko, Strength of Materials, part I.
//!
//! # Accuracy
//! Results carry about 12 digits, measured against their largest value along the beam. What would
//! be less accurate is refused ([`BeamError::IllConditioned`]), and a mechanism is recognised from
//! the places of supports and hinges alone ([`Mechanism`]). The order of loads and of
//! terms never changes a result, not even in the last bit.

mod action;
mod band;
mod both_ways;
mod buckling;
mod diagram;
mod envelope;
mod error;
mod factor;
mod model;
mod patterns;
mod polynomial;
mod response;
mod solver;
mod stability;
mod state;
mod structure;
mod wheels;

pub use both_ways::{Both, largest_of_both, weighted_sum};
pub use buckling::euler_load;
pub use diagram::{Diagram, Extreme, Extremes, Side};
pub use envelope::{Envelope, Governing};
pub use error::{BeamError, Mechanism};
pub use factor::{LargestFactor, largest_factor};
pub use model::{Beam, Load, Loading, Sense, Stiffness, Stretch, Support, SupportKind};
pub use patterns::unfavourable_patterns;
pub use response::{Reaction, Response};
pub use wheels::{AtPlace, BendingForces, Measure, Standing, Train, Wheel, Worst};

use action::Action;
use solver::Solver;
use structure::{Hold, Structure};

/// The response of a beam to every one of several load cases, in their order.
///
/// # Errors
/// The first thing that is wrong with the beam or a loading.
pub fn solve(beam: &Beam, loadings: &[Loading]) -> Result<Vec<Response>, BeamError> {
    let analysis = Analysis::new(beam)?;
    loadings
        .iter()
        .enumerate()
        .map(|(index, loading)| analysis.response(index, loading))
        .collect()
}

/// A beam whose equations are solved but for the loads: each load case then costs little.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    structure: Structure,
    solver: Solver,
    /// Whether forces can come from a settlement or curvature, and would need the rigidity.
    rigidity_missing: bool,
}

impl Analysis {
    /// Checks the beam and prepares it.
    ///
    /// # Errors
    /// What is wrong with the beam: see [`BeamError`].
    pub fn new(beam: &Beam) -> Result<Self, BeamError> {
        let structure = Structure::new(beam)?;
        if let Some(mechanism) = stability::mechanism(&structure) {
            return Err(BeamError::Mechanism(mechanism));
        }
        let rigidity_missing = !structure.rigidity_known && structure.redundants() > 0;
        if rigidity_missing {
            let on_spring =
                |node: &structure::Node| matches!(node.support, Some((_, Hold::Spring(_))));
            let varies = beam.stiffness == Stiffness::Unknown;
            if varies || structure.nodes.iter().any(on_spring) {
                return Err(BeamError::RigidityNeeded);
            }
        }
        let solver = Solver::new(&structure)?;
        Ok(Self {
            structure,
            solver,
            rigidity_missing,
        })
    }

    /// How many restraints statics could do without: 0 for a statically determinate beam.
    pub fn redundants(&self) -> usize {
        self.structure.redundants()
    }

    /// The response to one load case; `index` is its number in error messages.
    ///
    /// # Errors
    /// What is wrong with the loading: see [`BeamError`].
    pub fn response(&self, index: usize, loading: &Loading) -> Result<Response, BeamError> {
        let action = Action::new(&self.structure, index, loading)?;
        if self.rigidity_missing {
            let needs =
                |load: &Load| matches!(load, Load::Settlement { .. } | Load::Curvature { .. });
            if let Some(load) = loading.loads.iter().position(needs) {
                return Err(BeamError::RigidityNeededFor {
                    loading: index,
                    load,
                });
            }
        }
        Response::new(&self.structure, &self.solver, &action)
    }
}
