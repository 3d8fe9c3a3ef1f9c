//! Exact fractions, for the exponents of dimensions.

use std::cmp::Ordering;
use std::fmt;

/// A fraction in lowest terms with a positive denominator.
///
/// Exponents of dimensions are rational because the square root of a length is met on the way to
/// many a result. Arithmetic is checked: a result that does not fit is `None`, never wrapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rational {
    numerator: i32,
    denominator: i32,
}

impl Rational {
    /// 0.
    pub const ZERO: Self = Self::from_integer(0);
    /// 1.
    pub const ONE: Self = Self::from_integer(1);
    /// 1/2, the exponent of a square root.
    pub const HALF: Self = Self {
        numerator: 1,
        denominator: 2,
    };
    /// 1/3, the exponent of a cube root.
    pub const THIRD: Self = Self {
        numerator: 1,
        denominator: 3,
    };

    /// The fraction in lowest terms; `None` when the denominator is zero or a part does not fit.
    pub fn new(numerator: i32, denominator: i32) -> Option<Self> {
        Self::reduce(i64::from(numerator), i64::from(denominator))
    }

    /// A whole number.
    pub const fn from_integer(value: i32) -> Self {
        Self {
            numerator: value,
            denominator: 1,
        }
    }

    /// The numerator, which carries the sign.
    pub const fn numerator(self) -> i32 {
        self.numerator
    }

    /// The denominator, always positive.
    pub const fn denominator(self) -> i32 {
        self.denominator
    }

    /// The value as a whole number, if it is one.
    pub const fn as_integer(self) -> Option<i32> {
        if self.denominator == 1 {
            Some(self.numerator)
        } else {
            None
        }
    }

    /// Whether this is 0.
    pub const fn is_zero(self) -> bool {
        self.numerator == 0
    }

    /// Whether this is below 0.
    pub const fn is_negative(self) -> bool {
        self.numerator < 0
    }

    /// The nearest floating-point number.
    pub fn to_f64(self) -> f64 {
        f64::from(self.numerator) / f64::from(self.denominator)
    }

    /// The sum.
    pub fn checked_add(self, other: Self) -> Option<Self> {
        let (a, b) = (i64::from(self.numerator), i64::from(self.denominator));
        let (c, d) = (i64::from(other.numerator), i64::from(other.denominator));
        Self::reduce((a * d).checked_add(c * b)?, b * d)
    }

    /// The difference.
    pub fn checked_subtract(self, other: Self) -> Option<Self> {
        self.checked_add(other.checked_negate()?)
    }

    /// The product.
    pub fn checked_multiply(self, other: Self) -> Option<Self> {
        Self::reduce(
            i64::from(self.numerator) * i64::from(other.numerator),
            i64::from(self.denominator) * i64::from(other.denominator),
        )
    }

    /// The quotient; `None` also when `other` is 0.
    pub fn checked_divide(self, other: Self) -> Option<Self> {
        Self::reduce(
            i64::from(self.numerator) * i64::from(other.denominator),
            i64::from(self.denominator) * i64::from(other.numerator),
        )
    }

    /// The value with its sign changed.
    pub fn checked_negate(self) -> Option<Self> {
        Some(Self {
            numerator: self.numerator.checked_neg()?,
            denominator: self.denominator,
        })
    }

    fn reduce(numerator: i64, denominator: i64) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        let (mut a, mut b) = (numerator.unsigned_abs(), denominator.unsigned_abs());
        while b != 0 {
            (a, b) = (b, a % b);
        }
        let divisor = i64::try_from(a).ok()?;
        let sign = denominator.signum();
        Some(Self {
            numerator: i32::try_from(sign * (numerator / divisor)).ok()?,
            denominator: i32::try_from(sign * (denominator / divisor)).ok()?,
        })
    }
}

impl Ord for Rational {
    fn cmp(&self, other: &Self) -> Ordering {
        let left = i64::from(self.numerator) * i64::from(other.denominator);
        let right = i64::from(other.numerator) * i64::from(self.denominator);
        left.cmp(&right)
    }
}

impl PartialOrd for Rational {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl From<i32> for Rational {
    fn from(value: i32) -> Self {
        Self::from_integer(value)
    }
}

impl fmt::Display for Rational {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.denominator == 1 {
            write!(f, "{}", self.numerator)
        } else {
            write!(f, "{}/{}", self.numerator, self.denominator)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lowest_terms_and_sign() {
        assert_eq!(Rational::new(2, -4), Rational::new(-1, 2));
        assert_eq!(Rational::new(0, -7), Some(Rational::ZERO));
        assert_eq!(Rational::new(1, 0), None);
        assert_eq!(Rational::new(i32::MIN, i32::MIN), Some(Rational::ONE));
        assert_eq!(Rational::new(i32::MIN, -1), None);
        assert_eq!(
            Rational::from_integer(i32::MAX).checked_add(Rational::ONE),
            None
        );
        assert_eq!(Rational::ONE.checked_divide(Rational::ZERO), None);
    }

    #[test]
    fn display() {
        assert_eq!(Rational::HALF.to_string(), "1/2");
        assert_eq!(Rational::from_integer(-3).to_string(), "-3");
        assert_eq!(Rational::new(-3, 2).unwrap().to_string(), "-3/2");
    }

    proptest! {
        #[test]
        fn arithmetic_undoes_itself(a in -999..999i32, b in 1..99i32, c in -999..999i32, d in 1..99i32) {
            let x = Rational::new(a, b).unwrap();
            let y = Rational::new(c, d).unwrap();
            let sum = x.checked_add(y).unwrap();
            prop_assert_eq!(sum.checked_subtract(y), Some(x));
            prop_assert_eq!(y.checked_add(x), Some(sum));
            if !y.is_zero() {
                let product = x.checked_multiply(y).unwrap();
                prop_assert_eq!(product.checked_divide(y), Some(x));
            }
            prop_assert_eq!(x < y, x.to_f64() < y.to_f64());
        }

        #[test]
        fn any_input_is_answered(a: i32, b: i32, c: i32, d: i32) {
            if let (Some(x), Some(y)) = (Rational::new(a, b), Rational::new(c, d)) {
                for result in [x.checked_add(y), x.checked_subtract(y), x.checked_multiply(y), x.checked_divide(y)]
                    .into_iter()
                    .flatten()
                {
                    prop_assert!(result.denominator() > 0);
                }
            }
        }
    }
}
