//! A formula against the brackets at its end.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, Shown, ShownKind, Statement};

use super::at_fault::at_fault;
use super::operands::{is_news, operands};
use super::place::{MASS_IS_NO_FORCE, is_mass_for_force};
use super::{CODE, is_a};
use crate::expression::Context;
use crate::finding::{Finding, Related};
use crate::repair::{is_customary, units};

/// A formula whose result is not what its brackets ask for.
pub(crate) fn declared(
    context: &Context<'_>,
    body: Option<ExpressionId>,
    shown: &Shown,
    found: Dimension,
    wanted: Dimension,
) -> Finding {
    let brackets = shown.span.text(context.text);
    let amiss = asks_amiss(context, found, wanted);
    let (place, mut hint) = match (body, amiss) {
        (Some(id), None) => at_fault(context, id, wanted),
        (Some(id), Some(_)) => (context.place_of(context.tree.inside(id)), String::new()),
        (None, _) => (context.place(shown.span), String::new()),
    };
    let what = if hint.is_empty() && body.is_some() {
        "this"
    } else {
        "the formula"
    };
    let mut message = format!(
        "{what} comes out as {}, but {brackets} asks for {}.",
        found.describe_with_article(),
        wanted.with_article()
    );
    if let Some(name) = amiss {
        hint = format!(" {name} usually stands for {}.", found.with_article());
    }
    let parts = body.map(|id| operands(context, id)).unwrap_or_default();
    let words = |(id, dimension): &(ExpressionId, Dimension)| {
        is_a((context.place_of(*id), context.source(*id), *dimension))
    };
    // A name that stands twice in the formula is told of once.
    let mut listed: Vec<String> = Vec::new();
    let in_words = |part: &&(ExpressionId, Dimension)| is_news(context, **part);
    for said in parts.iter().filter(in_words).map(words) {
        if !listed.contains(&said) {
            listed.push(said);
        }
    }
    if !listed.is_empty() {
        message.push(' ');
        message.push_str(&listed.join("; "));
        message.push('.');
    }
    if is_mass_for_force(found, wanted) {
        message.push_str(MASS_IS_NO_FORCE);
    } else {
        message.push_str(&hint);
    }
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = parts
        .iter()
        .map(|part| Related {
            place: context.place_of(part.0),
            message: words(part),
        })
        .collect();
    if let ShownKind::Unit(written) = &shown.kind {
        // One power of a length more or less is a slip of the unit that is written; else it is replaced.
        let by_a_length = [(found, wanted), (wanted, found)]
            .iter()
            .any(|(more, less)| more.checked_divide(*less) == Some(Dimension::LENGTH));
        // Nobody writes MPa*m for N/mm.
        let is_pascals = wanted == Dimension::STRESS && written.text.ends_with("Pa");
        let written = (by_a_length && !is_pascals).then_some(written.text.as_str());
        let near = units::near(written, found, context.preferences);
        let unit = near
            .into_iter()
            .next()
            .unwrap_or_else(|| found.typical_unit().source_text());
        let title = if found.is_ratio() {
            "Leave the unit out: the formula gives a plain number".to_owned()
        } else {
            format!("Show {} in [{unit}]", found.with_article())
        };
        let replacement = if found.is_ratio() {
            String::new()
        } else {
            format!("[{unit}]")
        };
        finding = finding.with_repair(title, context.place(shown.span), replacement);
    }
    finding
}

/// The name on the left where it usually stands for what the formula gives, and not for what the brackets
/// ask for.
fn asks_amiss<'a>(context: &Context<'a>, found: Dimension, wanted: Dimension) -> Option<&'a str> {
    let Statement::Value(value) = &context.tree.statement else {
        return None;
    };
    let name = value.name.text.as_str();
    let is_amiss =
        is_customary(name, found) == Some(true) && is_customary(name, wanted) == Some(false);
    is_amiss.then_some(name)
}
