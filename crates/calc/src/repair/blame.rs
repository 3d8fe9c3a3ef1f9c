//! The smallest part of a formula that is at fault, as far as the line tells by itself: the place of
//! the likeliest slip that would explain it, or the run of factors that holds the equally likely ones.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind, Statement, ValueBody};
use haunch_text::Span;

use super::costs::Reason;
use super::line::{Line, outside_parentheses};
use super::needed::{Need, spread};
use super::parentheses;
use super::structure::of_structure;
use super::symbols::is_customary;
use super::term::Terms;
use crate::expression::sum::terms;

/// Slips whose costs differ by less are equally likely.
const ALIKE: f64 = 0.15;

/// The part at fault of an expression that has to be `wanted`; the expression itself, out of its
/// parentheses, where no single slip explains it. With it the dimension that it would need, all else
/// staying as it is, where that is one that the trade has a name for.
pub(crate) fn part(
    line: &Line<'_>,
    id: ExpressionId,
    wanted: Dimension,
) -> (Span, Option<Dimension>) {
    let needs = spread(line, vec![(id, wanted)]);
    let weight = line
        .found(id)
        .and_then(|found| found.checked_multiply(Dimension::ACCELERATION));
    // Where parentheses would mend the sum around a term, the term is right in itself.
    let lacks_parentheses = line.tree.expressions.iter().enumerate().any(|(index, _)| {
        let sum = ExpressionId(index as u32);
        let terms = terms(line.tree, sum);
        terms.len() > 1 && terms.contains(&id) && parentheses::would_mend(line, sum, wanted)
    });
    // A mass for a force lacks `g_n`; any other factor may be right.
    let at_fault = if lacks_parentheses || asks_amiss(line, id, wanted) || weight == Some(wanted) {
        line.span(id)
    } else {
        smallest(line, id, &needs)
    };
    let needed = needs
        .iter()
        .find(|(part, needed)| line.span(*part) == at_fault && needed.name().is_some())
        .map(|(_, needed)| *needed);
    (at_fault, needed)
}

/// Whether the name on the left usually stands for what the formula gives, and not for what the
/// brackets ask: then the formula as a whole is no likelier at fault in one part than in another.
fn asks_amiss(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> bool {
    let Statement::Value(value) = &line.tree.statement else {
        return false;
    };
    let is_body = matches!(value.body, ValueBody::Expression(body) if body == id);
    let customary = |dimension| is_customary(&value.name.text, dimension);
    is_body && line.found(id).and_then(customary) == Some(true) && customary(wanted) == Some(false)
}

fn smallest(line: &Line<'_>, id: ExpressionId, needs: &[Need]) -> Span {
    let whole = line.span(inside(line, id));
    let mut slips = of_structure(line, needs);
    let terms = Terms::of(line);
    for slip in &mut slips {
        let likeness = slip
            .slip
            .as_ref()
            .and_then(|slip| terms.likeness_with(slip.at, &slip.changes));
        let unlike = likeness.map_or(0.0, |likeness| 0.5 - likeness);
        let reasons = std::mem::take(&mut slip.reasons).and(Reason::Unlike, unlike);
        slip.cost = reasons.cost_of_slip();
    }
    let Some(least) = slips.iter().map(|slip| slip.cost).min_by(f64::total_cmp) else {
        return whole;
    };
    let places = slips
        .iter()
        .filter(|slip| slip.cost < least + ALIKE)
        .map(|slip| slip.place)
        .reduce(|a, b| a.cover(b));
    let Some(place) = places else {
        return whole;
    };
    if !line.span(id).contains(place) {
        return whole;
    }
    if is_run_of_factors(place.text(line.text)) {
        return place;
    }
    // Children come before their parents: the first that covers the place is the smallest.
    let mut expressions = line.tree.expressions.iter();
    let covering = expressions.position(|own| own.span.contains(place));
    covering.map_or(whole, |index| {
        line.span(inside(line, ExpressionId(index as u32)))
    })
}

/// Whether a text has all its parentheses, and outside them no sign of a sum or a comparison.
fn is_run_of_factors(text: &str) -> bool {
    let signs = ['+', '-', '−', '<', '>', '=', ','];
    // Parentheses round the whole are left to the expression that covers it.
    outside_parentheses(text).is_some_and(|outside| !outside.contains(signs))
        && !text.starts_with('(')
}

fn inside(line: &Line<'_>, mut id: ExpressionId) -> ExpressionId {
    while let Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) = line.kind(id) {
        id = *inner;
    }
    id
}
