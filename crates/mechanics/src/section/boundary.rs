//! The boundary of all material together.

use super::Section;
use super::edge::{Curve, Edge};
use super::meeting::meeting_points;
use super::region::{Location, Region};
use super::vector::Vector;

/// A piece of the boundary, the material to its left; in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BoundaryEdge {
    pub(crate) from: [f64; 2],
    pub(crate) to: [f64; 2],
    /// For an arc, which stays within a quarter of its circle.
    pub(crate) arc: Option<BoundaryArc>,
}

/// The circle of an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BoundaryArc {
    pub(crate) centre: [f64; 2],
    pub(crate) radius: f64,
    pub(crate) anticlockwise: bool,
}

impl Section {
    /// The edges round the material in no order. Where parts touch along an edge they count as one
    /// piece, and the edge is left out. Ends that belong together may differ by the section's
    /// tolerance.
    pub(crate) fn material_boundary(&self) -> Vec<BoundaryEdge> {
        let regions: Vec<&Region> = self.members.iter().map(|member| &member.net).collect();
        let mut boundary = Vec::new();
        for (index, region) in regions.iter().enumerate() {
            let extent = region.extent();
            let near: Vec<&Region> = regions
                .iter()
                .enumerate()
                .filter(|&(other, own)| {
                    let extents = extent.zip(own.extent());
                    other != index
                        && extents.is_some_and(|(one, two)| one.is_near(two, self.tolerance))
                })
                .map(|(_, own)| *own)
                .collect();
            for &edge in &region.edges {
                let free = split_by(edge, &near, self.tolerance)
                    .into_iter()
                    .filter(|&piece| !is_joint(piece, &near, self.tolerance));
                boundary.extend(free.map(plain));
            }
        }
        boundary
    }

    /// The length that counts as nothing, in metres.
    pub(crate) fn tolerance(&self) -> f64 {
        self.tolerance
    }

    /// Whether all parts are of one material.
    pub(crate) fn is_of_one_material(&self) -> bool {
        self.single_ratio().is_some()
    }
}

fn split_by(edge: Edge, others: &[&Region], tolerance: f64) -> Vec<Edge> {
    let stops: Vec<Vector> = others
        .iter()
        .flat_map(|region| &region.edges)
        .flat_map(|&other| meeting_points(edge, other, tolerance))
        .collect();
    edge.split(&stops, tolerance)
}

/// Whether another part lies on the other side of the edge.
fn is_joint(edge: Edge, others: &[&Region], tolerance: f64) -> bool {
    let middle = edge.middle();
    let own = edge.direction_at(middle);
    others
        .iter()
        .any(|region| match region.locate(middle, tolerance) {
            Location::Boundary(direction) => direction.dot(own) < 0.0,
            // A sliver of an overlap within the tolerance.
            Location::Inside => true,
            Location::Outside => false,
        })
}

fn plain(edge: Edge) -> BoundaryEdge {
    let pair = |point: Vector| [point.x, point.y];
    BoundaryEdge {
        from: pair(edge.from),
        to: pair(edge.to),
        arc: match edge.curve {
            Curve::Straight => None,
            Curve::Arc(circle) => Some(BoundaryArc {
                centre: pair(circle.centre),
                radius: circle.radius,
                anticlockwise: circle.anticlockwise,
            }),
        },
    }
}
