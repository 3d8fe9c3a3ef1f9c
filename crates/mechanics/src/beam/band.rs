//! Systems of linear equations whose coefficients lie close to the diagonal.

/// The largest distance of a coefficient from the diagonal, on either side.
pub(super) const REACH: usize = 5;
/// Row exchanges push coefficients up to twice as far to the right.
const WIDTH: usize = 3 * REACH + 1;

/// A square matrix with at most [`REACH`] coefficients on each side of the diagonal.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Band {
    /// Row `i` holds the columns `i − REACH …= i + 2·REACH`.
    rows: Vec<[f64; WIDTH]>,
}

impl Band {
    pub(super) fn zero(size: usize) -> Self {
        Self {
            rows: vec![[0.0; WIDTH]; size],
        }
    }

    /// Puts one coefficient in its place.
    pub(super) fn set(&mut self, row: usize, column: usize, value: f64) {
        debug_assert!(row.abs_diff(column) <= REACH);
        self.rows[row][column + REACH - row] = value;
    }

    /// Scales every row by a power of two, so that its largest coefficient is near its weight; gives
    /// the divisors. Weights are powers of two: the heavier a row, the sooner it becomes a pivot.
    pub(super) fn balance_rows(&mut self, weights: &[f64]) -> Vec<f64> {
        self.rows
            .iter_mut()
            .zip(weights)
            .map(|(row, weight)| {
                let largest = row.iter().fold(0.0_f64, |m, c| m.max(c.abs()));
                let divisor = power_of_two_below(largest) / weight;
                row.iter_mut().for_each(|c| *c /= divisor);
                divisor
            })
            .collect()
    }

    /// Matrix times vector.
    pub(super) fn times(&self, x: &[f64]) -> Vec<f64> {
        (0..self.rows.len())
            .map(|i| {
                let first = i.saturating_sub(REACH);
                let last = (i + REACH).min(x.len() - 1);
                (first..=last)
                    .map(|j| self.rows[i][j + REACH - i] * x[j])
                    .sum()
            })
            .collect()
    }

    /// Gauss elimination with row exchanges; `None` if a pivot is zero.
    pub(super) fn factorised(&self) -> Option<Factors> {
        let size = self.rows.len();
        let mut rows = self.rows.clone();
        let mut steps = Vec::with_capacity(size);
        for k in 0..size {
            let last = (k + REACH).min(size - 1);
            // Column k of row i stands at k + REACH − i.
            let mut pivot = k;
            for i in k + 1..=last {
                if rows[i][k + REACH - i].abs() > rows[pivot][k + REACH - pivot].abs() {
                    pivot = i;
                }
            }
            let largest = rows[pivot][k + REACH - pivot];
            if largest == 0.0 || !largest.is_finite() {
                return None;
            }
            let end = (k + 2 * REACH).min(size - 1);
            if pivot != k {
                for j in k..=end {
                    let upper = rows[k][j + REACH - k];
                    rows[k][j + REACH - k] = rows[pivot][j + REACH - pivot];
                    rows[pivot][j + REACH - pivot] = upper;
                }
            }
            let mut step = Step {
                pivot,
                multipliers: [0.0; REACH],
            };
            for i in k + 1..=last {
                let multiplier = rows[i][k + REACH - i] / largest;
                if multiplier != 0.0 {
                    for j in k..=end {
                        let above = rows[k][j + REACH - k];
                        rows[i][j + REACH - i] -= multiplier * above;
                    }
                }
                step.multipliers[i - k - 1] = multiplier;
            }
            steps.push(step);
        }
        Some(Factors { rows, steps })
    }
}

#[derive(Debug, Clone, PartialEq)]
struct Step {
    pivot: usize,
    multipliers: [f64; REACH],
}

/// A factorised [`Band`].
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Factors {
    rows: Vec<[f64; WIDTH]>,
    steps: Vec<Step>,
}

impl Factors {
    /// The solution for one right-hand side.
    pub(super) fn solved(&self, mut b: Vec<f64>) -> Vec<f64> {
        let size = b.len();
        for (k, step) in self.steps.iter().enumerate() {
            b.swap(k, step.pivot);
            let value = b[k];
            for (below, multiplier) in b[k + 1..].iter_mut().zip(step.multipliers) {
                *below -= multiplier * value;
            }
        }
        for k in (0..size).rev() {
            let last = (k + 2 * REACH).min(size - 1);
            let known: f64 = (k + 1..=last)
                .map(|j| self.rows[k][j + REACH - k] * b[j])
                .sum();
            b[k] = (b[k] - known) / self.rows[k][REACH];
        }
        b
    }
}

/// The largest power of two not above a positive normal number; 1 for anything else.
///
/// Dividing by it is exact, so that scaling never costs a digit.
pub(super) fn power_of_two_below(value: f64) -> f64 {
    if value.is_normal() && value > 0.0 {
        f64::from_bits(value.to_bits() & 0x7ff0_0000_0000_0000)
    } else {
        1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_a_system_that_needs_row_exchanges() {
        let size = 23;
        let mut a = Band::zero(size);
        for i in 0..size {
            for j in i.saturating_sub(REACH)..=(i + REACH).min(size - 1) {
                let value = if i == j {
                    0.0
                } else {
                    1.0 / (1.0 + ((i * 7 + j * 3) % 11) as f64)
                };
                a.set(i, j, value);
            }
        }
        let wanted: Vec<f64> = (0..size).map(|i| i as f64 - 10.5).collect();
        let found = a.factorised().expect("regular").solved(a.times(&wanted));
        for (f, w) in found.iter().zip(&wanted) {
            assert!((f - w).abs() < 1e-10, "{f} {w}");
        }
    }

    #[test]
    fn powers_of_two() {
        assert_eq!(power_of_two_below(6.9), 4.0);
        assert_eq!(power_of_two_below(0.3), 0.25);
        assert_eq!(power_of_two_below(0.0), 1.0);
    }
}
