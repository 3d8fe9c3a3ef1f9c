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
    /// With the half angle a, s = sin a, c = cos a, and u along the axis of symmetry from the
    /// centre of the circle: A = r²(a − sc), ∫u dA = ⅔ r³ s³, ∫u² dA = r⁴/4 (a − sc + 2s³c),
    /// ∫v² dA = r⁴/12 (3a − 3sc − 2s³c). Common practice, in any table of plane figures; the
    /// tests compare whole circles and numerical integrals.
    fn of_segment(from: Vector, to: Vector, circle: Circle) -> Self {
        let chord = to - from;
        let length = chord.length();
        if length == 0.0 {
            return Self::default();
        }
        let radius = circle.radius;
        let sine = (length / (2.0 * radius)).min(1.0);
        let cosine = ((1.0 - sine) * (1.0 + sine)).sqrt();
        let angle = 2.0 * libm::asin(sine);
        let square = radius * radius;
        let area = square * angle_less_sine(angle) / 2.0;
        let along = square * radius * sine * sine * sine * (2.0 / 3.0);
        let cubic = 2.0 * sine * sine * sine * cosine;
        let along_twice = square * (area + square * cubic) / 4.0;
        let across_twice = square * square * third_difference(angle) / 48.0;
        let axis = chord.quarter_turn() * (-circle.sense() / length);
        let (ux, uy) = (axis.x, axis.y);
        let Vector { x, y } = circle.centre;
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

/// z − sin z for 0 ≤ z ≤ π/2 by its series, which does not cancel where z is small.
fn angle_less_sine(z: f64) -> f64 {
    alternating_series(z, 3, |_| 1.0)
}

/// 6z − 8 sin z + sin 2z = 4 (3a − 3 sin a cos a − 2 sin³a cos a) with z = 2a, by its series.
fn third_difference(z: f64) -> f64 {
    alternating_series(z, 5, |power_of_two| power_of_two - 8.0)
}

/// z^p/p!·w(p) − z^(p+2)/(p+2)!·w(p+2) + …, with the weight given as a function of 2^p.
fn alternating_series(z: f64, first_power: u32, weight: impl Fn(f64) -> f64) -> f64 {
    let mut term = 1.0;
    let mut power_of_two = 1.0;
    for power in 1..=first_power {
        term *= z / f64::from(power);
        power_of_two *= 2.0;
    }
    let mut sum = 0.0;
    let mut power = f64::from(first_power);
    // The last term is below 1e-18 of the first for z up to π/2.
    for _ in 0..16 {
        sum += term * weight(power_of_two);
        term *= -(z / (power + 1.0)) * (z / (power + 2.0));
        power_of_two *= 4.0;
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

    #[test]
    fn series_equal_the_functions_where_nothing_cancels() {
        for step in 1..=16 {
            let z = f64::from(step) * std::f64::consts::FRAC_PI_2 / 16.0;
            let direct = z - libm::sin(z);
            assert!((angle_less_sine(z) - direct).abs() < 4e-16, "{z}");
            let direct = 6.0 * z - 8.0 * libm::sin(z) + libm::sin(2.0 * z);
            assert!((third_difference(z) - direct).abs() < 4e-15, "{z}");
        }
    }

    #[test]
    fn series_keep_their_digits_where_the_angle_is_small() {
        let z = 1e-3;
        let leading = z * z * z / 6.0 * (1.0 - z * z / 20.0);
        assert!((angle_less_sine(z) / leading - 1.0).abs() < 1e-13);
        let leading = z * z * z * z * z / 5.0;
        assert!((third_difference(z) / leading - 1.0).abs() < 1e-6);
    }
}
