//! The largest factor on a load for which every limit holds.

/// The answer to "how much of this load can be carried".
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LargestFactor {
    /// All limits hold at `largest` and not at the next larger number that was tried, at most
    /// 2 parts in 10¹⁵ above.
    Value {
        /// The largest factor for which all limits hold.
        largest: f64,
        /// The smallest one: 0, or more if the load is needed to relieve the others. They hold in
        /// between.
        smallest: f64,
    },
    /// The limits hold from `smallest` on for every factor: the load does not use them up.
    Unlimited {
        /// The smallest factor for which they hold.
        smallest: f64,
    },
    /// The limits hold for no factor.
    NoneHolds {
        /// The factor with the lowest utilisation that was found.
        best: f64,
        /// The utilisation there, above 1.
        utilisation: f64,
    },
    /// The utilisation is not a number at this factor.
    Undefined {
        /// The factor.
        at: f64,
    },
}

/// The largest factor `λ ≥ 0` with `utilisation(λ) ≤ 1`.
///
/// The utilisation must be convex in `λ`. That holds for the largest of any number of ratios
/// "value / limit", with or without sign, where each value changes linearly with the load: stress
/// from linear-elastic moments, shear, deflection, reactions, at every place of a beam, in every
/// combination. Then the factors that hold are one interval, and these are guaranteed:
/// - the answer was tried: `utilisation(largest) ≤ 1`, and above 1 at its upper neighbour;
/// - [`Unlimited`](LargestFactor::Unlimited): it still holds at λ = 10³⁰, where any load that
///   uses a limit up at all has passed it;
/// - [`NoneHolds`](LargestFactor::NoneHolds): not even the lowest utilisation is at most 1. An
///   interval narrower than about 10⁻⁸ of its place may be missed: on the safe side.
pub fn largest_factor(mut utilisation: impl FnMut(f64) -> f64) -> LargestFactor {
    let mut search = Search {
        utilisation: &mut utilisation,
        undefined: None,
    };
    let answer = search.run();
    match search.undefined {
        Some(at) => LargestFactor::Undefined { at },
        None => answer,
    }
}

/// A factor no real load reaches.
const ENDLESS: f64 = 1e30;

struct Search<'a> {
    utilisation: &'a mut dyn FnMut(f64) -> f64,
    undefined: Option<f64>,
}

impl Search<'_> {
    fn at(&mut self, factor: f64) -> f64 {
        let value = (self.utilisation)(factor);
        if value.is_nan() {
            self.undefined.get_or_insert(factor);
        }
        value
    }

    fn holds(&mut self, factor: f64) -> bool {
        self.at(factor) <= 1.0
    }

    fn run(&mut self) -> LargestFactor {
        let inside = match self.some_factor_that_holds() {
            Ok(factor) => factor,
            Err((best, utilisation)) => return LargestFactor::NoneHolds { best, utilisation },
        };
        let smallest = if inside == 0.0 || self.holds(0.0) {
            0.0
        } else {
            self.border(inside, 0.0)
        };
        let mut outside = if inside > 0.0 { 2.0 * inside } else { 1.0 };
        let mut last = inside;
        while self.holds(outside) {
            if outside >= ENDLESS {
                return LargestFactor::Unlimited { smallest };
            }
            (last, outside) = (outside, 2.0 * outside);
        }
        LargestFactor::Value {
            largest: self.border(last, outside),
            smallest,
        }
    }

    /// The last number on the way from one that holds to one that does not.
    fn border(&mut self, mut holds: f64, mut fails: f64) -> f64 {
        loop {
            let middle = 0.5 * (holds + fails);
            let close =
                (fails - holds).abs() <= 2.0 * f64::EPSILON * holds.abs().max(1.0 / ENDLESS);
            if close || middle == holds || middle == fails {
                return holds;
            }
            if self.holds(middle) {
                holds = middle
            } else {
                fails = middle
            }
        }
    }

    /// A factor that holds, or the best one there is and its utilisation.
    ///
    /// 0 if that holds; otherwise the lowest point of the convex utilisation: over powers of two
    /// first, then by golden section between the neighbours of the lowest one.
    fn some_factor_that_holds(&mut self) -> Result<f64, (f64, f64)> {
        let mut best = (0.0, self.at(0.0));
        if best.1 <= 1.0 {
            return Ok(0.0);
        }
        let (mut low, mut high) = (0.0, 1.0 / ENDLESS);
        let mut factor = 1.0 / ENDLESS;
        while factor <= ENDLESS {
            let value = self.at(factor);
            if value <= 1.0 {
                return Ok(factor);
            }
            if value < best.1 {
                best = (factor, value);
                (low, high) = (0.5 * factor, 2.0 * factor);
            }
            factor *= 2.0;
        }
        const GOLDEN: f64 = 0.618_033_988_749_894_9;
        let (mut left, mut right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        let (mut left_value, mut right_value) = (self.at(left), self.at(right));
        for _ in 0..100 {
            let (at, value) = if left_value < right_value {
                (left, left_value)
            } else {
                (right, right_value)
            };
            if value <= 1.0 {
                return Ok(at);
            }
            if value < best.1 {
                best = (at, value);
            }
            if left_value < right_value {
                (high, right, right_value) = (right, left, left_value);
                left = high - GOLDEN * (high - low);
                left_value = self.at(left);
            } else {
                (low, left, left_value) = (left, right, right_value);
                right = low + GOLDEN * (high - low);
                right_value = self.at(right);
            }
        }
        Err(best)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_limit() {
        let answer = largest_factor(|factor| (0.25 + 0.3 * factor).abs());
        let LargestFactor::Value { largest, smallest } = answer else {
            panic!("{answer:?}")
        };
        assert!((largest - 2.5).abs() < 1e-14);
        assert_eq!(smallest, 0.0);
    }

    #[test]
    fn the_neighbours_of_the_answer_confirm_it() {
        for slope in [1e-12, 0.37, 1.0, 8e9] {
            let utilisation = |factor: f64| 0.1 + slope * factor;
            let LargestFactor::Value { largest, .. } = largest_factor(utilisation) else {
                panic!()
            };
            assert!(utilisation(largest) <= 1.0);
            assert!(
                utilisation(largest * (1.0 + 1e-15)) > 1.0
                    || utilisation(largest * (1.0 + 4e-15)) > 1.0
            );
        }
    }

    #[test]
    fn a_load_that_relieves_another() {
        // Holds for 1 ≤ factor ≤ 3 only.
        let answer = largest_factor(|factor| (2.0 - factor).abs());
        let LargestFactor::Value { largest, smallest } = answer else {
            panic!("{answer:?}")
        };
        assert!((largest - 3.0).abs() < 1e-14 && (smallest - 1.0).abs() < 1e-14);
    }

    #[test]
    fn a_narrow_interval_is_found() {
        let answer = largest_factor(|factor| 0.99 + (factor - 7.3).abs());
        let LargestFactor::Value { largest, smallest } = answer else {
            panic!("{answer:?}")
        };
        assert!((largest - 7.31).abs() < 1e-13 && (smallest - 7.29).abs() < 1e-13);
    }

    #[test]
    fn nothing_holds() {
        let answer = largest_factor(|factor| 1.5 + (factor - 4.0).abs());
        let LargestFactor::NoneHolds { best, utilisation } = answer else {
            panic!("{answer:?}")
        };
        assert!((best - 4.0).abs() < 1e-6 && (utilisation - 1.5).abs() < 1e-6);
    }

    #[test]
    fn no_end_and_no_number() {
        assert_eq!(
            largest_factor(|_| 0.7),
            LargestFactor::Unlimited { smallest: 0.0 }
        );
        assert!(matches!(
            largest_factor(|f| 0.5 + f / 0.0),
            LargestFactor::Undefined { .. }
        ));
        let zero_only = largest_factor(|factor| 1.0 + factor);
        let LargestFactor::Value { largest, .. } = zero_only else {
            panic!("{zero_only:?}")
        };
        assert!(largest <= 1e-15);
    }
}
