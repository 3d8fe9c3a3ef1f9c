//! A name that is also a unit, where the two can be taken for each other.
//!
//! The trade writes N for an axial force, t for a thickness and psi for a factor beside newtons, tonnes
//! and pounds per square inch. So a name counts where it is given the unit's own size, and where one line
//! uses the value and writes the unit after a number.

use haunch_quantity::{is_unit_word, unit_word};
use haunch_syntax::{ExpressionKind, Literal, Statement, ValueBody};

use super::Line;
use crate::finding::{Code, Finding, Severity};
use crate::value::Kind;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "name-like-unit",
    severity: Severity::Warning,
    summary: "a value has the name of a unit, and the two can be taken for each other",
    page: include_str!("../findings/pages/name-like-unit.md"),
};

/// Factors between units of the trade.
const FACTORS: [f64; 6] = [1e-9, 1e-6, 1e-3, 1e3, 1e6, 1e9];

pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = given(line).into_iter().collect();
    findings.extend(beside_the_unit(line));
    findings
}

/// A unit made by hand: `kN = 1000 N`, `kN = 1000`. One letter is left to the trade's symbols.
fn given(line: Line<'_>) -> Option<Finding> {
    let Statement::Value(value) = &line.tree.statement else {
        return None;
    };
    let ValueBody::Expression(body) = value.body else {
        return None;
    };
    let word = value.name.text.as_str();
    let unit = unit_word(word)?;
    if line.tree.indented || word.chars().nth(1).is_none() {
        return None;
    }
    let given = line.evaluated(body);
    let is_of_unit = given.kind.dimension() == Some(unit.dimension);
    let is_factor = given
        .as_quantity()
        .is_some_and(|number| number.dimension().is_ratio() && FACTORS.contains(&number.si()));
    (is_of_unit || is_factor).then(|| {
        let message = format!(
            "{word} is a unit, too, and after a number it stays one: 3 {word} does not read this line. \
             Give the value another name."
        );
        Finding::new(&CODE, line.place(value.name.span), message)
    })
}

/// A value beside the unit of its name: `m*1.2 m/s^2`.
fn beside_the_unit(line: Line<'_>) -> Vec<Finding> {
    let expressions = || line.tree.expressions.iter().zip(line.evaluated);
    let mut told: Vec<&str> = Vec::new();
    let mut findings = Vec::new();
    for (expression, evaluated) in expressions() {
        let ExpressionKind::Path(path) = &expression.kind else {
            continue;
        };
        let Some(name) = path.names.first() else {
            continue;
        };
        let word = name.text.as_str();
        if path.names.len() > 1 || !is_unit_word(word) || told.contains(&word) {
            continue;
        }
        let written = expressions().find(|(other, _)| match &other.kind {
            ExpressionKind::Literal(literal) => is_in(word, literal),
            _ => false,
        });
        if let Some((written, _)) = written
            && evaluated.kind != Kind::Unknown
        {
            told.push(word);
            let number = written.span.text(line.text);
            let message = format!(
                "{word} is a value here and a unit in {number}. Give the value another name, so that \
                 nobody takes one for the other."
            );
            findings.push(Finding::new(&CODE, line.place(name.span), message));
        }
    }
    findings
}

/// Whether a number's unit begins with a word. Later in the unit it could be the value itself, which
/// is an error of its own.
fn is_in(word: &str, literal: &Literal) -> bool {
    literal.parts.iter().any(|part| {
        let unit = part.unit.as_ref();
        let begin = unit.and_then(|unit| unit.text.split(|c: char| !c.is_alphabetic()).next());
        begin == Some(word)
    })
}
