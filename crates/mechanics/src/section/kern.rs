//! The kern, and forces off the centroid.

use haunch_quantity::typed::{Force, Length, Ratio, Typed};

use super::edge::{Curve, Edge};
use super::outline::Point;
use super::stress::Forces;
use super::vector::Vector;
use super::{Moments, Section};

/// How many lines touch a quarter of an arc.
const LINES_PER_QUARTER: u32 = 32;

/// A line that touches two arcs is found in fewer steps than this.
const MOST_STEPS: usize = 20;

/// A corner of the kern: a force there has its neutral axis along a straight side of the convex
/// hull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KernCorner {
    /// Where it is.
    pub place: Point,
    /// The distance d of the neutral axis from the centroid.
    pub distance: Length,
    /// The direction of the normal n from the centroid to the neutral axis, from the x axis
    /// anticlockwise, in rad, above −π and up to π.
    pub angle: Ratio,
}

impl Section {
    /// The forces of an axial force that acts at a place, tension positive.
    pub fn eccentric(&self, axial: Force, place: Point) -> Forces {
        let arm = place.vector() - self.moments.centroid;
        let arm = Point::from_vector(arm);
        Forces {
            axial,
            moment_x: -(axial * arm.y),
            moment_y: -(axial * arm.x),
        }
    }

    /// The kern, or core: the places where an axial force causes stress of one sign alone. Its
    /// corners anticlockwise; it is convex.
    ///
    /// Each line that touches the section without cutting it is the neutral axis of a force at one
    /// place on the kern's edge: with the unit normal n outwards and the distance d from the
    /// centroid, e_x = −(Iyy·n_x + Ixy·n_y)/(A·d), e_y = −(Ixy·n_x + Ixx·n_y)/(A·d) (common
    /// practice; from σ = 0 in the general formula of [`Section::stress`]). The lines along the
    /// sides of the convex hull give the corners. Arcs on the hull make the kern's edge curved: it
    /// is replaced by chords between points on it, so that the corners as given lie within the
    /// kern, for a full circle by less than a thousandth of its size. Properties are those of the
    /// transformed section.
    pub fn kern(&self) -> Vec<Point> {
        let mut corners: Vec<Vector> = Vec::new();
        let hull = hull(self.touching_points());
        let following = hull.iter().cycle().skip(1);
        for (&from, &to) in hull.iter().zip(following) {
            let along = to - from;
            let outwards = -along.quarter_turn() * (1.0 / along.length());
            let corner = self.kern_point(outwards);
            let is_new = |known: &&Vector| known.distance(corner) > self.tolerance;
            if corners.last().is_none_or(|known| is_new(&known)) {
                corners.push(corner);
            }
        }
        if let (Some(first), Some(last)) = (corners.first(), corners.last())
            && corners.len() > 1
            && first.distance(*last) <= self.tolerance
        {
            corners.pop();
        }
        corners.into_iter().map(Point::from_vector).collect()
    }

    /// The corners of the kern, anticlockwise, the first of them from the direction of x on.
    ///
    /// Each straight side of the convex hull is the neutral axis of a force at a corner; see
    /// [`Section::kern`] for the formula. Between two corners the kern's edge is straight where a
    /// corner of the hull lies between the two sides, and curved where an arc does: the kern of a
    /// circle has no corners.
    pub fn kern_corners(&self) -> Vec<KernCorner> {
        let hull = hull(self.touching_points());
        let places: Vec<(Vector, Vec<Edge>)> = hull
            .into_iter()
            .map(|point| (point, self.arcs_through(point)))
            .collect();
        let following = places.iter().cycle().skip(1);
        let mut corners: Vec<(Vector, Vector)> = Vec::new();
        for (from, to) in places.iter().zip(following) {
            if from.1.iter().any(|&arc| is_chord(arc, from.0, to.0)) {
                continue;
            }
            let outwards = touching_line(from, to);
            let corner = self.kern_point(outwards);
            let is_new = |(_, known): &(Vector, Vector)| known.distance(corner) > self.tolerance;
            if corners.iter().all(is_new) {
                corners.push((outwards, corner));
            }
        }
        let centroid = self.moments.centroid;
        let turned = |(_, corner): &(Vector, Vector)| {
            let arm = *corner - centroid;
            // A corner that lies in the direction of x but for rounding is the first.
            let rise = if arm.y.abs() <= self.tolerance {
                0.0
            } else {
                arm.y
            };
            let angle = libm::atan2(rise, arm.x);
            if angle < 0.0 {
                angle + std::f64::consts::TAU
            } else {
                angle
            }
        };
        corners.sort_by(|one, other| turned(one).total_cmp(&turned(other)));
        let corner = |(outwards, corner): (Vector, Vector)| KernCorner {
            place: Point::from_vector(corner),
            distance: Length::from_si(self.reach(outwards)),
            angle: Ratio::from_si(direction(outwards)),
        };
        corners.into_iter().map(corner).collect()
    }

    /// The arcs that a point of the hull lies on.
    fn arcs_through(&self, point: Vector) -> Vec<Edge> {
        let edges = self.members.iter().flat_map(|member| &member.net.edges);
        let through = edges.filter(|edge| match edge.curve {
            Curve::Straight => false,
            Curve::Arc(circle) => {
                let off = point.distance(circle.centre) - circle.radius;
                let chord = edge.to - edge.from;
                let share = (point - edge.from).dot(chord);
                let slack = self.tolerance * chord.length();
                off.abs() <= self.tolerance && share >= -slack && share <= chord.dot(chord) + slack
            }
        });
        through.copied().collect()
    }

    /// How far the section reaches from the centroid in a direction.
    fn reach(&self, outwards: Vector) -> f64 {
        let edges = self.members.iter().flat_map(|member| &member.net.edges);
        let distances = edges.map(|edge| {
            let farthest = edge.bulge_towards(outwards).unwrap_or(edge.from);
            outwards.dot(farthest - self.moments.centroid)
        });
        distances.fold(0.0, f64::max)
    }

    /// Where a force acts whose neutral axis touches the section on the side of a direction.
    fn kern_point(&self, outwards: Vector) -> Vector {
        let Moments {
            area,
            centroid,
            ixx,
            iyy,
            ixy,
        } = self.moments;
        let reach = area * self.reach(outwards);
        let pole = Vector::new(
            -(iyy * outwards.x + ixy * outwards.y) / reach,
            -(ixy * outwards.x + ixx * outwards.y) / reach,
        );
        centroid + pole
    }

    /// Corners of the material, and points along its arcs.
    fn touching_points(&self) -> Vec<Vector> {
        let edges = self.members.iter().flat_map(|member| &member.net.edges);
        edges.flat_map(|&edge| points_along(edge)).collect()
    }
}

/// The direction of a unit vector, above −π and up to π: what points left but for rounding has π.
fn direction(vector: Vector) -> f64 {
    let rise = if vector.y.abs() <= 1e-12 {
        0.0
    } else {
        vector.y
    };
    libm::atan2(rise, vector.x)
}

/// Whether a side of the hull is but the chord of a piece of an arc.
fn is_chord(arc: Edge, from: Vector, to: Vector) -> bool {
    let Curve::Arc(circle) = arc.curve else {
        return false;
    };
    let (start, end) = (arc.from - circle.centre, arc.to - circle.centre);
    let (one, other) = (from - circle.centre, to - circle.centre);
    let angle = |a: Vector, b: Vector| libm::atan2(a.cross(b), a.dot(b)).abs();
    let off = (other.length() - circle.radius).abs();
    off <= 1e-9 * circle.radius
        && angle(one, other) <= 1.5 * angle(start, end) / f64::from(LINES_PER_QUARTER)
}

/// The normal outwards of the line that touches what is round two points of the hull.
fn touching_line(from: &(Vector, Vec<Edge>), to: &(Vector, Vec<Edge>)) -> Vector {
    let farthest = |(point, arcs): &(Vector, Vec<Edge>), outwards: Vector| {
        let bulges = arcs.iter().filter_map(|arc| arc.bulge_towards(outwards));
        bulges.fold(*point, |best, own| {
            if outwards.dot(own - best) > 0.0 {
                own
            } else {
                best
            }
        })
    };
    let normal = |along: Vector| -along.quarter_turn() * (1.0 / along.length());
    let mut outwards = normal(to.0 - from.0);
    // Newton's method on the difference of how far both reach.
    for _ in 0..MOST_STEPS {
        let along = farthest(to, outwards) - farthest(from, outwards);
        let better = normal(along);
        if better == outwards || !better.is_finite() {
            break;
        }
        outwards = better;
    }
    outwards
}

fn points_along(edge: Edge) -> Vec<Vector> {
    let Curve::Arc(circle) = edge.curve else {
        return vec![edge.from];
    };
    let (start, end) = (edge.from - circle.centre, edge.to - circle.centre);
    let sweep = libm::atan2(start.cross(end), start.dot(end));
    let point = |step: u32| {
        let angle = sweep * f64::from(step) / f64::from(LINES_PER_QUARTER);
        circle.centre + start * libm::cos(angle) + start.quarter_turn() * libm::sin(angle)
    };
    (0..LINES_PER_QUARTER).map(point).collect()
}

/// The corners of the convex hull, anticlockwise (Andrew 1979, Inf. Process. Lett. 9).
fn hull(mut points: Vec<Vector>) -> Vec<Vector> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let chain = |points: &mut dyn Iterator<Item = Vector>| {
        let mut chain: Vec<Vector> = Vec::new();
        for point in points {
            while let [.., before, last] = chain.as_slice()
                && (*last - *before).cross(point - *last) <= 0.0
            {
                chain.pop();
            }
            chain.push(point);
        }
        // The last point starts the other chain.
        chain.pop();
        chain
    };
    let mut hull = chain(&mut points.iter().copied());
    hull.extend(chain(&mut points.iter().rev().copied()));
    hull
}
