//! The expressions of a statement that stand by themselves.

use haunch_syntax::{
    Adjustment, ExpressionId, LimitPlace, LoadKind, LoadPlace, PartPlace, PartTurn, PointPlace,
    Position, PositionKind, Statement, ValueBody,
};

/// The outermost expressions of a statement, in the order in which they are written.
pub(crate) fn of(statement: &Statement) -> Vec<ExpressionId> {
    match statement {
        Statement::Value(value) => match &value.body {
            ValueBody::Expression(id) => vec![*id],
            ValueBody::List(ids) => ids.clone(),
            ValueBody::Sizing(sizing) => vec![sizing.from, sizing.to, sizing.step],
            ValueBody::Text(_) | ValueBody::Search(_) => Vec::new(),
        },
        Statement::Formula(formula) => vec![formula.body],
        Statement::Verify(id) => vec![*id],
        Statement::Expect(expect) => [expect.actual, expect.expected]
            .into_iter()
            .chain(expect.tolerance)
            .collect(),
        Statement::Answer(answer) => vec![answer.value],
        Statement::Limit(limit) => {
            let at = match &limit.place {
                LimitPlace::At(position) => distance(position),
                _ => None,
            };
            at.into_iter()
                .chain([limit.bound])
                .chain(limit.up_to)
                .collect()
        }
        Statement::Part(part) => {
            let mut roots = part.sizes.clone();
            roots.extend(
                part.details
                    .iter()
                    .flat_map(|own| own.sizes.iter().copied()),
            );
            match &part.place {
                PartPlace::Unplaced => {}
                PartPlace::At { x, y, .. } => roots.extend([*x, *y]),
                PartPlace::Relative { adjustments, .. } => {
                    roots.extend(adjustments.iter().filter_map(|a| match a {
                        Adjustment::Inset(id, _) => Some(*id),
                        _ => None,
                    }));
                }
            }
            roots.extend(part.turns.iter().filter_map(|turn| match turn {
                PartTurn::Turned(by, _) => Some(*by),
                PartTurn::Sideways(_) | PartTurn::UpsideDown(_) => None,
            }));
            roots
        }
        Statement::Point(point) => match &point.place {
            PointPlace::At { x, y, .. } => vec![*x, *y],
            PointPlace::Edges { .. } => Vec::new(),
        },
        Statement::Support(support) => support
            .stiffness
            .into_iter()
            .chain(distance(&support.at))
            .collect(),
        Statement::SectionStretch(stretch) => distance(&stretch.from)
            .into_iter()
            .chain(distance(&stretch.to))
            .collect(),
        Statement::Hinge(position) => distance(position).into_iter().collect(),
        Statement::Load(load) => {
            let mut roots = Vec::new();
            match load.kind {
                LoadKind::Quantity(id) => roots.push(id),
                LoadKind::Varying(from, to) => roots.extend([from, to]),
                LoadKind::SelfWeight(_) => {}
                LoadKind::Wheels(ref all) => roots.extend(all),
            }
            match &load.place {
                LoadPlace::At(position) => roots.extend(distance(position)),
                LoadPlace::Stretch(from, to) => {
                    roots.extend(distance(from));
                    roots.extend(distance(to));
                }
                LoadPlace::Moving { distances, .. } => {
                    roots.extend(distances.iter().filter_map(distance));
                }
                LoadPlace::Unsaid
                | LoadPlace::Throughout(_)
                | LoadPlace::Span(_)
                | LoadPlace::AnySpans(_) => {}
            }
            roots.extend(load.tributary);
            roots
        }
        Statement::Combination(combination) => vec![combination.sum],
        Statement::Empty
        | Statement::Heading(_)
        | Statement::Note(_)
        | Statement::ResultsIn(_)
        | Statement::Use(_)
        | Statement::Allow(_)
        | Statement::Broken { .. } => Vec::new(),
    }
}

fn distance(position: &Position) -> Option<ExpressionId> {
    match position.kind {
        PositionKind::Distance(id) => Some(id),
        _ => None,
    }
}
