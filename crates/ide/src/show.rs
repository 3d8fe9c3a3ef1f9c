//! Values as text.

use haunch_calc::{Definition, Evaluated, FileId, Snapshot, Value};
use haunch_quantity::{
    Preferences, Quantity, Unit, format_parts, format_quantity, format_utilisation,
};
use haunch_syntax::Path;

/// The unit in which the line that defines a name shows it.
pub(crate) fn unit_of(snapshot: &Snapshot, file: FileId, path: &Path) -> Option<Unit> {
    let names: Vec<_> = path.names.iter().map(|name| name.text.clone()).collect();
    match snapshot.definition(file, &names)? {
        Definition::Line(place) => snapshot.line(place.line)?.value()?.unit.clone(),
        Definition::Result {
            heading, member, ..
        } => {
            let block = snapshot.line(heading)?.block()?;
            block.unit_of(&member, &snapshot.preferences(file))
        }
    }
}

/// A value with its unit: `41.21 mm`, `true`. None without a value, or for words.
pub(crate) fn value(
    evaluated: &Evaluated,
    unit: Option<&Unit>,
    preferences: &Preferences,
) -> Option<String> {
    let quantity = |quantity: &Quantity| format_quantity(*quantity, unit, preferences);
    match evaluated.value.as_ref()? {
        Value::Quantity(value) => Some(quantity(value)),
        Value::Truth(truth) => Some(truth.to_string()),
        Value::List(values) => Some(values.iter().map(quantity).collect::<Vec<_>>().join(", ")),
        Value::Text(_) => None,
    }
}

/// A value without its unit, where the unit stands beside it already.
pub(crate) fn digits(
    evaluated: &Evaluated,
    unit: &Unit,
    preferences: &Preferences,
) -> Option<String> {
    let quantity = evaluated.as_quantity()?;
    let parts = format_parts(quantity, Some(unit), preferences);
    // A number too large for the unit is given in another one, which must then be said.
    if quantity.dimension() == unit.dimension() && parts.unit == unit.to_string() {
        Some(parts.digits)
    } else {
        Some(parts.to_string())
    }
}

/// What the rounding of a calculation comes to, as a share.
const ROUNDING: f64 = 1e-12;

/// A quantity as it would be written by hand: without the zeros that only state the rounding, if it is
/// as shown but for the rounding of the calculation.
pub(crate) fn plain(quantity: Quantity, unit: Option<&Unit>, preferences: &Preferences) -> String {
    let mut parts = format_parts(quantity, unit, preferences);
    let exact = Unit::parse(&parts.unit)
        .ok()
        .or_else(|| parts.unit.is_empty().then(Unit::one))
        .and_then(|unit| unit.from_si(quantity.si()));
    let is_as_shown = |exact: f64| {
        let shown: Option<f64> = parts.digits.parse().ok();
        shown.is_some_and(|shown| (shown - exact).abs() <= ROUNDING * exact.abs())
    };
    if exact.is_some_and(is_as_shown)
        && !parts.digits.contains('e')
        && let Some((whole, fraction)) = parts.digits.split_once('.')
    {
        let fraction = fraction.trim_end_matches('0');
        parts.digits = match fraction {
            "" => whole.to_owned(),
            _ => format!("{whole}.{fraction}"),
        };
    }
    parts.to_string()
}

/// A utilisation as a percentage.
pub(crate) fn utilisation(ratio: f64, preferences: &Preferences) -> String {
    format_utilisation(ratio, preferences.digits()).to_string()
}
