//! Cross sections: from parts to properties and stresses.
//!
//! A [`Section`] is made from [`Part`]s, each a [`Shape`] in its place, in one frame: x to the
//! right, y up. What is wrong with the geometry comes back as [`Problem`]s that name the parts by
//! their position in the list.
//!
//! Where parts have different moduli of elasticity, the section is transformed to the reference
//! material: every area counts n = E/E_reference times. Centroid, second moments and everything
//! that follows from them are those of the transformed section.
//!
//! # How it is computed
//! Every shape is an outline of straight lines and circular arcs, both exact. Integrals over the
//! area come from the boundary by Green's theorem, about each shape's own middle, and are put
//! together by the parallel-axis theorem. Deductions are cut out of the outlines themselves, so
//! that widths, first moments and stresses see the material that is left. Nothing is sampled or
//! replaced by polygons; an ellipse alone is followed by circular arcs.
//!
//! All sums run in an order that depends on the geometry alone: the same parts in another order
//! give the same bits.

mod boundary;
mod build;
mod combine;
mod combined;
mod critical;
mod critical_point;
mod drawn;
mod edge;
mod ellipse;
mod gauge;
mod integrals;
mod joints;
mod kern;
mod levels;
mod meeting;
mod outline;
mod pieces;
mod plastic;
mod problem;
mod properties;
mod region;
mod shape;
mod shear;
mod sideways;
mod stress;
mod table;
mod vector;

pub(crate) use boundary::{BoundaryArc, BoundaryEdge};
pub use build::{Part, Role};
pub use combined::{CombinedStress, PrincipalStresses};
pub use critical::{CriticalStress, Equivalent, ForceRange, ForcesAlong};
pub use critical_point::{PointFactors, WorstAlong};
pub use drawn::OutlineEdge;
pub use ellipse::LONGEST_ELLIPSE;
pub use gauge::StressGauge;
pub use joints::{ShearForces, fastener_spacing, flow_per_line};
pub use kern::KernCorner;
pub use outline::{Bounds, Outline, Path, Point, Sense};
pub use plastic::Plastic;
pub use problem::{NoResult, Problem, ShapeProblem, Size};
pub use properties::{PartProperties, PrincipalAxes, SecondMoments, Side};
pub use shape::Shape;
pub use shear::{AtLevel, LargestShearStress};
pub use sideways::{AtUpright, LargestSidewaysShearStress};
pub use stress::{ExtremeStresses, Forces, NeutralAxis, PointStress};
pub use table::TableRow;

use build::{Assembly, Member, Removal, assemble};
use integrals::Moments;
use levels::{Levels, WeightedEdge};
use vector::Extent;

/// A sound cross section.
#[derive(Clone, Debug)]
pub struct Section {
    members: Vec<Member>,
    removals: Vec<Removal>,
    warnings: Vec<Problem>,
    /// The length that counts as nothing.
    tolerance: f64,
    /// Of the transformed section.
    moments: Moments,
    /// Of the material, modular ratios left aside.
    area: f64,
    extent: Extent,
    /// Cut by level lines, about the centroid.
    levels: Levels,
    /// Cut by upright lines: the same with x and y exchanged.
    levels_sideways: Levels,
}

impl Section {
    /// Puts a section together.
    ///
    /// # Errors
    /// Every problem of the geometry that leaves the section without properties. Problems that do
    /// not are kept as [`Section::warnings`].
    pub fn new(parts: &[Part]) -> Result<Self, Vec<Problem>> {
        let Assembly {
            members,
            removals,
            warnings,
            tolerance,
        } = assemble(parts)?;
        let extents = members.iter().filter_map(|own| own.net.extent());
        let extent = extents
            .reduce(Extent::with)
            .ok_or_else(|| vec![Problem::NoMaterial])?;
        let weighted: Vec<(f64, Moments)> = members
            .iter()
            .map(|own| (own.ratio, own.net_moments))
            .collect();
        let mut moments = Moments::sum(&weighted, extent.middle());
        if moments.ixy.abs() <= 1e-13 * (moments.ixx + moments.iyy) {
            moments.ixy = 0.0;
        }
        let edges: Vec<WeightedEdge> = members
            .iter()
            .flat_map(|own| {
                let shifted = own.net.moved(-moments.centroid).edges.into_iter();
                shifted.map(|edge| WeightedEdge {
                    edge,
                    ratio: own.ratio,
                })
            })
            .collect();
        let sideways: Vec<WeightedEdge> = edges
            .iter()
            .map(|own| WeightedEdge {
                edge: own.edge.transposed(),
                ..*own
            })
            .collect();
        Ok(Self {
            levels: Levels::new(&edges, tolerance),
            levels_sideways: Levels::new(&sideways, tolerance),
            area: members.iter().map(|own| own.net_moments.area).sum(),
            members,
            removals,
            warnings,
            tolerance,
            moments,
            extent,
        })
    }

    /// Problems that the section's properties do not suffer from: pieces that do not touch,
    /// deductions that overlap.
    pub fn warnings(&self) -> &[Problem] {
        &self.warnings
    }

    /// The modular ratio of all parts; `None` when they differ.
    fn single_ratio(&self) -> Option<f64> {
        let mut ratios = self.members.iter().map(|own| own.ratio);
        let first = ratios.next()?;
        ratios.all(|ratio| ratio == first).then_some(first)
    }
}
