//! A bare number that looks like degrees where an angle is meant.

use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, ShownKind, Statement};

use super::Line;
use super::among_lines::Among;
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

/// `sin(30)`, `tan(45 - phi/2)`, `cos(theta)` with a whole number for theta, `30 deg + 15`.
///
/// A number counts where it is more than a full turn in radians. A value given elsewhere counts only
/// where it is a whole number too: angles in radians are hardly ever whole.
pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for expression in &line.tree.expressions {
        match &expression.kind {
            kind @ ExpressionKind::Path(_) => {
                if let Some(argument) = argument(line, kind) {
                    let terms = terms(line, argument);
                    let is_sum = terms.len() > 1;
                    findings.extend(terms.into_iter().filter_map(|term| {
                        let is_told = is_sum && is_beside_degrees(line, argument);
                        number(line, term).filter(|_| !is_told)
                    }));
                    findings.extend(given(line, argument));
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

/// Whether a line could have a finding that other lines decide, by itself: a name stands for an angle.
pub(super) fn concerns(line: Line<'_>) -> bool {
    let mut expressions = line.tree.expressions.iter();
    expressions.any(|expression| match &expression.kind {
        ExpressionKind::Path(_) => argument(line, &expression.kind)
            .is_some_and(|argument| line.plain_name(argument).is_some()),
        ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            left,
            right,
            ..
        } => [(left, right), (right, left)].iter().any(|(name, other)| {
            line.plain_name(**name).is_some() && number(line, **other).is_some()
        }),
        _ => false,
    })
}

/// `sin(phi)` where phi is `atan(a/b)*180/pi`, and `theta + 15` where theta is given in degrees.
pub(super) fn across(among: Among<'_>, line: Line<'_>) -> Vec<Finding> {
    let body = |id| {
        let given = among.defining(&line.plain_name(id)?.into())?;
        Some((given, given.body()?))
    };
    let expressions = line.tree.expressions.iter();
    let in_arguments: Vec<ExpressionId> = expressions
        .filter_map(|expression| argument(line, &expression.kind))
        .flat_map(|argument| terms(line, argument))
        .collect();
    let mut findings = Vec::new();
    for expression in &line.tree.expressions {
        match &expression.kind {
            kind @ ExpressionKind::Path(_) => {
                let found = argument(line, kind).and_then(|id| {
                    let (given, body) = body(id)?;
                    // A whole number of degrees is told with the line.
                    let is_told = self::given(line, id).is_some();
                    (is_made_to_degrees(given, body) && !is_told).then(|| made(line, id))?
                });
                findings.extend(found);
            }
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            } => {
                for (angle, other) in [(*left, *right), (*right, *left)] {
                    let is_in_degrees =
                        |(given, body)| is_in_degrees(given, body) || is_shown_so(given);
                    // Within a function of an angle it is told with the line.
                    let is_told = in_arguments.contains(&line.tree.inside(other));
                    if !is_told && body(angle).is_some_and(is_in_degrees) {
                        findings.extend(number(line, other));
                    }
                }
            }
            _ => {}
        }
    }
    findings
}

/// The argument of a function of an angle.
fn argument(line: Line<'_>, kind: &ExpressionKind) -> Option<ExpressionId> {
    let ExpressionKind::Path(path) = kind else {
        return None;
    };
    let ([name], Some([argument])) = (path.names.as_slice(), path.arguments.as_deref()) else {
        return None;
    };
    let is_one = OF_AN_ANGLE.contains(&name.text.as_str());
    is_one.then(|| line.inner(*argument).map(|(id, _)| id))?
}

/// The terms of a sum out of its parentheses, its first one first; one where it is no sum.
fn terms(line: Line<'_>, id: ExpressionId) -> Vec<ExpressionId> {
    let mut terms = Vec::new();
    let mut rest = vec![id];
    while let Some(id) = rest.pop() {
        let Some((id, own)) = line.inner(id) else {
            continue;
        };
        match own.kind {
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            } => rest.extend([right, left]),
            _ => terms.push(id),
        }
    }
    terms
}

/// Whether a number in a sum stands beside one in degrees, where it is told with that.
fn is_beside_degrees(line: Line<'_>, sum: ExpressionId) -> bool {
    terms(line, sum)
        .into_iter()
        .any(|term| is_in_degrees(line, term))
}

/// Whether a product turns an angle into the number of its degrees: `atan(a/b)*180/pi`.
fn is_made_to_degrees(line: Line<'_>, id: ExpressionId) -> bool {
    let factors = line.factors(id);
    let multiplies = |text: &str| {
        let mut numbers = factors.iter().filter(|factor| !factor.divides);
        numbers.any(|factor| line.bare_number(factor.id) == Some(text))
    };
    let by_pi = factors
        .iter()
        .any(|factor| factor.divides && line.plain_name(factor.id) == Some("pi"));
    by_pi && multiplies("180")
}

/// Whether a line shows its value in degrees.
fn is_shown_so(line: Line<'_>) -> bool {
    let shown = match &line.tree.statement {
        Statement::Value(value) => value.shown.as_ref().map(|shown| &shown.kind),
        _ => None,
    };
    matches!(shown, Some(ShownKind::Unit(unit)) if unit.text == "deg")
}

fn made(line: Line<'_>, id: ExpressionId) -> Option<Finding> {
    let place = line.place(line.expression(id)?.span);
    let source = place.span.text(line.text);
    let message = format!(
        "{source} is made a number of degrees where it is defined, and is taken for radians here. An \
         angle needs no factor: show it in [deg] there, and take 180/pi away."
    );
    Some(Finding::new(&CODE, place, message))
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
