//! Area integrals of a region from its boundary.

use super::edge::{Circle, Curve, Edge};
use super::vector::Vector;

/// The integrals of 1, x, y, x², y² and xy over an area, about the axes in use.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Integrals {
    pub(super) area: f64,
    /// ∫ x dA
    pub(super) x: f64,
    /// ∫ y dA
    pub(super) y: f64,
    /// ∫ x² dA, the second moment of area about the y axis.
    pub(super) xx: f64,
    /// ∫ y² dA, the second moment of area about the x axis.
    pub(super) yy: f64,
    /// ∫ x·y dA
    pub(super) xy: f64,
}

impl Integrals {
    /// The sum with `factor` times another set about the same axes.
    pub(super) fn plus(self, factor: f64, other: Self) -> Self {
        Self {
            area: self.area + factor * other.area,
            x: self.x + factor * other.x,
            y: self.y + factor * other.y,
            xx: self.xx + factor * other.xx,
            yy: self.yy + factor * other.yy,
            xy: self.xy + factor * other.xy,
        }
    }

    /// The integrals over what some oriented edges enclose, about the origin.
    pub(super) fn of(edges: impl IntoIterator<Item = Edge>) -> Self {
        edges.into_iter().fold(Self::default(), |sum, edge| {
            sum.plus(1.0, Self::of_edge(edge))
        })
    }

    /// What one edge contributes by Green's theorem, ∬ f dA = ∮ F dy with ∂F/∂x = f.
    ///
    /// In this form a level edge contributes nothing. The part of a region between two levels
    /// therefore needs no edges along the cuts, and the pieces of its edges suffice.
    pub(super) fn of_edge(edge: Edge) -> Self {
        let chord = Self::of_straight(edge.from, edge.to);
        match edge.curve {
            Curve::Straight => chord,
            Curve::Arc(circle) => {
                chord.plus(circle.sense(), Self::of_segment(edge.from, edge.to, circle))
            }
        }
    }

    fn of_straight(from: Vector, to: Vector) -> Self {
        let (x1, y1, x2, y2) = (from.x, from.y, to.x, to.y);
        let rise = y2 - y1;
        Self {
            area: rise * (x1 + x2) / 2.0,
            x: rise * (x1 * x1 + x1 * x2 + x2 * x2) / 6.0,
            y: rise * (y1 * (2.0 * x1 + x2) + y2 * (x1 + 2.0 * x2)) / 6.0,
            xx: rise * (x1 + x2) * (x1 * x1 + x2 * x2) / 12.0,
            yy: rise
                * (y1 * y1 * (3.0 * x1 + x2)
                    + 2.0 * y1 * y2 * (x1 + x2)
                    + y2 * y2 * (x1 + 3.0 * x2))
                / 12.0,
            xy: rise
                * (y1 * (3.0 * x1 * x1 + 2.0 * x1 * x2 + x2 * x2)
                    + y2 * (x1 * x1 + 2.0 * x1 * x2 + 3.0 * x2 * x2))
                / 24.0,
        }
    }

    /// The circular segment between an arc and its chord.
    ///
    /// With the half angle a, s = sin a, c = cos a, and u from the middle of the chord along the
    /// axis of symmetry: A = r²(a − sc), ∫u dA = ⅔r³s³ − rc·A, ∫u² dA = r⁴/4 (a − sc + 2s³c) −
    /// 4⁄3 r⁴s³c + r²c²·A, ∫v² dA = r⁴/12 (3a − 3sc − 2s³c). Common practice, from the sector less
    /// the triangle, as in any table of plane figures. All of these cancel where the arc is flat;
    /// their power series do not.
    fn of_segment(from: Vector, to: Vector, circle: Circle) -> Self {
        let chord = to - from;
        let length = chord.length();
        if length == 0.0 {
            return Self::default();
        }
        let half_angle = libm::asin((length / (2.0 * circle.radius)).min(1.0));
        let angle = 2.0 * half_angle;
        let square = circle.radius * circle.radius;
        // z − sin z, with z = 2a.
        let area = square / 2.0 * alternating_series(angle, 3, 1.0, |_, _| 1.0);
        // ¾ sin a + 1⁄12 sin 3a − a cos a
        let along = square
            * circle.radius
            * alternating_series(half_angle, 5, 3.0, |p, three| 0.75 + three / 12.0 - p);
        // ⅜z + ¼z cos z − 7⁄12 sin z − 1⁄48 sin 2z
        let along_twice = square
            * square
            * alternating_series(angle, 7, 2.0, |p, two| two / 48.0 + 7.0 / 12.0 - p / 4.0);
        // 6z − 8 sin z + sin 2z
        let across_twice =
            square * square / 48.0 * alternating_series(angle, 5, 2.0, |_, two| two - 8.0);
        let axis = chord.quarter_turn() * (-circle.sense() / length);
        let (ux, uy) = (axis.x, axis.y);
        let Vector { x, y } = from.middle(to);
        Self {
            area,
            x: area * x + ux * along,
            y: area * y + uy * along,
            xx: area * x * x
                + 2.0 * x * ux * along
                + ux * ux * along_twice
                + uy * uy * across_twice,
            yy: area * y * y
                + 2.0 * y * uy * along
                + uy * uy * along_twice
                + ux * ux * across_twice,
            xy: area * x * y + (x * uy + y * ux) * along + ux * uy * (along_twice - across_twice),
        }
    }
}

/// w(p)·z^p/p! − w(p+2)·z^(p+2)/(p+2)! + … from the first odd power p on, with the weight w given
/// as a function of the power and of the base raised to it.
fn alternating_series(
    z: f64,
    first_power: u32,
    base: f64,
    weight: impl Fn(f64, f64) -> f64,
) -> f64 {
    let mut term = 1.0;
    let mut base_to_power = 1.0;
    for power in 1..=first_power {
        term *= z / f64::from(power);
        base_to_power *= base;
    }
    let mut sum = 0.0;
    let mut power = f64::from(first_power);
    // The last term is below 1e-18 of the first for angles of an arc of a quarter circle.
    for _ in 0..16 {
        sum += term * weight(power, base_to_power);
        term *= -(z / (power + 1.0)) * (z / (power + 2.0));
        base_to_power *= base * base;
        power += 2.0;
    }
    sum
}

/// Area, centroid and second moments about the own centroid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moments {
    pub(super) area: f64,
    pub(super) centroid: Vector,
    /// About the horizontal axis through the centroid.
    pub(super) ixx: f64,
    /// About the vertical axis through the centroid.
    pub(super) iyy: f64,
    /// ∫ x·y dA about the axes through the centroid.
    pub(super) ixy: f64,
}

impl Moments {
    /// From integrals about axes through `origin`.
    pub(super) fn new(integrals: Integrals, origin: Vector) -> Self {
        let Integrals {
            area,
            x,
            y,
            xx,
            yy,
            xy,
        } = integrals;
        let (x, y) = (x / area, y / area);
        Self {
            area,
            centroid: origin + Vector::new(x, y),
            ixx: yy - area * y * y,
            iyy: xx - area * x * x,
            ixy: xy - area * x * y,
        }
    }

    /// The greatest and the least second moment about any axis through the centroid.
    pub(super) fn principal(self) -> (f64, f64) {
        let Self { ixx, iyy, ixy, .. } = self;
        if ixy == 0.0 {
            return (ixx.max(iyy), ixx.min(iyy));
        }
        let half = (ixx - iyy) / 2.0;
        let major = (ixx + iyy) / 2.0 + (half * half + ixy * ixy).sqrt();
        // The product of both is Ixx·Iyy − Ixy², which cancels less than their difference.
        (major, (ixx * iyy - ixy * ixy) / major)
    }

    /// The thickness of a plate with the same area and least second moment, √(12 I/A).
    pub(super) fn thickness(self) -> f64 {
        (12.0 * self.principal().1 / self.area).max(0.0).sqrt()
    }

    /// The sum of areas with factors, by the parallel-axis theorem.
    pub(super) fn sum(rows: &[(f64, Self)], origin: Vector) -> Self {
        let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
        for (factor, row) in rows {
            let arm = row.centroid - origin;
            area += factor * row.area;
            x += factor * row.area * arm.x;
            y += factor * row.area * arm.y;
        }
        let centroid = origin + Vector::new(x / area, y / area);
        let (mut ixx, mut iyy, mut ixy) = (0.0, 0.0, 0.0);
        for (factor, row) in rows {
            let arm = row.centroid - centroid;
            ixx += factor * (row.ixx + row.area * arm.y * arm.y);
            iyy += factor * (row.iyy + row.area * arm.x * arm.x);
            ixy += factor * (row.ixy + row.area * arm.x * arm.y);
        }
        Self {
            area,
            centroid,
            ixx,
            iyy,
            ixy,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Segments over a chord of 1: radius, area, height of the centroid above the chord, second
    /// moments about the level and the upright axis through the centroid.
    ///
    /// Source: the closed forms (see `of_segment`) with mpmath 1.3.0 at 50 digits.
    const SEGMENTS: [[f64; 5]; 4] = [
        [
            0.6,
            0.18880864248381846,
            0.1097014979364108,
            0.0009413513489356768,
            0.010083142843636577,
        ],
        [
            2.0,
            0.042475184016460395,
            0.025438222268591697,
            1.1755637750492058e-05,
            0.0021316074934664667,
        ],
        [
            100.0,
            0.00083333958341704,
            0.0005000033929005215,
            8.928752483701844e-11,
            4.166703869590163e-05,
        ],
        [
            5000.0,
            1.6666666716666667e-05,
            1.0000000027142857e-05,
            7.142857200793651e-16,
            8.333333363095238e-07,
        ],
    ];

    #[test]
    fn flat_and_full_segments_keep_their_digits() {
        for [radius, area, height, ixx, iyy] in SEGMENTS {
            let half = 0.5;
            let below = -((radius - half) * (radius + half)).sqrt();
            let circle = Circle {
                centre: Vector::new(0.0, below),
                radius,
                anticlockwise: true,
            };
            let (left, right) = (Vector::new(-half, 0.0), Vector::new(half, 0.0));
            let mut edges = Edge::arcs(right, left, circle);
            edges.push(Edge::straight(left, right));
            let found = Moments::new(Integrals::of(edges), Vector::new(0.0, 0.0));
            for (name, found, expected) in [
                ("area", found.area, area),
                ("height", found.centroid.y, height),
                ("ixx", found.ixx, ixx),
                ("iyy", found.iyy, iyy),
            ] {
                // The height, 1/(8 radius), is known to the rounding of the radius only.
                let off = (found / expected - 1.0).abs();
                assert!(
                    off < 1e-14 + 4e-15 * radius * radius,
                    "{radius} {name}: {found} {off}"
                );
            }
        }
    }
}
