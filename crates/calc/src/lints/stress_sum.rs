//! A sum of a stress with its sign and a shear stress.

use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};

use super::Line;
use crate::finding::{Code, Finding, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "stresses-of-two-kinds",
    severity: Severity::Warning,
    summary: "a normal stress and a shear stress are added as plain numbers",
    page: include_str!("../findings/pages/stresses-of-two-kinds.md"),
};

/// Results of a block that are normal stresses, positive in tension.
const NORMAL: [&str; 3] = ["stress", "stress_top", "stress_bottom"];
/// Results of a block that are shear stresses.
const SHEAR: [&str; 2] = ["shear_stress", "shear_stress_max"];

/// Direct sums and differences only, by the names of the results.
pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for expression in &line.tree.expressions {
        let ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            left,
            right,
            ..
        } = expression.kind
        else {
            continue;
        };
        let is = |id, names: &[&str]| result(line, id).is_some_and(|name| names.contains(&name));
        if (is(left, &NORMAL) && is(right, &SHEAR)) || (is(left, &SHEAR) && is(right, &NORMAL)) {
            findings.push(Finding::new(
                &CODE,
                line.place(expression.span),
                "one of these is a normal stress, positive in tension, and the other a shear \
                 stress. They act in different directions, so their sum is no stress. Combine them \
                 by the rule of your code.",
            ));
        }
    }
    findings
}

/// The last name of a dotted path.
fn result(line: Line<'_>, id: ExpressionId) -> Option<&str> {
    match &line.inner(id)?.1.kind {
        ExpressionKind::Path(path) if path.names.len() > 1 => {
            path.names.last().map(|name| name.text.as_str())
        }
        _ => None,
    }
}
