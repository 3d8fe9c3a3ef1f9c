//! The boundary on the grid: corners, the lines and arcs between them, and loops.

use super::NoTorsion;
use super::predicates::GridPoint;
use crate::section::{BoundaryArc, BoundaryEdge};

/// The longer side of the section in steps of the grid.
pub(super) const GRID: i64 = 1 << 28;

/// Where the grid lies in the section.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    /// Of the lower left corner, in metres.
    pub(super) origin: [f64; 2],
    /// The longer side of the section, in metres.
    pub(super) size: f64,
}

impl Frame {
    /// In steps of the grid, not rounded.
    fn place(self, point: [f64; 2]) -> [f64; 2] {
        let step = GRID as f64 / self.size;
        [
            (point[0] - self.origin[0]) * step,
            (point[1] - self.origin[1]) * step,
        ]
    }
}

/// A line or arc between two corners, the material to its left; in steps of the grid.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    pub(super) from: usize,
    pub(super) to: usize,
    start: [f64; 2],
    end: [f64; 2],
    pub(super) arc: Option<Arc>,
}

/// A circular arc of at most a quarter circle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    pub(super) centre: [f64; 2],
    pub(super) radius: f64,
    angle: f64,
    /// Positive anticlockwise.
    pub(super) sweep: f64,
}

impl Curve {
    /// The point at a share of the length.
    pub(super) fn at(&self, share: f64) -> [f64; 2] {
        match self.arc {
            None => [
                self.start[0] + (self.end[0] - self.start[0]) * share,
                self.start[1] + (self.end[1] - self.start[1]) * share,
            ],
            Some(arc) => {
                let angle = arc.angle + arc.sweep * share;
                [
                    arc.centre[0] + arc.radius * libm::cos(angle),
                    arc.centre[1] + arc.radius * libm::sin(angle),
                ]
            }
        }
    }

    pub(super) fn length(&self) -> f64 {
        match self.arc {
            None => distance(self.start, self.end),
            Some(arc) => arc.radius * arc.sweep.abs(),
        }
    }

    /// The direction of running at the start or the end, of length 1.
    pub(super) fn direction(&self, at_end: bool) -> [f64; 2] {
        match self.arc {
            None => {
                let length = self.length();
                [
                    (self.end[0] - self.start[0]) / length,
                    (self.end[1] - self.start[1]) / length,
                ]
            }
            Some(arc) => {
                let angle = arc.angle + if at_end { arc.sweep } else { 0.0 };
                let sense = arc.sweep.signum();
                [-sense * libm::sin(angle), sense * libm::cos(angle)]
            }
        }
    }

    /// The distance of a point, unless it is at least `limit`.
    pub(super) fn distance_below(&self, point: [f64; 2], limit: f64) -> Option<f64> {
        let outside = |axis: usize| {
            let (low, high) = (
                self.start[axis].min(self.end[axis]),
                self.start[axis].max(self.end[axis]),
            );
            // An arc bulges beyond its ends by less than its chord where it is not cut at quarters.
            (low - point[axis]).max(point[axis] - high).max(0.0)
        };
        let (x, y) = (outside(0), outside(1));
        if x.max(y) >= limit {
            return None;
        }
        let ends = distance(point, self.start).min(distance(point, self.end));
        let found = match self.arc {
            None => {
                let along = [self.end[0] - self.start[0], self.end[1] - self.start[1]];
                let arm = [point[0] - self.start[0], point[1] - self.start[1]];
                let square = along[0] * along[0] + along[1] * along[1];
                let foot = (arm[0] * along[0] + arm[1] * along[1]) / square;
                if foot > 0.0 && foot < 1.0 {
                    (along[0] * arm[1] - along[1] * arm[0]).abs() / square.sqrt()
                } else {
                    ends
                }
            }
            Some(arc) => {
                let arm = [point[0] - arc.centre[0], point[1] - arc.centre[1]];
                let sense = arc.sweep.signum();
                let faces = |from: [f64; 2], to: [f64; 2]| {
                    sense * (from[0] * to[1] - from[1] * to[0]) >= 0.0
                };
                let spoke = |place: [f64; 2]| [place[0] - arc.centre[0], place[1] - arc.centre[1]];
                if faces(spoke(self.start), arm) && faces(arm, spoke(self.end)) {
                    (distance(point, arc.centre) - arc.radius).abs()
                } else {
                    ends
                }
            }
        };
        (found < limit).then_some(found)
    }
}

/// Corners and the curves between them, closed up to loops.
#[derive(Clone, Debug)]
pub(super) struct Curves {
    pub(super) corners: Vec<GridPoint>,
    pub(super) curves: Vec<Curve>,
    /// The curve that arrives at each corner.
    pub(super) arriving: Vec<usize>,
    /// The curve that leaves each corner.
    pub(super) leaving: Vec<usize>,
}

impl Curves {
    /// Puts the boundary on the grid and strings it together.
    pub(super) fn new(
        edges: &[BoundaryEdge],
        frame: Frame,
        tolerance: f64,
    ) -> Result<Self, NoTorsion> {
        // Two ends that belong together may each be off by the tolerance, and by half a step.
        let reach = 2.0 * tolerance * GRID as f64 / frame.size + 1.0;
        let places: Vec<[f64; 2]> = edges
            .iter()
            .flat_map(|edge| [frame.place(edge.from), frame.place(edge.to)])
            .collect();
        let (corners, of_place) = merged(&places, reach);
        let curves: Vec<Curve> = edges
            .iter()
            .zip(of_place.chunks_exact(2))
            .filter(|(_, ends)| ends[0] != ends[1])
            .map(|(edge, ends)| curve(edge.arc, ends[0], ends[1], &corners, frame))
            .collect();
        let mut arriving = vec![None; corners.len()];
        let mut leaving = vec![None; corners.len()];
        for (index, own) in curves.iter().enumerate() {
            let before = [
                leaving[own.from].replace(index),
                arriving[own.to].replace(index),
            ];
            if before.iter().any(Option::is_some) {
                return Err(NoTorsion::TouchesInAPoint);
            }
        }
        let closed = |ends: Vec<Option<usize>>| ends.into_iter().collect::<Option<Vec<usize>>>();
        let (arriving, leaving) = closed(arriving)
            .zip(closed(leaving))
            .ok_or(NoTorsion::NoMesh)?;
        Ok(Self {
            corners,
            curves,
            arriving,
            leaving,
        })
    }

    /// Whether two curves meet in a corner, or are the same.
    pub(super) fn are_adjacent(&self, one: usize, other: usize) -> bool {
        let (a, b) = (&self.curves[one], &self.curves[other]);
        one == other || a.from == b.to || a.to == b.from
    }

    /// The angle in the material at a corner, from 0 to 2π.
    pub(super) fn angle_at(&self, corner: usize) -> f64 {
        let before = self.curves[self.arriving[corner]].direction(true);
        let after = self.curves[self.leaving[corner]].direction(false);
        let sine = before[0] * after[1] - before[1] * after[0];
        let cosine = before[0] * after[0] + before[1] * after[1];
        std::f64::consts::PI - libm::atan2(sine, cosine)
    }
}

fn curve(
    arc: Option<BoundaryArc>,
    from: usize,
    to: usize,
    corners: &[GridPoint],
    frame: Frame,
) -> Curve {
    let place = |corner: usize| corners[corner].map(|own| own as f64);
    let (start, end) = (place(from), place(to));
    let arc = arc.map(|own| {
        let centre = frame.place(own.centre);
        let spoke = |point: [f64; 2]| [point[0] - centre[0], point[1] - centre[1]];
        let (one, other) = (spoke(start), spoke(end));
        let sine = one[0] * other[1] - one[1] * other[0];
        let cosine = one[0] * other[0] + one[1] * other[1];
        let sense = if own.anticlockwise { 1.0 } else { -1.0 };
        Arc {
            centre,
            radius: own.radius * GRID as f64 / frame.size,
            angle: libm::atan2(one[1], one[0]),
            sweep: sense * libm::atan2(sine, cosine).abs(),
        }
    });
    Curve {
        from,
        to,
        start,
        end,
        arc,
    }
}

/// Places that lie within reach of each other made one: the corners, and the corner of each place.
fn merged(places: &[[f64; 2]], reach: f64) -> (Vec<GridPoint>, Vec<usize>) {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| {
        let by_x = places[a][0].total_cmp(&places[b][0]);
        by_x.then(places[a][1].total_cmp(&places[b][1]))
    });
    let mut corners: Vec<GridPoint> = Vec::new();
    let mut firsts: Vec<[f64; 2]> = Vec::new();
    let mut of_place = vec![0; places.len()];
    for index in order {
        let place = places[index];
        let known = firsts
            .iter()
            .enumerate()
            .rev()
            .take_while(|(_, first)| place[0] - first[0] <= reach)
            .find(|(_, first)| (place[1] - first[1]).abs() <= reach)
            .map(|(corner, _)| corner);
        of_place[index] = known.unwrap_or(corners.len());
        if known.is_none() {
            firsts.push(place);
            corners.push(place.map(|own| libm::round(own) as i64));
        }
    }
    (corners, of_place)
}

pub(super) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    let (x, y) = (a[0] - b[0], a[1] - b[1]);
    (x * x + y * y).sqrt()
}
