//! The kern, and forces off the centroid.

use haunch_quantity::typed::Force;

use super::edge::{Curve, Edge};
use super::outline::Point;
use super::stress::Forces;
use super::vector::Vector;
use super::{Moments, Section};

/// How many lines touch a quarter of an arc.
const LINES_PER_QUARTER: u32 = 32;

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

    /// Where a force acts whose neutral axis touches the section on the side of a direction.
    fn kern_point(&self, outwards: Vector) -> Vector {
        let Moments {
            area,
            centroid,
            ixx,
            iyy,
            ixy,
        } = self.moments;
        let edges = self.members.iter().flat_map(|member| &member.net.edges);
        let distances = edges.map(|edge| {
            let farthest = edge.bulge_towards(outwards).unwrap_or(edge.from);
            outwards.dot(farthest - centroid)
        });
        let reach = area * distances.fold(0.0, f64::max);
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
