//! Parts and points of a section.

use chumsky::prelude::*;
use haunch_text::Span;

use super::expression::Expressions;
use super::{Failure, Parse, With, a_name, dotted, label, one_of_words, token, word};
use crate::keyword::{Keyword, SHAPES, TUBES};
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{
    Adjustment, Edge, ExpressionId, Name, Part, PartPlace, Path, Point, PointPlace, Side, Statement,
};

/// Shape, name and sizes.
type Sized = ((Name, Name), Vec<ExpressionId>);

/// `[deduct] SHAPE NAME sizes [place] [of MATERIAL]`
pub(super) fn part<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let separator = any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::X) || lexeme.kind == TokenKind::Times)
        .labelled(Keyword::X.label());
    let sizes = expressions
        .size
        .clone()
        .labelled("a size")
        .separated_by(separator)
        .at_least(1)
        .collect::<Vec<_>>();
    let corners = coordinates(expressions)
        .repeated()
        .at_least(3)
        .collect::<Vec<_>>()
        .map(|corners| corners.into_iter().flat_map(|(x, y, _)| [x, y]).collect());
    let name = a_name("a name for the part");
    let sized = shape().then(name.clone()).then(sizes);
    let cornered = one_of_words(&[Keyword::Polygon], "a shape such as `rect`")
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(name)
        .then(corners);
    word(Keyword::Deduct)
        .or_not()
        .then(choice((sized, cornered)))
        .then(place(expressions))
        .then(word(Keyword::Of).ignore_then(dotted("a material")).or_not())
        .then_ignore(end())
        .map(
            |(((deduct, ((shape, name), sizes)), place), of): (((_, Sized), _), Option<Path>)| {
                Statement::Part(Part {
                    deduct: deduct.map(|lexeme: Lexeme| lexeme.span),
                    shape,
                    name,
                    sizes,
                    place,
                    of,
                })
            },
        )
        .boxed()
}

/// `rect`, `round tube` …
fn shape<E: Failure>() -> Parse<E, Name> {
    const SHAPE: &str = "a shape such as `rect`";
    let tube = one_of_words(TUBES, SHAPE)
        .then(word(Keyword::Tube))
        .map_with(|(first, second), with: With<E>| {
            let state = with.state();
            let words = [state.name(first).text, state.name(second).text];
            Name {
                text: words.join(" ").into(),
                span: first.span.cover(second.span),
            }
        });
    let single =
        one_of_words(SHAPES, SHAPE).map_with(|lexeme, with: With<E>| with.state().name(lexeme));
    choice((single, tube)).boxed()
}

/// `(x, y)`
fn coordinates<E: Failure>(
    expressions: &Expressions<E>,
) -> Parse<E, (ExpressionId, ExpressionId, Span)> {
    token(
        TokenKind::OpenParenthesis,
        "coordinates such as `(0 mm, 5 mm)`",
    )
    .then(expressions.sum.clone())
    .then_ignore(token(TokenKind::Comma, "`,`"))
    .then(expressions.sum.clone())
    .then(token(TokenKind::CloseParenthesis, "`)`"))
    .map(|(((open, x), y), close)| (x, y, open.span.cover(close.span)))
    .boxed()
}

/// Where a part goes; nothing at all is a place too.
fn place<E: Failure>(expressions: &Expressions<E>) -> Parse<E, PartPlace> {
    let at = any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::At))
        .labelled(label::PLACE)
        .then(coordinates(expressions))
        .map(|(at, (x, y, span))| PartPlace::At {
            x,
            y,
            span: at.span.cover(span),
        });
    let relative = side()
        .then(a_name("the name of a part"))
        .then(adjustment(expressions).repeated().collect::<Vec<_>>())
        .map(
            |(((relation, relation_span), on), adjustments)| PartPlace::Relative {
                relation,
                relation_span,
                on,
                adjustments,
            },
        );
    choice((at, relative))
        .or_not()
        .map(|place| place.unwrap_or(PartPlace::Unplaced))
        .boxed()
}

/// `above`, `left of` …
fn side<E: Failure>() -> Parse<E, (Side, Span)> {
    use Keyword::{Above, Below, In, Left, Of, Right};
    let one = one_of_words(&[Above, Below, In], label::PLACE).map(|lexeme| {
        let side = match lexeme.keyword {
            Some(Above) => Side::Above,
            Some(Below) => Side::Below,
            _ => Side::In,
        };
        (side, lexeme.span)
    });
    let two = one_of_words(&[Left, Right], label::PLACE)
        .then(word(Of))
        .map(|(first, of)| {
            let side = if first.is(Left) {
                Side::LeftOf
            } else {
                Side::RightOf
            };
            (side, first.span.cover(of.span))
        });
    choice((one, two)).boxed()
}

fn adjustment<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Adjustment> {
    let first = |keyword| {
        any()
            .filter(move |lexeme: &Lexeme| lexeme.is(keyword))
            .labelled(label::ADJUSTMENT)
    };
    let centred = first(Keyword::Centred)
        .ignore_then(word(Keyword::On))
        .ignore_then(a_name("the name of a part"))
        .map(Adjustment::CentredOn);
    let flush = first(Keyword::Flush)
        .then(edge(&[
            Keyword::Left,
            Keyword::Right,
            Keyword::Top,
            Keyword::Bottom,
        ]))
        .map(|(first, (edge, span))| Adjustment::Flush(edge, first.span.cover(span)));
    let inset = first(Keyword::Inset)
        .then(expressions.sum.clone())
        .map_with(|(first, by), with: With<E>| {
            Adjustment::Inset(by, first.span.cover(with.state().span(by)))
        });
    choice((centred, flush, inset)).boxed()
}

fn edge<E: Failure>(keywords: &'static [Keyword]) -> Parse<E, (Edge, Span)> {
    one_of_words(keywords, label::EDGE)
        .map(|lexeme| {
            let edge = match lexeme.keyword {
                Some(Keyword::Left) => Edge::Left,
                Some(Keyword::Right) => Edge::Right,
                Some(Keyword::Top) => Edge::Top,
                _ => Edge::Bottom,
            };
            (edge, lexeme.span)
        })
        .boxed()
}

/// `point NAME at top left [of PART]`, `point NAME at (x, y)`
pub(super) fn point<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    let vertical = edge(&[Keyword::Top, Keyword::Bottom]);
    let horizontal = edge(&[Keyword::Left, Keyword::Right]);
    let down_first = vertical
        .clone()
        .then(horizontal.clone().or_not())
        .map(|(vertical, horizontal)| edges(Some(vertical), horizontal));
    let across_first = horizontal
        .then(vertical.or_not())
        .map(|(horizontal, vertical)| edges(vertical, Some(horizontal)));
    let at = coordinates(expressions).map(|(x, y, span)| PointPlace::At { x, y, span });
    word(Keyword::Point)
        .ignore_then(a_name("a name for the point"))
        .then_ignore(word(Keyword::At))
        .then(choice((down_first, across_first, at)))
        .then(
            word(Keyword::Of)
                .ignore_then(a_name("the name of a part"))
                .or_not(),
        )
        .then_ignore(end())
        .map(|((name, place), of)| Statement::Point(Point { name, place, of }))
        .boxed()
}

fn edges(vertical: Option<(Edge, Span)>, horizontal: Option<(Edge, Span)>) -> PointPlace {
    let span = [vertical, horizontal]
        .into_iter()
        .flatten()
        .map(|(_, span)| span)
        .reduce(Span::cover)
        .unwrap_or_default();
    PointPlace::Edges {
        vertical: vertical.map(|(edge, _)| edge),
        horizontal: horizontal.map(|(edge, _)| edge),
        span,
    }
}
