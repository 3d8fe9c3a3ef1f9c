//! A factor between units, or the number of standard gravity, in a formula whose values have units.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, ShownKind, Statement};
use haunch_text::Span;

use super::Line;
use crate::finding::{Code, Finding, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "conversion-factor",
    severity: Severity::Warning,
    summary: "a factor between units stands in a formula whose values have units",
    page: include_str!("../findings/pages/conversion-factor.md"),
};

/// Standard gravity in m/s² as it is commonly written; common practice, no source.
const GRAVITY: [&str; 4] = ["9.81", "9.807", "9.80665", "9.8"];

/// A factor of a product.
#[derive(Clone, Copy)]
struct Factor {
    id: ExpressionId,
    divides: bool,
    /// The factor with its operator, what is taken away with it; none where it cannot be.
    removal: Option<Span>,
    leads: bool,
}

/// The factors of every whole product of the line.
pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let count = line.tree.expressions.len() as u32;
    if !(0..count).any(|id| line.bare_number(ExpressionId(id)).is_some()) {
        return findings;
    }
    let mut within = vec![false; line.tree.expressions.len()];
    // Operands come before what they are part of, so whole products are met first from the end.
    for index in (0..line.tree.expressions.len()).rev() {
        let id = ExpressionId(index as u32);
        if within[index] || line.tree.product(id).is_none() {
            continue;
        }
        let factors = factors(line, id, &mut within);
        for factor in &factors {
            findings.extend(power_of_ten(line, id, &factors, *factor));
            findings.extend(gravity(line, &factors, *factor));
        }
    }
    findings.reverse();
    findings
}

/// The factors of a product from its first to its last: `a*b/c` is a product of three.
fn factors(line: Line<'_>, whole: ExpressionId, within: &mut [bool]) -> Vec<Factor> {
    let mut factors = Vec::new();
    let span = |id| line.expression(id).map_or(Span::default(), |e| e.span);
    let mut id = whole;
    while let Some((divides, left, right)) = line.tree.product(id) {
        if let Some(seen) = within.get_mut(id.0 as usize) {
            *seen = true;
        }
        factors.push(Factor {
            id: right,
            divides,
            removal: Some(Span::new(span(left).end as usize, span(right).end as usize)),
            leads: false,
        });
        if line.tree.product(left).is_none() {
            let removal = (!divides)
                .then(|| Span::new(span(left).start as usize, span(right).start as usize));
            factors.push(Factor {
                id: left,
                divides: false,
                removal,
                leads: true,
            });
        }
        id = left;
    }
    factors.reverse();
    factors
}

/// The dimension of a factor that has units.
fn with_units(line: Line<'_>, factor: Factor) -> Option<Dimension> {
    let dimension = line.evaluated(factor.id).kind.dimension()?;
    (!dimension.is_ratio()).then_some(dimension)
}

/// A power of ten among values with units, in a formula whose unit is asked for or that is compared.
///
/// A count or a small ratio is a plain number too: `1000*brick`, `span/1000`, `E*1e-3`. So a factor
/// counts only where it makes the number larger at the end of a product, or where at least two other
/// factors have units.
fn power_of_ten(
    line: Line<'_>,
    whole: ExpressionId,
    factors: &[Factor],
    factor: Factor,
) -> Option<Finding> {
    let exponent = exponent(line, factor.id)?;
    if !matches!(exponent.abs(), 3 | 6 | 9 | 12) || !is_asked_for(line) {
        return None;
    }
    if line.evaluated(whole).kind.dimension()?.is_ratio() {
        return None;
    }
    let others: Vec<&Factor> = factors
        .iter()
        .filter(|other| other.id != factor.id && with_units(line, **other).is_some())
        .collect();
    let enlarges_at_the_end = !factor.divides && exponent > 0 && !factor.leads;
    let counts = match others.as_slice() {
        [one] => enlarges_at_the_end && !is_of_pieces(line, **one),
        several => several.len() > 1 && exponent > 0,
    };
    let removal = factor.removal?;
    if !counts {
        return None;
    }
    let place = line.place(line.expression(factor.id)?.span);
    let source = place.span.text(line.text);
    Some(
        Finding::new(
            &CODE,
            place,
            format!(
                "the values here have units, which are converted by themselves, so the factor \
                 {source} changes the result. Take it away if it stands for a conversion."
            ),
        )
        .with_repair(format!("Take {source} away"), line.place(removal), ""),
    )
}

/// Whether what stands beside a number alone is likely counted: pieces by their mass, or a number that
/// has the unit that is asked for already.
fn is_of_pieces(line: Line<'_>, factor: Factor) -> bool {
    if line.evaluated(factor.id).kind.dimension() == Some(Dimension::MASS) {
        return true;
    }
    let written = match line.inner(factor.id).map(|(_, own)| &own.kind) {
        Some(ExpressionKind::Literal(literal)) => match literal.parts.as_slice() {
            [part] => part.unit.as_ref().map(|unit| unit.text.as_str()),
            _ => None,
        },
        _ => None,
    };
    let asked = match &line.tree.statement {
        Statement::Value(value) => match value.shown.as_ref().map(|shown| &shown.kind) {
            Some(ShownKind::Unit(unit)) => Some(unit.text.as_str()),
            _ => None,
        },
        _ => None,
    };
    written.is_some() && written == asked
}

/// The number of standard gravity beside a mass, or under a force.
fn gravity(line: Line<'_>, factors: &[Factor], factor: Factor) -> Option<Finding> {
    let written = line.bare_number(factor.id)?;
    if !GRAVITY.contains(&written) {
        return None;
    }
    let masses = [
        Dimension::MASS,
        Dimension::MASS_PER_LENGTH,
        Dimension::MASS_PER_AREA,
        Dimension::DENSITY,
    ];
    let forces = [
        Dimension::FORCE,
        Dimension::FORCE_PER_LENGTH,
        Dimension::STRESS,
        Dimension::FORCE_PER_VOLUME,
    ];
    let fitting = if factor.divides { forces } else { masses };
    let beside = factors
        .iter()
        .filter(|other| !other.divides)
        .filter_map(|other| with_units(line, *other))
        .any(|dimension| fitting.contains(&dimension));
    if !beside {
        return None;
    }
    let place = line.place(line.expression(factor.id)?.span);
    Some(
        Finding::new(
            &CODE,
            place,
            format!(
                "{written} has no unit here, so a mass stays a mass. Standard gravity with its unit \
                 is g_n."
            ),
        )
        .with_repair("Write g_n", place, "g_n"),
    )
}

/// Whether the line asks for a unit, or compares.
fn is_asked_for(line: Line<'_>) -> bool {
    match &line.tree.statement {
        Statement::Value(value) => value.shown.is_some(),
        Statement::Verify(_) | Statement::Limit(_) => true,
        _ => false,
    }
}

/// The power of ten that a plain number is: of `1000`, `1e6`, `10^6`.
fn exponent(line: Line<'_>, id: ExpressionId) -> Option<i32> {
    if let Some(text) = line.bare_number(id) {
        return power(text);
    }
    let ExpressionKind::Binary {
        operator: BinaryOperator::Power,
        left,
        right,
        ..
    } = line.inner(id)?.1.kind
    else {
        return None;
    };
    if line.bare_number(left)? != "10" {
        return None;
    }
    line.bare_number(right)?.parse().ok()
}

/// `1000`, `1e3` and `1E+3` are 3.
fn power(text: &str) -> Option<i32> {
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse().ok()?),
        None => (text, 0),
    };
    let zeros = mantissa.strip_prefix('1')?;
    let only_zeros = zeros.len() <= 12 && zeros.bytes().all(|byte| byte == b'0');
    only_zeros.then_some(exponent + zeros.len() as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_of_ten_as_they_are_written() {
        assert_eq!(power("1000"), Some(3));
        assert_eq!(power("1e6"), Some(6));
        assert_eq!(power("10E+5"), Some(6));
        assert_eq!(power("1e-3"), Some(-3));
        assert_eq!(power("1200"), None);
        assert_eq!(power("2e3"), None);
    }
}
