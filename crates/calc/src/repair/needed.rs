//! The dimension that each part of a line would need for the whole to come out right, all other
//! parts staying as they are.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{
    BinaryOperator, ExpressionId, ExpressionKind, LoadKind, LoadPlace, Statement, Tree, ValueBody,
};

use super::line::Line;
use crate::expression::sum::terms;
use crate::statements::expected;

/// A part with the dimension that it would need.
pub(super) type Need = (ExpressionId, Dimension);

fn kind(tree: &Tree, id: ExpressionId) -> Option<&ExpressionKind> {
    tree.expressions.get(id.0 as usize).map(|e| &e.kind)
}

/// Where the line itself says what a whole expression has to be.
fn roots(line: &Line<'_>, block: Option<haunch_syntax::BlockKind>, pending: &mut Vec<Need>) {
    let tree = line.tree;
    pending.extend(expected::asked(&tree.statement, block));
    let shown = match &tree.statement {
        Statement::Value(value) => match (&value.body, &value.shown) {
            (ValueBody::Expression(id), Some(shown)) => Some((*id, shown)),
            _ => None,
        },
        Statement::Formula(formula) => formula.shown.as_ref().map(|shown| (formula.body, shown)),
        Statement::Expect(expect) => {
            if let Some(dimension) = line.found(expect.expected) {
                pending.push((expect.actual, dimension));
            }
            if let Some(dimension) = line.found(expect.actual) {
                pending.push((expect.expected, dimension));
            }
            None
        }
        Statement::Load(load) => {
            // A load that is there already tells its kind by its own dimension.
            if let (
                LoadKind::Quantity(id),
                LoadPlace::Throughout(_) | LoadPlace::Stretch(..) | LoadPlace::Span(_),
            ) = (&load.kind, &load.place)
                && line.found(*id).is_none()
            {
                let dimension = match load.tributary {
                    None => Dimension::FORCE_PER_LENGTH,
                    Some(_) => Dimension::STRESS,
                };
                pending.push((*id, dimension));
            }
            None
        }
        _ => None,
    };
    if let Some((id, shown)) = shown
        && let Some(dimension) = expected::shown_dimension(&shown.kind)
    {
        pending.push((id, dimension));
    }
}

/// Every part with a dimension that would mend the line; a part may have several.
pub(super) fn needs(line: &Line<'_>, block: Option<haunch_syntax::BlockKind>) -> Vec<Need> {
    let tree = line.tree;
    let mut pending: Vec<Need> = Vec::new();
    roots(line, block, &mut pending);
    for (index, expression) in tree.expressions.iter().enumerate() {
        let id = ExpressionId(index as u32);
        match &expression.kind {
            ExpressionKind::Compare { left, right, .. } => {
                pending.extend(line.found(*right).map(|d| (*left, d)));
                pending.extend(line.found(*left).map(|d| (*right, d)));
            }
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            } => {
                let terms = terms(tree, id);
                let known: Vec<Dimension> = terms.iter().filter_map(|t| line.found(*t)).collect();
                if known.windows(2).any(|pair| pair[0] != pair[1]) {
                    pending.extend(known.into_iter().map(|dimension| (id, dimension)));
                } else if let Some(&common) = known.first() {
                    let unknown = terms.iter().filter(|term| line.found(**term).is_none());
                    pending.extend(unknown.map(|term| (*term, common)));
                }
            }
            _ => {}
        }
    }
    spread(line, pending)
}

/// These needs with those of the parts inside.
pub(super) fn spread(line: &Line<'_>, mut pending: Vec<Need>) -> Vec<Need> {
    let mut needs: Vec<Need> = Vec::new();
    while let Some(need) = pending.pop() {
        if needs.contains(&need) || needs.len() > 256 {
            continue;
        }
        needs.push(need);
        inner(line, need, &mut pending);
    }
    needs
}

/// What the operands of a part would need.
fn inner(line: &Line<'_>, (id, wanted): Need, pending: &mut Vec<Need>) {
    let tree = line.tree;
    match kind(tree, id) {
        Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) => {
            pending.push((*inner, wanted));
        }
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Multiply,
            left,
            right,
            ..
        }) => {
            for (one, other) in [(*left, *right), (*right, *left)] {
                let need = line.found(other).and_then(|d| wanted.checked_divide(d));
                pending.extend(need.map(|need| (one, need)));
            }
        }
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Divide,
            left,
            right,
            ..
        }) => {
            let above = line.found(*right).and_then(|d| wanted.checked_multiply(d));
            pending.extend(above.map(|need| (*left, need)));
            let below = line.found(*left).and_then(|d| d.checked_divide(wanted));
            pending.extend(below.map(|need| (*right, need)));
        }
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            ..
        }) => {
            let terms = terms(tree, id);
            for term in &terms {
                let others_fit = terms
                    .iter()
                    .filter(|other| *other != term)
                    .all(|other| line.found(*other).is_none_or(|d| d == wanted));
                if others_fit {
                    pending.push((*term, wanted));
                }
            }
        }
        Some(ExpressionKind::Superscript { base, exponent, .. }) => {
            pending.extend(root(wanted, *exponent).map(|need| (*base, need)));
        }
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Power,
            left,
            right,
            ..
        }) => {
            if let Some(exponent) = whole_number(tree, *right) {
                pending.extend(root(wanted, exponent).map(|need| (*left, need)));
            }
        }
        Some(ExpressionKind::Path(path)) if path.names.len() == 1 => {
            let (Some(name), Some(arguments)) = (path.names.first(), &path.arguments) else {
                return;
            };
            match (name.text.as_str(), arguments.as_slice()) {
                ("sqrt", [argument]) => {
                    let need = wanted.checked_power(Rational::from_integer(2));
                    pending.extend(need.map(|need| (*argument, need)));
                }
                ("abs" | "min" | "max" | "round" | "floor" | "ceil", arguments) => {
                    pending.extend(arguments.iter().map(|argument| (*argument, wanted)));
                }
                _ => {}
            }
        }
        _ => {}
    }
}

/// The dimension whose power is `wanted`.
fn root(wanted: Dimension, exponent: i32) -> Option<Dimension> {
    wanted.checked_power(Rational::new(1, exponent)?)
}

/// The whole number that an exponent is written as.
pub(super) fn whole_number(tree: &Tree, id: ExpressionId) -> Option<i32> {
    match kind(tree, id)? {
        ExpressionKind::Literal(literal) => match literal.parts.as_slice() {
            [part] if part.unit.is_none() => match &part.number {
                haunch_syntax::Number::Decimal(text) => text.parse().ok(),
                haunch_syntax::Number::Fraction { .. } => None,
            },
            _ => None,
        },
        ExpressionKind::Negate(inner) => whole_number_once(tree, *inner).map(|n| -n),
        _ => None,
    }
}

fn whole_number_once(tree: &Tree, id: ExpressionId) -> Option<i32> {
    match kind(tree, id)? {
        ExpressionKind::Literal(_) => whole_number(tree, id),
        _ => None,
    }
}
