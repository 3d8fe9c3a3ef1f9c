//! Supports, loads and combinations of a beam.

use chumsky::prelude::*;

use super::expression::Expressions;
use super::values::sense;
use super::{Failure, Parse, With, a_name, dotted, label, one_of_words, token, word};
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{
    Combination, ExpressionId, Load, LoadKind, LoadPlace, Name, Position, PositionKind,
    SectionStretch, Sideways, Statement, Support,
};

/// `start`, `middle`, `end` or a distance. The three words are names where an operation follows.
pub(super) fn position<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Position> {
    let goes_on = any().filter(|lexeme: &Lexeme| {
        lexeme.kind.is_operator()
            || lexeme.glued && matches!(lexeme.kind, TokenKind::OpenParenthesis | TokenKind::Dot)
            || lexeme.kind == TokenKind::Superscript
    });
    let said = said_position().then_ignore(goes_on.not());
    let distance =
        expressions
            .sum
            .clone()
            .labelled(label::POSITION)
            .map_with(|distance, with: With<E>| Position {
                kind: PositionKind::Distance(distance),
                span: with.state().span(distance),
            });
    choice((said, distance)).boxed()
}

/// `start`, `middle` or `end`
pub(super) fn said_position<E: Failure>() -> Parse<E, Position> {
    const WORDS: &[Keyword] = &[Keyword::Start, Keyword::Middle, Keyword::End];
    one_of_words(WORDS, label::POSITION)
        .map(|lexeme| Position {
            kind: match lexeme.keyword {
                Some(Keyword::Start) => PositionKind::Start,
                Some(Keyword::Middle) => PositionKind::Middle,
                _ => PositionKind::End,
            },
            span: lexeme.span,
        })
        .boxed()
}

/// `support KIND [K] [sideways] at X [as NAME]`: only a spring, or a kind that is not known here, has a
/// stiffness.
pub(super) fn support<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    const KIND: &str = "`pin`, `roller`, `fixed` or `spring`";
    let place = word(Keyword::At)
        .ignore_then(position(expressions))
        .then(word(Keyword::As).ignore_then(a_name("a name")).or_not())
        .then_ignore(end())
        .boxed();
    let with_stiffness = expressions
        .sum
        .clone()
        .labelled("a stiffness")
        .then(word(Keyword::Sideways).map(|lexeme| lexeme.span).or_not())
        .then(place.clone())
        .map(|((stiffness, sideways), place)| (sideways, (Some(stiffness), place)));
    let plain = place.map(|place| (None, place));
    let rigid = one_of_words(&[Keyword::Pin, Keyword::Roller, Keyword::Fixed], KIND)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(word(Keyword::Sideways).map(|lexeme| lexeme.span).or_not())
        .then(plain.clone())
        .map(|((kind, sideways), rest)| (kind, sideways, rest));
    let other = any()
        .filter(|lexeme: &Lexeme| {
            use Keyword::{Fixed, Pin, Roller};
            lexeme.is_name() && !matches!(lexeme.keyword, Some(Pin | Roller | Fixed))
        })
        .labelled(KIND)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(choice((plain.map(|rest| (None, rest)), with_stiffness)))
        .map(|(kind, (sideways, rest))| (kind, sideways, rest));
    word(Keyword::Support)
        .ignore_then(choice((rigid.boxed(), other.boxed())))
        .map(|(kind, sideways, (stiffness, (at, name)))| {
            Statement::Support(Support {
                kind,
                stiffness,
                sideways,
                at,
                name,
            })
        })
        .boxed()
}

/// `hinge at X`
pub(super) fn hinge<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Hinge)
        .ignore_then(word(Keyword::At))
        .ignore_then(position(expressions))
        .then_ignore(end())
        .map(Statement::Hinge)
        .boxed()
}

/// `section NAME from X to X`
pub(super) fn section_stretch<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let position = position(expressions);
    word(Keyword::Section)
        .ignore_then(dotted("a section"))
        .then_ignore(word(Keyword::From))
        .then(position.clone())
        .then_ignore(word(Keyword::To))
        .then(position)
        .then_ignore(end())
        .map(|((section, from), to)| {
            Statement::SectionStretch(SectionStretch { section, from, to })
        })
        .boxed()
}

/// `combination NAME = 1.35*dead + 1.5*live`
pub(super) fn combination<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Combination)
        .ignore_then(a_name("a name for the combination"))
        .then_ignore(token(TokenKind::Equals, "`=`"))
        .then(expressions.sum.clone())
        .then_ignore(end())
        .map(|(name, sum)| Statement::Combination(Combination { name, sum }))
        .boxed()
}

/// `load CASE Q [sense] [place] [up|leftwards|rightwards] [tributary W]`,
/// `load CASE Q, Q at X, X moving [one way]`
pub(super) fn load<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let up = word(Keyword::Up).map(|lexeme| (Some(lexeme.span), None));
    let left = word(Keyword::Leftwards).map(|lexeme| (None, Some((Sideways::Left, lexeme.span))));
    let right =
        word(Keyword::Rightwards).map(|lexeme| (None, Some((Sideways::Right, lexeme.span))));
    let way = choice((up, left, right)).or_not();
    let tributary = word(Keyword::Tributary).ignore_then(expressions.sum.clone());
    word(Keyword::Load)
        .ignore_then(a_name("the name of the load case"))
        .then(load_kind(expressions))
        .then(sense().or_not())
        .then(load_place(expressions))
        .then(way)
        .then(tributary.or_not())
        .then_ignore(end())
        .map(|(((((case, kind), sense), place), way), tributary)| {
            let (up, sideways) = way.unwrap_or_default();
            Statement::Load(Load {
                case,
                kind,
                sense,
                place,
                up,
                sideways,
                tributary,
            })
        })
        .boxed()
}

/// What may follow the first quantity of a load.
enum More {
    To(ExpressionId),
    Wheels(Vec<ExpressionId>),
}

fn load_kind<E: Failure>(expressions: &Expressions<E>) -> Parse<E, LoadKind> {
    const LOAD: &str = "a load such as `6 kN` or `self weight`";
    let self_weight = any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::Self_))
        .labelled(LOAD)
        .then(word(Keyword::Weight))
        .map(|(first, second)| LoadKind::SelfWeight(first.span.cover(second.span)));
    let to = word(Keyword::To)
        .ignore_then(expressions.sum.clone())
        .map(More::To);
    let wheels = token(TokenKind::Comma, "`,`")
        .ignore_then(expressions.sum.clone())
        .repeated()
        .at_least(1)
        .collect()
        .map(More::Wheels);
    let quantity = expressions
        .sum
        .clone()
        .labelled(LOAD)
        .then(choice((to, wheels)).or_not())
        .map(|(first, more)| match more {
            None => LoadKind::Quantity(first),
            Some(More::To(last)) => LoadKind::Varying(first, last),
            Some(More::Wheels(more)) => LoadKind::Wheels([first].into_iter().chain(more).collect()),
        });
    choice((self_weight, quantity)).boxed()
}

fn load_place<E: Failure>(expressions: &Expressions<E>) -> Parse<E, LoadPlace> {
    let position = position(expressions);
    let first = |keyword| {
        any()
            .filter(move |lexeme: &Lexeme| lexeme.is(keyword))
            .labelled(label::LOAD_PLACE)
    };
    let one_way = word(Keyword::One)
        .then(word(Keyword::Way))
        .map(|(first, last)| first.span.cover(last.span))
        .or_not()
        .boxed();
    let moving = first(Keyword::Moving)
        .map(|lexeme: Lexeme| lexeme.span)
        .then(one_way.clone())
        .boxed();
    let more = token(TokenKind::Comma, "`,`")
        .ignore_then(position.clone())
        .repeated()
        .at_least(1)
        .collect::<Vec<Position>>();
    let of_wheels = choice((
        more.then(
            word(Keyword::Moving)
                .map(|lexeme| lexeme.span)
                .then(one_way.clone()),
        ),
        moving.clone().map(|moving| (Vec::new(), moving)),
    ));
    let at = first(Keyword::At)
        .ignore_then(position.clone())
        .then(of_wheels.or_not())
        .map(|(at, wheels)| match wheels {
            None => LoadPlace::At(at),
            Some((more, (span, one_way))) => LoadPlace::Moving {
                distances: [at].into_iter().chain(more).collect(),
                span,
                one_way,
            },
        });
    let anywhere = moving.map(|(span, one_way)| LoadPlace::Moving {
        distances: Vec::new(),
        span,
        one_way,
    });
    let throughout =
        first(Keyword::Throughout).map(|lexeme: Lexeme| LoadPlace::Throughout(lexeme.span));
    let stretch = first(Keyword::From)
        .ignore_then(position.clone())
        .then_ignore(word(Keyword::To))
        .then(position)
        .map(|(from, to)| LoadPlace::Stretch(from, to));
    let any_spans = word(Keyword::Any)
        .then(word(Keyword::Spans))
        .map(|(first, last)| LoadPlace::AnySpans(first.span.cover(last.span)));
    let span =
        first(Keyword::On).ignore_then(choice((span_number().map(LoadPlace::Span), any_spans)));
    choice((at, throughout, stretch, span, anywhere))
        .or_not()
        .map(|place| place.unwrap_or(LoadPlace::Unsaid))
        .boxed()
}

/// `span N`
pub(super) fn span_number<E: Failure>() -> Parse<E, Name> {
    word(Keyword::Span)
        .ignore_then(
            any()
                .filter(|lexeme: &Lexeme| lexeme.is_whole)
                .labelled("the number of a span"),
        )
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .boxed()
}
