//! Numbers as written in a file, with their units, to numbers in SI units.
//!
//! `3.1 mm` is the number nearest to 0.0031. Multiplying 3.1 by 0.001 instead would round twice
//! and often give its neighbour; here the literal and the exact size of the unit are combined in
//! decimal and rounded once.

use std::fmt;

use crate::decimal::Decimal;
use crate::unit::Unit;

/// A number as written, without its sign and unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number<'a> {
    /// `12`, `12.5`, `6.2e6`.
    Decimal(&'a str),
    /// `3/4` or `3 1/2`: whole numbers only.
    Fraction {
        /// The whole number before the fraction.
        whole: Option<&'a str>,
        /// Above the line.
        numerator: &'a str,
        /// Below the line.
        denominator: &'a str,
    },
}

/// Why a written number has no value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LiteralError {
    /// The text is not a number of the notation.
    NotANumber,
    /// A fraction with 0 below the line.
    DivisionByZero,
    /// Too large to be computed with (about 1.8e308 in SI units).
    TooLarge,
    /// Not zero, but too small to be told from it (about 2e-308 in SI units).
    TooSmall,
    /// The parts of a compound, as `6 ft 3 in`, have different dimensions.
    DifferentDimensions,
}

impl fmt::Display for LiteralError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => "this is not a number",
            Self::DivisionByZero => "the fraction divides by zero",
            Self::TooLarge => "this number is too large to be computed with",
            Self::TooSmall => "this number is too small to be told from zero",
            Self::DifferentDimensions => "the parts of this quantity have different kinds of units",
        })
    }
}

impl std::error::Error for LiteralError {}

/// The number nearest to a decimal literal with a unit, in SI units.
pub fn to_si(number: &str, unit: &Unit) -> Result<f64, LiteralError> {
    compound_to_si(&[(Number::Decimal(number), unit)])
}

/// The number nearest to a fraction of whole numbers with a unit, as `3 1/2 in`, in SI units.
pub fn fraction_to_si(
    whole: Option<&str>,
    numerator: &str,
    denominator: &str,
    unit: &Unit,
) -> Result<f64, LiteralError> {
    let fraction = Number::Fraction {
        whole,
        numerator,
        denominator,
    };
    compound_to_si(&[(fraction, unit)])
}

/// The number nearest to the sum of the parts of a quantity, as `5 ft 6 1/2 in`, in SI units.
pub fn compound_to_si(parts: &[(Number<'_>, &Unit)]) -> Result<f64, LiteralError> {
    let Some((_, first)) = parts.first() else {
        return Err(LiteralError::NotANumber);
    };
    if let [(number, unit)] = parts {
        return in_range(&exact(*number)?.times(unit.exact_factor()));
    }
    let mut sum = Decimal::from_integer(0);
    for (number, unit) in parts {
        if unit.dimension() != first.dimension() {
            return Err(LiteralError::DifferentDimensions);
        }
        let part = exact(*number)?.times(unit.exact_factor());
        // Within the range of numbers, the digits of all parts can be lined up for the sum.
        in_range(&part)?;
        sum = if sum.is_zero() { part } else { sum.plus(part) };
    }
    in_range(&sum)
}

fn exact(number: Number<'_>) -> Result<Decimal, LiteralError> {
    let (whole, numerator, denominator) = match number {
        Number::Decimal(text) => return Decimal::parse(text).ok_or(LiteralError::NotANumber),
        Number::Fraction {
            whole,
            numerator,
            denominator,
        } => (whole, numerator, denominator),
    };
    let whole = whole.map_or(Ok(0), whole_number)?;
    let numerator = whole_number(numerator)?;
    let denominator = whole_number(denominator)?;
    if denominator == 0 {
        return Err(LiteralError::DivisionByZero);
    }
    let over_denominator = u128::from(whole) * u128::from(denominator) + u128::from(numerator);
    Ok(Decimal::from_integer(over_denominator).divide(denominator.into()))
}

fn whole_number(text: &str) -> Result<u64, LiteralError> {
    if text.is_empty() || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(LiteralError::NotANumber);
    }
    text.parse().map_err(|_| LiteralError::TooLarge)
}

fn in_range(number: &Decimal) -> Result<f64, LiteralError> {
    let value = number.to_f64();
    if !value.is_finite() {
        Err(LiteralError::TooLarge)
    } else if value < f64::MIN_POSITIVE && !number.is_zero() {
        Err(LiteralError::TooSmall)
    } else {
        Ok(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn si(number: &str, unit: &str) -> Result<f64, LiteralError> {
        to_si(number, &Unit::parse(unit).unwrap())
    }

    #[test]
    fn a_prefix_adds_no_rounding() {
        assert_eq!(si("3.1", "mm"), Ok(0.0031));
        assert_eq!(si("0.3", "mm"), Ok(0.0003));
        assert_eq!(si("6.2e6", "mm4"), Ok(6.2e-6));
        assert_eq!(si("205", "GPa"), Ok(205e9));
        assert_eq!(si("7850", "kg/m^3"), Ok(7850.0));
        assert_eq!(si("5", "%"), Ok(0.05));
    }

    #[test]
    fn customary_units_are_rounded_once() {
        assert_eq!(si("1", "in"), Ok(0.0254));
        assert_eq!(si("12", "ft"), Ok(3.6576));
        assert_eq!(si("1", "lbf"), Ok(4.4482216152605));
        assert_eq!(si("90", "deg"), Ok(std::f64::consts::FRAC_PI_2));
        assert_eq!(si("30", "deg"), Ok(std::f64::consts::FRAC_PI_6));
        // Worked out with exact fractions in Python: 36·1000·lbf/in², lbf = 0.45359237·9.80665 N,
        // in = 0.0254 m, rounded once.
        assert_eq!(si("36", "ksi"), Ok(248_211_262.554_061));
    }

    #[test]
    fn fractions_and_compounds() {
        let inch = Unit::parse("in").unwrap();
        let foot = Unit::parse("ft").unwrap();
        assert_eq!(fraction_to_si(None, "3", "4", &inch), Ok(0.01905));
        assert_eq!(fraction_to_si(Some("3"), "1", "2", &inch), Ok(0.0889));
        assert_eq!(fraction_to_si(None, "1", "3", &foot), Ok(0.1016));
        assert_eq!(
            fraction_to_si(None, "1", "0", &inch),
            Err(LiteralError::DivisionByZero)
        );
        assert_eq!(
            fraction_to_si(None, "1.5", "2", &inch),
            Err(LiteralError::NotANumber)
        );
        let six_three = [(Number::Decimal("6"), &foot), (Number::Decimal("3"), &inch)];
        assert_eq!(compound_to_si(&six_three), Ok(1.905));
        let half = Number::Fraction {
            whole: Some("6"),
            numerator: "1",
            denominator: "2",
        };
        assert_eq!(
            compound_to_si(&[(Number::Decimal("5"), &foot), (half, &inch)]),
            Ok(1.6891)
        );
        let second = Unit::parse("s").unwrap();
        let mixed = [
            (Number::Decimal("6"), &foot),
            (Number::Decimal("3"), &second),
        ];
        assert_eq!(
            compound_to_si(&mixed),
            Err(LiteralError::DifferentDimensions)
        );
        assert_eq!(compound_to_si(&[]), Err(LiteralError::NotANumber));
    }

    #[test]
    fn what_is_out_of_range_is_said() {
        assert_eq!(si("1e306", "GPa"), Err(LiteralError::TooLarge));
        assert_eq!(si("1e-306", "mm4"), Err(LiteralError::TooSmall));
        assert_eq!(si("1e999999999999", "m"), Err(LiteralError::TooLarge));
        assert_eq!(si("0e999999999999", "m"), Ok(0.0));
        assert_eq!(si("1,5", "m"), Err(LiteralError::NotANumber));
        let second = Unit::parse("m").unwrap();
        let many = "9".repeat(30);
        assert_eq!(
            fraction_to_si(None, &many, "2", &second),
            Err(LiteralError::TooLarge)
        );
    }

    proptest! {
        #[test]
        fn a_metric_literal_is_the_nearest_number(whole in 0..100_000u32, places in "[0-9]{1,12}") {
            let written = format!("{whole}.{places}");
            for (unit, exponent) in [("mm", -3), ("kN", 3), ("mm^4", -12), ("MPa", 6)] {
                let nearest: f64 = format!("{written}e{exponent}").parse().unwrap();
                prop_assert_eq!(si(&written, unit), Ok(nearest));
            }
        }

        #[test]
        fn what_was_read_comes_back(whole in 0..100_000u32, places in "[0-9]{0,8}", unit in "mm|in|ksi|kip-ft|pcf|deg|%") {
            let written = format!("{whole}.{places}");
            let unit = Unit::parse(&unit).unwrap();
            let read = to_si(&written, &unit).unwrap();
            let back = unit.from_si(read).unwrap();
            let value: f64 = written.parse().unwrap();
            prop_assert!((back - value).abs() <= value * 4e-16, "{} {}", back, value);
        }
    }
}
