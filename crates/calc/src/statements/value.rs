//! `name = …`: values of a file, fields of a block, formulas with arguments.

use std::sync::Arc;

use haunch_quantity::Unit;
use haunch_syntax::{
    BlockKind, ExpressionId, ExpressionKind, Formula, Shown, ShownKind, Value, ValueBody,
};

use super::expected::shown_dimension;
use crate::blocks::fields::{self, Field, FieldKind};
use crate::expression::Context;
use crate::expression::literal::written_unit;
use crate::findings;
use crate::outcome::{Meaning, NamedValue};
use crate::value::{Evaluated, Kind, Value as ValueOf};

pub(crate) fn value(context: &mut Context<'_>, value: &Value, block: Option<BlockKind>) -> Meaning {
    match block {
        Some(block) => field(context, value, block),
        None => of_file(context, value),
    }
}

fn of_file(context: &mut Context<'_>, value: &Value) -> Meaning {
    if let Some((_, span)) = value.sense {
        let place = context.place(span);
        context.report(findings::sense::not_here(place));
        return unknown();
    }
    let (evaluated, capacity) = match &value.body {
        ValueBody::Expression(id) => (context.get(*id), None),
        ValueBody::Search(search) => {
            let (evaluated, capacity) = crate::capacity::search(context, search);
            (evaluated, capacity.map(Arc::new))
        }
        ValueBody::Sizing(sizing) => {
            let (evaluated, capacity) = crate::sizing::search(context, sizing);
            (evaluated, capacity.map(Arc::new))
        }
        ValueBody::Text(text) => {
            let place = context.place(text.span);
            context.report(findings::wrong_field::text_outside(place));
            return unknown();
        }
        ValueBody::List(ids) => {
            if let Some(second) = ids.get(1) {
                let place = context.place_of(*second);
                context.report(findings::wrong_field::list_outside(place));
            }
            return unknown();
        }
    };
    let body = match &value.body {
        ValueBody::Expression(id) => Some(*id),
        _ => None,
    };
    let evaluated = check_shown(context, evaluated, body, value.shown.as_ref());
    let asked = asked_unit(value.shown.as_ref());
    let unit_asked = asked.is_some();
    Meaning::Value(Box::new(NamedValue {
        evaluated,
        unit: asked.or_else(|| body.and_then(|id| unit_as_written(context, id))),
        unit_asked,
        capacity,
    }))
}

fn unknown() -> Meaning {
    Meaning::Value(Box::new(NamedValue {
        evaluated: Evaluated::UNKNOWN,
        unit: None,
        unit_asked: false,
        capacity: None,
    }))
}

/// The unit of a value that is written as one literal.
fn unit_as_written(context: &Context<'_>, id: ExpressionId) -> Option<Unit> {
    let mut id = id;
    loop {
        match &context.tree.expressions.get(id.0 as usize)?.kind {
            ExpressionKind::Literal(literal) => return written_unit(literal),
            ExpressionKind::Negate(inner) | ExpressionKind::Group(inner) => id = *inner,
            _ => return None,
        }
    }
}

fn asked_unit(shown: Option<&Shown>) -> Option<Unit> {
    match &shown?.kind {
        ShownKind::Unit(unit) => Unit::parse(&unit.text).ok(),
        ShownKind::Any(_) => None,
    }
}

/// Checks a result against the brackets at its end. A mismatch leaves the dimension that the
/// author asked for, without a value, so that the lines that use it are still checked.
fn check_shown(
    context: &mut Context<'_>,
    evaluated: Evaluated,
    body: Option<ExpressionId>,
    shown: Option<&Shown>,
) -> Evaluated {
    let Some(shown) = shown else {
        return evaluated;
    };
    let Some(wanted) = shown_dimension(&shown.kind) else {
        let finding = match &shown.kind {
            ShownKind::Unit(unit) => {
                findings::unknown_unit::finding(context.place(unit.span), &unit.text)
            }
            ShownKind::Any(words) => {
                findings::unknown_unit::dimension(context.place(words.span), &words.text)
            }
        };
        context.report(finding);
        return evaluated;
    };
    match evaluated.kind {
        Kind::Quantity(found) if found == wanted => evaluated,
        Kind::Zero => Evaluated {
            value: evaluated.as_dimension(wanted).map(ValueOf::Quantity),
            kind: Kind::Quantity(wanted),
        },
        Kind::Unknown => Evaluated::dimension_only(wanted),
        Kind::Quantity(found) => {
            let finding = findings::unit_mismatch::declared(context, body, shown, found, wanted);
            context.report(finding);
            Evaluated::dimension_only(wanted)
        }
        kind => {
            let place = body.map_or(context.place(shown.span), |id| context.place_of(id));
            let source = body.map_or("", |id| context.source(id));
            context.report(findings::not_a_quantity::finding(place, source, kind));
            Evaluated::dimension_only(wanted)
        }
    }
}

fn field(context: &mut Context<'_>, value: &Value, block: BlockKind) -> Meaning {
    let Some(field) = fields::find(block, &value.name.text) else {
        let place = context.place(value.name.span);
        context.report(findings::unknown_field::finding(
            place,
            &value.name.text,
            block,
        ));
        return unknown();
    };
    let evaluated = match (field.kind, &value.body) {
        (FieldKind::Text, ValueBody::Text(text)) => Evaluated {
            kind: Kind::Text,
            value: Some(ValueOf::Text(text.text.clone())),
        },
        (FieldKind::Quantity(_), ValueBody::Expression(id)) => {
            let evaluated = check_shown(context, context.get(*id), Some(*id), value.shown.as_ref());
            with_sense(context, field, value, evaluated)
        }
        (FieldKind::List(dimension), ValueBody::List(_) | ValueBody::Expression(_)) => {
            let ids = match &value.body {
                ValueBody::List(ids) => ids.as_slice(),
                ValueBody::Expression(id) => std::slice::from_ref(id),
                _ => &[],
            };
            let items: Option<Vec<_>> = ids
                .iter()
                .map(|id| context.get(*id).as_dimension(dimension))
                .collect();
            Evaluated {
                kind: Kind::List(dimension),
                value: items.map(ValueOf::List),
            }
        }
        (kind, _) => {
            let place = context.place(value.name.span);
            context.report(findings::wrong_field::finding(place, field.name, kind));
            return unknown();
        }
    };
    let body = match &value.body {
        ValueBody::Expression(id) => Some(*id),
        _ => None,
    };
    let asked = asked_unit(value.shown.as_ref());
    let unit_asked = asked.is_some();
    Meaning::Value(Box::new(NamedValue {
        evaluated,
        unit: asked.or_else(|| body.and_then(|id| unit_as_written(context, id))),
        unit_asked,
        capacity: None,
    }))
}

/// Turns a magnitude with its sense into a signed quantity. Where a sense matters its word is
/// required, and the magnitude has no sign of its own.
fn with_sense(
    context: &mut Context<'_>,
    field: &Field,
    value: &Value,
    evaluated: Evaluated,
) -> Evaluated {
    let without_value = Evaluated {
        kind: evaluated.kind,
        value: None,
    };
    let FieldKind::Quantity(dimension) = field.kind else {
        return evaluated;
    };
    let quantity = evaluated.as_dimension(dimension);
    match (value.sense, field.senses) {
        (None, []) => evaluated,
        (Some((_, span)), []) => {
            let place = context.place(span);
            context.report(findings::sense::not_for(place, field.name));
            without_value
        }
        (None, senses) => {
            if quantity.is_some_and(|q| q.si() == 0.0) {
                return Evaluated::quantity(haunch_quantity::Quantity::zero(dimension));
            }
            let end = match &value.body {
                ValueBody::Expression(id) => context.span(*id),
                _ => value.name.span,
            };
            let place = context.place(end);
            context.report(findings::sense::missing(place, field.name, senses));
            without_value
        }
        (Some((sense, span)), senses) if !senses.contains(&sense) => {
            let place = context.place(span);
            context.report(findings::sense::wrong(place, field.name, senses));
            without_value
        }
        (Some((sense, span)), _) => match quantity {
            Some(quantity) if quantity.si() < 0.0 => {
                let place = context.place(span);
                context.report(findings::sense::negative(place, field.name));
                without_value
            }
            Some(quantity) if fields::is_negative(sense) => Evaluated::quantity(quantity.negated()),
            Some(quantity) => Evaluated::quantity(quantity),
            None => without_value,
        },
    }
}

/// A formula with arguments: its own findings are those that hold for any arguments.
pub(crate) fn formula(context: &mut Context<'_>, formula: &Formula) -> Meaning {
    let evaluated = context.get(formula.body);
    check_shown(
        context,
        evaluated,
        Some(formula.body),
        formula.shown.as_ref(),
    );
    for (index, parameter) in formula.parameters.iter().enumerate() {
        let repeated = formula.parameters[..index]
            .iter()
            .any(|other| other.text == parameter.text);
        if repeated {
            let place = context.place(parameter.span);
            context.report(findings::defined_twice::parameter(place, &parameter.text));
        } else if crate::expression::is_kept(&parameter.text) {
            let place = context.place(parameter.span);
            context.report(findings::kept_name::finding(place, &parameter.text));
        }
    }
    Meaning::Formula(context.text.trim_end().into())
}
