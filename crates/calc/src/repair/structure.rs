//! The slips that a line tells by itself, without the names around it.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::company::term_around;
use super::costs::{Reason, Reasons};
use super::line::Line;
use super::needed::Need;
use super::product::{Product, inside_products};
use super::term::Change;
use super::{Candidate, Slip};
use crate::expression::sum::terms;

/// The slips that a line tells by itself, without the names around it.
pub(super) fn of_structure(line: &Line<'_>, needs: &[Need]) -> Vec<Candidate> {
    let inside = inside_products(line);
    let mut found = Vec::new();
    for &(id, wanted) in needs {
        let is_inside = inside.get(id.0 as usize).copied().unwrap_or(false);
        if line.found(id) == Some(wanted) || is_bound_by_others(line, id) {
            continue;
        }
        found.extend(another_name(line, id, wanted));
        found.extend(unit_too_many(line, id, wanted));
        if !is_inside || matches!(line.kind(id), Some(ExpressionKind::Group(_))) {
            found.extend(root(line, id, wanted));
        }
        if is_inside {
            continue;
        }
        if let Some(product) = Product::of(line, id) {
            found.extend(product.slips(line, wanted));
            found.extend(lost_factor(line, &product, wanted));
        }
    }
    found
}

/// Whether a term around this part agrees with another term of its sum: changing it alone would
/// only make them disagree.
fn is_bound_by_others(line: &Line<'_>, id: ExpressionId) -> bool {
    let span = line.span(id);
    let holds = |outer: Span| outer.contains(span);
    line.tree
        .expressions
        .iter()
        .enumerate()
        .any(|(index, sum)| {
            let sum_id = ExpressionId(index as u32);
            let is_sum = matches!(
                sum.kind,
                ExpressionKind::Binary {
                    operator: BinaryOperator::Add | BinaryOperator::Subtract,
                    ..
                }
            );
            if !is_sum || sum_id == id || !holds(sum.span) {
                return false;
            }
            let terms = terms(line.tree, sum_id);
            let Some(own) = terms.iter().find(|term| holds(line.span(**term))) else {
                return false;
            };
            terms
                .iter()
                .any(|term| term != own && line.found(*term) == line.found(*own))
        })
}

/// A name, or every name of a sum, in the place of another: likely where the place needs what single
/// names usually stand for, likelier where the name stands twice in its product.
fn another_name(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> Option<Candidate> {
    if !super::symbols::is_common(wanted) || line.found(id)?.is_ratio() {
        return None;
    }
    let name = |id: ExpressionId| match line.kind(id) {
        Some(ExpressionKind::Path(path)) if path.arguments.is_none() => Some(line.source(id)),
        _ => None,
    };
    let names: Option<Vec<&str>> = terms(line.tree, id).into_iter().map(name).collect();
    let names = names?;
    let times = match names.as_slice() {
        [only] => {
            let ids = (0..line.tree.expressions.len()).map(|index| ExpressionId(index as u32));
            let term = term_around(line, line.span(id));
            let is_there = |span: Span| term.start <= span.start && span.end <= term.end;
            ids.filter(|id| name(*id) == Some(*only) && is_there(line.span(*id)))
                .count()
        }
        _ => 1,
    };
    Some(Candidate {
        reasons: Reasons::of(Reason::NameAny)
            .and_if(times > 1, Reason::Twice)
            .and_if(is_raised(line, id), Reason::Raised),
        place: line.span(id),
        slip: Slip::of(id, Change::Name(line.span(id), wanted)),
        ..Candidate::default()
    })
}

/// A quantity in the place of a plain number.
fn unit_too_many(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> Option<Candidate> {
    let is_quantity = matches!(line.kind(id), Some(ExpressionKind::Literal(_)));
    (is_quantity && wanted.is_ratio()).then(|| Candidate {
        reasons: Reasons::of(Reason::UnitLeftOut),
        place: line.span(id),
        slip: Slip::of(id, Change::Power(line.span(id), 0, 1)),
        ..Candidate::default()
    })
}

/// A single name that is missing in a product, above or below the stroke.
fn lost_factor(line: &Line<'_>, product: &Product, wanted: Dimension) -> Vec<Candidate> {
    let Some(missing) = product.missing(wanted) else {
        return Vec::new();
    };
    let lost = |(dimension, above): (Option<Dimension>, bool)| {
        let dimension = dimension.filter(|dimension| super::symbols::is_common(*dimension))?;
        let change = Change::Add(dimension, above);
        Some(Candidate {
            reasons: Reasons::of(Reason::FactorAny),
            place: product.place(line),
            slip: Slip::of(product.id, change),
            ..Candidate::default()
        })
    };
    let inverse = Dimension::RATIO.checked_divide(missing);
    [(Some(missing), true), (inverse, false)]
        .into_iter()
        .filter_map(lost)
        .collect()
}

/// Whether an expression is raised to a power.
pub(super) fn is_raised(line: &Line<'_>, id: ExpressionId) -> bool {
    let mut expressions = line.tree.expressions.iter();
    expressions.any(|own| own.kind.raised() == Some(id))
}

/// A square root of the whole part, or none.
pub(super) fn root(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> Option<Candidate> {
    let span = line.span(id);
    if let Some(ExpressionKind::Path(path)) = line.kind(id) {
        let [argument] = path.arguments.as_deref()? else {
            return None;
        };
        let is_root = path.names.first().is_some_and(|n| n.text == "sqrt");
        if !is_root || line.found(*argument) != Some(wanted) {
            return None;
        }
        let text = format!("({})", line.source(*argument));
        return Some(Candidate {
            reasons: Reasons::of(Reason::RootLeftOut),
            place: span,
            title: format!("Write {text} without the root"),
            edits: vec![(span, text)],
            slip: Slip::of(id, Change::Power(span, 2, 1)),
            ..Candidate::default()
        });
    }
    let half = haunch_quantity::Rational::HALF;
    if line.found(id)?.checked_power(half) != Some(wanted) {
        return None;
    }
    let (reason, text) = match line.kind(id)? {
        // Parentheses round a whole formula are what a lost root leaves.
        ExpressionKind::Group(inner) => (
            Reason::RootOfGroup,
            format!("sqrt({})", line.source(*inner)),
        ),
        ExpressionKind::Binary {
            operator: BinaryOperator::Multiply | BinaryOperator::Divide,
            ..
        } => (Reason::RootOfProduct, format!("sqrt({})", line.source(id))),
        ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            ..
        } => (Reason::RootOfSum, format!("sqrt({})", line.source(id))),
        _ => return None,
    };
    Some(Candidate {
        reasons: Reasons::of(reason),
        place: span,
        title: format!("Write {text}"),
        edits: vec![(span, text)],
        slip: Slip::of(id, Change::Power(span, 1, 2)),
        ..Candidate::default()
    })
}
