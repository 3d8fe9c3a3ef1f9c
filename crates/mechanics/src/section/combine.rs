//! What is left of one region without another, and what two regions have in common.
//!
//! Both regions' edges are split where they meet; each piece then lies wholly inside, outside or
//! on the boundary of the other region, and the pieces that bound the result are kept.

use super::edge::Edge;
use super::meeting::meeting_points;
use super::region::{Location, Region};
use super::vector::Vector;

/// The material of `region` without what `removed` covers.
pub(super) fn difference(region: &Region, removed: &Region, tolerance: f64) -> Region {
    let pieces = Pieces::new(region, removed, tolerance);
    let kept = pieces
        .first
        .into_iter()
        .filter(|&(edge, location)| match location {
            Location::Outside => true,
            Location::Inside => false,
            Location::Boundary(direction) => !same_sense(edge, direction),
        });
    let new = pieces
        .second
        .into_iter()
        .filter(|&(_, location)| location == Location::Inside);
    Region {
        edges: kept
            .map(|(edge, _)| edge)
            .chain(new.map(|(edge, _)| edge.reversed()))
            .collect(),
    }
}

/// What both regions cover.
pub(super) fn intersection(first: &Region, second: &Region, tolerance: f64) -> Region {
    let pieces = Pieces::new(first, second, tolerance);
    let kept = pieces
        .first
        .into_iter()
        .filter(|&(edge, location)| match location {
            Location::Inside => true,
            Location::Outside => false,
            Location::Boundary(direction) => same_sense(edge, direction),
        });
    let new = pieces
        .second
        .into_iter()
        .filter(|&(_, location)| location == Location::Inside);
    Region {
        edges: kept.chain(new).map(|(edge, _)| edge).collect(),
    }
}

/// Whether the boundaries of two regions come together anywhere within the tolerance.
pub(super) fn boundaries_touch(first: &Region, second: &Region, tolerance: f64) -> bool {
    first.edges.iter().any(|&a| {
        second
            .edges
            .iter()
            .any(|&b| !meeting_points(a, b, tolerance).is_empty())
    })
}

fn same_sense(edge: Edge, direction: Vector) -> bool {
    edge.direction_at(edge.middle()).dot(direction) > 0.0
}

/// The pieces of both boundaries, each with where it lies in the other region.
struct Pieces {
    first: Vec<(Edge, Location)>,
    second: Vec<(Edge, Location)>,
}

impl Pieces {
    fn new(first: &Region, second: &Region, tolerance: f64) -> Self {
        let mut stops_first = vec![Vec::new(); first.edges.len()];
        let mut stops_second = vec![Vec::new(); second.edges.len()];
        for (a, stops_a) in first.edges.iter().zip(&mut stops_first) {
            for (b, stops_b) in second.edges.iter().zip(&mut stops_second) {
                for point in meeting_points(*a, *b, tolerance) {
                    stops_a.push(point);
                    stops_b.push(point);
                }
            }
        }
        Self {
            first: located(first, &stops_first, second, tolerance),
            second: located(second, &stops_second, first, tolerance),
        }
    }
}

fn located(
    region: &Region,
    stops: &[Vec<Vector>],
    other: &Region,
    tolerance: f64,
) -> Vec<(Edge, Location)> {
    region
        .edges
        .iter()
        .zip(stops)
        .flat_map(|(edge, points)| edge.split(points, tolerance))
        .map(|piece| (piece, other.locate(piece.middle(), tolerance)))
        .collect()
}
