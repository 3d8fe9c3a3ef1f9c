//! Places of a statement that take one kind of quantity.

use haunch_quantity::{Dimension, Preferences, Unit};
use haunch_syntax::ExpressionId;

use super::at_fault::at_fault;
use super::operands::operands;
use super::{CODE, described, related};
use crate::expression::Context;
use crate::finding::{Finding, Place};

/// A place of a statement that takes one kind of quantity.
pub(crate) fn needed(
    place: Place,
    source: &str,
    found: Dimension,
    wanted: Dimension,
    what: &str,
) -> Finding {
    let mut message = format!(
        "{what} has to be {}, but {source} is {}.",
        wanted.describe_with_article(),
        found.describe_with_article()
    );
    let (number, unit) = source.split_once(' ').unwrap_or((source, ""));
    let unit = unit.trim();
    let is_literal =
        number.parse::<f64>().is_ok() && (unit.is_empty() || Unit::parse(unit).is_ok());
    if is_literal && unit.is_empty() {
        message.push_str(" Add its unit.");
    } else if is_mass_for_force(found, wanted) {
        message.push_str(MASS_IS_NO_FORCE);
    }
    let mut finding = Finding::new(&CODE, place, message);
    if is_literal {
        let written = Some(unit).filter(|unit| !unit.is_empty());
        let units = crate::repair::units::near(written, wanted, &Preferences::default());
        for unit in units.into_iter().take(2) {
            let text = format!("{number} {unit}");
            finding = finding.with_repair(format!("Write {text}"), place, text);
        }
    }
    finding
}

/// The same of an expression of the line, at the part of it at fault.
pub(crate) fn needed_part(
    context: &Context<'_>,
    id: ExpressionId,
    found: Dimension,
    wanted: Dimension,
    what: &str,
) -> Finding {
    let whole = context.place_of(id);
    let mut finding = needed(whole, context.source(id), found, wanted, what);
    let (place, hint) = at_fault(context, id, wanted);
    if place != whole && !is_mass_for_force(found, wanted) {
        finding.place = place;
        finding.message.push_str(&hint);
    }
    let operands = operands(context, id).into_iter();
    finding.related = operands
        .map(|operand| related(described(context, operand)))
        .collect();
    finding
}

pub(super) const MASS_IS_NO_FORCE: &str =
    " A mass weighs its value times g_n: multiply by g_n, or write lbf instead of lb.";

pub(super) fn is_mass_for_force(found: Dimension, wanted: Dimension) -> bool {
    found.checked_multiply(Dimension::ACCELERATION) == Some(wanted)
}
