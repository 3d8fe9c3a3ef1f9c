//! Parts and points of a section.

use chumsky::prelude::*;
use haunch_text::Span;

use super::expression::Expressions;
use super::{Failure, Parse, With, a_name, dotted, label, one_of_words, quoted, token, word};
use crate::keyword::{DETAILS, Keyword, SHAPES, TWO_WORDS};
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{
    Adjustment, Edge, ExpressionId, Name, Part, PartDetail, PartPlace, PartTurn, Path, Point,
    PointPlace, Side, Statement,
};

/// What stands between `deduct` and the place.
struct Described {
    shape: Name,
    name: Name,
    sizes: Vec<ExpressionId>,
    designation: Option<Name>,
    details: Vec<PartDetail>,
}

/// `[deduct] SHAPE NAME sizes [details] [place] [turns] [of MATERIAL]`
pub(super) fn part<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Deduct)
        .or_not()
        .then(described(expressions))
        .then(place(expressions))
        .then(turn(expressions).repeated().collect::<Vec<_>>())
        .then(word(Keyword::Of).ignore_then(dotted("a material")).or_not())
        .then_ignore(end())
        .map(
            |((((deduct, own), place), turns), of): ((((_, Described), _), _), Option<Path>)| {
                Statement::Part(Box::new(Part {
                    deduct: deduct.map(|lexeme: Lexeme| lexeme.span),
                    shape: own.shape,
                    name: own.name,
                    sizes: own.sizes,
                    designation: own.designation,
                    details: own.details,
                    place,
                    turns,
                    of,
                }))
            },
        )
        .boxed()
}

/// The shape with its name and sizes: `rect web 8 x 140 mm`, `polygon rib (0 mm, 0 mm) …`,
/// `rolled rail "IPE 200"`.
fn described<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Described> {
    let name = a_name("a name for the part");
    let corners = coordinates(expressions)
        .repeated()
        .at_least(3)
        .collect::<Vec<_>>()
        .map(|corners| corners.into_iter().flat_map(|(x, y, _)| [x, y]).collect());
    let sized = shape()
        .then(name.clone())
        .then(sizes(expressions))
        .then(detail(expressions).repeated().collect::<Vec<_>>())
        .map(|(((shape, name), sizes), details)| Described {
            shape,
            name,
            sizes,
            designation: None,
            details,
        });
    let cornered = one_of_words(&[Keyword::Polygon], SHAPE)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(name.clone())
        .then(corners)
        .map(|((shape, name), sizes)| Described {
            shape,
            name,
            sizes,
            designation: None,
            details: Vec::new(),
        });
    let rolled = one_of_words(&[Keyword::Rolled], SHAPE)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(name)
        .then(quoted("a designation such as `\"IPE 200\"`"))
        .map(|((shape, name), designation)| Described {
            shape,
            name,
            sizes: Vec::new(),
            designation: Some(designation),
            details: Vec::new(),
        });
    choice((sized, cornered, rolled)).boxed()
}

/// `B x H x T`
fn sizes<E: Failure>(expressions: &Expressions<E>) -> Parse<E, Vec<ExpressionId>> {
    let separator = any()
        .filter(|lexeme: &Lexeme| lexeme.is(Keyword::X) || lexeme.kind == TokenKind::Times)
        .labelled(Keyword::X.label());
    expressions
        .size
        .clone()
        .labelled("a size")
        .separated_by(separator)
        .at_least(1)
        .collect::<Vec<_>>()
        .boxed()
}

/// `root 12 mm` and the like. Where a line breaks off before it, messages leave these words out,
/// as they do operators: they are rarely what was meant.
fn detail<E: Failure>(expressions: &Expressions<E>) -> Parse<E, PartDetail> {
    any()
        .filter(|lexeme: &Lexeme| lexeme.keyword.is_some_and(|found| DETAILS.contains(&found)))
        .labelled(label::OPERATOR)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .then(sizes(expressions))
        .map(|(word, sizes)| PartDetail { word, sizes })
        .boxed()
}

/// `turned 90 deg`, `mirrored sideways`, `mirrored upside down`
fn turn<E: Failure>(expressions: &Expressions<E>) -> Parse<E, PartTurn> {
    let first = |keyword| {
        any()
            .filter(move |lexeme: &Lexeme| lexeme.is(keyword))
            .labelled(label::OPERATOR)
    };
    let turned = first(Keyword::Turned)
        .then(expressions.sum.clone())
        .map_with(|(first, by), with: With<E>| {
            PartTurn::Turned(by, first.span.cover(with.state().span(by)))
        });
    let sideways = word(Keyword::Sideways).map(|last| (true, last));
    let upside_down = word(Keyword::Upside)
        .ignore_then(word(Keyword::Down))
        .map(|last| (false, last));
    let mirrored = first(Keyword::Mirrored)
        .then(choice((sideways, upside_down)))
        .map(|(first, (is_sideways, last)): (Lexeme, (bool, Lexeme))| {
            let span = first.span.cover(last.span);
            if is_sideways {
                PartTurn::Sideways(span)
            } else {
                PartTurn::UpsideDown(span)
            }
        });
    choice((turned, mirrored)).boxed()
}

const SHAPE: &str = "a shape such as `rect`";

/// `rect`, `round tube` …
fn shape<E: Failure>() -> Parse<E, Name> {
    let single =
        one_of_words(SHAPES, SHAPE).map_with(|lexeme, with: With<E>| with.state().name(lexeme));
    let pairs = TWO_WORDS.iter().map(|&(first, second)| {
        any()
            .filter(move |lexeme: &Lexeme| lexeme.is(first))
            .labelled(SHAPE)
            .then(word(second))
            .map_with(|(first, second): (Lexeme, Lexeme), with: With<E>| {
                let state = with.state();
                let words = [state.name(first).text, state.name(second).text];
                Name {
                    text: words.join(" ").into(),
                    span: first.span.cover(second.span),
                }
            })
            .boxed()
    });
    let pairs: Vec<Parse<E, Name>> = pairs.collect();
    choice((single, choice(pairs))).boxed()
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
