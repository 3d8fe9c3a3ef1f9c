//! Sums of stresses that are no stress: of a normal stress and a shear stress, and of a stress with
//! its sign and a magnitude.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Statement, ValueBody};
use smol_str::SmolStr;

use super::Line;
use super::among_lines::Among;
use super::together::Question;
use crate::finding::{Code, Finding, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "stresses-of-two-kinds",
    severity: Severity::Warning,
    summary: "a normal stress and a shear stress are added as plain numbers",
    page: include_str!("../findings/pages/stresses-of-two-kinds.md"),
};

/// The code.
pub(crate) static MAGNITUDE: Code = Code {
    name: "magnitude-added",
    severity: Severity::Warning,
    summary: "a compressive stress with its sign and a magnitude are added, so that one takes the other away",
    page: include_str!("../findings/pages/magnitude-added.md"),
};

/// Results of a block that are normal stresses, positive in tension.
const NORMAL: [&str; 3] = ["stress", "stress_top", "stress_bottom"];
/// Results of a block that are shear stresses, which are magnitudes.
const SHEAR: [&str; 2] = ["shear_stress", "shear_stress_max"];
/// Words in a name that say on which side a stress is; common practice, no source.
const SIDES: [&str; 12] = [
    "t",
    "c",
    "tension",
    "compression",
    "top",
    "bottom",
    "left",
    "right",
    "inner",
    "outer",
    "least",
    "min",
];
/// How many names are followed from a sum.
const STEPS: usize = 3;

/// Whether a line could have a finding that other lines decide, by itself: it has a sum of stresses.
pub(super) fn concerns(line: Line<'_>) -> bool {
    let mut expressions = line.tree.expressions.iter().enumerate();
    expressions.any(|(index, expression)| {
        is_sum(&expression.kind) && is_stress(line, ExpressionId(index as u32))
    })
}

/// Direct sums and differences only, by the names of the results, or by the letters that the trade has
/// for the two.
pub(super) fn findings(line: Line<'_>) -> Vec<Finding> {
    let results = |left, right| Some((result(line, left)?, result(line, right)?));
    sums(line)
        .filter_map(|(id, _, left, right)| {
            let by_result = results(left, right).is_some_and(|(a, b)| are_of_two_kinds(a, b));
            let by_name = is_stress(line, id) && names_of_letters(line, left, right);
            (by_result || by_name).then(|| two_kinds(line, id))?
        })
        .collect()
}

/// Sums of which a side is a name that stands for such a stress, and sums with a magnitude.
pub(super) fn across(among: Among<'_>, line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (id, operator, left, right) in sums(line) {
        if !is_stress(line, id) {
            continue;
        }
        let is_direct = result(line, left).is_some() && result(line, right).is_some();
        let named = |side| {
            let (line, id) = behind(among, line, side)?;
            result(line, id)
        };
        let both = named(left).zip(named(right));
        let is_told = names_of_letters(line, left, right) || is_direct;
        if !is_told && both.is_some_and(|(left, right)| are_of_two_kinds(left, right)) {
            findings.extend(two_kinds(line, id));
        }
        if operator == BinaryOperator::Add {
            let sides = [(left, right), (right, left)];
            let found = sides
                .into_iter()
                .find_map(|(signed, other)| taken_away(among, line, id, signed, other));
            findings.extend(found);
        }
    }
    findings
}

/// Whether both sides are names that tell by themselves.
fn names_of_letters(line: Line<'_>, left: ExpressionId, right: ExpressionId) -> bool {
    let names = line.plain_name(left).zip(line.plain_name(right));
    names.is_some_and(|(left, right)| have_letters_of_two_kinds(left, right))
}

/// Every sum and difference of a line with its sides.
fn sums(
    line: Line<'_>,
) -> impl Iterator<Item = (ExpressionId, BinaryOperator, ExpressionId, ExpressionId)> {
    let expressions = line.tree.expressions.iter().enumerate();
    expressions.filter_map(|(index, expression)| match expression.kind {
        ExpressionKind::Binary {
            operator: operator @ (BinaryOperator::Add | BinaryOperator::Subtract),
            left,
            right,
            ..
        } => Some((ExpressionId(index as u32), operator, left, right)),
        _ => None,
    })
}

fn is_sum(kind: &ExpressionKind) -> bool {
    matches!(
        kind,
        ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            ..
        }
    )
}

fn is_stress(line: Line<'_>, id: ExpressionId) -> bool {
    line.evaluated(id).kind.dimension() == Some(Dimension::STRESS)
}

fn are_of_two_kinds(left: &str, right: &str) -> bool {
    (NORMAL.contains(&left) && SHEAR.contains(&right))
        || (SHEAR.contains(&left) && NORMAL.contains(&right))
}

/// `sigma_b` and `tau_q`: σ for a normal and τ for a shear stress, as everywhere in the trade.
fn have_letters_of_two_kinds(left: &str, right: &str) -> bool {
    let is = |name: &str, letters: [&str; 2]| {
        let first = name.split('_').next().unwrap_or(name);
        let first = first.trim_end_matches(|c: char| !c.is_alphabetic());
        letters.contains(&first)
    };
    let (normal, shear) = (["sigma", "σ"], ["tau", "τ"]);
    (is(left, normal) && is(right, shear)) || (is(left, shear) && is(right, normal))
}

fn two_kinds(line: Line<'_>, sum: ExpressionId) -> Option<Finding> {
    Some(Finding::new(
        &CODE,
        line.place(line.expression(sum)?.span),
        "one of these is a normal stress, positive in tension, and the other a shear stress. They \
         act in different directions, so their sum is no stress. Combine them by the rule of your \
         code.",
    ))
}

/// A compressive stress with its sign beside a magnitude, where no line takes the difference, too.
fn taken_away(
    among: Among<'_>,
    line: Line<'_>,
    sum: ExpressionId,
    signed: ExpressionId,
    other: ExpressionId,
) -> Option<Finding> {
    let value = |id| Some(line.evaluated(id).as_quantity()?.si());
    if value(signed)? >= 0.0 || value(other)? <= 0.0 {
        return None;
    }
    let signed_name = sign_of(among, line, signed)?;
    if !is_magnitude(among, line, other) || line.name().is_some_and(says_which_side) {
        return None;
    }
    let own_name = line.plain_name(signed).map(Into::into);
    let mut names = [Some(signed_name), own_name].into_iter().flatten();
    if has_difference(line) || names.any(|name| among.any_reader(&name, Question::TakesDifference))
    {
        return None;
    }
    let text = |id| Some(line.expression(id)?.span.text(line.text));
    let (signed, other) = (text(signed)?, text(other)?);
    Some(Finding::new(
        &MAGNITUDE,
        line.place(line.expression(sum)?.span),
        format!(
            "{signed} is compression with its sign, negative, and {other} is a magnitude: their sum \
             is the stress on the side that bending relieves. On the other side it is {signed} - \
             {other}. State both, or name the side."
        ),
    ))
}

/// Whether a line has a difference of stresses.
pub(super) fn has_difference(line: Line<'_>) -> bool {
    sums(line).any(|(id, operator, ..)| operator == BinaryOperator::Subtract && is_stress(line, id))
}

/// The first name of what gives a stress its sign, positive in tension: a normal stress or an axial
/// force of a block, or a force that is given with a minus.
fn sign_of(among: Among<'_>, line: Line<'_>, id: ExpressionId) -> Option<SmolStr> {
    let (line, id) = behind_product(among, line, id);
    line.factors(id).into_iter().find_map(|factor| {
        let path = line.path(factor.id)?;
        let first = &path.names.first()?.text;
        if let [_, .., last] = path.names.as_slice() {
            let has_sign = NORMAL.contains(&last.text.as_str()) || last.text == "N";
            return has_sign.then(|| first.clone());
        }
        let given = among.defining(first)?;
        let body = given.body()?;
        let is_minus = matches!(given.inner(body)?.1.kind, ExpressionKind::Negate(_));
        is_minus.then(|| first.clone())
    })
}

/// Whether a stress is a magnitude: an absolute value, the largest load, or a product of one.
fn is_magnitude(among: Among<'_>, line: Line<'_>, id: ExpressionId) -> bool {
    let mut look_at = vec![(line, id, STEPS)];
    let mut seen = vec![line.id];
    while let Some((line, id, steps)) = look_at.pop() {
        for factor in line.factors(id) {
            let Some(path) = line.path(factor.id) else {
                continue;
            };
            let [name] = path.names.as_slice() else {
                continue;
            };
            if path.arguments.is_some() {
                if name.text == "abs" {
                    return true;
                }
                continue;
            }
            let Some(given) = among.defining(&name.text) else {
                continue;
            };
            if steps == 0 || seen.contains(&given.id) {
                continue;
            }
            seen.push(given.id);
            match given.body() {
                Some(body) => look_at.push((given, body, steps - 1)),
                None if is_search(given) => return true,
                None => {}
            }
        }
    }
    false
}

/// What stands behind a name: the expression that gives it, where that is a name or result again.
fn behind<'a>(
    among: Among<'a>,
    line: Line<'a>,
    id: ExpressionId,
) -> Option<(Line<'a>, ExpressionId)> {
    let (mut line, mut id) = (line, id);
    for _ in 0..STEPS {
        let Some(name) = line.plain_name(id) else {
            break;
        };
        line = among.defining(&name.into())?;
        id = line.body()?;
    }
    Some((line, id))
}

/// The same, as far as there is a product or a result.
fn behind_product<'a>(
    among: Among<'a>,
    line: Line<'a>,
    id: ExpressionId,
) -> (Line<'a>, ExpressionId) {
    behind(among, line, id).unwrap_or((line, id))
}

fn is_search(line: Line<'_>) -> bool {
    matches!(&line.tree.statement, Statement::Value(value)
        if matches!(value.body, ValueBody::Search(_)))
}

fn says_which_side(name: &str) -> bool {
    name.split('_').skip(1).any(|word| SIDES.contains(&word))
}

/// The last name of a dotted path.
fn result(line: Line<'_>, id: ExpressionId) -> Option<&str> {
    let path = line.path(id)?;
    let is_dotted = path.names.len() > 1;
    is_dotted.then(|| path.names.last().map(|name| name.text.as_str()))?
}
