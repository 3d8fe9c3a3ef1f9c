//! Quantities for reading: number and unit, with digits that never contradict a verdict.

use std::fmt;

use crate::dimension::Dimension;
use crate::number_format::format_number;
use crate::preferences::Preferences;
use crate::quantity::Quantity;
use crate::unit::Unit;

/// A check holds up to this much over a utilisation of 1: the rounding of the calculation itself.
pub const UTILISATION_TOLERANCE: f64 = 1e-9;

/// Whether a check with this utilisation holds. A utilisation that is not a number does not.
pub fn holds(utilisation: f64) -> bool {
    utilisation <= 1.0 + UTILISATION_TOLERANCE
}

/// A number and its unit as text, apart, for tables with a column of units.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct FormattedNumber {
    /// The digits: `41.21`, `6.207e6`.
    pub digits: String,
    /// The unit for reading, empty for a plain number: `mm⁴`.
    pub unit: String,
}

/// `41.21 mm`
impl fmt::Display for FormattedNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit.as_str() {
            "" => f.write_str(&self.digits),
            // The SI Brochure (5.4.3) sets the sign for degrees against its number.
            "°" => write!(f, "{}°", self.digits),
            unit => write!(f, "{} {unit}", self.digits),
        }
    }
}

/// The text of a quantity, as `41.21 mm`. See [`format_parts`].
pub fn format_quantity(
    quantity: Quantity,
    unit: Option<&Unit>,
    preferences: &Preferences,
) -> String {
    format_parts(quantity, unit, preferences).to_string()
}

/// Number and unit of a quantity, in the unit asked for if it is one of the quantity's dimension,
/// else in the unit that the preferences lead to.
pub fn format_parts(
    quantity: Quantity,
    unit: Option<&Unit>,
    preferences: &Preferences,
) -> FormattedNumber {
    let (unit, [value]) = in_one_unit([quantity], unit, preferences);
    FormattedNumber {
        digits: format_number(value, preferences.digits()),
        unit: unit.to_string(),
    }
}

/// How a value and its limit compare when a check holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Relation {
    /// `<`
    Below,
    /// `<=`
    AtMost,
    /// `>`
    Above,
    /// `>=`
    AtLeast,
}

impl Relation {
    fn is_met(self, value: f64, limit: f64) -> bool {
        match self {
            Self::Below => value < limit,
            Self::AtMost => value <= limit,
            Self::Above => value > limit,
            Self::AtLeast => value >= limit,
        }
    }
}

/// Value and limit of a check with enough digits that what is printed agrees with the verdict.
///
/// 165.0004 MPa against a limit of 165 MPa, which fails, is not printed as 165.0 and 165.0.
/// Both are in one unit and have the same number of digits. Where the two numbers cannot be told
/// apart in digits (a verdict from the tolerance of a check), the value's digits say in words
/// what holds: `just within 165.0`. Two quantities of different dimensions, which no check
/// compares, are each shown by themselves.
pub fn format_against_limit(
    value: Quantity,
    limit: Quantity,
    relation: Relation,
    holds: bool,
    unit: Option<&Unit>,
    preferences: &Preferences,
) -> (FormattedNumber, FormattedNumber) {
    if value.dimension() != limit.dimension() {
        let show = |quantity| format_parts(quantity, unit, preferences);
        return (show(value), show(limit));
    }
    let (unit, [value, limit]) = in_one_unit([value, limit], unit, preferences);
    let unit = unit.to_string();
    let show = |value, digits| FormattedNumber {
        digits: format_number(value, digits),
        unit: unit.clone(),
    };
    let at = |digits| (show(value, digits), show(limit, digits));
    for digits in preferences.digits()..=Preferences::MOST_DIGITS {
        let (shown_value, shown_limit) = at(digits);
        if agrees(&shown_value.digits, &shown_limit.digits, relation, holds) {
            return (shown_value, shown_limit);
        }
    }
    let (mut shown_value, shown_limit) = at(preferences.digits());
    let words = if holds { "just within" } else { "just beyond" };
    shown_value.digits = format!("{words} {}", shown_limit.digits);
    (shown_value, shown_limit)
}

/// A utilisation as a percentage, as `87.31 %`, with enough digits to show which side of 100 %
/// it lies on.
pub fn format_utilisation(utilisation: f64, digits: u8) -> FormattedNumber {
    let holds = holds(utilisation);
    let percentage = Unit::parse("%")
        .ok()
        .and_then(|percent| percent.from_si(utilisation));
    let text = |digits| {
        percentage.map_or_else(
            || "beyond all bounds, over 100".to_string(),
            |value| format_number(value, digits),
        )
    };
    let shown = (digits.max(1)..=Preferences::MOST_DIGITS)
        .map(text)
        .find(|shown| agrees(shown, "100", Relation::AtMost, holds));
    FormattedNumber {
        digits: shown.unwrap_or_else(|| text(digits)),
        unit: "%".to_string(),
    }
}

fn agrees(value: &str, limit: &str, relation: Relation, holds: bool) -> bool {
    match (value.parse(), limit.parse()) {
        (Ok(value), Ok(limit)) => relation.is_met(value, limit) == holds,
        _ => false,
    }
}

/// Numbers in the unit asked for, if it fits, or in the preferred one; in SI units of size 1 where
/// one would be too large in that unit.
fn in_one_unit<const COUNT: usize>(
    quantities: [Quantity; COUNT],
    unit: Option<&Unit>,
    preferences: &Preferences,
) -> (Unit, [f64; COUNT]) {
    let dimension = quantities
        .first()
        .map_or(Dimension::RATIO, |quantity| quantity.dimension());
    let unit = match unit {
        Some(unit) if unit.dimension() == dimension => unit.clone(),
        _ => preferences.unit_for(dimension),
    };
    let mut values = [0.0; COUNT];
    for (value, quantity) in values.iter_mut().zip(quantities) {
        match unit.from_si(quantity.si()) {
            Some(converted) => *value = converted,
            None => return (Unit::coherent(dimension), quantities.map(Quantity::si)),
        }
    }
    (unit, values)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::literal::to_si;
    use proptest::prelude::*;

    fn quantity(number: &str, unit: &str) -> Quantity {
        let unit = Unit::parse(unit).unwrap();
        Quantity::new(to_si(number, &unit).unwrap(), unit.dimension()).unwrap()
    }

    fn unit(text: &str) -> Option<Unit> {
        Some(Unit::parse(text).unwrap())
    }

    #[test]
    fn quantities_in_usual_units() {
        let preferences = Preferences::default();
        let show = |quantity| format_quantity(quantity, None, &preferences);
        assert_eq!(show(quantity("41.2069", "mm")), "41.21 mm");
        assert_eq!(show(quantity("6.2069e6", "mm^4")), "6.207e6 mm⁴");
        assert_eq!(show(quantity("5400", "N*m")), "5.400 kN·m");
        assert_eq!(show(quantity("0", "m")), "0 mm");
        assert_eq!(show(quantity("0.25", "rad")), "0.2500");
        assert_eq!(show(quantity("12e-6", "K^-1")), "1.200e-5 1/K");
    }

    #[test]
    fn the_unit_asked_for_comes_first() {
        let listed = Preferences::new(vec![Unit::parse("m").unwrap()], 3);
        let show = |quantity, unit: Option<Unit>| format_quantity(quantity, unit.as_ref(), &listed);
        let slope = quantity("0.25", "rad");
        assert_eq!(show(quantity("12", "in"), unit("ft")), "1.00 ft");
        assert_eq!(show(quantity("12", "in"), None), "0.305 m");
        assert_eq!(show(quantity("12", "in"), unit("kN")), "0.305 m");
        assert_eq!(show(slope, unit("mrad")), "250 mrad");
        assert_eq!(show(slope, unit("%")), "25.0 %");
        assert_eq!(show(slope, unit("°")), "14.3°");
    }

    #[test]
    fn what_is_too_large_in_its_unit_is_shown_in_si_units() {
        let vast = Quantity::new(1e307, Dimension::LENGTH).unwrap();
        assert_eq!(
            format_quantity(vast, None, &Preferences::default()),
            "1.000e307 m"
        );
    }

    fn against(value: &str, limit: &str, relation: Relation, holds: bool) -> (String, String) {
        let (value, limit) = format_against_limit(
            quantity(value, "MPa"),
            quantity(limit, "MPa"),
            relation,
            holds,
            None,
            &Preferences::default(),
        );
        (value.to_string(), limit.to_string())
    }

    #[test]
    fn digits_are_added_until_they_tell() {
        let pair = |value: &str, limit: &str| (value.to_string(), limit.to_string());
        use Relation::{AtLeast, AtMost, Below};
        assert_eq!(
            against("165.0004", "165", AtMost, false),
            pair("165.0004 MPa", "165.0000 MPa")
        );
        assert_eq!(
            against("164.9996", "165", AtMost, true),
            pair("165.0 MPa", "165.0 MPa")
        );
        assert_eq!(
            against("165.041", "165.04", AtMost, false),
            pair("165.041 MPa", "165.040 MPa")
        );
        assert_eq!(
            against("164.9996", "165", AtLeast, false),
            pair("164.9996 MPa", "165.0000 MPa")
        );
        assert_eq!(
            against("164.9996", "165", Below, true),
            pair("164.9996 MPa", "165.0000 MPa")
        );
        assert_eq!(
            against("165", "165", Below, false),
            pair("165.0 MPa", "165.0 MPa")
        );
    }

    #[test]
    fn a_verdict_from_the_tolerance_is_said_in_words_if_digits_cannot() {
        // With 4 digits these fall on either side of a half, as 165.1 and 165.0.
        let (value, limit) = against("165.05000001", "165.04999999", Relation::AtMost, true);
        assert_eq!(
            (value.as_str(), limit.as_str()),
            ("165.05 MPa", "165.05 MPa")
        );
        let (value, _) = against("165", "165", Relation::AtMost, false);
        assert_eq!(value, "just beyond 165.0 MPa");
        let (value, _) = against("165.1", "165", Relation::AtMost, true);
        assert_eq!(value, "just within 165.0 MPa");
    }

    #[test]
    fn a_limit_of_another_dimension_keeps_its_own_unit() {
        let (value, limit) = format_against_limit(
            quantity("165", "MPa"),
            quantity("3", "mm"),
            Relation::AtMost,
            false,
            None,
            &Preferences::default(),
        );
        assert_eq!(
            (value.to_string(), limit.to_string()),
            ("165.0 MPa".into(), "3.000 mm".into())
        );
    }

    #[test]
    fn utilisation_shows_its_side_of_the_limit() {
        let show = |utilisation| format_utilisation(utilisation, 4).to_string();
        assert_eq!(show(0.87312), "87.31 %");
        assert_eq!(show(0.0), "0 %");
        assert_eq!(show(1.0), "100.0 %");
        assert_eq!(show(0.999_999), "100.0 %");
        assert_eq!(show(1.0 + 5e-10), "100.0 %");
        assert_eq!(show(1.000_002), "100.0002 %");
        assert_eq!(show(1.000_000_002), "100.0000002 %");
        assert_eq!(show(12.345_6), "1235 %");
    }

    #[test]
    fn a_utilisation_that_is_no_number_does_not_hold() {
        assert!(!holds(f64::NAN) && !holds(f64::INFINITY) && !holds(1.000_000_002));
        assert!(holds(0.0) && holds(1.0) && holds(1.0 + 1e-9));
    }

    proptest! {
        #[test]
        fn what_is_printed_never_contradicts_the_verdict(
            limit in 1e-6..1e9f64,
            ulps in 0..100_000_000_i64,
            above: bool,
            digits in 1..8u8,
        ) {
            let nearby = limit.to_bits() as i64 + if above { ulps } else { -ulps };
            let value = f64::from_bits(nearby as u64);
            let verdict = holds(value / limit);
            let preferences = Preferences::new(Vec::new(), digits);
            let quantity = |si| Quantity::new(si, Dimension::STRESS).unwrap();
            let (shown, shown_limit) =
                format_against_limit(quantity(value), quantity(limit), Relation::AtMost, verdict, None, &preferences);
            if let Some(words) = shown.digits.strip_prefix("just within ") {
                prop_assert!(verdict && words == shown_limit.digits);
            } else {
                let (a, b): (f64, f64) = (shown.digits.parse().unwrap(), shown_limit.digits.parse().unwrap());
                prop_assert_eq!(a <= b, verdict);
            }
            let percentage: f64 = format_utilisation(value / limit, digits).digits.parse().unwrap();
            prop_assert_eq!(percentage <= 100.0, verdict);
        }
    }
}
