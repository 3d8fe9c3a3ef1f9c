//! Polynomials on the unit interval: one stretch of a diagram in its own coordinate `t = 0 … 1`.
//!
//! The own coordinate keeps every coefficient in the unit of the value itself, whatever the
//! length of the stretch, so that a stretch of a millimetre is as well scaled as one of 100 m.

/// Coefficients of `1, t, t², …`. A deflection under a linearly varying load has degree 5.
const TERMS: usize = 6;

/// A polynomial of degree at most 5 on `0 ≤ t ≤ 1`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Polynomial([f64; TERMS]);

impl Polynomial {
    pub(super) fn new(coefficients: [f64; TERMS]) -> Self {
        Self(coefficients)
    }

    pub(super) fn zero() -> Self {
        Self([0.0; TERMS])
    }

    pub(super) fn coefficients(&self) -> &[f64; TERMS] {
        &self.0
    }

    pub(super) fn value(&self, t: f64) -> f64 {
        self.0.iter().rev().fold(0.0, |sum, c| sum * t + c)
    }

    /// The derivative by `t`.
    pub(super) fn derivative(&self) -> Self {
        let mut result = [0.0; TERMS];
        for power in 1..TERMS {
            result[power - 1] = power as f64 * self.0[power];
        }
        Self(result)
    }

    pub(super) fn plus_scaled(&self, factor: f64, other: &Self) -> Self {
        let mut result = self.0;
        for (sum, term) in result.iter_mut().zip(other.0) {
            *sum += factor * term;
        }
        Self(result)
    }

    /// The product of two polynomials whose degrees come to at most 5.
    pub(super) fn times(&self, other: &Self) -> Self {
        let mut result = [0.0; TERMS];
        for (power, c) in self.0.iter().enumerate() {
            for (own, d) in result[power..].iter_mut().zip(other.0) {
                *own += c * d;
            }
        }
        Self(result)
    }

    pub(super) fn scaled(&self, factor: f64) -> Self {
        Self(self.0.map(|c| factor * c))
    }

    /// The same curve between `a` and `b`, with its own coordinate running from 0 at `a` to 1 at `b`.
    pub(super) fn restricted(&self, a: f64, b: f64) -> Self {
        if a == 0.0 && b == 1.0 {
            return *self;
        }
        let mut result = self.0;
        // Taylor shift to `a` by repeated synthetic division.
        for first in 0..TERMS - 1 {
            for power in (first..TERMS - 1).rev() {
                result[power] += a * result[power + 1];
            }
        }
        let mut scale = 1.0;
        for c in &mut result {
            *c *= scale;
            scale *= b - a;
        }
        Self(result)
    }

    /// Places strictly inside the interval where the polynomial changes its sign, in order.
    ///
    /// Between neighbouring roots of the derivative a polynomial is monotone, so a change of sign
    /// there brackets exactly one root: the chain of derivatives isolates all of them. Roots where
    /// the sign stays the same are not wanted: an extreme value needs a change of sign in the slope.
    pub(super) fn sign_changes(&self) -> Roots {
        if self.keeps_its_sign() {
            return Roots::default();
        }
        let mut chain = [*self; TERMS];
        for depth in 1..TERMS {
            chain[depth] = chain[depth - 1].derivative();
        }
        let mut roots = Roots::default();
        for polynomial in chain.iter().rev() {
            roots = polynomial.sign_changes_between(&roots);
        }
        roots
    }

    /// Sign changes, given those of the derivative.
    fn sign_changes_between(&self, turning_points: &Roots) -> Roots {
        let mut roots = Roots::default();
        let (mut left, mut left_value) = (0.0, self.value(0.0));
        for &right in turning_points.as_slice().iter().chain(&[1.0]) {
            let right_value = self.value(right);
            if right_value == 0.0 {
                // The sign is decided by the next place that is not zero.
                continue;
            }
            if left_value != 0.0 && (left_value < 0.0) != (right_value < 0.0) {
                roots.push(self.root_between(left, left_value, right));
            }
            (left, left_value) = (right, right_value);
        }
        roots
    }

    /// The root in a bracket with values of opposite sign: Newton steps, halving whenever a step
    /// would leave the bracket or the last one did not halve it.
    fn root_between(&self, left: f64, left_value: f64, right: f64) -> f64 {
        let slope = self.derivative();
        let (mut low, mut high) = (left, right);
        let mut t = 0.5 * (low + high);
        let mut width = high - low;
        for _ in 0..200 {
            let value = self.value(t);
            if value == 0.0 {
                return t;
            }
            if (value < 0.0) == (left_value < 0.0) {
                low = t;
            } else {
                high = t;
            }
            let newton = t - value / slope.value(t);
            let last_width = width;
            width = high - low;
            let next = if newton > low && newton < high && (newton - t).abs() < 0.5 * last_width {
                newton
            } else {
                0.5 * (low + high)
            };
            if (next - t).abs() <= f64::EPSILON * next.abs() {
                return next;
            }
            t = next;
        }
        t
    }

    /// True if all Bernstein coefficients have one sign: then the polynomial has no root inside.
    fn keeps_its_sign(&self) -> bool {
        // Row j: binomial(j, k)/binomial(5, k) for k = 0 … j.
        const WEIGHTS: [[f64; TERMS]; TERMS] = [
            [1.0, 0.0, 0.0, 0.0, 0.0, 0.0],
            [1.0, 0.2, 0.0, 0.0, 0.0, 0.0],
            [1.0, 0.4, 0.1, 0.0, 0.0, 0.0],
            [1.0, 0.6, 0.3, 0.1, 0.0, 0.0],
            [1.0, 0.8, 0.6, 0.4, 0.2, 0.0],
            [1.0, 1.0, 1.0, 1.0, 1.0, 1.0],
        ];
        let (mut some_positive, mut some_negative) = (false, false);
        for weights in &WEIGHTS {
            let sum: f64 = weights.iter().zip(self.0).map(|(w, c)| w * c).sum();
            some_positive |= sum >= 0.0;
            some_negative |= sum <= 0.0;
        }
        !(some_positive && some_negative)
    }
}

/// At most five places on the unit interval, in order.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Roots {
    places: [f64; TERMS - 1],
    count: usize,
}

impl Roots {
    pub(super) fn as_slice(&self) -> &[f64] {
        &self.places[..self.count]
    }

    fn push(&mut self, place: f64) {
        if let Some(free) = self.places.get_mut(self.count) {
            *free = place;
            self.count += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Coefficients of `scale · (t − r1)(t − r2)…`.
    fn from_roots(scale: f64, roots: &[f64]) -> Polynomial {
        let mut c = [0.0; TERMS];
        c[0] = scale;
        for (degree, root) in roots.iter().enumerate() {
            for power in (0..=degree).rev() {
                c[power + 1] += c[power];
                c[power] *= -root;
            }
        }
        Polynomial::new(c)
    }

    #[test]
    fn finds_all_five_roots_of_a_quintic() {
        let wanted = [0.1, 0.25, 0.5, 0.75, 0.9];
        let found = from_roots(3.0, &wanted).sign_changes();
        assert_eq!(found.as_slice().len(), 5);
        for (a, b) in found.as_slice().iter().zip(wanted) {
            assert!((a - b).abs() < 1e-13, "{a} {b}");
        }
    }

    #[test]
    fn a_touching_root_is_no_change_of_sign() {
        assert!(
            from_roots(1.0, &[0.5, 0.5])
                .sign_changes()
                .as_slice()
                .is_empty()
        );
        assert!(Polynomial::zero().sign_changes().as_slice().is_empty());
    }

    #[test]
    fn roots_outside_are_left_out() {
        let found = from_roots(-2.0, &[-0.5, 0.3, 1.5]).sign_changes();
        assert_eq!(found.as_slice().len(), 1);
        assert!((found.as_slice()[0] - 0.3).abs() < 1e-15);
    }

    #[test]
    fn restricting_keeps_the_curve() {
        let whole = from_roots(2.0, &[0.2, 0.7, 1.3, -0.4, 0.5]);
        let part = whole.restricted(0.25, 0.75);
        for t in [0.0, 0.3, 1.0] {
            assert!((part.value(t) - whole.value(0.25 + 0.5 * t)).abs() < 1e-15);
        }
    }
}
