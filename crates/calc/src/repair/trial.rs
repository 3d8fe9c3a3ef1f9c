//! Tries a repair: the mended line is read and checked like any other, and so are the lines that use it.

use haunch_text::Span;

use super::line::Line;
use super::term::Terms;
use crate::expression::{Context, Locals};
use crate::finding::Severity;
use crate::line::LineId;
use crate::state::{Cell, State};
use crate::statements::{expected, value};
use crate::value::{Evaluated, Kind};
use haunch_syntax::{Statement, ValueBody};

/// How many of the lines that use a mended one are looked at.
const MOST_USERS: usize = 8;

/// The text with replacements made.
fn edited(text: &str, edits: &[(Span, String)]) -> Option<String> {
    let mut sorted: Vec<&(Span, String)> = edits.iter().collect();
    sorted.sort_by_key(|(span, _)| (span.start, span.end));
    let mut out = String::with_capacity(text.len() + 16);
    let mut at = 0;
    for (span, replacement) in sorted {
        out.push_str(text.get(at..span.start as usize)?);
        out.push_str(replacement);
        at = span.end as usize;
    }
    out.push_str(text.get(at..)?);
    Some(out)
}

/// A line that has no error of its own left after some edits.
pub(super) struct Mended {
    /// How much it looks like the formulas of the trade, from 0 to 1, where that can be told.
    pub(super) likeness: Option<f64>,
    /// Whether what it comes to gives a line that uses it an error.
    pub(super) breaks_a_user: bool,
}

/// Reads the line with the edits made; none where an error of its own is left.
pub(super) fn mended(
    state: &State,
    line: LineId,
    cell: &Cell,
    edits: &[(Span, String)],
) -> Option<Mended> {
    let text = edited(&cell.text, edits)?;
    let mut mended = Cell::read(cell.file, &text, &[]);
    mended.owner = cell.owner;
    if !mended.tree.errors.is_empty() {
        return None;
    }
    let evaluated = right(state, line, &mended, None)?;
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
    Some(Mended {
        likeness: Terms::of(&read).likeness(),
        breaks_a_user,
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
