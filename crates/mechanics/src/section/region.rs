//! A part of the plane, given by its boundary.

use super::edge::{Curve, Edge};
use super::integrals::{Integrals, Moments};
use super::vector::{Extent, Vector};

/// A part of the plane: oriented edges in any order, the material to their left.
///
/// The edges close up, outer boundaries anticlockwise and holes clockwise, but they are not
/// strung together: integrals, cuts, and the question whether a point lies inside need no order.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Region {
    pub(super) edges: Vec<Edge>,
}

/// Where a point lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Location {
    Inside,
    Outside,
    /// On an edge that runs in this direction there.
    Boundary(Vector),
}

impl Region {
    pub(super) fn extent(&self) -> Option<Extent> {
        Extent::of(self.edges.iter().flat_map(|edge| [edge.from, edge.to]))
    }

    pub(super) fn moved(&self, by: Vector) -> Self {
        Self {
            edges: self.edges.iter().map(|edge| edge.moved(by)).collect(),
        }
    }

    /// Area, centroid and second moments, worked out about the region's own middle; `None` when
    /// the area is at most `least`.
    pub(super) fn moments(&self, least: f64) -> Option<Moments> {
        let middle = self.extent()?.middle();
        let integrals = Integrals::of(self.edges.iter().map(|edge| edge.moved(-middle)));
        (integrals.area > least).then(|| Moments::new(integrals, middle))
    }

    /// Where a point lies, an edge being as wide as the tolerance on each side.
    pub(super) fn locate(&self, point: Vector, tolerance: f64) -> Location {
        let mut nearest: Option<(f64, Edge)> = None;
        for &edge in &self.edges {
            let distance = edge.distance(point);
            if distance <= tolerance && nearest.is_none_or(|(least, _)| distance < least) {
                nearest = Some((distance, edge));
            }
        }
        match nearest {
            Some((_, edge)) => Location::Boundary(edge.direction_at(point)),
            None if self.surrounds(point) => Location::Inside,
            None => Location::Outside,
        }
    }

    /// Whether the edges run round a point that is not on them.
    ///
    /// The angles under which the edges are seen from the point add up to a whole number of
    /// turns. Unlike the count of crossings along a ray, the sum cannot be upset by a gap of
    /// rounding size between two edges.
    pub(super) fn surrounds(&self, point: Vector) -> bool {
        let angle: f64 = self.edges.iter().map(|&edge| seen_angle(edge, point)).sum();
        angle > std::f64::consts::PI
    }
}

/// The angle by which the line of sight from a point turns along an edge, anticlockwise positive.
fn seen_angle(edge: Edge, point: Vector) -> f64 {
    let (from, to) = (edge.from - point, edge.to - point);
    let cross = from.cross(to);
    let chord = libm::atan2(cross, from.dot(to));
    let Curve::Arc(circle) = edge.curve else {
        return chord;
    };
    // Between the arc and its chord the sight turns the other way round.
    let beyond_chord = if circle.anticlockwise {
        cross < 0.0
    } else {
        cross > 0.0 || (cross == 0.0 && from.dot(to) < 0.0)
    };
    if beyond_chord && point.distance(circle.centre) < circle.radius {
        chord + circle.sense() * std::f64::consts::TAU
    } else {
        chord
    }
}
