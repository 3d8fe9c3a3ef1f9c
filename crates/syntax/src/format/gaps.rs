//! The gap that belongs between two neighbouring tokens of a line.

use haunch_text::Span;

use crate::token::{Token, TokenKind};
use crate::tree::{BinaryOperator, ExpressionKind, Literal, Statement, Tree};

/// What a token is in its line, as far as gaps depend on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Role {
    /// The gap before it is decided by its kind.
    #[default]
    Plain,
    /// An operator with a space on both sides: sums, relations, `and`, `or`.
    Loose,
    /// A product's or quotient's operator.
    Product {
        /// Whether it has a space on both sides.
        spaced: bool,
    },
    /// `^`: no space on either side.
    Tight,
    /// The sign before an operand.
    Sign,
    /// Superscript digits: no space before them.
    Raised,
    /// The first token of a unit after its number.
    Unit,
    /// `(` directly after the name of a function.
    Call,
}

/// The gaps of a logical line.
pub(super) struct Gaps<'a> {
    tokens: &'a [Token],
    roles: Vec<Role>,
}

impl<'a> Gaps<'a> {
    /// Of a line by its tokens without white space.
    pub(super) fn of(tree: &Tree, tokens: &'a [Token]) -> Gaps<'a> {
        let mut gaps = Gaps {
            tokens,
            roles: vec![Role::Plain; tokens.len()],
        };
        let mut quantities = Quantities {
            starts: vec![false; tokens.len()],
            ends: vec![false; tokens.len()],
        };
        for expression in &tree.expressions {
            let span = expression.span;
            match &expression.kind {
                ExpressionKind::Binary {
                    operator,
                    operator_span,
                    ..
                } => gaps.mark(*operator_span, role_of(*operator)),
                ExpressionKind::Compare { relation_span, .. } => {
                    gaps.mark(*relation_span, Role::Loose);
                }
                ExpressionKind::Superscript { exponent_span, .. } => {
                    gaps.mark(*exponent_span, Role::Raised);
                }
                ExpressionKind::Negate(_) => gaps.mark(span, Role::Sign),
                ExpressionKind::Literal(literal) => gaps.mark_units(literal, span, &mut quantities),
                ExpressionKind::Path(path) => {
                    if let Some(span) = path.arguments_span {
                        gaps.mark(span, Role::Call);
                    }
                }
                _ => {}
            }
        }
        for at in 0..tokens.len() {
            if let Role::Product { .. } = gaps.roles[at] {
                let spaced = gaps.is_spaced(at, &quantities);
                gaps.roles[at] = Role::Product { spaced };
            }
        }
        if let Statement::Formula(_) = tree.statement
            && let Some(role) = gaps.roles.get_mut(1)
        {
            *role = Role::Call;
        }
        gaps
    }

    /// The spaces before a token that is not the first of its row.
    pub(super) fn before(&self, at: usize) -> usize {
        use TokenKind as Kind;
        let (Some(before), Some(token)) = (at.checked_sub(1), self.tokens.get(at)) else {
            return 0;
        };
        let written = usize::from(self.tokens[before].span.end < token.span.start);
        let kinds = (self.tokens[before].kind, token.kind);
        match kinds {
            (_, Kind::Comment) => return 2,
            (Kind::OpenParenthesis | Kind::OpenBracket, _)
            | (_, Kind::CloseParenthesis | Kind::CloseBracket | Kind::Comma) => return 0,
            _ => {}
        }
        match (self.roles[before], self.roles[at]) {
            // `30°`
            (_, Role::Unit) if kinds.1 == Kind::Degree => return written,
            (_, Role::Unit) => return 1,
            (_, Role::Call | Role::Raised | Role::Tight) | (Role::Sign | Role::Tight, _) => {
                return 0;
            }
            (Role::Loose, _) | (_, Role::Loose) => return 1,
            (Role::Product { spaced }, _) | (_, Role::Product { spaced }) => {
                return usize::from(spaced);
            }
            _ => {}
        }
        match kinds {
            (Kind::Comma | Kind::Equals | Kind::Text, _)
            | (_, Kind::Equals | Kind::Text | Kind::OpenParenthesis | Kind::OpenBracket) => 1,
            // The sign of sizes, `120 × 10 mm`.
            (Kind::Times, _) | (_, Kind::Times) => 1,
            (before, token) if before.is_relation() || token.is_relation() => 1,
            _ => written,
        }
    }

    fn index(&self, start: u32) -> Option<usize> {
        self.tokens
            .binary_search_by_key(&start, |token| token.span.start)
            .ok()
    }

    fn mark(&mut self, span: Span, role: Role) {
        if let Some(at) = self.index(span.start) {
            self.roles[at] = role;
        }
    }

    fn mark_units(&mut self, literal: &Literal, span: Span, quantities: &mut Quantities) {
        for part in &literal.parts {
            if let Some(unit) = &part.unit {
                self.mark(unit.span, Role::Unit);
            }
        }
        if literal.parts.iter().all(|part| part.unit.is_none()) {
            return;
        }
        if let Some(first) = self.index(span.start) {
            quantities.starts[first] = true;
        }
        let after = self
            .tokens
            .partition_point(|token| token.span.end < span.end);
        if let Some(last) = quantities.ends.get_mut(after) {
            *last = true;
        }
    }

    /// Whether a product's operator stands between spaces: beside a quantity with a unit, which its
    /// own space would otherwise pull apart from its number, or where it is written so.
    fn is_spaced(&self, at: usize, quantities: &Quantities) -> bool {
        let end = |at: usize| self.tokens.get(at).map(|token| token.span.end);
        let start = |at: usize| self.tokens.get(at).map(|token| token.span.start);
        let before = at.wrapping_sub(1);
        quantities.ends.get(before) == Some(&true)
            || quantities.starts.get(at + 1) == Some(&true)
            || end(before) < start(at) && end(at) < start(at + 1)
    }
}

/// Which tokens are the first and the last of a number with a unit.
struct Quantities {
    starts: Vec<bool>,
    ends: Vec<bool>,
}

fn role_of(operator: BinaryOperator) -> Role {
    match operator {
        BinaryOperator::Multiply | BinaryOperator::Divide => Role::Product { spaced: false },
        BinaryOperator::Power => Role::Tight,
        _ => Role::Loose,
    }
}
