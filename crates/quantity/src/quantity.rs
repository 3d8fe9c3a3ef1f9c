//! A number with its dimension, and arithmetic that never gives a wrong number.

use std::cmp::Ordering;
use std::fmt;

use crate::dimension::Dimension;
use crate::rational::Rational;

/// The acceleration of free fall by convention, in m/s², exact.
///
/// Source: 3rd General Conference on Weights and Measures (1901); NIST SP 811 (2008), B.8.
pub const STANDARD_ACCELERATION_OF_FREE_FALL: f64 = 9.80665;

/// A number in coherent SI units (kg, m, s, K) with its dimension.
///
/// The number is never NaN, infinite or -0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    si: f64,
    dimension: Dimension,
}

/// Why an operation has no result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ArithmeticError {
    /// A division by zero, or zero to a negative power.
    DivisionByZero,
    /// The result is too large for a number of this program (about 1.8e308).
    TooLarge,
    /// The result is not zero but too small to be told from it (about 2e-308).
    TooSmall,
    /// Two quantities that cannot be added, subtracted or compared.
    DifferentDimensions(Dimension, Dimension),
    /// An even root or a fractional power of a negative number.
    RootOfNegative,
    /// A plain number was needed: the argument of a function, or an exponent.
    NotARatio(Dimension),
    /// The argument lies outside what the function is defined for.
    OutsideDomain(&'static str),
    /// The exponents of the resulting dimension are out of all proportion.
    DimensionTooHigh,
}

impl fmt::Display for ArithmeticError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::DivisionByZero => write!(f, "this divides by zero"),
            Self::TooLarge => write!(f, "the result is too large to be computed"),
            Self::TooSmall => write!(f, "the result is too small to be told from zero"),
            Self::DifferentDimensions(left, right) => write!(
                f,
                "{} and {} cannot be added or compared",
                left.describe_with_article(),
                right.describe_with_article()
            ),
            Self::RootOfNegative => write!(f, "a negative number has no such root"),
            Self::NotARatio(dimension) => write!(
                f,
                "a number without a unit is needed here, and this is {}",
                dimension.describe_with_article()
            ),
            Self::OutsideDomain(explanation) => f.write_str(explanation),
            Self::DimensionTooHigh => write!(f, "the powers of the units are too high"),
        }
    }
}

impl std::error::Error for ArithmeticError {}

/// The result of an operation on quantities.
pub type QuantityResult = Result<Quantity, ArithmeticError>;

impl Quantity {
    /// A quantity from its number in SI units; `None` when that is not finite.
    pub fn new(si: f64, dimension: Dimension) -> Option<Self> {
        // Adding 0 turns -0 into 0 and changes no other number.
        si.is_finite().then_some(Self {
            si: si + 0.0,
            dimension,
        })
    }

    /// A plain number; `None` when it is not finite.
    pub fn ratio(value: f64) -> Option<Self> {
        Self::new(value, Dimension::RATIO)
    }

    /// Zero of a dimension.
    pub const fn zero(dimension: Dimension) -> Self {
        Self { si: 0.0, dimension }
    }

    /// The number in coherent SI units.
    pub const fn si(self) -> f64 {
        self.si
    }

    /// The dimension.
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The sum of two quantities of one dimension.
    pub fn checked_add(self, other: Self) -> QuantityResult {
        self.same_dimension(other)?;
        finite(self.si + other.si, self.dimension)
    }

    /// The difference of two quantities of one dimension.
    pub fn checked_subtract(self, other: Self) -> QuantityResult {
        self.same_dimension(other)?;
        finite(self.si - other.si, self.dimension)
    }

    /// The product.
    pub fn checked_multiply(self, other: Self) -> QuantityResult {
        let dimension = self
            .dimension
            .checked_multiply(other.dimension)
            .ok_or(ArithmeticError::DimensionTooHigh)?;
        let exact_zero = self.si == 0.0 || other.si == 0.0;
        scaled(self.si * other.si, exact_zero, dimension)
    }

    /// The quotient.
    pub fn checked_divide(self, other: Self) -> QuantityResult {
        let dimension = self
            .dimension
            .checked_divide(other.dimension)
            .ok_or(ArithmeticError::DimensionTooHigh)?;
        if other.si == 0.0 {
            return Err(ArithmeticError::DivisionByZero);
        }
        scaled(self.si / other.si, self.si == 0.0, dimension)
    }

    /// The quantity with its sign changed.
    pub fn negated(self) -> Self {
        Self {
            si: 0.0 - self.si,
            dimension: self.dimension,
        }
    }

    /// The quantity without its sign.
    pub fn absolute(self) -> Self {
        Self {
            si: self.si.abs(),
            dimension: self.dimension,
        }
    }

    /// Which of two quantities of one dimension is the larger.
    pub fn compare(self, other: Self) -> Result<Ordering, ArithmeticError> {
        self.same_dimension(other)?;
        // Finite numbers without -0 are totally ordered, so this is the ordinary order.
        Ok(self.si.total_cmp(&other.si))
    }

    /// The smaller of two quantities of one dimension.
    pub fn minimum(self, other: Self) -> QuantityResult {
        let order = self.compare(other)?;
        Ok(if order.is_le() { self } else { other })
    }

    /// The larger of two quantities of one dimension.
    pub fn maximum(self, other: Self) -> QuantityResult {
        let order = self.compare(other)?;
        Ok(if order.is_ge() { self } else { other })
    }

    /// The square root; its dimension has half the exponents.
    pub fn square_root(self) -> QuantityResult {
        self.power(Rational::HALF)
    }

    /// The cube root, also of a negative number.
    pub fn cube_root(self) -> QuantityResult {
        self.power(Rational::THIRD)
    }

    /// A power with an exponent written out, as `h^3` or `A^(1/2)`.
    ///
    /// Odd roots of negative numbers exist, even ones do not; anything to the power 0 is 1.
    pub fn power(self, exponent: Rational) -> QuantityResult {
        let dimension = self
            .dimension
            .checked_power(exponent)
            .ok_or(ArithmeticError::DimensionTooHigh)?;
        if self.si == 0.0 && exponent.is_negative() {
            return Err(ArithmeticError::DivisionByZero);
        }
        if self.si < 0.0 && exponent.denominator() % 2 == 0 {
            return Err(ArithmeticError::RootOfNegative);
        }
        scaled(rational_power(self.si, exponent), self.si == 0.0, dimension)
    }

    /// A power whose exponent is itself computed; both must be plain numbers.
    pub fn power_of_ratio(self, exponent: Self) -> QuantityResult {
        self.ratio_value()?;
        let exponent = exponent.ratio_value()?;
        if self.si == 0.0 && exponent < 0.0 {
            return Err(ArithmeticError::DivisionByZero);
        }
        let whole = exponent == exponent.trunc();
        if self.si < 0.0 && !whole {
            return Err(ArithmeticError::RootOfNegative);
        }
        let value = match exponent {
            n if whole && n.abs() <= f64::from(REPEATED_MULTIPLICATION) => {
                whole_power(self.si, n as i32)
            }
            _ => libm::pow(self.si, exponent),
        };
        scaled(value, self.si == 0.0, Dimension::RATIO)
    }

    /// The number, when this is a plain number or an angle in radians.
    pub fn ratio_value(self) -> Result<f64, ArithmeticError> {
        if self.dimension.is_ratio() {
            Ok(self.si)
        } else {
            Err(ArithmeticError::NotARatio(self.dimension))
        }
    }

    fn same_dimension(self, other: Self) -> Result<(), ArithmeticError> {
        if self.dimension == other.dimension {
            Ok(())
        } else {
            Err(ArithmeticError::DifferentDimensions(
                self.dimension,
                other.dimension,
            ))
        }
    }
}

/// Whole exponents up to this size are worked out by multiplying.
const REPEATED_MULTIPLICATION: i32 = 16;

fn rational_power(base: f64, exponent: Rational) -> f64 {
    let numerator = exponent.numerator();
    if numerator.unsigned_abs() <= REPEATED_MULTIPLICATION.unsigned_abs() {
        match exponent.denominator() {
            1 => return whole_power(base, numerator),
            2 => return whole_power(base.sqrt(), numerator),
            3 => return whole_power(libm::cbrt(base), numerator),
            _ => {}
        }
    }
    let magnitude = libm::pow(base.abs(), exponent.to_f64());
    if base < 0.0 && numerator % 2 != 0 {
        -magnitude
    } else {
        magnitude
    }
}

fn whole_power(base: f64, exponent: i32) -> f64 {
    let mut product = 1.0;
    for _ in 0..exponent.unsigned_abs() {
        product *= base;
    }
    if exponent < 0 { 1.0 / product } else { product }
}

/// A result that may have overflowed.
pub(crate) fn finite(si: f64, dimension: Dimension) -> QuantityResult {
    Quantity::new(si, dimension).ok_or(ArithmeticError::TooLarge)
}

/// A result that may have overflowed, or lost its digits near zero.
pub(crate) fn scaled(si: f64, exact_zero: bool, dimension: Dimension) -> QuantityResult {
    if si.abs() < f64::MIN_POSITIVE && !exact_zero {
        return Err(ArithmeticError::TooSmall);
    }
    finite(si, dimension)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length(si: f64) -> Quantity {
        Quantity::new(si, Dimension::LENGTH).unwrap()
    }

    fn ratio(value: f64) -> Quantity {
        Quantity::ratio(value).unwrap()
    }

    fn fraction(numerator: i32, denominator: i32) -> Rational {
        Rational::new(numerator, denominator).unwrap()
    }

    #[test]
    fn no_number_that_is_none() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(Quantity::new(value, Dimension::LENGTH), None);
        }
        let zeros = [
            Quantity::new(-0.0, Dimension::LENGTH).unwrap(),
            length(0.0).negated(),
            length(0.0).checked_multiply(ratio(-5.0)).unwrap(),
            length(0.0).checked_divide(ratio(-5.0)).unwrap(),
            length(-0.0).absolute(),
            ratio(0.0).power(fraction(1, 3)).unwrap(),
        ];
        for zero in zeros {
            assert!(zero.si().is_sign_positive());
        }
    }

    #[test]
    fn sums_need_one_dimension() {
        let area = Quantity::new(2.0, Dimension::AREA).unwrap();
        let error = ArithmeticError::DifferentDimensions(Dimension::LENGTH, Dimension::AREA);
        assert_eq!(length(1.0).checked_add(area), Err(error));
        assert_eq!(length(1.0).checked_subtract(area), Err(error));
        assert_eq!(length(1.0).compare(area), Err(error));
        assert_eq!(
            error.to_string(),
            "a length (mm) and an area (mm²) cannot be added or compared"
        );
        assert_eq!(length(1.0).checked_add(length(2.0)), Ok(length(3.0)));
        assert_eq!(length(1.0).maximum(length(2.0)), Ok(length(2.0)));
        assert_eq!(length(1.0).minimum(length(2.0)), Ok(length(1.0)));
    }

    #[test]
    fn products_and_quotients_carry_the_dimension() {
        let product = length(2.0).checked_multiply(length(3.0)).unwrap();
        assert_eq!(product, Quantity::new(6.0, Dimension::AREA).unwrap());
        assert_eq!(product.checked_divide(length(3.0)), Ok(length(2.0)));
        assert_eq!(
            length(1.0).checked_divide(length(0.0)),
            Err(ArithmeticError::DivisionByZero)
        );
    }

    #[test]
    fn what_leaves_the_range_is_said() {
        let (large, small) = (length(1e200), length(1e-200));
        assert_eq!(
            large.checked_multiply(large),
            Err(ArithmeticError::TooLarge)
        );
        assert_eq!(
            small.checked_multiply(small),
            Err(ArithmeticError::TooSmall)
        );
        assert_eq!(large.checked_divide(small), Err(ArithmeticError::TooLarge));
        assert_eq!(small.checked_divide(large), Err(ArithmeticError::TooSmall));
        assert_eq!(large.power(fraction(-2, 1)), Err(ArithmeticError::TooSmall));
        assert_eq!(small.power(fraction(-2, 1)), Err(ArithmeticError::TooLarge));
        assert_eq!(
            length(f64::MAX).checked_add(length(f64::MAX)),
            Err(ArithmeticError::TooLarge)
        );
        let high = Quantity::new(1.0, Dimension::from_integers(i32::MAX, 0, 0, 0)).unwrap();
        assert_eq!(
            high.checked_multiply(length(1.0)),
            Err(ArithmeticError::DimensionTooHigh)
        );
    }

    #[test]
    fn powers_and_roots() {
        let area = length(3.0).power(fraction(2, 1)).unwrap();
        assert_eq!(area, Quantity::new(9.0, Dimension::AREA).unwrap());
        assert_eq!(area.square_root(), Ok(length(3.0)));
        assert_eq!(ratio(-8.0).cube_root(), Ok(ratio(-2.0)));
        assert_eq!(ratio(-8.0).power(fraction(2, 3)), Ok(ratio(4.0)));
        assert_eq!(
            ratio(-32.0)
                .power(fraction(1, 5))
                .map(|root| root.si().round()),
            Ok(-2.0)
        );
        assert_eq!(
            ratio(-4.0).square_root(),
            Err(ArithmeticError::RootOfNegative)
        );
        assert_eq!(
            length(0.0).power(fraction(-1, 1)),
            Err(ArithmeticError::DivisionByZero)
        );
        assert_eq!(length(5.0).power(Rational::ZERO), Ok(ratio(1.0)));
        assert_eq!(
            length(2.0).power(fraction(-1, 1)).map(Quantity::si),
            Ok(0.5)
        );
        assert_eq!(
            length(2.0).power(fraction(40, 1)).map(Quantity::si),
            Ok(1_099_511_627_776.0)
        );
    }

    #[test]
    fn powers_with_a_computed_exponent() {
        assert_eq!(ratio(2.0).power_of_ratio(ratio(10.0)), Ok(ratio(1024.0)));
        assert_eq!(ratio(2.0).power_of_ratio(ratio(-1.0)), Ok(ratio(0.5)));
        assert_eq!(ratio(-2.0).power_of_ratio(ratio(3.0)), Ok(ratio(-8.0)));
        assert_eq!(ratio(4.0).power_of_ratio(ratio(0.5)), Ok(ratio(2.0)));
        assert_eq!(
            ratio(-2.0).power_of_ratio(ratio(0.5)),
            Err(ArithmeticError::RootOfNegative)
        );
        assert_eq!(
            ratio(0.0).power_of_ratio(ratio(-1.0)),
            Err(ArithmeticError::DivisionByZero)
        );
        let error = Err(ArithmeticError::NotARatio(Dimension::LENGTH));
        assert_eq!(length(2.0).power_of_ratio(ratio(2.0)), error);
        assert_eq!(ratio(2.0).power_of_ratio(length(2.0)), error);
    }

    proptest! {
        #[test]
        fn every_result_is_a_number(a: f64, b: f64, numerator: i32, denominator in 1..9i32) {
            let (Some(a), Some(b)) = (Quantity::ratio(a), Quantity::ratio(b)) else {
                return Ok(());
            };
            let exponent = fraction(numerator, denominator);
            let results = [
                a.checked_add(b),
                a.checked_subtract(b),
                a.checked_multiply(b),
                a.checked_divide(b),
                a.power(exponent),
                a.power_of_ratio(b),
                a.rounded_to(b),
                a.tangent(),
            ];
            for result in results.into_iter().flatten() {
                prop_assert!(result.si().is_finite());
                prop_assert!(result.si() != 0.0 || result.si().is_sign_positive());
            }
        }

        #[test]
        fn roots_undo_powers(value in 1e-30..1e30f64, exponent in 1..9i32) {
            let power = ratio(value).power(fraction(exponent, 1)).unwrap();
            let back = power.power(fraction(1, exponent)).unwrap().si();
            prop_assert!((back / value - 1.0).abs() < 1e-14);
        }
    }
}
