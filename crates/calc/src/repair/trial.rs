//! Tries a repair: the mended line is read and checked like any other.

use haunch_text::Span;

use crate::expression::{Context, Locals};
use crate::finding::Severity;
use crate::line::LineId;
use crate::state::{Cell, State};
use crate::statements::{expected, value};
use crate::value::Evaluated;
use haunch_syntax::Statement;

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

/// Whether the line has no error of its own left after the edits.
pub(super) fn mends(state: &State, line: LineId, cell: &Cell, edits: &[(Span, String)]) -> bool {
    let Some(text) = edited(&cell.text, edits) else {
        return false;
    };
    let mut mended = Cell::read(cell.file, &text, &[]);
    mended.owner = cell.owner;
    if !mended.tree.errors.is_empty() {
        return false;
    }
    let Some(preferences) = state.file(cell.file).map(|file| file.preferences.clone()) else {
        return false;
    };
    let mut locals = Locals::default();
    if let Statement::Formula(formula) = &mended.tree.statement {
        for parameter in &formula.parameters {
            locals.insert(parameter.text.clone(), Evaluated::UNKNOWN);
        }
    }
    let block = state.block_of(&mended).map(|(_, kind)| kind);
    expected::add_locals(&mended.tree, block, state, &mended, &mut locals);
    let mut context = Context::new(state, line, &mended, &preferences, &locals);
    expected::expect(&mut context, block);
    context.evaluate();
    expected::sizes(&mut context);
    expected::check(&mut context, block);
    match &mended.tree.statement {
        Statement::Value(line) => {
            value::value(&mut context, line, block);
        }
        Statement::Formula(line) => {
            value::formula(&mut context, line);
        }
        _ => {}
    }
    !context
        .findings
        .iter()
        .any(|finding| finding.severity == Severity::Error)
}
