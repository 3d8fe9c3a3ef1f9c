//! Slips that the dimensions of a line cannot show: the units agree, and something is likely not meant.
//!
//! Each lint is a warning, looks at one line and at what it uses, and is silent where it is not sure.

pub(crate) mod conversion_factor;
pub(crate) mod degrees;
pub(crate) mod stress_sum;
pub(crate) mod unlikely_material;

use haunch_syntax::{Expression, ExpressionId, ExpressionKind, Number, Tree};
use haunch_text::Span;

use crate::finding::{Finding, Place};
use crate::line::LineId;
use crate::value::Evaluated;

/// A line that could be read, with what its expressions came to.
#[derive(Clone, Copy)]
pub(crate) struct Line<'a> {
    pub(crate) id: LineId,
    pub(crate) tree: &'a Tree,
    pub(crate) text: &'a str,
    pub(crate) evaluated: &'a [Evaluated],
}

/// Everything unlikely about one line.
pub(crate) fn of_line(line: Line<'_>) -> Vec<Finding> {
    let mut findings = conversion_factor::findings(line);
    findings.extend(degrees::findings(line));
    findings.extend(stress_sum::findings(line));
    let name = crate::compute::name_span(&line.tree.statement).map(|span| span.text(line.text));
    for finding in &mut findings {
        // The name that the line gives is the one to silence it by.
        finding.name = name.map(str::to_owned);
    }
    findings
}

impl<'a> Line<'a> {
    fn expression(self, id: ExpressionId) -> Option<&'a Expression> {
        self.tree.expressions.get(id.0 as usize)
    }

    /// An expression without the parentheses around it.
    fn inner(self, mut id: ExpressionId) -> Option<(ExpressionId, &'a Expression)> {
        loop {
            let expression = self.expression(id)?;
            match expression.kind {
                ExpressionKind::Group(inner) => id = inner,
                _ => return Some((id, expression)),
            }
        }
    }

    fn evaluated(self, id: ExpressionId) -> &'a Evaluated {
        self.evaluated
            .get(id.0 as usize)
            .unwrap_or(&Evaluated::UNKNOWN)
    }

    /// The text of a number without a unit.
    fn bare_number(self, id: ExpressionId) -> Option<&'a str> {
        let (_, expression) = self.inner(id)?;
        let ExpressionKind::Literal(literal) = &expression.kind else {
            return None;
        };
        match literal.parts.as_slice() {
            [part] if part.unit.is_none() => match &part.number {
                Number::Decimal(text) => Some(text),
                Number::Fraction { .. } => None,
            },
            _ => None,
        }
    }

    fn place(self, span: Span) -> Place {
        Place {
            line: self.id,
            span,
        }
    }
}
