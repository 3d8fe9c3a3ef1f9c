//! `NAME = …` and `f(a, b) = …`

use chumsky::prelude::*;
use haunch_text::Span;
use smol_str::SmolStr;

use super::expression::Expressions;
use super::{Failure, Parse, With, a_name, dotted, label, one_of_words, quoted, token, word};
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{
    ExpressionId, Formula, Name, Search, SearchDirection, Sense, Shown, ShownKind, Sizing,
    Statement, UnitText, Value, ValueBody,
};

type BodyAndSense = (ValueBody, Option<(Sense, Span)>);

/// `NAME = …`
pub(super) fn value<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let text = quoted(label::VALUE).map(|text| (ValueBody::Text(text), None));
    let search = search().map(|search| (ValueBody::Search(Box::new(search)), None));
    let sizing = sizing(expressions).map(|sizing| (ValueBody::Sizing(Box::new(sizing)), None));
    let body = choice((text, search, sizing, computed(expressions))).boxed();
    a_name("a name")
        .then_ignore(token(TokenKind::Equals, "`=`"))
        .then(body)
        .then(shown().or_not())
        .then_ignore(end())
        .map(|((name, (body, sense)), shown)| {
            Statement::Value(Value {
                name,
                body,
                sense,
                shown,
            })
        })
        .boxed()
}

/// An expression with its sense, or a list.
fn computed<E: Failure>(expressions: &Expressions<E>) -> Parse<E, BodyAndSense> {
    let comma = token(TokenKind::Comma, "`,`");
    let more = comma
        .ignore_then(expressions.full.clone())
        .repeated()
        .at_least(1)
        .collect::<Vec<_>>();
    let list = expressions
        .full
        .clone()
        .then(choice((
            more.map(Tail::More),
            sense().or_not().map(Tail::Sense),
        )))
        .map(|(first, tail)| match tail {
            Tail::More(more) => {
                let mut all = vec![first];
                all.extend(more);
                (ValueBody::List(all), None)
            }
            Tail::Sense(sense) => (ValueBody::Expression(first), sense),
        });
    list.boxed()
}

/// What may follow the first expression of a value.
enum Tail {
    More(Vec<ExpressionId>),
    Sense(Option<(Sense, Span)>),
}

/// `largest CASE of BLOCK [under COMBINATION]`
fn search<E: Failure>() -> Parse<E, Search> {
    one_of_words(&[Keyword::Largest, Keyword::Smallest], label::VALUE)
        .then(a_name(label::OPERATOR))
        .then_ignore(word(Keyword::Of))
        .then(dotted("a beam or a forces block"))
        .then(
            word(Keyword::Under)
                .ignore_then(a_name("a combination"))
                .or_not(),
        )
        .map(
            |(((first, subject), block), under): (((Lexeme, _), _), Option<Name>)| {
                let last = match (&under, block.names.last()) {
                    (Some(name), _) | (None, Some(name)) => name.span,
                    _ => first.span,
                };
                Search {
                    direction: if first.is(Keyword::Largest) {
                        SearchDirection::Largest
                    } else {
                        SearchDirection::Smallest
                    },
                    direction_span: first.span,
                    subject,
                    block,
                    under,
                    span: first.span.cover(last),
                }
            },
        )
        .boxed()
}

/// `smallest FROM to TO step STEP for BLOCK`
fn sizing<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Sizing> {
    let size = || expressions.sum.clone().labelled(label::OPERATOR);
    one_of_words(&[Keyword::Largest, Keyword::Smallest], label::VALUE)
        .then(size())
        .then_ignore(word(Keyword::To))
        .then(size())
        .then_ignore(word(Keyword::Step))
        .then(size())
        .then_ignore(word(Keyword::For))
        .then(dotted("a beam or a forces block"))
        .map(|((((first, from), to), step), block)| {
            let last = block.names.last().map_or(first.span, |name| name.span);
            Sizing {
                direction: if first.is(Keyword::Largest) {
                    SearchDirection::Largest
                } else {
                    SearchDirection::Smallest
                },
                from,
                to,
                step,
                block,
                span: first.span.cover(last),
            }
        })
        .boxed()
}

/// `hogging`, `top in tension`, `clockwise`, `top warmer` …
pub(super) fn sense<E: Failure>() -> Parse<E, (Sense, Span)> {
    use Keyword::{Anticlockwise, Bottom, Clockwise, Compression, Hogging, Left, Right, Sagging};
    use Keyword::{In, Tension, Top, Warmer};
    let alone = one_of_words(
        &[
            Tension,
            Compression,
            Sagging,
            Hogging,
            Clockwise,
            Anticlockwise,
        ],
        label::SENSE,
    )
    .map(|lexeme| {
        let sense = match lexeme.keyword {
            Some(Tension) => Sense::Tension,
            Some(Compression) => Sense::Compression,
            Some(Sagging) => Sense::Sagging,
            Some(Hogging) => Sense::Hogging,
            Some(Clockwise) => Sense::Clockwise,
            _ => Sense::Anticlockwise,
        };
        (sense, lexeme.span)
    });
    let stretched = one_of_words(&[Top, Bottom, Left, Right], label::SENSE)
        .then_ignore(word(In))
        .then(word(Tension))
        .map(|(edge, last)| {
            let sense = match edge.keyword {
                Some(Top) => Sense::Hogging,
                Some(Bottom) => Sense::Sagging,
                Some(Left) => Sense::LeftInTension,
                _ => Sense::RightInTension,
            };
            (sense, edge.span.cover(last.span))
        });
    let warmer = one_of_words(&[Top, Bottom], label::SENSE)
        .then(word(Warmer))
        .map(|(edge, last)| {
            let sense = match edge.keyword {
                Some(Top) => Sense::TopWarmer,
                _ => Sense::BottomWarmer,
            };
            (sense, edge.span.cover(last.span))
        });
    choice((alone, warmer, stretched)).boxed()
}

/// `[kN*m]` or `[any length]`
fn shown<E: Failure>() -> Parse<E, Shown> {
    let any_words = word(Keyword::Any)
        .ignore_then(
            any()
                .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Word)
                .labelled("a dimension such as `length`")
                .repeated()
                .at_least(1)
                .collect::<Vec<_>>(),
        )
        .map_with(|words, with: With<E>| {
            let state = with.state();
            let texts: Vec<_> = words
                .iter()
                .map(|&lexeme| state.name(lexeme).text)
                .collect();
            let span = cover(&words);
            ShownKind::Any(Name {
                text: texts.join(" ").into(),
                span,
            })
        });
    let unit = written_unit(
        |kind| kind != TokenKind::CloseBracket && kind != TokenKind::OpenBracket,
        "a unit",
    )
    .map(ShownKind::Unit);
    token(TokenKind::OpenBracket, "a unit in brackets such as `[mm]`")
        .then(choice((any_words, unit)))
        .then(token(TokenKind::CloseBracket, "`]`"))
        .map(|((open, kind), close)| Shown {
            span: open.span.cover(close.span),
            kind,
        })
        .boxed()
}

/// The smallest span over some lexemes.
fn cover(lexemes: &[Lexeme]) -> Span {
    lexemes
        .iter()
        .map(|lexeme| lexeme.span)
        .reduce(Span::cover)
        .unwrap_or_default()
}

/// A unit that stands by itself, known or not: the meaning is not looked up here.
pub(super) fn written_unit<E: Failure>(
    test: fn(TokenKind) -> bool,
    what: &'static str,
) -> Parse<E, UnitText> {
    any()
        .filter(move |lexeme: &Lexeme| test(lexeme.kind))
        .labelled(what)
        .repeated()
        .at_least(1)
        .collect::<Vec<_>>()
        .map_with(|lexemes, with: With<E>| {
            let span = cover(&lexemes);
            let state = with.state();
            let later_words = lexemes
                .iter()
                .skip_while(|lexeme| !lexeme.kind.is_operator())
                .filter(|lexeme| lexeme.kind == TokenKind::Word)
                .map(|&lexeme| state.name(lexeme))
                .collect();
            UnitText {
                text: SmolStr::new(state.written(span)),
                span,
                later_words,
            }
        })
        .boxed()
}

/// `f(a, b) = … [unit]`
pub(super) fn formula<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let parameters = a_name("the name of an argument")
        .separated_by(token(TokenKind::Comma, "`,`"))
        .at_least(1)
        .collect::<Vec<_>>()
        .delimited_by(
            token(TokenKind::OpenParenthesis, "`(`"),
            token(TokenKind::CloseParenthesis, "`)`"),
        );
    a_name("a name")
        .then(parameters)
        .then_ignore(token(TokenKind::Equals, "`=`"))
        .then(expressions.full.clone())
        .then(shown().or_not())
        .then_ignore(end())
        .map(|(((name, parameters), body), shown)| {
            Statement::Formula(Formula {
                name,
                parameters,
                body,
                shown,
            })
        })
        .boxed()
}
