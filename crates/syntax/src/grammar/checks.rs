//! `limit`, `verify`, `expect`, `answer`, `allow`

use chumsky::prelude::*;
use haunch_text::Span;

use super::beam::{position, said_position, span_number};
use super::expression::{Expressions, relation_of};
use super::{Failure, Parse, With, a_name, dotted, label, quoted, token, word};
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{Allow, Answer, Expect, ExpressionId, Limit, LimitPlace, Name, Statement};

/// `limit WORD [sideways] [at SUPPORT | on span N] <= bound [for thickness up to T] [under COMBINATION]`
pub(super) fn limit<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let relation = any()
        .filter(|lexeme: &Lexeme| lexeme.kind.is_relation())
        .labelled(label::RELATION);
    word(Keyword::Limit)
        .ignore_then(a_name("`tension`, `compression`, `shear` or `deflection`"))
        .then(word(Keyword::Sideways).or_not())
        .then(limit_place(expressions))
        .then(relation)
        .then(expressions.sum.clone())
        .then(up_to(expressions))
        .then(
            word(Keyword::Under)
                .ignore_then(a_name("a combination"))
                .or_not(),
        )
        .then_ignore(end())
        .map(
            |((((((subject, sideways), place), relation), bound), up_to), under)| {
                Statement::Limit(Limit {
                    subject,
                    sideways: sideways.map(|lexeme| lexeme.span),
                    place,
                    relation: relation_of(relation.kind),
                    relation_span: relation.span,
                    bound,
                    up_to,
                    under,
                })
            },
        )
        .boxed()
}

/// `for thickness up to T`
fn up_to<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Option<ExpressionId>> {
    word(Keyword::For)
        .ignore_then(word(Keyword::Thickness))
        .ignore_then(word(Keyword::Up))
        .ignore_then(word(Keyword::To))
        .ignore_then(expressions.sum.clone())
        .or_not()
        .boxed()
}

/// `at NAME`, `at X` or `on span N`. A single name is a support's.
fn limit_place<E: Failure>(expressions: &Expressions<E>) -> Parse<E, LimitPlace> {
    let ends = any()
        .filter(|lexeme: &Lexeme| lexeme.kind.is_relation())
        .rewind();
    let said = said_position().then_ignore(ends).map(LimitPlace::At);
    let support = a_name("a support")
        .then_ignore(ends)
        .map(LimitPlace::Support);
    let at = word(Keyword::At).ignore_then(choice((
        said.boxed(),
        support.boxed(),
        position(expressions).map(LimitPlace::At).boxed(),
    )));
    let span = word(Keyword::On)
        .ignore_then(span_number())
        .map(LimitPlace::Span);
    choice((at.boxed(), span.boxed()))
        .or_not()
        .map(|place| place.unwrap_or(LimitPlace::Everywhere))
        .boxed()
}

/// `verify expression`
pub(super) fn verify<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Verify)
        .ignore_then(expressions.full.clone())
        .then_ignore(end())
        .map(Statement::Verify)
        .boxed()
}

/// `expect NAME = value [within tol]`
pub(super) fn expect<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Expect)
        .ignore_then(expressions.sum.clone())
        .then_ignore(token(TokenKind::Equals, "`=`"))
        .then(expressions.sum.clone())
        .then(
            word(Keyword::Within)
                .ignore_then(expressions.sum.clone())
                .or_not(),
        )
        .then_ignore(end())
        .map(|((actual, expected), tolerance)| {
            Statement::Expect(Expect {
                actual,
                expected,
                tolerance,
            })
        })
        .boxed()
}

/// `answer NAME ["words"]`
pub(super) fn answer<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Answer)
        .ignore_then(expressions.path.clone().labelled("the name of a result"))
        .then(quoted("a text in quotes").or_not())
        .then_ignore(end())
        .map(|(value, words)| Statement::Answer(Answer { value, words }))
        .boxed()
}

/// `allow CODE [for NAME]`; a name that is no word, such as that of a `verify`, stands in quotes.
pub(super) fn allow<E: Failure>(_: &Expressions<E>) -> Parse<E, Statement> {
    let hyphenated = any()
        .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Minus && lexeme.glued)
        .ignore_then(any().filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Word && lexeme.glued))
        .labelled("`-`");
    let code = any()
        .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Word)
        .labelled("a finding's code such as `unused-value`")
        .map(|lexeme: Lexeme| lexeme.span)
        .foldl(hyphenated.repeated(), |span: Span, lexeme: Lexeme| {
            span.cover(lexeme.span)
        })
        .map_with(|span, with: With<E>| with.state().name_at(span));
    let name = dotted("a name").map(|path| {
        let texts: Vec<&str> = path.names.iter().map(|name| name.text.as_str()).collect();
        Name {
            text: texts.join(".").into(),
            span: path
                .names
                .iter()
                .map(|name| name.span)
                .reduce(Span::cover)
                .unwrap_or_default(),
        }
    });
    let target = name.or(quoted("a name in quotes"));
    word(Keyword::Allow)
        .ignore_then(code)
        .then(word(Keyword::For).ignore_then(target).or_not())
        .then_ignore(end())
        .map(|(code, target)| Statement::Allow(Allow { code, target }))
        .boxed()
}
