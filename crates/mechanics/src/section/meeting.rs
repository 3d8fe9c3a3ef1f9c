//! Where two edges meet.

use super::edge::{Circle, Curve, Edge};
use super::vector::Vector;

/// The points that two edges share within the tolerance; where they run along each other, the
/// ends of the common stretch.
pub(super) fn meeting_points(a: Edge, b: Edge, tolerance: f64) -> Vec<Vector> {
    let mut points: Vec<Vector> = Vec::new();
    if !a.extent().is_near(b.extent(), tolerance) {
        return points;
    }
    let ends = [(b, a), (a, b)]
        .into_iter()
        .flat_map(|(of, on)| [(of.from, on), (of.to, on)])
        .filter(|&(end, on)| on.distance(end) <= tolerance)
        .map(|(end, _)| end);
    let crossings = crossings(a, b, tolerance)
        .into_iter()
        .flatten()
        .filter(|&point| a.distance(point) <= tolerance && b.distance(point) <= tolerance);
    for point in ends.chain(crossings) {
        if points.iter().all(|known| known.distance(point) > tolerance) {
            points.push(point);
        }
    }
    points
}

/// The points where the line or circle of one edge crosses that of the other.
fn crossings(a: Edge, b: Edge, tolerance: f64) -> [Option<Vector>; 2] {
    match (a.curve, b.curve) {
        (Curve::Straight, Curve::Straight) => [lines(a, b), None],
        (Curve::Straight, Curve::Arc(circle)) => line_and_circle(a, circle, tolerance),
        (Curve::Arc(circle), Curve::Straight) => line_and_circle(b, circle, tolerance),
        (Curve::Arc(first), Curve::Arc(second)) => circles(first, second, tolerance),
    }
}

fn lines(a: Edge, b: Edge) -> Option<Vector> {
    let (along_a, along_b) = (a.to - a.from, b.to - b.from);
    let cross = along_a.cross(along_b);
    // Parallel lines meet at the ends of their edges or not at all.
    if cross.abs() <= 1e-14 * along_a.length() * along_b.length() {
        return None;
    }
    let share = (b.from - a.from).cross(along_b) / cross;
    Some(a.from + along_a * share)
}

fn line_and_circle(line: Edge, circle: Circle, tolerance: f64) -> [Option<Vector>; 2] {
    let along = line.to - line.from;
    let along = along * (1.0 / along.length());
    let to_centre = circle.centre - line.from;
    let foot = line.from + along * along.dot(to_centre);
    let distance = along.cross(to_centre).abs();
    around(foot, along, distance, circle.radius, tolerance)
}

fn circles(first: Circle, second: Circle, tolerance: f64) -> [Option<Vector>; 2] {
    let between = second.centre - first.centre;
    let distance = between.length();
    // Circles with one centre are the same or do not meet.
    if distance <= tolerance {
        return [None, None];
    }
    let along = between * (1.0 / distance);
    let (r, s) = (first.radius, second.radius);
    let to_foot = (distance + (r - s) * (r + s) / distance) / 2.0;
    let foot = first.centre + along * to_foot;
    around(foot, along.quarter_turn(), to_foot.abs(), r, tolerance)
}

/// The points of a line at the distance from the centre, given its foot, that lie on the circle.
fn around(
    foot: Vector,
    along: Vector,
    distance: f64,
    radius: f64,
    tolerance: f64,
) -> [Option<Vector>; 2] {
    if distance > radius + tolerance {
        return [None, None];
    }
    // A line that touches within the tolerance touches once.
    if distance >= radius - tolerance {
        return [Some(foot), None];
    }
    let half = ((radius - distance) * (radius + distance)).sqrt();
    [Some(foot - along * half), Some(foot + along * half)]
}
