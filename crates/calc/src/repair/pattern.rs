//! What a formula looks like with the places of its names in their series left out: `A1*y1` and `A2*y2`
//! are both `A*y`. A repair that makes a line like the others of its file is likelier meant.

use haunch_syntax::{ExpressionId, ExpressionKind, Statement, ValueBody};
use haunch_text::Span;
use rustc_hash::FxHashSet;

use super::line::Line;
use super::scope::series;
use crate::expression::sum::terms;
use crate::line::LineId;
use crate::state::State;

/// How many lines are looked at, upwards and downwards.
const MOST_LINES: usize = 100;

/// The patterns of a line: of its formula with the name on the left, and of each term with more than one
/// name.
#[derive(Debug, Default)]
pub(super) struct Patterns {
    whole: FxHashSet<String>,
    /// What it says, white space aside and without the name that it gives to it.
    exact: FxHashSet<String>,
    terms: FxHashSet<String>,
}

impl Patterns {
    pub(super) fn of(line: &Line<'_>) -> Patterns {
        let mut patterns = Patterns::default();
        let Statement::Value(value) = &line.tree.statement else {
            if let Some(last) = line.tree.expressions.len().checked_sub(1) {
                patterns.exact.insert(without_spaces(line.text));
                let (whole, names) = pattern(line, ExpressionId(last as u32));
                if names > 0 && matches!(line.tree.statement, Statement::Verify(_)) {
                    patterns.whole.insert(whole);
                }
            }
            return patterns;
        };
        let ValueBody::Expression(body) = value.body else {
            return patterns;
        };
        let text = |id| pattern(line, id);
        patterns.exact.insert(without_spaces(line.source(body)));
        let (whole, names) = text(body);
        if names > 0 {
            let left = series(&value.name.text).0;
            patterns.whole.insert(format!("{left}={whole}"));
        }
        for term in terms(line.tree, line.tree.inside(body)) {
            let (term, names) = text(term);
            if names > 1 {
                patterns.terms.insert(term);
            }
        }
        patterns
    }

    /// Those of the lines around one.
    pub(super) fn around(state: &State, line: LineId) -> Patterns {
        let mut around = Patterns::default();
        let (Some(cell), Some(middle)) = (state.cell(line), state.first_physical(line)) else {
            return around;
        };
        let Some(file) = state.file(cell.file) else {
            return around;
        };
        for number in middle.saturating_sub(MOST_LINES)..=middle + MOST_LINES {
            let other = file.physical.get(number).filter(|other| **other != line);
            if let Some(cell) = other.and_then(|other| state.cell(*other)) {
                let of_line = Patterns::of(&Line::of(cell));
                around.whole.extend(of_line.whole);
                around.terms.extend(of_line.terms);
                around.exact.extend(of_line.exact);
            }
        }
        around
    }

    pub(super) fn is_whole_among(&self, others: &Patterns) -> bool {
        !self.whole.is_disjoint(&others.whole)
    }

    pub(super) fn is_exactly_among(&self, others: &Patterns) -> bool {
        !self.exact.is_disjoint(&others.exact)
    }

    /// The share of the terms that stand on other lines, too.
    pub(super) fn terms_among(&self, others: &Patterns) -> f64 {
        let shared = self.terms.intersection(&others.terms).count();
        shared as f64 / self.terms.len().max(1) as f64
    }
}

/// The pattern of an expression and how many names stand in it.
fn pattern(line: &Line<'_>, id: ExpressionId) -> (String, usize) {
    let mut names: Vec<(Span, String)> = Vec::new();
    for expression in &line.tree.expressions {
        let span = expression.span;
        if let ExpressionKind::Path(path) = &expression.kind
            && path.arguments.is_none()
            && line.span(id).contains(span)
        {
            names.push((span, series(span.text(line.text)).0.to_owned()));
        }
    }
    let text = line.source_with(id, &names);
    (without_spaces(&text), names.len())
}

fn without_spaces(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}
