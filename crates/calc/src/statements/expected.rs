//! What each place of a statement takes: dimensions that are asked for, before any value is known.

use haunch_quantity::{Dimension, Unit};
use haunch_syntax::{
    Adjustment, BlockKind, ExpressionId, ExpressionKind, Limit, LimitPlace, LoadKind, LoadPlace,
    PartPlace, PartTurn, PointPlace, Position, PositionKind, Sense, ShownKind, Statement, Tree,
    ValueBody,
};

use haunch_text::Span;

use crate::blocks::fields::{self, FieldKind};
use crate::blocks::limit_words;
use crate::blocks::limits::LimitSubject;
use crate::expression::literal::written_unit;
use crate::expression::{Context, Locals};
use crate::findings;
use crate::state::{Cell, State};
use crate::value::{Evaluated, Kind};

/// A dimension that a place asks for, and the words for the place.
struct Expectation {
    id: ExpressionId,
    dimension: Dimension,
    place: &'static str,
}

fn length(id: ExpressionId, place: &'static str) -> Expectation {
    Expectation {
        id,
        dimension: Dimension::LENGTH,
        place,
    }
}

fn ratio(id: ExpressionId, place: &'static str) -> Expectation {
    Expectation {
        id,
        dimension: Dimension::RATIO,
        place,
    }
}

/// The word for the slope of a part's flanges, the only size that is no length.
const TAPER: &str = "taper";

fn position(position: &Position) -> Option<Expectation> {
    match position.kind {
        PositionKind::Distance(id) => Some(length(id, "a place along the beam")),
        _ => None,
    }
}

/// What the fixed places of a statement ask for. The dimension of a load tells its kind and is
/// looked at by the beam.
fn expectations(statement: &Statement, block: Option<BlockKind>) -> Vec<Expectation> {
    match statement {
        Statement::Value(value) => {
            let field = block.and_then(|block| fields::find(block, &value.name.text));
            match (field.map(|f| (f.kind, f.in_short())), &value.body) {
                (Some((FieldKind::Quantity(dimension), place)), ValueBody::Expression(id)) => {
                    vec![Expectation {
                        id: *id,
                        dimension,
                        place,
                    }]
                }
                (Some((FieldKind::List(dimension), place)), ValueBody::List(ids)) => ids
                    .iter()
                    .map(|id| Expectation {
                        id: *id,
                        dimension,
                        place,
                    })
                    .collect(),
                (Some((FieldKind::List(dimension), place)), ValueBody::Expression(id)) => {
                    vec![Expectation {
                        id: *id,
                        dimension,
                        place,
                    }]
                }
                _ => Vec::new(),
            }
        }
        Statement::Limit(limit) => {
            let Some(subject) = LimitSubject::from_word(&limit.subject.text) else {
                return Vec::new();
            };
            let place = match subject {
                LimitSubject::Stress(_) => "a limit on a stress",
                LimitSubject::Deflection | LimitSubject::SidewaysDeflection => {
                    "a limit on a deflection"
                }
                LimitSubject::Reaction | LimitSubject::Uplift | LimitSubject::SidewaysReaction => {
                    "a limit on a reaction"
                }
            };
            let dimension = subject.dimension();
            let at = match &limit.place {
                LimitPlace::At(at) => position(at),
                _ => None,
            };
            let bound = Expectation {
                id: limit.bound,
                dimension,
                place,
            };
            let up_to = limit.up_to.map(|id| length(id, "a thickness"));
            at.into_iter().chain([bound]).chain(up_to).collect()
        }
        Statement::Part(part) => {
            let mut all: Vec<_> = part.sizes.iter().map(|id| length(*id, "a size")).collect();
            for detail in &part.details {
                let is_taper = detail.word.text == TAPER;
                all.extend(detail.sizes.iter().map(|id| match is_taper {
                    true => ratio(*id, "a taper"),
                    false => length(*id, "a size"),
                }));
            }
            all.extend(part.turns.iter().filter_map(|turn| match turn {
                PartTurn::Turned(by, _) => Some(ratio(*by, "an angle, such as 90 deg,")),
                PartTurn::Sideways(_) | PartTurn::UpsideDown(_) => None,
            }));
            match &part.place {
                PartPlace::At { x, y, .. } => {
                    all.push(length(*x, "the x of a place"));
                    all.push(length(*y, "the y of a place"));
                }
                PartPlace::Relative { adjustments, .. } => {
                    all.extend(adjustments.iter().filter_map(|a| match a {
                        Adjustment::Inset(id, _) => Some(length(*id, "an inset")),
                        _ => None,
                    }));
                }
                PartPlace::Unplaced => {}
            }
            all
        }
        Statement::Point(point) => match &point.place {
            PointPlace::At { x, y, .. } => vec![
                length(*x, "the x of a point"),
                length(*y, "the y of a point"),
            ],
            PointPlace::Edges { .. } => Vec::new(),
        },
        Statement::Support(support) => support
            .stiffness
            .map(|id| Expectation {
                id,
                dimension: Dimension::FORCE_PER_LENGTH,
                place: "the stiffness of a spring",
            })
            .into_iter()
            .chain(position(&support.at))
            .collect(),
        Statement::SectionStretch(stretch) => position(&stretch.from)
            .into_iter()
            .chain(position(&stretch.to))
            .collect(),
        Statement::Hinge(at) => position(at).into_iter().collect(),
        Statement::Load(load) => {
            let mut all: Vec<_> = match &load.place {
                LoadPlace::At(at) => position(at).into_iter().collect(),
                LoadPlace::Stretch(from, to) => {
                    position(from).into_iter().chain(position(to)).collect()
                }
                LoadPlace::Moving { distances, .. } => {
                    let all = distances.iter().filter_map(|own| match own.kind {
                        PositionKind::Distance(id) => Some(length(id, "the distance of a wheel")),
                        _ => None,
                    });
                    all.collect()
                }
                _ => Vec::new(),
            };
            if let LoadKind::Wheels(wheels) = &load.kind {
                all.extend(wheels.iter().map(|id| Expectation {
                    id: *id,
                    dimension: Dimension::FORCE,
                    place: "the load of a wheel",
                }));
            }
            all.extend(load.tributary.map(|id| length(id, "a tributary width")));
            all
        }
        _ => Vec::new(),
    }
}

/// The dimensions that the fixed places of a statement ask for.
pub(crate) fn asked(
    statement: &Statement,
    block: Option<BlockKind>,
) -> impl Iterator<Item = (ExpressionId, Dimension)> {
    expectations(statement, block)
        .into_iter()
        .map(|expectation| (expectation.id, expectation.dimension))
}

/// What a word that says which way a load acts is for.
pub(crate) fn of_sense(sense: Sense) -> Option<Dimension> {
    match sense {
        Sense::Clockwise | Sense::Anticlockwise => Some(Dimension::MOMENT),
        Sense::TopWarmer | Sense::BottomWarmer => Some(Dimension::TEMPERATURE),
        _ => None,
    }
}

/// What the place and the sense of a load ask of it, where they leave no choice. A load at a place may be
/// a force or a settlement.
pub(crate) fn of_load(statement: &Statement) -> Vec<(ExpressionId, Dimension)> {
    let Statement::Load(load) = statement else {
        return Vec::new();
    };
    let asked = match (load.sense, &load.place) {
        (Some((sense, _)), _) => of_sense(sense),
        (
            None,
            LoadPlace::Throughout(_)
            | LoadPlace::Stretch(..)
            | LoadPlace::Span(_)
            | LoadPlace::AnySpans(_),
        ) => Some(match load.tributary {
            None => Dimension::FORCE_PER_LENGTH,
            Some(_) => Dimension::STRESS,
        }),
        (None, LoadPlace::Moving { .. }) => Some(Dimension::FORCE),
        (None, LoadPlace::At(_)) => load.sideways.map(|_| Dimension::FORCE),
        (None, LoadPlace::Unsaid) => None,
    };
    let ids = match load.kind {
        LoadKind::Quantity(id) => vec![id],
        LoadKind::Varying(from, to) => vec![from, to],
        LoadKind::SelfWeight(_) | LoadKind::Wheels(_) => Vec::new(),
    };
    let with_asked = |id| Some((id, asked?));
    ids.into_iter().filter_map(with_asked).collect()
}

/// The dimension that brackets at the end of a formula ask for.
pub(crate) fn shown_dimension(kind: &ShownKind) -> Option<Dimension> {
    match kind {
        ShownKind::Unit(unit) => Unit::parse(&unit.text).ok().map(|unit| unit.dimension()),
        ShownKind::Any(words) => Dimension::from_name(&words.text),
    }
}

/// Names that only this statement knows: `span` in a beam's limit, load cases in a combination.
pub(crate) fn add_locals(
    tree: &Tree,
    block: Option<BlockKind>,
    state: &State,
    cell: &Cell,
    locals: &mut Locals,
) {
    match &tree.statement {
        Statement::Limit(_) if block == Some(BlockKind::Beam) => {
            locals.insert("span".into(), Evaluated::dimension_only(Dimension::LENGTH));
        }
        Statement::Combination(_) => {
            let lines = cell
                .owner
                .map(|owner| state.lines_under(owner))
                .unwrap_or_default();
            for line in lines {
                let statement = state.cell(line).map(|cell| &cell.tree.statement);
                if let Some(case) = statement.and_then(load_case) {
                    locals.insert(case.text.clone(), Evaluated::UNKNOWN);
                }
            }
        }
        _ => {}
    }
}

/// The load case of a line. A load that could not be read still names its case.
fn load_case(statement: &Statement) -> Option<&haunch_syntax::Name> {
    match statement {
        Statement::Load(load) => Some(&load.case),
        Statement::Broken {
            keyword: Some(keyword),
            name,
            ..
        } if keyword.text == "load" => name.as_ref(),
        _ => None,
    }
}

/// Tells the expressions what is asked of them, before they are worked out.
pub(crate) fn expect(context: &mut Context<'_>, block: Option<BlockKind>) {
    let tree = context.tree;
    for expectation in expectations(&tree.statement, block) {
        context.expect(expectation.id, expectation.dimension);
    }
    let shown = match &tree.statement {
        Statement::Value(value) => match (&value.body, &value.shown) {
            (ValueBody::Expression(id), Some(shown)) => Some((*id, shown)),
            _ => None,
        },
        Statement::Formula(formula) => formula.shown.as_ref().map(|shown| (formula.body, shown)),
        _ => None,
    };
    if let Some((id, shown)) = shown
        && let Some(dimension) = shown_dimension(&shown.kind)
    {
        context.expect(id, dimension);
    }
}

/// A bare number among a part's sizes takes the unit of the nearest size to its right that has one.
pub(crate) fn sizes(context: &mut Context<'_>) {
    let tree = context.tree;
    let Statement::Part(part) = &tree.statement else {
        return;
    };
    let mut unit: Option<Unit> = None;
    let details = part.details.iter().filter(|own| own.word.text != TAPER);
    let sizes: Vec<ExpressionId> = part
        .sizes
        .iter()
        .chain(details.flat_map(|own| &own.sizes))
        .copied()
        .collect();
    for &size in sizes.iter().rev() {
        let kind = |id: ExpressionId| tree.expressions.get(id.0 as usize).map(|own| &own.kind);
        // The coordinate of a corner may be negative.
        let inner = match kind(size) {
            Some(ExpressionKind::Negate(inner)) => *inner,
            _ => size,
        };
        let Some(ExpressionKind::Literal(literal)) = kind(inner) else {
            continue;
        };
        if literal.parts.iter().any(|part| part.unit.is_some()) {
            unit = written_unit(literal).or(unit);
        } else if let Some(unit) = &unit {
            let span = tree.expressions.get(inner.0 as usize).map(|own| own.span);
            let evaluated =
                context.literal_in(inner, literal, span.unwrap_or_default(), Some(unit));
            if let Some(slot) = context.evaluated.get_mut(inner.0 as usize) {
                *slot = evaluated;
            }
            if inner != size {
                let negated = context.negate(size, inner);
                if let Some(slot) = context.evaluated.get_mut(size.0 as usize) {
                    *slot = negated;
                }
            }
        }
    }
}

/// The place of a limit that has none there: supports have reactions, spans everything else.
fn misplaced(limit: &Limit, block: Option<BlockKind>) -> Option<Span> {
    let of_support = matches!(limit.subject.text.as_str(), "reaction" | "uplift");
    let in_beam = block == Some(BlockKind::Beam);
    match &limit.place {
        LimitPlace::Everywhere => None,
        LimitPlace::Support(name) => (!in_beam || !of_support).then_some(name.span),
        LimitPlace::At(at) => (!in_beam || !of_support).then_some(at.span),
        LimitPlace::Span(number) => (!in_beam || of_support).then_some(number.span),
    }
}

/// Checks what the fixed places of the statement were given.
pub(crate) fn check(context: &mut Context<'_>, block: Option<BlockKind>) {
    let tree = context.tree;
    for expectation in expectations(&tree.statement, block) {
        let found = match context.kind(expectation.id) {
            Kind::Unknown | Kind::Zero => continue,
            Kind::Quantity(found) if found == expectation.dimension => continue,
            Kind::Quantity(found) => found,
            kind => {
                let place = context.place_of(expectation.id);
                let source = context.source(expectation.id);
                context.report(findings::not_a_quantity::finding(place, source, kind));
                continue;
            }
        };
        let finding = findings::unit_mismatch::needed_part(
            context,
            expectation.id,
            found,
            expectation.dimension,
            expectation.place,
        );
        context.report(finding);
    }
    if let Statement::Limit(limit) = &tree.statement {
        let Some(block) = block else {
            return;
        };
        let known: Vec<&str> = limit_words(block)
            .into_iter()
            .map(|(word, _)| word)
            .collect();
        if !known.contains(&limit.subject.text.as_str()) {
            let place = context.place(limit.subject.span);
            context.report(findings::unknown_limit::finding(
                place,
                &limit.subject.text,
                &known,
            ));
        } else if let Some(up_to) = limit.up_to
            && block != BlockKind::Material
        {
            let place = context.place_of(up_to);
            context.report(findings::unknown_limit::no_thickness(place));
        } else if let Some(span) = misplaced(limit, Some(block)) {
            let place = context.place(span);
            context.report(findings::unknown_limit::no_place(
                place,
                &limit.subject.text,
            ));
        } else if matches!(
            limit.relation,
            haunch_syntax::Relation::Greater | haunch_syntax::Relation::GreaterOrEqual
        ) {
            let place = context.place(limit.relation_span);
            context.report(findings::unknown_limit::wrong_way(place));
        }
    }
}
