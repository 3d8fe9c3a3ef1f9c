//! Expressions: from `if … then … else` down to names, numbers and parentheses.
//!
//! Chains of operators, signs and powers are read in loops, so that only parentheses, arguments
//! and choices nest; their depth is limited before the grammar runs.

use chumsky::prelude::*;
use haunch_text::Span;

use super::literal::{exponent, literal};
use super::{Failure, Parse, Reading, With, label, token, word};
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{BinaryOperator, ExpressionId, ExpressionKind, Path, Relation};

/// The levels of an expression that statements use.
pub(super) struct Expressions<E: Failure> {
    /// Everything, comparisons and choices too.
    pub(super) full: Parse<E, ExpressionId>,
    /// A choice or a sum: no comparison outside parentheses, since a relation may follow.
    pub(super) sum: Parse<E, ExpressionId>,
    /// A sum in which `×` outside parentheses parts two sizes.
    pub(super) size: Parse<E, ExpressionId>,
    /// A name or a dotted path with or without arguments.
    pub(super) path: Parse<E, ExpressionId>,
}

impl<E: Failure> Expressions<E> {
    pub(super) fn new() -> Expressions<E> {
        let full = recursive(|full| {
            let full = full.boxed();
            let sum = sum(factor(full.clone()), PRODUCT);
            choice((choice_between(full), logical(sum)))
        })
        .boxed();
        let sum_alone = sum(factor(full.clone()), PRODUCT);
        Expressions {
            sum: choice((choice_between(full.clone()), sum_alone)).boxed(),
            size: sum(factor(full.clone()), PRODUCT_WITHOUT_TIMES),
            path: path(full.clone()),
            full,
        }
    }
}

const PRODUCT: &[TokenKind] = &[
    TokenKind::Star,
    TokenKind::Slash,
    TokenKind::MiddleDot,
    TokenKind::Times,
];

const PRODUCT_WITHOUT_TIMES: &[TokenKind] =
    &[TokenKind::Star, TokenKind::Slash, TokenKind::MiddleDot];

/// `if c then a else b`
fn choice_between<E: Failure>(full: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::If))
        .labelled(label::VALUE)
        .then(full.clone())
        .then_ignore(word(Keyword::Then))
        .then(full.clone())
        .then_ignore(word(Keyword::Else))
        .then(full)
        .map_with(|(((first, condition), then), otherwise), with: With<E>| {
            let state = with.state();
            let span = first.span.cover(state.span(otherwise));
            let kind = ExpressionKind::Choice {
                condition,
                then,
                otherwise,
            };
            state.push(kind, span)
        })
        .boxed()
}

/// `not`, `and`, `or` and comparisons over sums.
fn logical<E: Failure>(sum: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    let relation = any()
        .filter(|lexeme: &Lexeme| lexeme.kind.is_relation())
        .labelled(label::OPERATOR);
    let comparison =
        sum.clone()
            .then(relation.then(sum).or_not())
            .map_with(|(left, rest), with: With<E>| match rest {
                None => left,
                Some((lexeme, right)) => {
                    let state = with.state();
                    let span = state.span(left).cover(state.span(right));
                    let kind = ExpressionKind::Compare {
                        relation: relation_of(lexeme.kind),
                        relation_span: lexeme.span,
                        left,
                        right,
                    };
                    state.push(kind, span)
                }
            });
    let not = any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::Not))
        .labelled(label::VALUE)
        .repeated()
        .foldr_with(comparison, |lexeme: Lexeme, inner, with: With<E>| {
            let state = with.state();
            let span = lexeme.span.cover(state.span(inner));
            state.push(ExpressionKind::Not(inner), span)
        })
        .boxed();
    let and = chain(not, |lexeme| lexeme.is(Keyword::And));
    chain(and, |lexeme| lexeme.is(Keyword::Or))
}

/// Sums of products.
fn sum<E: Failure>(
    factor: Parse<E, ExpressionId>,
    operators: &'static [TokenKind],
) -> Parse<E, ExpressionId> {
    let product = chain(factor, move |lexeme| operators.contains(&lexeme.kind));
    chain(product, |lexeme| {
        matches!(lexeme.kind, TokenKind::Plus | TokenKind::Minus)
    })
}

/// Operands with operators between them, joined from the left.
fn chain<E: Failure>(
    operand: Parse<E, ExpressionId>,
    operator: impl Fn(&Lexeme) -> bool + 'static,
) -> Parse<E, ExpressionId> {
    let operator = any().filter(operator).labelled(label::OPERATOR);
    operand
        .clone()
        .foldl_with(
            operator.then(operand).repeated(),
            |left, (lexeme, right), with: With<E>| binary(with.state(), left, lexeme, right),
        )
        .boxed()
}

/// An operand with the signs before it.
type Signed = (Vec<Lexeme>, ExpressionId);

/// Signs and powers: `-h^2` is -(h^2), `a^b^c` is a^(b^c).
fn factor<E: Failure>(full: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    let path = path(full.clone());
    let group = group(full);
    let operand = |literal| {
        let operand = choice((literal, path.clone(), group.clone())).labelled(label::VALUE);
        signed(superscripts(operand.boxed()))
    };
    let exponent = token(TokenKind::Caret, label::OPERATOR).then(operand(exponent()));
    operand(literal())
        .then(exponent.repeated().collect::<Vec<_>>())
        .map_with(
            |(first, exponents): (Signed, Vec<(Lexeme, Signed)>), with: With<E>| {
                raise(with.state(), first, exponents)
            },
        )
        .boxed()
}

fn signed<E: Failure>(operand: Parse<E, ExpressionId>) -> Parse<E, Signed> {
    any()
        .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Minus)
        .labelled(label::VALUE)
        .repeated()
        .collect::<Vec<_>>()
        .then(operand)
        .boxed()
}

/// Builds the powers from the last exponent back.
fn raise(state: &mut Reading, first: Signed, exponents: Vec<(Lexeme, Signed)>) -> ExpressionId {
    let (mut signs, mut base) = first;
    let mut waiting = Vec::with_capacity(exponents.len());
    for (caret, (next_signs, next)) in exponents {
        waiting.push((signs, base, caret));
        (signs, base) = (next_signs, next);
    }
    let mut result = negate(state, signs, base);
    while let Some((signs, base, caret)) = waiting.pop() {
        let power = binary(state, base, caret, result);
        result = negate(state, signs, power);
    }
    result
}

fn negate(state: &mut Reading, signs: Vec<Lexeme>, mut inner: ExpressionId) -> ExpressionId {
    for sign in signs.into_iter().rev() {
        let span = sign.span.cover(state.span(inner));
        inner = state.push(ExpressionKind::Negate(inner), span);
    }
    inner
}

fn binary(
    state: &mut Reading,
    left: ExpressionId,
    lexeme: Lexeme,
    right: ExpressionId,
) -> ExpressionId {
    let operator = match lexeme.kind {
        TokenKind::Plus => BinaryOperator::Add,
        TokenKind::Minus => BinaryOperator::Subtract,
        TokenKind::Slash => BinaryOperator::Divide,
        TokenKind::Caret => BinaryOperator::Power,
        _ if lexeme.is(Keyword::And) => BinaryOperator::And,
        _ if lexeme.is(Keyword::Or) => BinaryOperator::Or,
        _ => BinaryOperator::Multiply,
    };
    let span = state.span(left).cover(state.span(right));
    let kind = ExpressionKind::Binary {
        operator,
        operator_span: lexeme.span,
        left,
        right,
    };
    state.push(kind, span)
}

/// The relation that a token stands for.
pub(super) fn relation_of(kind: TokenKind) -> Relation {
    match kind {
        TokenKind::Less => Relation::Less,
        TokenKind::Greater => Relation::Greater,
        TokenKind::GreaterOrEqual => Relation::GreaterOrEqual,
        _ => Relation::LessOrEqual,
    }
}

/// `a²`
fn superscripts<E: Failure>(operand: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    operand
        .foldl_with(
            token(TokenKind::Superscript, label::OPERATOR).repeated(),
            |base, lexeme, with: With<E>| {
                let state = with.state();
                let exponent = superscript_value(state.written(lexeme.span)).unwrap_or(i32::MAX);
                let kind = ExpressionKind::Superscript {
                    base,
                    exponent,
                    exponent_span: lexeme.span,
                };
                let span = state.span(base).cover(lexeme.span);
                state.push(kind, span)
            },
        )
        .boxed()
}

/// The whole number that superscript digits spell; `None` where it is too large.
pub(crate) fn superscript_value(digits: &str) -> Option<i32> {
    let mut value: i32 = 0;
    let mut sign = 1;
    for digit in digits.chars() {
        match "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().zip(0..).find(|(c, _)| *c == digit) {
            Some((_, digit)) => value = value.checked_mul(10)?.checked_add(digit)?,
            None => sign = -1,
        }
    }
    Some(sign * value)
}

/// `(a)`
fn group<E: Failure>(full: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    token(TokenKind::OpenParenthesis, label::VALUE)
        .then(full)
        .then(token(TokenKind::CloseParenthesis, "`)`"))
        .map_with(|((open, inner), close), with: With<E>| {
            let span = open.span.cover(close.span);
            with.state().push(ExpressionKind::Group(inner), span)
        })
        .boxed()
}

/// `a.b.c` or `a.b(c, d)`: arguments stand directly after the name.
fn path<E: Failure>(full: Parse<E, ExpressionId>) -> Parse<E, ExpressionId> {
    let open = any()
        .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::OpenParenthesis && lexeme.glued)
        .labelled(label::OPERATOR);
    let arguments = open
        .then(
            full.separated_by(token(TokenKind::Comma, "`,`"))
                .at_least(1)
                .collect::<Vec<_>>(),
        )
        .then(token(TokenKind::CloseParenthesis, "`)`"))
        .map(|((open, arguments), close)| (open.span.cover(close.span), arguments));
    super::dotted(label::VALUE)
        .then(arguments.or_not())
        .map_with(
            |(path, arguments): (Path, Option<(Span, Vec<_>)>), with: With<E>| {
                let mut span = path
                    .names
                    .iter()
                    .map(|name| name.span)
                    .reduce(Span::cover)
                    .unwrap_or_default();
                let mut path = path;
                if let Some((arguments_span, arguments)) = arguments {
                    span = span.cover(arguments_span);
                    path.arguments = Some(arguments);
                    path.arguments_span = Some(arguments_span);
                }
                with.state().push(ExpressionKind::Path(path), span)
            },
        )
        .boxed()
}
