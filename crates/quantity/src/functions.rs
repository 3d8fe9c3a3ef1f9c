//! The mathematical functions of the notation, on checked quantities.
//!
//! Angles are plain numbers in radians. The functions come from `libm`, so that every platform
//! gives the same bits.

use crate::dimension::Dimension;
use crate::quantity::{ArithmeticError, Quantity, QuantityResult, finite, scaled};

/// How close to a whole number of steps counts as that number, relative to it: 0.7 m is seven
/// steps of 0.1 m although the quotient in binary is a little less.
const WHOLE_STEP_TOLERANCE: f64 = 1e-12;

impl Quantity {
    /// The sine of an angle.
    pub fn sine(self) -> QuantityResult {
        Self::of_ratio(libm::sin(self.ratio_value()?))
    }

    /// The cosine of an angle.
    pub fn cosine(self) -> QuantityResult {
        Self::of_ratio(libm::cos(self.ratio_value()?))
    }

    /// The tangent of an angle; none at an odd multiple of a right angle.
    pub fn tangent(self) -> QuantityResult {
        let angle = self.ratio_value()?;
        // The number nearest to a right angle misses it by up to half its last digit, which the
        // tangent would blow up into a number that looks like a result.
        if libm::cos(angle).abs() <= f64::EPSILON * angle.abs().max(1.0) {
            return Err(ArithmeticError::OutsideDomain(
                "a right angle has no tangent",
            ));
        }
        Self::of_ratio(libm::tan(angle))
    }

    /// The angle of this sine, from -90° to 90°.
    pub fn arcsine(self) -> QuantityResult {
        Self::of_ratio(libm::asin(self.sine_or_cosine()?))
    }

    /// The angle of this cosine, from 0° to 180°.
    pub fn arccosine(self) -> QuantityResult {
        Self::of_ratio(libm::acos(self.sine_or_cosine()?))
    }

    /// The angle of this tangent, between -90° and 90°.
    pub fn arctangent(self) -> QuantityResult {
        Self::of_ratio(libm::atan(self.ratio_value()?))
    }

    /// e to the power of a number.
    pub fn exponential(self) -> QuantityResult {
        scaled(libm::exp(self.ratio_value()?), false, Dimension::RATIO)
    }

    /// The natural logarithm of a positive number.
    pub fn natural_logarithm(self) -> QuantityResult {
        Self::of_ratio(libm::log(self.positive_ratio()?))
    }

    /// The logarithm to base 10 of a positive number.
    pub fn common_logarithm(self) -> QuantityResult {
        Self::of_ratio(libm::log10(self.positive_ratio()?))
    }

    /// The nearest whole number of steps; halves go away from zero.
    pub fn rounded_to(self, step: Self) -> QuantityResult {
        self.in_steps(step, f64::round)
    }

    /// The largest whole number of steps that is not above this.
    pub fn floor_to(self, step: Self) -> QuantityResult {
        self.in_steps(step, f64::floor)
    }

    /// The smallest whole number of steps that is not below this.
    pub fn ceiling_to(self, step: Self) -> QuantityResult {
        self.in_steps(step, f64::ceil)
    }

    fn in_steps(self, step: Self, whole: fn(f64) -> f64) -> QuantityResult {
        self.compare(step)?;
        if step.si() <= 0.0 {
            return Err(ArithmeticError::OutsideDomain(
                "the step must be more than zero",
            ));
        }
        let count = self.si() / step.si();
        let nearest = count.round();
        let is_whole = (count - nearest).abs() <= WHOLE_STEP_TOLERANCE * nearest.abs();
        let steps = if is_whole { nearest } else { whole(count) };
        finite(steps * step.si(), self.dimension())
    }

    fn sine_or_cosine(self) -> Result<f64, ArithmeticError> {
        let value = self.ratio_value()?;
        if value.abs() <= 1.0 {
            Ok(value)
        } else {
            Err(ArithmeticError::OutsideDomain(
                "a sine or cosine lies between -1 and 1",
            ))
        }
    }

    fn positive_ratio(self) -> Result<f64, ArithmeticError> {
        let value = self.ratio_value()?;
        if value > 0.0 {
            Ok(value)
        } else {
            Err(ArithmeticError::OutsideDomain(
                "only a number above zero has a logarithm",
            ))
        }
    }

    fn of_ratio(value: f64) -> QuantityResult {
        finite(value, Dimension::RATIO)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::literal::to_si;
    use crate::unit::Unit;

    fn quantity(number: &str, unit: &str) -> Quantity {
        let unit = Unit::parse(unit).unwrap();
        Quantity::new(to_si(number, &unit).unwrap(), unit.dimension()).unwrap()
    }

    fn ratio(value: f64) -> Quantity {
        Quantity::ratio(value).unwrap()
    }

    #[track_caller]
    fn close(result: QuantityResult, expected: f64) {
        let value = result.unwrap().si();
        assert!(
            (value - expected).abs() <= 1e-15 * expected.abs().max(1.0),
            "{value}"
        );
    }

    /// Values of the standard angles, from any table of functions.
    #[test]
    fn angles() {
        close(quantity("30", "deg").sine(), 0.5);
        close(quantity("60", "deg").cosine(), 0.5);
        close(quantity("45", "deg").tangent(), 1.0);
        close(ratio(0.5).arcsine(), std::f64::consts::FRAC_PI_6);
        close(ratio(0.5).arccosine(), std::f64::consts::FRAC_PI_3);
        close(ratio(1.0).arctangent(), std::f64::consts::FRAC_PI_4);
        assert!(ratio(1.1).arcsine().is_err());
        for angle in ["90", "270", "450", "36090"] {
            let tangent = quantity(angle, "deg").tangent();
            assert!(
                matches!(tangent, Err(ArithmeticError::OutsideDomain(_))),
                "{angle}"
            );
        }
        let length = quantity("3", "mm").sine();
        assert_eq!(length, Err(ArithmeticError::NotARatio(Dimension::LENGTH)));
    }

    #[test]
    fn logarithms_and_exponentials() {
        close(ratio(1.0).exponential(), std::f64::consts::E);
        close(ratio(std::f64::consts::E).natural_logarithm(), 1.0);
        close(ratio(1000.0).common_logarithm(), 3.0);
        assert_eq!(ratio(1e4).exponential(), Err(ArithmeticError::TooLarge));
        assert_eq!(ratio(-1e4).exponential(), Err(ArithmeticError::TooSmall));
        assert!(ratio(0.0).natural_logarithm().is_err());
        assert!(ratio(-1.0).common_logarithm().is_err());
    }

    #[test]
    fn steps() {
        let step = quantity("5", "mm");
        let value = quantity("12.6", "mm");
        close(value.rounded_to(step), 0.015);
        close(value.floor_to(step), 0.010);
        close(value.ceiling_to(step), 0.015);
        close(quantity("0.7", "m").floor_to(quantity("0.1", "m")), 0.7);
        close(ratio(-2.5).rounded_to(ratio(1.0)), -3.0);
        assert!(value.floor_to(ratio(1.0)).is_err());
        assert!(value.floor_to(Quantity::zero(Dimension::LENGTH)).is_err());
        assert!(value.floor_to(step.negated()).is_err());
    }
}
