//! Slips that the dimensions of a line cannot show: the units agree, and something is likely not meant.
//!
//! Each lint is a warning and is silent where it is not sure. Most look at one line and what it uses,
//! or at a block; those that look at other lines, too, are asked again when one of these changes
//! ([`among_lines`]).

pub(crate) mod among_lines;
pub(crate) mod conversion_factor;
pub(crate) mod degrees;
pub(crate) mod follow;
pub(crate) mod looks_like_formula;
pub(crate) mod loose_deflection;
pub(crate) mod near_fibre;
mod product;
pub(crate) mod stress_sum;
pub(crate) mod together;
pub(crate) mod unit_name;
pub(crate) mod unlikely_material;
pub(crate) mod unlikely_sizes;
pub(crate) mod unlikely_span;

use haunch_syntax::{
    Expression, ExpressionId, ExpressionKind, Number, Path, Statement, Tree, ValueBody,
};
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
    findings.extend(unit_name::findings(line));
    findings.extend(looks_like_formula::finding(line));
    for finding in &mut findings {
        // The name that the line gives is the one to silence it by.
        finding.name = line.name().map(str::to_owned);
    }
    findings
}

impl<'a> Line<'a> {
    fn expression(self, id: ExpressionId) -> Option<&'a Expression> {
        self.tree.expressions.get(id.0 as usize)
    }

    /// An expression without the parentheses around it.
    fn inner(self, id: ExpressionId) -> Option<(ExpressionId, &'a Expression)> {
        let id = self.tree.inside(id);
        Some((id, self.expression(id)?))
    }

    /// The name or dotted path that an expression is, if it is one.
    fn path(self, id: ExpressionId) -> Option<&'a Path> {
        match &self.inner(id)?.1.kind {
            ExpressionKind::Path(path) => Some(path),
            _ => None,
        }
    }

    /// The name that an expression is, if it is a plain one.
    fn plain_name(self, id: ExpressionId) -> Option<&'a str> {
        let path = self.path(id)?;
        match path.names.as_slice() {
            [name] if path.arguments.is_none() => Some(&name.text),
            _ => None,
        }
    }

    /// The expression that the line gives its name.
    fn body(self) -> Option<ExpressionId> {
        match &self.tree.statement {
            Statement::Value(value) => match value.body {
                ValueBody::Expression(body) => Some(body),
                _ => None,
            },
            _ => None,
        }
    }

    /// The name that the line gives.
    fn name(self) -> Option<&'a str> {
        let span = crate::compute::name_span(&self.tree.statement)?;
        Some(span.text(self.text))
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
