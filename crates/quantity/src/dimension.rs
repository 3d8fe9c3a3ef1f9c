//! What kind of quantity a number is: its dimension.

use std::cmp::Ordering;

use crate::rational::Rational;

/// A dimension: the exponents of length, mass, time and temperature.
///
/// An angle is a ratio, so it has no exponent here; a temperature always means a difference of
/// temperatures. Arithmetic is checked and answers `None` when an exponent does not fit.
///
/// Nearly every value holds a dimension, so it is small: whole numbers over one denominator.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Dimension {
    /// Of length, mass, time and temperature, times the denominator.
    numerators: [i32; 4],
    /// Positive, without a factor in common with all numerators.
    denominator: i32,
}

impl Dimension {
    /// No dimension: a plain number, a ratio or an angle.
    pub const RATIO: Self = Self::from_integers(0, 0, 0, 0);
    /// m
    pub const LENGTH: Self = Self::from_integers(1, 0, 0, 0);
    /// m²
    pub const AREA: Self = Self::from_integers(2, 0, 0, 0);
    /// m³; also a section modulus or a volume.
    pub const FIRST_MOMENT_OF_AREA: Self = Self::from_integers(3, 0, 0, 0);
    /// m⁴
    pub const SECOND_MOMENT_OF_AREA: Self = Self::from_integers(4, 0, 0, 0);
    /// m⁶
    pub const WARPING_CONSTANT: Self = Self::from_integers(6, 0, 0, 0);
    /// 1/m
    pub const CURVATURE: Self = Self::from_integers(-1, 0, 0, 0);
    /// N
    pub const FORCE: Self = Self::from_integers(1, 1, -2, 0);
    /// N/m
    pub const FORCE_PER_LENGTH: Self = Self::from_integers(0, 1, -2, 0);
    /// N·m
    pub const MOMENT: Self = Self::from_integers(2, 1, -2, 0);
    /// Pa = N/m²
    pub const STRESS: Self = Self::from_integers(-1, 1, -2, 0);
    /// N/m³; also called specific weight.
    pub const FORCE_PER_VOLUME: Self = Self::from_integers(-2, 1, -2, 0);
    /// N·m²
    pub const FLEXURAL_RIGIDITY: Self = Self::from_integers(3, 1, -2, 0);
    /// N·m⁴
    pub const WARPING_RIGIDITY: Self = Self::from_integers(5, 1, -2, 0);
    /// kg
    pub const MASS: Self = Self::from_integers(0, 1, 0, 0);
    /// kg/m
    pub const MASS_PER_LENGTH: Self = Self::from_integers(-1, 1, 0, 0);
    /// kg/m²
    pub const MASS_PER_AREA: Self = Self::from_integers(-2, 1, 0, 0);
    /// kg/m³
    pub const DENSITY: Self = Self::from_integers(-3, 1, 0, 0);
    /// s
    pub const TIME: Self = Self::from_integers(0, 0, 1, 0);
    /// 1/s
    pub const FREQUENCY: Self = Self::from_integers(0, 0, -1, 0);
    /// m/s
    pub const VELOCITY: Self = Self::from_integers(1, 0, -1, 0);
    /// m/s²
    pub const ACCELERATION: Self = Self::from_integers(1, 0, -2, 0);
    /// K, a difference of temperatures.
    pub const TEMPERATURE: Self = Self::from_integers(0, 0, 0, 1);
    /// 1/K
    pub const THERMAL_EXPANSION: Self = Self::from_integers(0, 0, 0, -1);

    /// The dimension with these whole exponents.
    pub const fn from_integers(length: i32, mass: i32, time: i32, temperature: i32) -> Self {
        Self {
            numerators: [length, mass, time, temperature],
            denominator: 1,
        }
    }

    /// The exponent of length.
    pub fn length(self) -> Rational {
        self.exponent(0)
    }

    /// The exponent of mass.
    pub fn mass(self) -> Rational {
        self.exponent(1)
    }

    /// The exponent of time.
    pub fn time(self) -> Rational {
        self.exponent(2)
    }

    /// The exponent of temperature difference.
    pub fn temperature(self) -> Rational {
        self.exponent(3)
    }

    fn exponent(self, index: usize) -> Rational {
        Rational::new(self.numerators[index], self.denominator).unwrap_or(Rational::ZERO)
    }

    /// Whether this is a plain number, ratio or angle.
    pub fn is_ratio(self) -> bool {
        self == Self::RATIO
    }

    /// The dimension of a product.
    pub fn checked_multiply(self, other: Self) -> Option<Self> {
        self.combined(other, i64::checked_add)
    }

    /// The dimension of a quotient.
    pub fn checked_divide(self, other: Self) -> Option<Self> {
        self.combined(other, i64::checked_sub)
    }

    /// The dimension of a power.
    pub fn checked_power(self, exponent: Rational) -> Option<Self> {
        let by = i64::from(exponent.numerator());
        let numerators = self.numerators.map(|own| i64::from(own) * by);
        let denominator = i64::from(self.denominator) * i64::from(exponent.denominator());
        Self::reduced(numerators, denominator)
    }

    fn combined(self, other: Self, operation: fn(i64, i64) -> Option<i64>) -> Option<Self> {
        let (own_denominator, other_denominator) =
            (i64::from(self.denominator), i64::from(other.denominator));
        let mut numerators = [0; 4];
        for (index, numerator) in numerators.iter_mut().enumerate() {
            *numerator = operation(
                i64::from(self.numerators[index]) * other_denominator,
                i64::from(other.numerators[index]) * own_denominator,
            )?;
        }
        Self::reduced(numerators, own_denominator * other_denominator)
    }

    /// In lowest terms; `None` when a number does not fit.
    fn reduced(numerators: [i64; 4], denominator: i64) -> Option<Self> {
        let divisor = numerators
            .into_iter()
            .fold(denominator, |divisor, own| common_divisor(own, divisor));
        let mut all = [0; 4];
        for (own, numerator) in all.iter_mut().zip(numerators) {
            *own = i32::try_from(numerator / divisor).ok()?;
        }
        Some(Self {
            numerators: all,
            denominator: i32::try_from(denominator / divisor).ok()?,
        })
    }
}

/// The greatest common divisor of a number and a positive one.
fn common_divisor(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a.unsigned_abs(), b.unsigned_abs());
    // Most denominators are 1, and then nothing is divided.
    while b > 1 {
        (a, b) = (b, a % b);
    }
    let divisor = if b == 1 { 1 } else { a };
    i64::try_from(divisor).unwrap_or(1)
}

impl Ord for Dimension {
    /// By the exponents of length, mass, time and temperature.
    fn cmp(&self, other: &Self) -> Ordering {
        let scaled = |own: &Self, by: i32| own.numerators.map(|n| i64::from(n) * i64::from(by));
        scaled(self, other.denominator).cmp(&scaled(other, self.denominator))
    }
}

impl PartialOrd for Dimension {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_of_the_trade() {
        let force_by_length = Dimension::FORCE.checked_multiply(Dimension::LENGTH);
        assert_eq!(force_by_length, Some(Dimension::MOMENT));
        let bending_stress = Dimension::MOMENT.checked_divide(Dimension::FIRST_MOMENT_OF_AREA);
        assert_eq!(bending_stress, Some(Dimension::STRESS));
        let rigidity = Dimension::STRESS.checked_multiply(Dimension::SECOND_MOMENT_OF_AREA);
        assert_eq!(rigidity, Some(Dimension::FLEXURAL_RIGIDITY));
    }

    #[test]
    fn roots_have_fractional_exponents() {
        let root = Dimension::LENGTH.checked_power(Rational::HALF).unwrap();
        assert_eq!(root.length(), Rational::HALF);
        assert_eq!(root.checked_multiply(root), Some(Dimension::LENGTH));
        let radius = Dimension::SECOND_MOMENT_OF_AREA
            .checked_divide(Dimension::AREA)
            .and_then(|quotient| quotient.checked_power(Rational::HALF));
        assert_eq!(radius, Some(Dimension::LENGTH));
    }

    #[test]
    fn exponents_are_in_lowest_terms_and_in_order() {
        let power = |dimension: Dimension, n, d| {
            let exponent = Rational::new(n, d).unwrap();
            dimension.checked_power(exponent).unwrap()
        };
        let mixed = power(Dimension::LENGTH, 2, 3)
            .checked_multiply(power(Dimension::MASS, -1, 2))
            .unwrap();
        assert_eq!(mixed.length(), Rational::new(2, 3).unwrap());
        assert_eq!(mixed.mass(), Rational::new(-1, 2).unwrap());
        assert_eq!(mixed.time(), Rational::ZERO);
        assert_eq!(power(mixed, 6, 1), Dimension::from_integers(4, -3, 0, 0));
        assert_eq!(mixed.checked_divide(mixed), Some(Dimension::RATIO));
        assert_eq!(power(Dimension::FORCE, 0, 7), Dimension::RATIO);
        assert!(power(Dimension::LENGTH, 1, 2) < power(Dimension::LENGTH, 2, 3));
        assert!(power(Dimension::LENGTH, -1, 2) < Dimension::RATIO);
    }

    #[test]
    fn an_exponent_that_does_not_fit_is_no_dimension() {
        let huge = Dimension::from_integers(i32::MAX, 0, 0, 0);
        assert_eq!(huge.checked_multiply(Dimension::LENGTH), None);
        assert_eq!(huge.checked_power(Rational::from_integer(2)), None);
    }
}
