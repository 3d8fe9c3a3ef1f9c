//! A bare number that looks like degrees where an angle is meant.

use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};

use super::Line;
use crate::finding::{Code, Finding, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "angle-without-unit",
    severity: Severity::Warning,
    summary: "a number without a unit stands for an angle and looks like degrees",
    page: include_str!("../findings/pages/angle-without-unit.md"),
};

/// Functions of an angle.
const OF_AN_ANGLE: [&str; 3] = ["sin", "cos", "tan"];

/// `sin(30)`, `cos(theta)` with a whole number for theta, `30 deg + 15`.
///
/// A number counts where it is more than a full turn in radians. A value given elsewhere counts only
/// where it is a whole number too: angles in radians are hardly ever whole.
pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for expression in &line.tree.expressions {
        match &expression.kind {
            ExpressionKind::Path(path) => {
                let ([name], Some([argument])) = (path.names.as_slice(), path.arguments.as_deref())
                else {
                    continue;
                };
                if OF_AN_ANGLE.contains(&name.text.as_str()) {
                    findings.extend(number(line, *argument).or_else(|| given(line, *argument)));
                }
            }
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            } => {
                for (angle, other) in [(*left, *right), (*right, *left)] {
                    if is_in_degrees(line, angle) {
                        findings.extend(number(line, other));
                    }
                }
            }
            _ => {}
        }
    }
    findings
}

fn number(line: Line<'_>, id: ExpressionId) -> Option<Finding> {
    let (mut id, mut expression) = line.inner(id)?;
    if let ExpressionKind::Negate(inner) = expression.kind {
        (id, expression) = line.inner(inner)?;
    }
    let written = line.bare_number(id)?;
    let number: f64 = written.parse().ok()?;
    (number > std::f64::consts::TAU).then(|| {
        let place = line.place(expression.span);
        Finding::new(
            &CODE,
            place,
            format!(
                "{written} has no unit, so it is an angle in radians, of more than a full turn. If \
                 degrees are meant, write {written} deg."
            ),
        )
        .with_repair(
            format!("Write {written} deg"),
            place,
            format!("{written} deg"),
        )
    })
}

fn given(line: Line<'_>, id: ExpressionId) -> Option<Finding> {
    let (id, expression) = line.inner(id)?;
    let ExpressionKind::Path(path) = &expression.kind else {
        return None;
    };
    let value = line.evaluated(id).as_quantity()?;
    let number = value.si();
    let looks_like_degrees =
        value.dimension().is_ratio() && (7.0..=360.0).contains(&number) && number.fract() == 0.0;
    if path.arguments.is_some() || !looks_like_degrees {
        return None;
    }
    let source = expression.span.text(line.text);
    Some(Finding::new(
        &CODE,
        line.place(expression.span),
        format!(
            "{source} is {number} without a unit, so it is an angle in radians, of more than a \
             full turn. If degrees are meant, give it that unit where it is defined: {number} deg."
        ),
    ))
}

fn is_in_degrees(line: Line<'_>, id: ExpressionId) -> bool {
    let Some((_, expression)) = line.inner(id) else {
        return false;
    };
    match &expression.kind {
        ExpressionKind::Literal(literal) => literal
            .parts
            .iter()
            .any(|part| part.unit.as_ref().is_some_and(|unit| unit.text == "deg")),
        _ => false,
    }
}
