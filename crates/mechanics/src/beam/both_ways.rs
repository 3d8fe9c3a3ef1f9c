//! Bending about both axes: what is linear in the diagrams of both planes, and what is convex.

use super::diagram::{Diagram, Side};
use super::polynomial::Polynomial;
use super::response::{Bending, Response, together};
use haunch_quantity::typed::{Length, Typed};
use std::sync::Arc;

impl Response {
    /// The response with `factor` times the slope and the deflection of another one added; forces
    /// and moments stay.
    ///
    /// Where the principal axes of a section are turned, a moment about one axis bends the beam
    /// about the other one, too. `None` if the responses are not of one length, the factor is not
    /// finite, or one of them has no deflection.
    pub fn bent_also_by(&self, factor: f64, other: &Self) -> Option<Self> {
        let (own, new) = (self.bending.as_ref()?, other.bending.as_ref()?);
        let places = joint_places(&own.deflection, &new.deflection)?;
        if !factor.is_finite() {
            return None;
        }
        let bending = Bending {
            slope: Diagram::sum(&places, &[(1.0, &own.slope), (factor, &new.slope)]),
            deflection: Diagram::sum(
                &places,
                &[(1.0, &own.deflection), (factor, &new.deflection)],
            ),
        };
        // All diagrams of a response are on the same places.
        let mut response = self.clone();
        response.shear = Diagram::sum(&places, &[(1.0, &self.shear)]);
        response.moment = Diagram::sum(&places, &[(1.0, &self.moment)]);
        response.bending = Some(bending);
        Some(response)
    }
}

/// The sum of two diagrams of one kind times factors, exact as they are. The factors are in the SI
/// unit of the result over that of the diagrams: Pa per N·m for a stress from two moments. `None` if
/// the diagrams are not of one length.
pub fn weighted_sum<P: Typed, Q: Typed>(terms: [(f64, &Diagram<P>); 2]) -> Option<Diagram<Q>> {
    let [(_, first), (_, second)] = terms;
    let places = joint_places(first, second)?;
    Some(Diagram::sum(&places, &terms).into_quantity())
}

/// The places of two diagrams together; `None` if they are not of one length.
fn joint_places<P: Typed, Q: Typed>(first: &Diagram<P>, second: &Diagram<Q>) -> Option<Arc<[f64]>> {
    let (first, second) = (first.places_si(), second.places_si());
    (first.last() == second.last()).then(|| together(&[first, second]))
}

/// A place along the beam with the values of two diagrams there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Both<Q> {
    /// Distance from the start.
    pub at: Length,
    /// On which side of the place, where one of them jumps.
    pub side: Side,
    /// The value of the first diagram.
    pub first: Q,
    /// The value of the second diagram.
    pub second: Q,
}

/// The two values of a stretch as Bézier curves over `a … b`.
#[derive(Debug, Clone, Copy)]
struct Curve {
    a: f64,
    b: f64,
    first: Controls,
    second: Controls,
}

const CONTROLS: usize = 6;
type Controls = [f64; CONTROLS];

impl<Q: Typed> Diagram<Q> {
    /// Values whose range holds all values between two places between which this is one polynomial;
    /// taken together with those of other diagrams, sets whose convex hull holds all sets there (Bézier
    /// points).
    pub fn controls(&self, from: Length, to: Length) -> [Q; CONTROLS] {
        bezier(&self.polynomial_between(from.si(), to.si())).map(Q::from_si)
    }
}

/// Differences below this share of the largest value are rounding.
const ROUNDING: f64 = 1e-12;

/// A search that needs more parts than this has no result.
const MOST_PARTS: usize = 20_000;

/// Where a convex measure of two diagrams is largest between two places, to 12 digits of the
/// measure: for instance the greatest stress in a section under moments about both axes.
///
/// On a stretch the pair of values runs along a polynomial curve, which lies within the convex hull
/// of its Bézier points, so that the measure is nowhere larger than at one of them. Halving the
/// stretch tightens that bound (Farin, Curves and Surfaces for CAGD, chapter 5, from memory), and what
/// cannot be larger than a value already found is left out. `None` unless `from < to`, both on the
/// beam, the diagrams are of one length, and the search comes to its end.
pub fn largest_of_both<Q: Typed>(
    first: &Diagram<Q>,
    second: &Diagram<Q>,
    (from, to): (Length, Length),
    measure: impl Fn(Q, Q) -> f64,
) -> Option<Both<Q>> {
    let measure = |a: f64, b: f64| measure(Q::from_si(a), Q::from_si(b));
    let mut waiting: Vec<Curve> = Vec::new();
    let places = joint_places(first, second)?;
    for ends in places.windows(2) {
        let (a, b) = (ends[0].max(from.si()), ends[1].min(to.si()));
        if a < b {
            waiting.push(Curve {
                a,
                b,
                first: bezier(&first.polynomial_between(a, b)),
                second: bezier(&second.polynomial_between(a, b)),
            });
        }
    }
    let bound = |curve: &Curve| {
        let points = curve.first.iter().zip(&curve.second);
        points
            .map(|(one, two)| measure(*one, *two))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let size = waiting
        .iter()
        .map(|curve| bound(curve).abs())
        .fold(0.0, f64::max);
    let mut best: Option<(f64, Both<Q>)> = None;
    let mut look = |curve: &Curve, side: Side| {
        let (at, index) = match side {
            Side::After => (curve.a, 0),
            Side::Before => (curve.b, CONTROLS - 1),
        };
        let (one, two) = (curve.first[index], curve.second[index]);
        let value = measure(one, two);
        let here = Both {
            at: Length::from_si(at),
            side,
            first: Q::from_si(one),
            second: Q::from_si(two),
        };
        let known = best.get_or_insert((value, here));
        if value > known.0 {
            *known = (value, here);
        }
        known.0
    };
    let mut found = f64::NEG_INFINITY;
    for curve in &waiting {
        look(curve, Side::After);
        found = look(curve, Side::Before);
    }
    waiting.reverse();
    for _ in 0..MOST_PARTS {
        let Some(curve) = waiting.pop() else {
            return best
                .filter(|(value, _)| value.is_finite())
                .map(|(_, both)| both);
        };
        let middle = 0.5 * (curve.a + curve.b);
        if bound(&curve) <= found + ROUNDING * size || middle <= curve.a || middle >= curve.b {
            continue;
        }
        let [(first_left, first_right), (second_left, second_right)] =
            [&curve.first, &curve.second].map(halves);
        let left = Curve {
            b: middle,
            first: first_left,
            second: second_left,
            ..curve
        };
        let right = Curve {
            a: middle,
            first: first_right,
            second: second_right,
            ..curve
        };
        found = look(&left, Side::Before);
        waiting.push(right);
        waiting.push(left);
    }
    None
}

/// The Bézier points of a polynomial: `b_i = Σ_k C(i, k)/C(n, k)·a_k`.
fn bezier(polynomial: &Polynomial) -> Controls {
    let mut points = *polynomial.coefficients();
    for (power, binomial) in [1.0, 5.0, 10.0, 10.0, 5.0, 1.0].into_iter().enumerate() {
        points[power] /= binomial;
    }
    // Sums of sums give the binomial coefficients C(i, k).
    for level in 1..CONTROLS {
        for index in (level..CONTROLS).rev() {
            points[index] += points[index - 1];
        }
    }
    points
}

/// The Bézier points of both halves (de Casteljau).
fn halves(points: &Controls) -> (Controls, Controls) {
    let (mut row, mut left, mut right) = (*points, *points, *points);
    for level in 1..CONTROLS {
        for index in 0..CONTROLS - level {
            row[index] = 0.5 * (row[index] + row[index + 1]);
        }
        left[level] = row[0];
        right[CONTROLS - 1 - level] = row[CONTROLS - 1 - level];
    }
    (left, right)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bezier_points_give_the_polynomial_back() {
        let polynomial = Polynomial::new([1.0, -2.0, 3.0, 0.5, -4.0, 2.0]);
        let mut points = bezier(&polynomial);
        assert!((points[0] - 1.0).abs() < 1e-14);
        assert!((points[CONTROLS - 1] - polynomial.value(1.0)).abs() < 1e-14);
        let (mut at, mut width) = (0.0, 1.0);
        for _ in 1..10 {
            let (left, right) = halves(&points);
            width *= 0.5;
            at += width;
            assert!((left[CONTROLS - 1] - polynomial.value(at)).abs() < 1e-13);
            assert!((right[0] - polynomial.value(at)).abs() < 1e-13);
            points = right;
        }
    }
}
