//! Every small edit that could give a part of a line the dimension that it needs.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Statement};
use haunch_text::Span;

use super::Candidate;
use super::costs::{Reason, Reasons};
use super::line::Line;
use super::needed::{Need, needs};
use super::product::{Product, inside_products};
use super::scope::{InScope, Scope};
use super::structure::root;
use crate::expression::sum::terms;
use crate::state::{Cell, State};

/// Lines within which a result is usually used.
const NEAR: u64 = 4;

pub(super) struct Search<'a> {
    pub(super) state: &'a State,
    pub(super) cell: &'a Cell,
    pub(super) line: Line<'a>,
    pub(super) scope: &'a Scope,
    inside: Vec<bool>,
    found: Vec<Candidate>,
}

pub(super) fn all(state: &State, cell: &Cell, scope: &Scope) -> Vec<Candidate> {
    let block = state.block_of(cell).map(|(_, kind)| kind);
    let line = Line::of(cell);
    let mut search = Search {
        state,
        cell,
        line,
        scope,
        inside: inside_products(&line),
        found: Vec::new(),
    };
    for (id, wanted) in needs(&line, block) {
        if line.found(id) != Some(wanted) {
            search.part((id, wanted));
        } else if search.has_odd_terms(id) {
            search.parentheses(id, wanted);
        }
    }
    search.found
}

impl<'a> Search<'a> {
    pub(super) fn offer(
        &mut self,
        reasons: Reasons,
        distance: u64,
        place: Span,
        title: String,
        edits: Vec<(Span, String)>,
    ) {
        self.found.push(Candidate {
            reasons,
            distance,
            place,
            title,
            edits,
            ..Candidate::default()
        });
    }

    pub(super) fn replace(
        &mut self,
        reasons: Reasons,
        distance: u64,
        id: ExpressionId,
        text: String,
    ) {
        let title = format!("Write {text} instead of {}", self.line.source(id));
        let span = self.line.span(id);
        self.offer(reasons, distance, span, title, vec![(span, text)]);
    }

    fn part(&mut self, (id, wanted): Need) {
        let line = self.line;
        match line.kind(id) {
            Some(ExpressionKind::Path(path)) if path.arguments.is_none() => {
                self.name(id, path, wanted);
            }
            Some(ExpressionKind::Literal(literal)) => self.literal(id, literal, wanted),
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            }) => {
                self.sum(id, wanted);
                self.no_sum(*left, *right, wanted);
                self.parentheses(id, wanted);
            }
            _ => {}
        }
        let is_inside = self.inside.get(id.0 as usize).copied().unwrap_or(false);
        if !is_inside || matches!(line.kind(id), Some(ExpressionKind::Group(_))) {
            self.found.extend(root(&line, id, wanted));
        }
        if is_inside {
            return;
        }
        let Some(product) = Product::of(&line, id) else {
            return;
        };
        self.found.extend(product.slips(&line, wanted));
        self.parentheses(product.id, wanted);
        self.another_factor(&product, wanted);
        self.by_a_sum(&product, wanted);
    }

    /// What speaks for a name wherever it comes in: whether it has a value, where it is defined, and
    /// what uses it so far.
    pub(super) fn of_name(&self, name: &InScope) -> Reasons {
        let is_near = name.distance <= NEAR && !name.below;
        let is_far_result = name.unused && !name.given && !is_near;
        Reasons::default()
            .and_if(!name.has_value, Reason::NoValue)
            .and_if(name.below, Reason::Below)
            .and(Reason::GivenUnused, self.share_unused(name))
            .and_if(is_far_result, Reason::ResultUnused)
            .and_if(
                name.unused && !name.given && is_near,
                Reason::ResultUnusedNear,
            )
            .and_if(!name.unused && !name.given, Reason::ResultUsed)
            .and(Reason::Readers, name.readers.min(5) as f64)
    }

    /// Whether an expression is a sum whose terms disagree; it may still count as what it is meant as.
    fn has_odd_terms(&self, id: ExpressionId) -> bool {
        let terms = terms(self.line.tree, id);
        let mut dimensions = terms.iter().map(|term| self.line.found(*term));
        let first = dimensions.next();
        dimensions.any(|dimension| Some(dimension) != first)
    }

    /// The share that a name has of the given ones that nothing uses.
    fn share_unused(&self, name: &InScope) -> f64 {
        let is_it = |name: &&InScope| name.unused && name.given;
        if is_it(&name) {
            1.0 / self.scope.names.iter().filter(is_it).count().max(1) as f64
        } else {
            0.0
        }
    }

    /// Whether the line limits a deflection, whose bound is mostly a part of the span.
    pub(super) fn limits_deflection(&self) -> bool {
        matches!(
            &self.line.tree.statement,
            Statement::Limit(limit) if limit.subject.text == "deflection"
        )
    }

    /// Two terms that are meant as a ratio or a product.
    fn no_sum(&mut self, left: ExpressionId, right: ExpressionId, wanted: Dimension) {
        let (Some(a), Some(b)) = (self.line.found(left), self.line.found(right)) else {
            return;
        };
        for (sign, result, reason) in [
            ("/", a.checked_divide(b), Reason::SumToRatio),
            ("*", a.checked_multiply(b), Reason::SumToProduct),
        ] {
            if result != Some(wanted) {
                continue;
            }
            let span = self.line.span(left).cover(self.line.span(right));
            let text = format!(
                "{}{sign}{}",
                self.line.source(left),
                self.line.source(right)
            );
            let edit = Span {
                start: self.line.span(left).end,
                end: self.line.span(right).start,
            };
            let edits = vec![(edit, sign.to_owned())];
            let title = format!("Write {text}");
            self.offer(Reasons::of(reason), 0, span, title, edits);
        }
    }

    pub(super) fn is_sum(&self, id: ExpressionId) -> bool {
        matches!(
            self.line.kind(id),
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            })
        )
    }
}
