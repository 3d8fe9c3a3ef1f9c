//! The exact size of a unit in SI units.

/// A positive number `numerator/denominator · 10^decimal_exponent · π^pi_exponent`, exact.
///
/// Keeping units exact is what lets `3.1 mm` become the number nearest to 0.0031 m: nothing is
/// rounded until the one rounding at the end. Both parts of the fraction stay below 2^120, are in
/// lowest terms and hold no factor 10; a unit whose size does not fit is refused.
///
/// One size can be written in several ways (5·10⁻¹ is 1/2): factors are equal when their sizes are.
#[derive(Clone, Copy, Debug, Eq)]
pub struct Factor {
    pub(crate) numerator: u128,
    pub(crate) denominator: u128,
    pub(crate) decimal_exponent: i32,
    pub(crate) pi_exponent: i32,
}

impl PartialEq for Factor {
    fn eq(&self, other: &Self) -> bool {
        self.checked_multiply(other.inverse())
            .is_some_and(Self::is_one)
    }
}

impl Factor {
    /// 1.
    pub const ONE: Self = Self::decimal(1, 0);
    /// π.
    pub const PI: Self = Self {
        pi_exponent: 1,
        ..Self::ONE
    };
    /// Bound of numerator and denominator: leaves room for a decimal digit and a carry in `u128`.
    pub(crate) const LIMIT: u128 = 1 << 120;

    /// `numerator · 10^decimal_exponent`.
    pub(crate) const fn decimal(numerator: u64, decimal_exponent: i32) -> Self {
        exact(Self::reduce(numerator as u128, 1, decimal_exponent, 0))
    }

    /// Whether this is 1.
    pub(crate) const fn is_one(self) -> bool {
        self.numerator == 1
            && self.denominator == 1
            && self.decimal_exponent == 0
            && self.pi_exponent == 0
    }

    /// The product.
    pub(crate) const fn checked_multiply(self, other: Self) -> Option<Self> {
        // Cancelling crosswise first keeps the products small.
        let left = greatest_common_divisor(self.numerator, other.denominator);
        let right = greatest_common_divisor(other.numerator, self.denominator);
        let numerator = (self.numerator / left).checked_mul(other.numerator / right);
        let denominator = (self.denominator / right).checked_mul(other.denominator / left);
        let decimal_exponent = self.decimal_exponent.checked_add(other.decimal_exponent);
        let pi_exponent = self.pi_exponent.checked_add(other.pi_exponent);
        match (numerator, denominator, decimal_exponent, pi_exponent) {
            (Some(numerator), Some(denominator), Some(decimal_exponent), Some(pi_exponent)) => {
                Self::reduce(numerator, denominator, decimal_exponent, pi_exponent)
            }
            _ => None,
        }
    }

    /// 1 divided by this.
    pub(crate) const fn inverse(self) -> Self {
        Self {
            numerator: self.denominator,
            denominator: self.numerator,
            decimal_exponent: -self.decimal_exponent,
            pi_exponent: -self.pi_exponent,
        }
    }

    /// A whole power.
    pub(crate) const fn checked_power(self, exponent: i32) -> Option<Self> {
        let base = if exponent < 0 { self.inverse() } else { self };
        let mut product = Self::ONE;
        if self.is_one() {
            return Some(product);
        }
        let mut count = 0;
        while count < exponent.unsigned_abs() {
            product = match product.checked_multiply(base) {
                Some(next) => next,
                None => return None,
            };
            count += 1;
        }
        Some(product)
    }

    /// `self · other`, for the constants of the unit table: what does not fit fails the build.
    pub(crate) const fn times(self, other: Self) -> Self {
        exact(self.checked_multiply(other))
    }

    /// `self / other^exponent`, for the constants of the unit table.
    pub(crate) const fn per(self, other: Self, exponent: i32) -> Self {
        self.times(exact(other.checked_power(-exponent)))
    }

    const fn reduce(
        mut numerator: u128,
        mut denominator: u128,
        mut decimal_exponent: i32,
        pi_exponent: i32,
    ) -> Option<Self> {
        let divisor = greatest_common_divisor(numerator, denominator);
        if divisor > 1 {
            numerator /= divisor;
            denominator /= divisor;
        }
        while numerator >= 10 && numerator.is_multiple_of(10) {
            numerator /= 10;
            decimal_exponent += 1;
        }
        while denominator >= 10 && denominator.is_multiple_of(10) {
            denominator /= 10;
            decimal_exponent -= 1;
        }
        let bounded = decimal_exponent.unsigned_abs() <= 10_000 && pi_exponent.unsigned_abs() <= 8;
        if numerator >= Self::LIMIT || denominator >= Self::LIMIT || !bounded {
            return None;
        }
        Some(Self {
            numerator,
            denominator,
            decimal_exponent,
            pi_exponent,
        })
    }
}

const fn greatest_common_divisor(mut a: u128, mut b: u128) -> u128 {
    while b > 1 {
        (a, b) = (b, a % b);
    }
    // Most sizes are whole numbers of a power of ten, and then nothing is divided.
    if b == 1 { 1 } else { a }
}

/// The value of a constant of the unit table, which the compiler evaluates.
const fn exact(factor: Option<Factor>) -> Factor {
    match factor {
        Some(factor) => factor,
        None => panic!("a constant of the unit table does not fit"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: Factor = Factor::decimal(254, -4);

    #[test]
    fn lowest_terms_without_tens() {
        assert_eq!(Factor::decimal(1000, -3), Factor::ONE);
        assert_eq!(INCH.times(INCH.inverse()), Factor::ONE);
        assert_eq!(INCH.checked_power(0), Some(Factor::ONE));
        assert_eq!(INCH.checked_power(-2), Some(INCH.times(INCH).inverse()));
        assert_eq!(Factor::PI.per(Factor::PI, 1), Factor::ONE);
    }

    #[test]
    fn equal_sizes_are_equal_however_they_are_written() {
        let half = Factor::decimal(2, 0).inverse();
        assert_eq!(half, Factor::decimal(5, -1));
        assert_ne!(half, Factor::decimal(5, -2));
        assert_ne!(half, half.times(Factor::PI));
    }

    #[test]
    fn what_does_not_fit_is_none() {
        assert_eq!(INCH.checked_power(40), None);
        assert_eq!(Factor::PI.checked_power(9), None);
        assert!(Factor::decimal(1, 3).checked_power(99).is_some());
    }
}
