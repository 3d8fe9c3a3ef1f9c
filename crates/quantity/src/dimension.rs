//! What kind of quantity a number is: its dimension.

use crate::rational::Rational;

/// A dimension: the exponents of length, mass, time and temperature.
///
/// An angle is a ratio, so it has no exponent here; a temperature always means a difference of
/// temperatures. Arithmetic is checked and answers `None` when an exponent does not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dimension {
    length: Rational,
    mass: Rational,
    time: Rational,
    temperature: Rational,
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
            length: Rational::from_integer(length),
            mass: Rational::from_integer(mass),
            time: Rational::from_integer(time),
            temperature: Rational::from_integer(temperature),
        }
    }

    /// The dimension with these exponents.
    pub const fn from_exponents(
        length: Rational,
        mass: Rational,
        time: Rational,
        temperature: Rational,
    ) -> Self {
        Self {
            length,
            mass,
            time,
            temperature,
        }
    }

    /// The exponent of length.
    pub const fn length(self) -> Rational {
        self.length
    }

    /// The exponent of mass.
    pub const fn mass(self) -> Rational {
        self.mass
    }

    /// The exponent of time.
    pub const fn time(self) -> Rational {
        self.time
    }

    /// The exponent of temperature difference.
    pub const fn temperature(self) -> Rational {
        self.temperature
    }

    /// Whether this is a plain number, ratio or angle.
    pub fn is_ratio(self) -> bool {
        self == Self::RATIO
    }

    /// The dimension of a product.
    pub fn checked_multiply(self, other: Self) -> Option<Self> {
        Some(Self {
            length: self.length.checked_add(other.length)?,
            mass: self.mass.checked_add(other.mass)?,
            time: self.time.checked_add(other.time)?,
            temperature: self.temperature.checked_add(other.temperature)?,
        })
    }

    /// The dimension of a quotient.
    pub fn checked_divide(self, other: Self) -> Option<Self> {
        Some(Self {
            length: self.length.checked_subtract(other.length)?,
            mass: self.mass.checked_subtract(other.mass)?,
            time: self.time.checked_subtract(other.time)?,
            temperature: self.temperature.checked_subtract(other.temperature)?,
        })
    }

    /// The dimension of a power.
    pub fn checked_power(self, exponent: Rational) -> Option<Self> {
        Some(Self {
            length: self.length.checked_multiply(exponent)?,
            mass: self.mass.checked_multiply(exponent)?,
            time: self.time.checked_multiply(exponent)?,
            temperature: self.temperature.checked_multiply(exponent)?,
        })
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
    fn an_exponent_that_does_not_fit_is_no_dimension() {
        let huge = Dimension::from_integers(i32::MAX, 0, 0, 0);
        assert_eq!(huge.checked_multiply(Dimension::LENGTH), None);
        assert_eq!(huge.checked_power(Rational::from_integer(2)), None);
    }
}
