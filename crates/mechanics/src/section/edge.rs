//! One edge of an outline: a straight line or a piece of a circle.

use super::vector::{Extent, Vector};

/// An oriented edge; the material lies to its left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    pub(super) from: Vector,
    pub(super) to: Vector,
    pub(super) curve: Curve,
}

/// The course of an edge between its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Curve {
    Straight,
    /// A piece of a circle that stays within one of its quarters, so that it rises or falls
    /// throughout in both x and y.
    Arc(Circle),
}

/// A circle that is run round in one sense.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Circle {
    pub(super) centre: Vector,
    pub(super) radius: f64,
    pub(super) anticlockwise: bool,
}

impl Circle {
    /// +1 anticlockwise, -1 clockwise.
    pub(super) fn sense(self) -> f64 {
        if self.anticlockwise { 1.0 } else { -1.0 }
    }
}

impl Edge {
    pub(super) fn straight(from: Vector, to: Vector) -> Self {
        Self {
            from,
            to,
            curve: Curve::Straight,
        }
    }

    /// The arcs, each within a quarter of the circle, that lead from one point to another.
    ///
    /// When both points are the same, the whole circle is run round.
    pub(super) fn arcs(from: Vector, to: Vector, circle: Circle) -> Vec<Self> {
        const QUARTERS: [Vector; 4] = [
            Vector::new(1.0, 0.0),
            Vector::new(0.0, 1.0),
            Vector::new(-1.0, 0.0),
            Vector::new(0.0, -1.0),
        ];
        let start = from - circle.centre;
        let sense = circle.sense();
        // How far a direction lies round the circle from the start, in the sense of the circle.
        let turn = |direction: Vector| {
            let angle = libm::atan2(sense * start.cross(direction), start.dot(direction));
            if angle > 0.0 {
                angle
            } else {
                angle + std::f64::consts::TAU
            }
        };
        let end = turn(to - circle.centre);
        // Ends that lie on a quarter point but for rounding are not split off.
        let least = 1e-12;
        let mut stops: Vec<(f64, Vector)> = QUARTERS
            .iter()
            .map(|&direction| (turn(direction), circle.centre + direction * circle.radius))
            .filter(|&(angle, _)| angle > least && angle < end - least)
            .collect();
        stops.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut edges = Vec::with_capacity(stops.len() + 1);
        let mut here = from;
        for point in stops.into_iter().map(|(_, point)| point).chain([to]) {
            edges.push(Self {
                from: here,
                to: point,
                curve: Curve::Arc(circle),
            });
            here = point;
        }
        edges
    }

    pub(super) fn reversed(self) -> Self {
        let curve = match self.curve {
            Curve::Straight => Curve::Straight,
            Curve::Arc(circle) => Curve::Arc(Circle {
                anticlockwise: !circle.anticlockwise,
                ..circle
            }),
        };
        Self {
            from: self.to,
            to: self.from,
            curve,
        }
    }

    pub(super) fn moved(self, by: Vector) -> Self {
        let curve = match self.curve {
            Curve::Straight => Curve::Straight,
            Curve::Arc(circle) => Curve::Arc(Circle {
                centre: circle.centre + by,
                ..circle
            }),
        };
        Self {
            from: self.from + by,
            to: self.to + by,
            curve,
        }
    }

    /// With x and y exchanged; the material stays to the left.
    pub(super) fn transposed(self) -> Self {
        let swap = |point: Vector| Vector::new(point.y, point.x);
        let curve = match self.curve {
            Curve::Straight => Curve::Straight,
            // Exchanging the axes turns the sense round, and running backwards turns it again.
            Curve::Arc(circle) => Curve::Arc(Circle {
                centre: swap(circle.centre),
                ..circle
            }),
        };
        Self {
            from: swap(self.to),
            to: swap(self.from),
            curve,
        }
    }

    /// Exact, because an arc stays within a quarter of its circle.
    pub(super) fn extent(self) -> Extent {
        let own = |point| Extent {
            low: point,
            high: point,
        };
        own(self.from).with(own(self.to))
    }

    /// The point halfway along.
    pub(super) fn middle(self) -> Vector {
        let chord = self.from.middle(self.to);
        match self.curve {
            Curve::Straight => chord,
            Curve::Arc(circle) => {
                let direction = chord - circle.centre;
                circle.centre + direction * (circle.radius / direction.length())
            }
        }
    }

    /// The direction of running at a point of the edge, of any length.
    pub(super) fn direction_at(self, point: Vector) -> Vector {
        match self.curve {
            Curve::Straight => self.to - self.from,
            Curve::Arc(circle) => (point - circle.centre).quarter_turn() * circle.sense(),
        }
    }

    /// The distance of a point from the edge.
    pub(super) fn distance(self, point: Vector) -> f64 {
        let ends = point.distance(self.from).min(point.distance(self.to));
        match self.curve {
            Curve::Straight => {
                let along = self.to - self.from;
                let foot = (point - self.from).dot(along) / along.dot(along);
                if foot > 0.0 && foot < 1.0 {
                    (along.cross(point - self.from) / along.length()).abs()
                } else {
                    ends
                }
            }
            Curve::Arc(circle) => {
                if self.faces(circle, point) {
                    (point.distance(circle.centre) - circle.radius).abs()
                } else {
                    ends
                }
            }
        }
    }

    /// Whether the ray from the centre through the point meets the arc.
    fn faces(self, circle: Circle, point: Vector) -> bool {
        let ray = point - circle.centre;
        let sense = circle.sense();
        sense * (self.from - circle.centre).cross(ray) >= 0.0
            && sense * ray.cross(self.to - circle.centre) >= 0.0
    }

    /// The point of an arc that lies farthest in a direction; `None` for a straight edge and
    /// where an end lies farther.
    pub(super) fn bulge_towards(self, direction: Vector) -> Option<Vector> {
        let Curve::Arc(circle) = self.curve else {
            return None;
        };
        let length = direction.length();
        let point = circle.centre + direction * (circle.radius / length);
        (length > 0.0 && self.faces(circle, point)).then_some(point)
    }

    /// The abscissa at a level that the edge reaches.
    pub(super) fn x_at(self, y: f64) -> f64 {
        if y == self.from.y {
            return self.from.x;
        }
        if y == self.to.y {
            return self.to.x;
        }
        match self.curve {
            Curve::Straight => {
                let share = ((y - self.from.y) / (self.to.y - self.from.y)).clamp(0.0, 1.0);
                self.from.x + (self.to.x - self.from.x) * share
            }
            Curve::Arc(circle) => {
                let rise = y - circle.centre.y;
                let square = (circle.radius - rise) * (circle.radius + rise);
                let reach = square.max(0.0).sqrt();
                let side = (self.from.x - circle.centre.x) + (self.to.x - circle.centre.x);
                circle.centre.x + if side < 0.0 { -reach } else { reach }
            }
        }
    }

    /// The slope dx/dy at a level inside the edge.
    pub(super) fn slope_at(self, y: f64) -> f64 {
        match self.curve {
            Curve::Straight => (self.to.x - self.from.x) / (self.to.y - self.from.y),
            Curve::Arc(circle) => (circle.centre.y - y) / (self.x_at(y) - circle.centre.x),
        }
    }

    pub(super) fn is_upward(self) -> bool {
        self.to.y > self.from.y
    }

    /// The piece between two levels; `None` when nothing of it rises or falls there.
    pub(super) fn between(self, low: f64, high: f64) -> Option<Self> {
        let clip = |point: Vector| {
            if point.y < low {
                Vector::new(self.x_at(low), low)
            } else if point.y > high {
                Vector::new(self.x_at(high), high)
            } else {
                point
            }
        };
        let (bottom, top) = (self.from.y.min(self.to.y), self.from.y.max(self.to.y));
        (bottom < top && bottom < high && top > low).then(|| Self {
            from: clip(self.from),
            to: clip(self.to),
            curve: self.curve,
        })
    }

    /// The pieces between points on the edge, in running order.
    pub(super) fn split(self, points: &[Vector], tolerance: f64) -> Vec<Self> {
        let chord = self.to - self.from;
        let mut stops: Vec<Vector> = points
            .iter()
            .copied()
            .filter(|point| {
                point.distance(self.from) > tolerance && point.distance(self.to) > tolerance
            })
            .collect();
        stops.sort_by(|a, b| {
            (*a - self.from)
                .dot(chord)
                .total_cmp(&(*b - self.from).dot(chord))
        });
        stops.dedup_by(|a, b| a.distance(*b) <= tolerance);
        let mut pieces = Vec::with_capacity(stops.len() + 1);
        let mut here = self.from;
        for point in stops.into_iter().chain([self.to]) {
            pieces.push(Self {
                from: here,
                to: point,
                curve: self.curve,
            });
            here = point;
        }
        pieces
    }
}
