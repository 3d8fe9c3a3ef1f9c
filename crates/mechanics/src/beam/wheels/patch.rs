//! Polynomials in two coordinates on the unit square, enclosed by their Bernstein coefficients.
//!
//! The coefficients at the four corners are the values there, and no value is larger than the
//! largest coefficient; the halves of a patch are enclosed four times as closely (any textbook of
//! computer-aided geometric design).

/// From the values at places of the unit interval to Bernstein coefficients.
#[derive(Debug, Clone)]
pub(super) struct Basis {
    pub(super) places: Vec<f64>,
    /// Row by row.
    inverse: Vec<Vec<f64>>,
}

impl Basis {
    /// For polynomials of this degree, told by their values at the Chebyshev-Lobatto places.
    pub(super) fn new(degree: usize) -> Self {
        let place = |k: usize| {
            if degree == 0 {
                return 0.5;
            }
            let angle = std::f64::consts::PI * k as f64 / degree as f64;
            0.5 - 0.5 * libm::cos(angle)
        };
        let places: Vec<f64> = (0..=degree).map(place).collect();
        let rows = places.iter().map(|t| bernstein(degree, *t)).collect();
        Self {
            inverse: inverted(rows),
            places,
        }
    }

    fn count(&self) -> usize {
        self.places.len()
    }
}

/// The Bernstein polynomials of a degree at a place.
fn bernstein(degree: usize, t: f64) -> Vec<f64> {
    let mut values = vec![1.0];
    for _ in 0..degree {
        let mut next = vec![0.0; values.len() + 1];
        for (index, value) in values.iter().enumerate() {
            next[index] += (1.0 - t) * value;
            next[index + 1] += t * value;
        }
        values = next;
    }
    values
}

/// The inverse of a small regular matrix (Gauss-Jordan with row exchanges).
fn inverted(mut rows: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let size = rows.len();
    let mut inverse: Vec<Vec<f64>> = (0..size)
        .map(|i| (0..size).map(|j| f64::from(u8::from(i == j))).collect())
        .collect();
    for k in 0..size {
        let mut pivot = k;
        for i in k + 1..size {
            if rows[i][k].abs() > rows[pivot][k].abs() {
                pivot = i;
            }
        }
        rows.swap(k, pivot);
        inverse.swap(k, pivot);
        let divisor = rows[k][k];
        for j in 0..size {
            rows[k][j] /= divisor;
            inverse[k][j] /= divisor;
        }
        for i in (0..size).filter(|i| *i != k) {
            let multiplier = rows[i][k];
            for j in 0..size {
                rows[i][j] -= multiplier * rows[k][j];
                inverse[i][j] -= multiplier * inverse[k][j];
            }
        }
    }
    inverse
}

/// What is enclosed over a part of the unit square, and can be halved.
pub(super) trait Surface: Sized {
    /// No value is larger.
    fn bound(&self) -> f64;

    /// The largest value at corners where `u` is 0, and where it is 1.
    fn corners(&self) -> [f64; 2];

    /// Whether it bends more along `u` than along `t`.
    fn bends_along_u(&self) -> bool;

    /// Both halves along `u` or along `t`.
    fn halves(&self, along_u: bool) -> [Self; 2];
}

/// A polynomial in `t` (along the beam) and `u` (along the way of the train).
#[derive(Debug, Clone)]
pub(super) struct Patch {
    /// Coefficients in a row along `u`.
    along_u: usize,
    /// Row by row.
    coefficients: Vec<f64>,
}

impl Patch {
    /// From the values at the places of both bases, those along `u` in a row.
    pub(super) fn new(values: &[f64], t: &Basis, u: &Basis) -> Self {
        let (rows, columns) = (t.count(), u.count());
        let mut along_u = vec![0.0; rows * columns];
        for row in 0..rows {
            let own = &values[row * columns..(row + 1) * columns];
            for (column, weights) in u.inverse.iter().enumerate() {
                along_u[row * columns + column] = weights.iter().zip(own).map(|(w, v)| w * v).sum();
            }
        }
        let mut coefficients = vec![0.0; rows * columns];
        for (row, weights) in t.inverse.iter().enumerate() {
            for (other, weight) in weights.iter().enumerate() {
                for column in 0..columns {
                    coefficients[row * columns + column] +=
                        weight * along_u[other * columns + column];
                }
            }
        }
        Self {
            along_u: columns,
            coefficients,
        }
    }

    pub(super) fn negated(&self) -> Self {
        Self {
            along_u: self.along_u,
            coefficients: self.coefficients.iter().map(|c| -c).collect(),
        }
    }

    /// How much it bends along `u`, and along `t`: the largest second difference of each.
    pub(super) fn bends(&self) -> (f64, f64) {
        let (n, c) = (self.along_u, &self.coefficients);
        let bend = |a: f64, b: f64, c: f64| (a - 2.0 * b + c).abs();
        let in_rows = c
            .chunks_exact(n)
            .flat_map(|row| row.windows(3).map(|w| bend(w[0], w[1], w[2])));
        let along_t = (0..c.len().saturating_sub(2 * n))
            .map(|i| bend(c[i], c[i + n], c[i + 2 * n]))
            .fold(0.0, f64::max);
        (in_rows.fold(0.0, f64::max), along_t)
    }

    /// The control points, row by row.
    pub(super) fn controls(&self) -> &[f64] {
        &self.coefficients
    }

    /// The indices of the corners where `u` is 0, and where it is 1.
    pub(super) fn corner_indices(&self) -> [[usize; 2]; 2] {
        let last = self.coefficients.len() - 1;
        [[0, last + 1 - self.along_u], [self.along_u - 1, last]]
    }
}

impl Surface for Patch {
    fn bound(&self) -> f64 {
        self.coefficients
            .iter()
            .fold(f64::NEG_INFINITY, |most, c| most.max(*c))
    }

    fn corners(&self) -> [f64; 2] {
        let c = &self.coefficients;
        self.corner_indices().map(|[a, b]| c[a].max(c[b]))
    }

    fn bends_along_u(&self) -> bool {
        let (along_u, along_t) = self.bends();
        along_u >= along_t
    }

    /// By de Casteljau.
    fn halves(&self, along_u: bool) -> [Self; 2] {
        let columns = self.along_u;
        let rows = self.coefficients.len() / columns;
        let mut left = self.clone();
        let mut right = self.clone();
        let (lines, count, step, stride) = if along_u {
            (rows, columns, 1, columns)
        } else {
            (columns, rows, columns, 1)
        };
        for line in 0..lines {
            let at = |k: usize| line * stride + k * step;
            // `right` holds the triangle; its first entry of each round goes to `left`.
            for round in 0..count {
                left.coefficients[at(round)] = right.coefficients[at(0)];
                for k in 0..count - 1 - round {
                    let next = right.coefficients[at(k + 1)];
                    let own = &mut right.coefficients[at(k)];
                    *own = 0.5 * (*own + next);
                }
            }
        }
        [left, right]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn patch(f: impl Fn(f64, f64) -> f64, t: usize, u: usize) -> Patch {
        let (t, u) = (Basis::new(t), Basis::new(u));
        let values: Vec<f64> = t
            .places
            .iter()
            .flat_map(|a| u.places.iter().map(|b| f(*a, *b)).collect::<Vec<f64>>())
            .collect();
        Patch::new(&values, &t, &u)
    }

    #[test]
    fn corners_are_values_and_the_bound_holds() {
        let f = |t: f64, u: f64| 2.0 - (t - 0.3) * (t - 0.3) - 3.0 * (u - 0.6) * (u - 0.6) * t;
        let whole = patch(f, 3, 6);
        let [first, last] = whole.corners();
        assert!((first - f(0.0, 0.0).max(f(1.0, 0.0))).abs() < 1e-13);
        assert!((last - f(0.0, 1.0).max(f(1.0, 1.0))).abs() < 1e-13);
        assert!(whole.bound() >= f(0.3, 0.6));
    }

    #[test]
    fn halves_are_the_same_polynomial() {
        let f = |t: f64, u: f64| 1.0 + t * t * t - u * u + 2.0 * t * u;
        let whole = patch(f, 3, 4);
        let [left, right] = whole.halves(true);
        assert!((left.corners()[1] - f(1.0, 0.5).max(f(0.0, 0.5))).abs() < 1e-13);
        assert!((right.corners()[1] - f(1.0, 1.0).max(f(0.0, 1.0))).abs() < 1e-13);
        let [low, high] = whole.halves(false);
        assert!((low.corners()[0] - f(0.5, 0.0).max(f(0.0, 0.0))).abs() < 1e-13);
        assert!((high.corners()[0] - f(1.0, 0.0).max(f(0.5, 0.0))).abs() < 1e-13);
    }
}
