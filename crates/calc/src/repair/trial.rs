//! Tries a repair: the mended line is read and checked like any other, and so are the lines that use it.

use haunch_text::Span;

use super::line::{Line, edited};
use super::pattern::Patterns;
use super::term::Terms;
use crate::catalogue::Written;
use crate::expression::{Context, Locals};
use crate::finding::Severity;
use crate::line::LineId;
use crate::lints;
use crate::state::{Cell, State};
use crate::statements::{expected, value};
use crate::value::{Evaluated, Kind};
use haunch_quantity::Unit;
use haunch_syntax::{ShownKind, Statement, ValueBody};

/// How many of the lines that use a mended one are looked at.
const MOST_USERS: usize = 8;

/// The powers of ten between which numbers usually are in the unit that they are shown in.
const LEAST_USUAL: f64 = -1.0;
const MOST_USUAL: f64 = 5.0;

/// A line that has no error of its own left after some edits.
pub(super) struct Mended {
    /// How much it looks like the formulas of the trade, from 0 to 1, where that can be told.
    pub(super) likeness: Option<f64>,
    /// Whether what it comes to gives a line that uses it an error.
    pub(super) breaks_a_user: bool,
    /// Whether it is a standard result of the catalogue.
    pub(super) is_standard: bool,
    /// Whether a lint speaks of it.
    pub(super) is_warned: bool,
    pub(super) patterns: Patterns,
    /// How many powers of ten its value is from what is usual in the unit that it is shown in.
    pub(super) magnitude: f64,
}

/// Whether no error of its own is left in the line with the edits made.
pub(super) fn mends(state: &State, line: LineId, cell: &Cell, edits: &[(Span, String)]) -> bool {
    read_again(state, line, cell, edits).is_some()
}

/// The line with the edits made and what its expressions come to; none where an error of its own is left.
fn read_again(
    state: &State,
    line: LineId,
    cell: &Cell,
    edits: &[(Span, String)],
) -> Option<(Cell, Vec<Evaluated>)> {
    let text = edited(&cell.text, edits)?;
    let mut mended = Cell::read(cell.file, &text, &[]);
    mended.owner = cell.owner;
    if !mended.tree.errors.is_empty() {
        return None;
    }
    let evaluated = right(state, line, &mended, None)?;
    Some((mended, evaluated))
}

/// Weighs the line with the edits made; none where an error of its own is left.
pub(super) fn mended(
    state: &State,
    line: LineId,
    cell: &Cell,
    edits: &[(Span, String)],
) -> Option<Mended> {
    let (mended, evaluated) = read_again(state, line, cell, edits)?;
    let breaks_a_user = match &mended.tree.statement {
        // With brackets the formula comes to what they ask, whatever the repair.
        Statement::Value(value) if value.shown.is_none() => match value.body {
            ValueBody::Expression(body) => evaluated
                .get(body.0 as usize)
                .is_some_and(|body| breaks_a_user(state, line, &value.name.text, body.kind)),
            _ => false,
        },
        _ => false,
    };
    let read = Line {
        tree: &mended.tree,
        text: &mended.text,
        evaluated: &evaluated,
    };
    let looked_at = lints::Line {
        id: line,
        tree: read.tree,
        text: read.text,
        evaluated: read.evaluated,
    };
    Some(Mended {
        likeness: Terms::of(&read).likeness(),
        breaks_a_user,
        is_standard: Written::of(read.tree, read.text, read.evaluated)
            .is_some_and(|written| !written.named().is_empty()),
        is_warned: !lints::of_line(looked_at).is_empty(),
        patterns: Patterns::of(&read),
        magnitude: magnitude(&read),
    })
}

fn breaks_a_user(state: &State, line: LineId, name: &str, kind: Kind) -> bool {
    let users = state.dependents(line).into_iter().take(MOST_USERS);
    let given = (name, Evaluated { kind, value: None });
    users
        .filter_map(|user| Some((user, state.cell(user)?)))
        .any(|(user, cell)| right(state, user, cell, Some(&given)).is_none())
}

/// What the expressions of a line come to, with another meaning of one name; none where the line has an error.
fn right(
    state: &State,
    line: LineId,
    cell: &Cell,
    given: Option<&(&str, Evaluated)>,
) -> Option<Vec<Evaluated>> {
    let preferences = state.file(cell.file)?.preferences.clone();
    let mut locals = Locals::default();
    if let Some((name, evaluated)) = given {
        locals.insert((*name).into(), evaluated.clone());
    }
    if let Statement::Formula(formula) = &cell.tree.statement {
        for parameter in &formula.parameters {
            locals.insert(parameter.text.clone(), Evaluated::UNKNOWN);
        }
    }
    let block = state.block_of(cell).map(|(_, kind)| kind);
    expected::add_locals(&cell.tree, block, state, cell, &mut locals);
    let mut context = Context::new(state, line, cell, &preferences, &locals);
    expected::expect(&mut context, block);
    context.evaluate();
    expected::sizes(&mut context);
    expected::check(&mut context, block);
    match &cell.tree.statement {
        Statement::Value(line) => {
            value::value(&mut context, line, block);
        }
        Statement::Formula(line) => {
            value::formula(&mut context, line);
        }
        _ => {}
    }
    let is_error = |finding: &crate::Finding| finding.severity == Severity::Error;
    if context.findings.iter().any(is_error) {
        return None;
    }
    Some(context.evaluated)
}

/// How many powers of ten a value is from what is usual in the unit that it is shown in.
fn magnitude(line: &Line<'_>) -> f64 {
    let Statement::Value(value) = &line.tree.statement else {
        return 0.0;
    };
    let (ValueBody::Expression(body), Some(shown)) = (&value.body, &value.shown) else {
        return 0.0;
    };
    let ShownKind::Unit(unit) = &shown.kind else {
        return 0.0;
    };
    let quantity = line
        .evaluated
        .get(body.0 as usize)
        .and_then(Evaluated::as_quantity);
    let number = Unit::parse(&unit.text)
        .ok()
        .zip(quantity)
        .and_then(|(unit, quantity)| unit.from_si(quantity.si()));
    match number {
        Some(number) if number != 0.0 => {
            let powers = libm::log10(libm::fabs(number));
            (LEAST_USUAL - powers)
                .max(powers - MOST_USUAL)
                .clamp(0.0, 3.0)
        }
        _ => 0.0,
    }
}
