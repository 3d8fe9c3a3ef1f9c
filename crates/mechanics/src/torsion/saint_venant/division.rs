//! How finely the boundary is divided.

use super::NoTorsion;
use super::curves::{Curves, GRID, distance};
use super::delaunay::NONE;
use super::predicates::GridPoint;

/// The most points on the boundary and inside; more would take too long.
pub(super) const MOST_POINTS: usize = 20_000;

/// A piece of a curve between two points of the boundary.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) curve: usize,
    /// Shares of the curve's length.
    start: f64,
    end: f64,
}

/// The rules of division; lengths in steps of the grid.
struct Fineness<'a> {
    curves: &'a Curves,
    factor: f64,
    /// Of each corner, the size of the smallest piece at it; infinite where the solution is smooth.
    at_corner: Vec<f64>,
}

/// The divided boundary: its points, and for each the piece that leaves it.
#[derive(Clone, Debug)]
pub(super) struct Division {
    pub(super) points: Vec<GridPoint>,
    /// The following point; `NONE` for points that are not on the boundary.
    pub(super) next: Vec<u32>,
    pub(super) pieces: Vec<Option<Piece>>,
    /// How long the sides of triangles about a point may be where no corner makes them shorter.
    pub(super) sizes: Vec<f64>,
    /// A point with a lower number that lies near; the first has itself.
    pub(super) near: Vec<usize>,
    /// Points at corners of less than 60°.
    sharp: Vec<bool>,
}

/// A piece is at most this much of the distance across the material or a gap,
const OF_DISTANCE: f64 = 0.8;
/// of the size of the section,
const OF_SIZE: f64 = 0.16;
/// and of a right angle.
const OF_RIGHT_ANGLE: f64 = 0.2501;
/// Towards a re-entrant corner pieces shrink with their distance from it,
const SHRINKING: f64 = 0.5;
/// down to this share of the distance across the material there.
const AT_CORNER: f64 = 0.06;
/// A corner of 180° and a little more is smooth enough.
const RE_ENTRANT: f64 = 1.06;

impl<'a> Fineness<'a> {
    fn new(curves: &'a Curves, factor: f64) -> Self {
        let mut own = Self {
            curves,
            factor,
            at_corner: Vec::new(),
        };
        own.at_corner = (0..curves.corners.len())
            .map(|corner| {
                let angle = curves.angle_at(corner);
                if angle < RE_ENTRANT * std::f64::consts::PI {
                    return f64::INFINITY;
                }
                let place = curves.corners[corner].map(|own| own as f64);
                let [before, after] = [curves.arriving[corner], curves.leaving[corner]];
                let across = own.distance_across(place, &[before, after]);
                // Stresses grow as r^(π/angle − 1) towards the corner, and the error of the
                // energy is of order r^(2π/angle). A smaller angle allows larger pieces, and
                // where all pieces become smaller these must become smaller still, so that this
                // part of the error keeps pace with the fourth power elsewhere.
                let order = angle / std::f64::consts::PI / 1.5;
                let least = libm::pow(AT_CORNER, order) * factor * factor * factor;
                across * least
            })
            .collect();
        own
    }

    /// The distance to the nearest curve that meets none of some curves.
    fn distance_across(&self, place: [f64; 2], meets_not: &[usize]) -> f64 {
        let curves = self.curves;
        let mut least = GRID as f64;
        for (index, other) in curves.curves.iter().enumerate() {
            if meets_not
                .iter()
                .all(|&own| !curves.are_adjacent(own, index))
                && let Some(closer) = other.distance_below(place, least)
            {
                least = closer;
            }
        }
        least
    }

    /// The greatest length of sides about a point of a curve, corners left aside.
    fn size(&self, curve: usize, place: [f64; 2]) -> f64 {
        let across = self.distance_across(place, &[curve]);
        self.factor * (OF_DISTANCE * across).min(OF_SIZE * GRID as f64)
    }

    /// The greatest length of a piece of a curve about a point of it.
    fn greatest_length(&self, curve: usize, place: [f64; 2]) -> f64 {
        let mut greatest = self.size(curve, place);
        let own = &self.curves.curves[curve];
        for corner in [own.from, own.to] {
            let least = self.at_corner[corner];
            if least.is_finite() {
                let arm = distance(place, self.curves.corners[corner].map(|own| own as f64));
                greatest = greatest.min((SHRINKING * arm).max(least));
            }
        }
        if let Some(arc) = own.arc {
            let right_angle = std::f64::consts::FRAC_PI_2;
            greatest =
                greatest.min(self.factor.min(1.0) * OF_RIGHT_ANGLE * right_angle * arc.radius);
        }
        greatest
    }
}

impl Fineness<'_> {
    /// Where a curve is divided, in shares of its length: steps as long as they may be, one after
    /// the other.
    fn stops(&self, curve: usize) -> Result<Vec<f64>, NoTorsion> {
        let own = &self.curves.curves[curve];
        let length = own.length();
        let greatest = |place: f64| self.greatest_length(curve, own.at((place / length).min(1.0)));
        let mut stops = Vec::new();
        let mut here = 0.0;
        while here < length {
            // As long as the middle of the step allows, found by trying.
            let mut step = greatest(here);
            for _ in 0..2 {
                step = greatest(here + step / 2.0);
            }
            here += step;
            stops.push(here);
            if stops.len() > MOST_POINTS {
                return Err(NoTorsion::TooSlender);
            }
        }
        // The last step is cut or filled up by stretching them all a little.
        let overshoot = here - length;
        let last = stops.pop().unwrap_or(length);
        let before = stops.last().copied().unwrap_or(0.0);
        let total = if stops.is_empty() || overshoot <= (last - before) / 2.0 {
            last
        } else {
            stops.pop();
            before
        };
        Ok(stops.into_iter().map(|stop| stop / total).collect())
    }
}

impl Division {
    /// Divides the curves, more finely with a smaller factor.
    pub(super) fn new(curves: &Curves, factor: f64) -> Result<Self, NoTorsion> {
        let fineness = Fineness::new(curves, factor);
        let count = curves.corners.len();
        let mut division = Self {
            points: curves.corners.clone(),
            next: vec![NONE; count],
            pieces: vec![None; count],
            sizes: vec![0.0; count],
            near: (0..count).map(|corner| corner.saturating_sub(1)).collect(),
            sharp: (0..count)
                .map(|corner| curves.angle_at(corner) < std::f64::consts::FRAC_PI_3)
                .collect(),
        };
        for (curve, own) in curves.curves.iter().enumerate() {
            division.next[own.from] = own.to as u32;
            division.pieces[own.from] = Some(Piece {
                curve,
                start: 0.0,
                end: 1.0,
            });
        }
        for curve in 0..curves.curves.len() {
            let mut point = curves.curves[curve].from;
            for share in fineness.stops(curve)? {
                // Stops that the grid cannot tell apart are left out.
                point = division.split_at(curves, point, share).unwrap_or(point);
            }
            if division.points.len() > MOST_POINTS {
                return Err(NoTorsion::TooSlender);
            }
        }
        for (point, piece) in division.pieces.iter().enumerate() {
            let place = division.points[point].map(|own| own as f64);
            division.sizes[point] = piece.map_or(0.0, |own| fineness.size(own.curve, place));
        }
        Ok(division)
    }

    /// Divides the piece that leaves a point. Towards a sharp corner the new point lies at a power
    /// of two of steps from it, so that the pieces on both of its sides are alike and do not
    /// divide each other without end (Ruppert 1995, J. Algorithms 18).
    pub(super) fn split(&mut self, curves: &Curves, point: usize) -> Option<usize> {
        let piece = self.pieces[point]?;
        let share = if curves.curves[piece.curve].arc.is_some() {
            0.5
        } else {
            let following = self.next[point] as usize;
            let is_sharp = |own: usize| self.sharp.get(own).copied().unwrap_or(false);
            let ends = [point, following].map(|own| self.points[own].map(|own| own as f64));
            let length = distance(ends[0], ends[1]);
            let mut from_corner = 1.0;
            while 1.5 * from_corner < length {
                from_corner *= 2.0;
            }
            from_corner = from_corner / 2.0 / length;
            match (is_sharp(point), is_sharp(following)) {
                (true, false) => from_corner,
                (false, true) => 1.0 - from_corner,
                _ => 0.5,
            }
        };
        self.split_at(
            curves,
            point,
            piece.start + (piece.end - piece.start) * share,
        )
    }

    fn split_at(&mut self, curves: &Curves, point: usize, share: f64) -> Option<usize> {
        let piece = self.pieces[point]?;
        let following = self.next[point];
        let place = curves.curves[piece.curve].at(share);
        let new = place.map(|own| libm::round(own) as i64);
        if new == self.points[point] || new == self.points[following as usize] {
            return None;
        }
        let index = self.points.len();
        self.points.push(new);
        self.sizes.push(self.sizes[point]);
        self.near.push(point);
        self.next.push(following);
        self.pieces.push(Some(Piece {
            start: share,
            ..piece
        }));
        self.next[point] = index as u32;
        self.pieces[point] = Some(Piece {
            end: share,
            ..piece
        });
        Some(index)
    }

    /// A point inside.
    pub(super) fn push_inside(&mut self, point: GridPoint, size: f64, near: usize) {
        self.points.push(point);
        self.sizes.push(size);
        self.near.push(near);
        self.next.push(NONE);
        self.pieces.push(None);
    }

    pub(super) fn length(&self, point: usize) -> f64 {
        let ends =
            [point, self.next[point] as usize].map(|own| self.points[own].map(|own| own as f64));
        distance(ends[0], ends[1])
    }

    /// The loops of the boundary, each as its points in order.
    pub(super) fn loops(&self) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.points.len()];
        let mut loops = Vec::new();
        for start in 0..self.points.len() {
            let mut points = Vec::new();
            let mut here = start;
            while self.next[here] != NONE && !seen[here] {
                seen[here] = true;
                points.push(here);
                here = self.next[here] as usize;
            }
            if !points.is_empty() {
                loops.push(points);
            }
        }
        loops
    }
}
