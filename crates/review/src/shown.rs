//! Numbers of two versions, shown so that a difference is seen.

use haunch_calc::{Evaluated, Value};
use haunch_quantity::{Preferences, Quantity, Unit, format_number, format_quantity};

/// Two numbers that differ by less than this share of the larger differ by the rounding of the
/// calculation only: they are the same result.
pub const ROUNDING: f64 = 1e-12;

/// Whether two numbers are the same result.
pub(crate) fn same_number(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= ROUNDING * a.abs().max(b.abs())
}

/// Whether two values are the same result.
pub(crate) fn same(a: &Evaluated, b: &Evaluated) -> bool {
    match (&a.value, &b.value) {
        (None, None) => true,
        (Some(Value::Quantity(a)), Some(Value::Quantity(b))) => {
            a.dimension() == b.dimension() && same_number(a.si(), b.si())
        }
        (Some(Value::List(a)), Some(Value::List(b))) => {
            a.len() == b.len()
                && a.iter()
                    .zip(b)
                    .all(|(a, b)| a.dimension() == b.dimension() && same_number(a.si(), b.si()))
        }
        (a, b) => a == b,
    }
}

/// How one version shows a value.
#[derive(Clone, Copy)]
pub(crate) struct Showing<'a> {
    pub(crate) unit: Option<&'a Unit>,
    pub(crate) preferences: &'a Preferences,
}

/// Both values as text, in one unit and with as many digits as it takes to tell them apart.
pub(crate) fn both(
    old: &Evaluated,
    new: &Evaluated,
    was: Showing<'_>,
    is: Showing<'_>,
) -> (Option<String>, Option<String>) {
    let (Some(a), Some(b)) = (old.as_quantity(), new.as_quantity()) else {
        return (one(old, was), one(new, is));
    };
    if a.dimension() != b.dimension() {
        return (one(old, was), one(new, is));
    }
    let fits = |unit: &&Unit| unit.dimension() == b.dimension();
    let unit = is.unit.filter(fits).or(was.unit.filter(fits)).cloned();
    let unit = unit.unwrap_or_else(|| is.preferences.unit_for(b.dimension()));
    let texts = |preferences: &Preferences| {
        let text = |quantity| format_quantity(quantity, Some(&unit), preferences);
        (text(a), text(b))
    };
    let mut shown = texts(is.preferences);
    let mut digits = is.preferences.digits();
    while shown.0 == shown.1 && digits < Preferences::MOST_DIGITS {
        digits += 1;
        shown = texts(&Preferences::new(is.preferences.units().to_vec(), digits));
    }
    (Some(shown.0), Some(shown.1))
}

/// One value as text.
pub(crate) fn one(value: &Evaluated, showing: Showing<'_>) -> Option<String> {
    let quantity =
        |quantity: &Quantity| format_quantity(*quantity, showing.unit, showing.preferences);
    match value.value.as_ref()? {
        Value::Quantity(value) => Some(quantity(value)),
        Value::Truth(truth) => Some(truth.to_string()),
        Value::List(values) => Some(values.iter().map(quantity).collect::<Vec<_>>().join(", ")),
        Value::Text(words) => Some(format!("\"{words}\"")),
    }
}

/// By how many per cent of its size a value grew, whatever its sign: a hogging moment of -20 kN·m that
/// becomes -40 kN·m grew by 100 %. None from zero, and where the sign changes, since a percentage would
/// say nothing there.
pub(crate) fn percent(old: f64, new: f64) -> Option<f64> {
    let percent = (new - old) / old * 100.0;
    (old != 0.0 && new.signum() == old.signum() && percent.is_finite()).then_some(percent)
}

/// A change in per cent as text, always with its sign: `+16.7 %`, `-0.0012 %`.
pub fn percentage(percent: f64) -> String {
    let sign = if percent < 0.0 { "-" } else { "+" };
    format!("{sign}{} %", format_number(percent.abs(), 3))
}

#[cfg(test)]
mod tests {
    use super::*;
    use haunch_quantity::Dimension;

    #[test]
    fn percentages_have_their_sign() {
        let check = |old, new, text: Option<&str>| {
            assert_eq!(percent(old, new).map(percentage).as_deref(), text);
        };
        check(12.0, 10.0, Some("-16.7 %"));
        check(10.0, 12.0, Some("+20.0 %"));
        check(-4.0, -5.0, Some("+25.0 %"));
        check(-5.0, -4.0, Some("-20.0 %"));
        check(0.0, 5.0, None);
        check(-1.0, 1.0, None);
        check(5.0, 0.0, Some("-100 %"));
    }

    #[test]
    fn digits_are_added_until_the_difference_is_seen() {
        let preferences = Preferences::default();
        let showing = Showing {
            unit: None,
            preferences: &preferences,
        };
        let stress = |si| Evaluated::quantity(Quantity::new(si, Dimension::STRESS).unwrap());
        let (old, new) = both(&stress(165.0e6), &stress(165.0004e6), showing, showing);
        assert_eq!(old.unwrap(), "165.0000 MPa");
        assert_eq!(new.unwrap(), "165.0004 MPa");
    }

    #[test]
    fn rounding_is_no_change() {
        assert!(same_number(0.1 + 0.2, 0.3) && !same_number(1.0, 1.0 + 1e-9));
        assert!(same_number(0.0, 0.0) && !same_number(0.0, 1e-300));
    }
}
