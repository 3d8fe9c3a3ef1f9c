//! `verify` and `expect`: conditions that must hold.

use haunch_quantity::{
    Dimension, Quantity, Relation as Shown, Unit, format_against_limit, format_quantity, holds,
};
use haunch_syntax::{Expect, ExpressionId, ExpressionKind, Relation};

use crate::expression::Context;
use crate::expression::literal::written_unit;
use crate::findings;
use crate::outcome::{Check, Meaning};
use crate::value::Kind;

fn shown_relation(relation: Relation) -> Shown {
    match relation {
        Relation::Less => Shown::Below,
        Relation::LessOrEqual => Shown::AtMost,
        Relation::Greater => Shown::Above,
        Relation::GreaterOrEqual => Shown::AtLeast,
    }
}

/// The unit of a side that is written as one number.
fn side_unit(context: &Context<'_>, id: ExpressionId) -> Option<Unit> {
    match &context
        .tree
        .expressions
        .get(context.tree.inside(id).0 as usize)?
        .kind
    {
        ExpressionKind::Literal(literal) => written_unit(literal),
        _ => None,
    }
}

pub(crate) fn verify(context: &mut Context<'_>, id: ExpressionId) -> Meaning {
    let name = context.laid_out(id);
    let mut check = Check {
        kind: "verify",
        text: name.clone(),
        name,
        utilisation: None,
        holds: None,
        place: None,
        line: context.line,
    };
    match context.kind(id) {
        Kind::Truth | Kind::Unknown => {}
        kind => {
            let place = context.place_of(id);
            let source = context.source(id);
            context.report(findings::not_a_truth::finding(place, source, kind));
        }
    }
    let truth = context.get(id).as_truth();
    check.holds = truth;
    let root = context.tree.inside(id);
    if let Some(ExpressionKind::Compare {
        relation,
        left,
        right,
        ..
    }) = context
        .tree
        .expressions
        .get(root.0 as usize)
        .map(|e| &e.kind)
        && let Some((value, limit)) = sides(context, *left, *right)
    {
        let (part, whole) = match relation {
            Relation::Less | Relation::LessOrEqual => (value, limit),
            Relation::Greater | Relation::GreaterOrEqual => (limit, value),
        };
        // A ratio of sides says how much is used only where both are positive.
        if part.si() >= 0.0 && whole.si() > 0.0 {
            let ratio = part.si() / whole.si();
            check.utilisation = ratio.is_finite().then_some(ratio);
        }
        let inclusive = matches!(relation, Relation::LessOrEqual | Relation::GreaterOrEqual);
        if inclusive && check.utilisation.is_some_and(holds) {
            check.holds = Some(true);
        }
        if let Some(verdict) = check.holds {
            let unit = side_unit(context, *right).or_else(|| side_unit(context, *left));
            let (value, limit) = format_against_limit(
                value,
                limit,
                shown_relation(*relation),
                verdict,
                unit.as_ref(),
                context.preferences,
            );
            check.text = format!("{value} {} {limit}", sign(*relation));
        }
    }
    if check.holds == Some(false) {
        let place = context.place_of(id);
        let source = context.source(id);
        context.report(findings::verify_fails::finding(place, source, &check));
    }
    Meaning::Check(check)
}

fn sides(
    context: &Context<'_>,
    left: ExpressionId,
    right: ExpressionId,
) -> Option<(Quantity, Quantity)> {
    let (a, b) = (context.get(left), context.get(right));
    let dimension = match (a.kind, b.kind) {
        (Kind::Zero, Kind::Quantity(dimension)) | (Kind::Quantity(dimension), _) => dimension,
        _ => Dimension::RATIO,
    };
    Some((a.as_dimension(dimension)?, b.as_dimension(dimension)?))
}

/// The sign of a relation.
pub(crate) fn sign(relation: Relation) -> &'static str {
    match relation {
        Relation::Less => "<",
        Relation::LessOrEqual => "<=",
        Relation::Greater => ">",
        Relation::GreaterOrEqual => ">=",
    }
}

pub(crate) fn expect(context: &mut Context<'_>, line: &Expect) -> Meaning {
    let name = context.laid_out(line.actual);
    let mut check = Check {
        kind: "expect",
        text: name.clone(),
        name,
        utilisation: None,
        holds: None,
        place: None,
        line: context.line,
    };
    let Some(tolerance) = line.tolerance else {
        let place = context.place_of(line.expected);
        context.report(findings::expect_differs::no_tolerance(place));
        return Meaning::Check(check);
    };
    let (Some(actual), Some(expected)) = (
        quantity_kind(context, line.actual),
        quantity_kind(context, line.expected),
    ) else {
        return Meaning::Check(check);
    };
    let zero = context.kind(line.expected) == Kind::Zero;
    if actual != expected && !zero {
        let span = context.span(line.actual).cover(context.span(line.expected));
        let finding = findings::unit_mismatch::sides(
            context,
            context.place(span),
            (line.actual, actual),
            (line.expected, expected),
        );
        context.report(finding);
        return Meaning::Check(check);
    }
    let Some(allowed) = allowed(context, line, tolerance, actual) else {
        return Meaning::Check(check);
    };
    let values = (
        context.get(line.actual).as_quantity(),
        context.get(line.expected).as_dimension(actual),
    );
    let (Some(value), Some(independent)) = values else {
        return Meaning::Check(check);
    };
    // A difference in the last bits is what rounding leaves of equal values.
    let rounding = 8.0 * f64::EPSILON * value.si().abs().max(independent.si().abs());
    let difference = (value.si() - independent.si()).abs();
    let difference = if difference <= rounding {
        0.0
    } else {
        difference
    };
    let utilisation = if difference == 0.0 {
        0.0
    } else {
        difference / allowed.si()
    };
    check.utilisation = utilisation.is_finite().then_some(utilisation);
    check.holds = Some(holds(utilisation));
    let unit = side_unit(context, line.expected);
    let (shown_difference, shown_allowed) = match Quantity::new(difference, actual) {
        Some(difference) => {
            let (a, b) = format_against_limit(
                difference,
                allowed,
                Shown::AtMost,
                holds(utilisation),
                unit.as_ref(),
                context.preferences,
            );
            (a.to_string(), b.to_string())
        }
        None => (String::new(), String::new()),
    };
    let shown = |quantity| format_quantity(quantity, unit.as_ref(), context.preferences);
    check.text = format!(
        "{} against {}: {shown_difference} apart, {shown_allowed} allowed",
        shown(value),
        shown(independent),
    );
    if check.holds == Some(false) {
        let place = context.place_of(line.expected);
        context.report(findings::expect_differs::finding(place, &check));
    }
    Meaning::Check(check)
}

fn quantity_kind(context: &mut Context<'_>, id: ExpressionId) -> Option<Dimension> {
    match context.kind(id) {
        Kind::Quantity(dimension) => Some(dimension),
        Kind::Zero => Some(Dimension::RATIO),
        Kind::Unknown => None,
        kind => {
            let place = context.place_of(id);
            let source = context.source(id);
            context.report(findings::not_a_quantity::finding(place, source, kind));
            None
        }
    }
}

/// How far the two may differ. A tolerance in per cent, or any plain number beside a quantity with
/// a dimension, is a share of the independent value.
fn allowed(
    context: &mut Context<'_>,
    line: &Expect,
    tolerance: ExpressionId,
    dimension: Dimension,
) -> Option<Quantity> {
    let found = quantity_kind(context, tolerance)?;
    let quantity = context.get(tolerance).as_quantity()?;
    if quantity.si() < 0.0 {
        let place = context.place_of(tolerance);
        context.report(findings::expect_differs::negative_tolerance(place));
        return None;
    }
    let in_per_cent = side_unit(context, tolerance).is_some_and(|unit| unit.dimension().is_ratio());
    if found.is_ratio() && (!dimension.is_ratio() || in_per_cent) {
        let independent = context.get(line.expected).as_dimension(dimension)?;
        return independent.absolute().checked_multiply(quantity).ok();
    }
    if context.kind(tolerance) == Kind::Zero {
        return Some(Quantity::zero(dimension));
    }
    if found != dimension {
        let finding = findings::unit_mismatch::needed_part(
            context,
            tolerance,
            found,
            dimension,
            "this tolerance",
        );
        context.report(finding);
        return None;
    }
    Some(quantity)
}
