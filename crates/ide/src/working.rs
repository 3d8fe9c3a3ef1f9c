//! A formula with numbers and units put in for its names.

use std::collections::BTreeMap;

use haunch_calc::{Evaluated, LineView, Snapshot, Value};
use haunch_quantity::{Preferences, Unit};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Tree, tokens};
use haunch_text::Span;

use crate::show;

/// An expression as written, on one line: comments and breaks left out.
pub(crate) fn as_written(line: LineView<'_>, span: Span) -> String {
    rewritten(line.text(), span, &BTreeMap::new())
}

/// An expression with the value of each name in its place. A name without a value stays.
pub(crate) fn with_values(
    snapshot: &Snapshot,
    line: LineView<'_>,
    root: ExpressionId,
    preferences: &Preferences,
) -> String {
    let tree = line.tree();
    let span = tree.expression(root).span;
    let raised = bases_of_powers(tree);
    let mut replaced = BTreeMap::new();
    for (index, expression) in tree.expressions.iter().enumerate() {
        let id = ExpressionId(index as u32);
        let ExpressionKind::Path(path) = &expression.kind else {
            continue;
        };
        // The call of a function keeps its name: its arguments are put in.
        let is_function = path.arguments.is_some() && path.names.len() == 1;
        if is_function || !span.contains(expression.span) {
            continue;
        }
        let unit = show::unit_of(snapshot, line.file(), path);
        let evaluated = line.evaluated(id);
        if let Some(text) = in_formula(evaluated, unit.as_ref(), raised.contains(&id), preferences)
        {
            replaced.insert(expression.span, text);
        }
    }
    for expression in &tree.expressions {
        if let ExpressionKind::Binary {
            operator: BinaryOperator::Multiply | BinaryOperator::Divide,
            operator_span,
            ..
        } = &expression.kind
        {
            let sign = operator_span.text(line.text());
            replaced.insert(*operator_span, format!(" {sign} "));
        }
    }
    rewritten(line.text(), span, &replaced)
}

fn bases_of_powers(tree: &Tree) -> Vec<ExpressionId> {
    tree.expressions
        .iter()
        .filter_map(|expression| expression.kind.raised())
        .collect()
}

fn in_formula(
    evaluated: &Evaluated,
    unit: Option<&Unit>,
    raised: bool,
    preferences: &Preferences,
) -> Option<String> {
    match evaluated.value.as_ref()? {
        Value::Quantity(quantity) => {
            let text = show::plain(*quantity, unit, preferences);
            let has_unit = text.contains(' ') || text.ends_with('°');
            let compound = text.contains(['/', '·']);
            let enclosed = quantity.si() < 0.0 || compound || (raised && has_unit);
            Some(if enclosed { format!("({text})") } else { text })
        }
        Value::Truth(truth) => Some(truth.to_string()),
        Value::Text(_) | Value::List(_) => None,
    }
}

/// The text of a stretch with some stretches of it replaced, white space and comments made one space.
fn rewritten(text: &str, span: Span, replaced: &BTreeMap<Span, String>) -> String {
    let mut out = String::new();
    let mut covered = span.start;
    for token in tokens(text) {
        let at = token.span;
        if at.start < covered || !span.contains(at) {
            continue;
        }
        // The widest stretch that starts here: a name with its members and arguments.
        let range = Span {
            start: at.start,
            end: at.start,
        }..=Span {
            start: at.start,
            end: u32::MAX,
        };
        let (end, piece) = match replaced.range(range).next_back() {
            Some((whole, piece)) => (whole.end, piece.as_str()),
            None if token.kind.is_trivia() => (at.end, " "),
            None => (at.end, at.text(text)),
        };
        covered = end;
        if piece.starts_with(' ') {
            out.truncate(out.trim_end().len());
        }
        let is_second_space = token.kind.is_trivia() && (out.is_empty() || out.ends_with(' '));
        if !is_second_space {
            out.push_str(piece);
        }
    }
    out.trim_end().to_owned()
}
