//! Numbers with their units.
//!
//! A unit is written without spaces and is the longest chain of known words: `3 kN/m*L` is
//! (3 kN/m)·L. A fraction of whole numbers is one number before a unit only.

use chumsky::prelude::*;
use haunch_text::Span;
use smol_str::SmolStr;

use super::{Extra, Reading};
use super::{Failure, Lexemes, Parse, With, label};
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{ExpressionId, ExpressionKind, Literal, LiteralPart, Name, Number, UnitText};

/// A lexeme directly after the one before it, that passes a test.
fn glued<E: Failure>(
    test: fn(&Lexeme) -> bool,
) -> impl Parser<'static, Lexemes, Lexeme, Extra<E>> + Clone {
    any().filter(move |lexeme: &Lexeme| lexeme.glued && test(lexeme))
}

/// `^4`, `^-1` or `²` directly after a unit's word: where it ends.
fn power<E: Failure>() -> Parse<E, Span> {
    let caret = glued(|l| l.kind == TokenKind::Caret)
        .then(glued(|l| l.kind == TokenKind::Minus).or_not())
        .ignore_then(glued(|l| l.is_whole));
    let superscript = glued(|l| l.kind == TokenKind::Superscript);
    choice((superscript, caret))
        .labelled(label::OPERATOR)
        .map(|last| last.span)
        .boxed()
}

/// A chain of known words of units: `kN/m`, `mm^4`, `kip-ft`.
fn unit<E: Failure>() -> Parse<E, UnitText> {
    let first = any().filter(|l: &Lexeme| l.is_unit);
    let joint = glued(|l| {
        matches!(
            l.kind,
            TokenKind::Star | TokenKind::MiddleDot | TokenKind::Slash
        )
    });
    let later = joint
        .ignore_then(glued(|l| l.is_unit))
        .then(power().or_not())
        .labelled(label::OPERATOR);
    first
        .then(power().or_not())
        .labelled(label::OPERATOR)
        .map(|(word, power): (Lexeme, Option<Span>)| {
            (word.span.cover(power.unwrap_or(word.span)), Vec::new())
        })
        .foldl_with(
            later.repeated(),
            |(span, mut words): (Span, Vec<Name>), (word, power), with: With<E>| {
                words.push(with.state().name(word));
                (span.cover(power.unwrap_or(word.span)), words)
            },
        )
        .map_with(|(span, later_words), with: With<E>| UnitText {
            text: SmolStr::new(with.state().written(span)),
            span,
            later_words,
        })
        .boxed()
}

/// `3/4` or `3 1/2`, all whole, before a unit.
fn fraction<E: Failure>() -> Parse<E, (Number, Span)> {
    // `1 000/2 in` is no fraction but a number with a space in it.
    let upper = any()
        .filter(|l: &Lexeme| l.starts_fraction)
        .then_ignore(any())
        .then(any());
    let after_whole = any()
        .filter(|l: &Lexeme| l.starts_fraction && !l.glued && l.span.len() < 3)
        .then_ignore(any())
        .then(any());
    let mixed = any()
        .filter(|l: &Lexeme| l.is_whole && !l.starts_fraction)
        .then(after_whole.labelled(label::OPERATOR))
        .map(|(whole, (above, below))| (Some(whole), above, below));
    choice((
        upper.map(|(above, below)| (None, above, below)).boxed(),
        mixed.boxed(),
    ))
    .labelled("a number")
    .map_with(
        |(whole, above, below): (Option<Lexeme>, Lexeme, Lexeme), with: With<E>| {
            let state = &*with.state();
            let text = |lexeme: Lexeme| SmolStr::new(state.written(lexeme.span));
            let number = Number::Fraction {
                whole: whole.map(text),
                numerator: text(above),
                denominator: text(below),
            };
            (number, whole.unwrap_or(above).span.cover(below.span))
        },
    )
    .boxed()
}

fn decimal<E: Failure>() -> Parse<E, (Number, Span)> {
    any()
        .filter(|l: &Lexeme| l.kind == TokenKind::Number)
        .labelled("a number")
        .map_with(|lexeme, with: With<E>| {
            let text = SmolStr::new(with.state().written(lexeme.span));
            (Number::Decimal(text), lexeme.span)
        })
        .boxed()
}

fn part((number, number_span): (Number, Span), unit: Option<UnitText>) -> LiteralPart {
    LiteralPart {
        number,
        number_span,
        unit,
    }
}

/// A literal where an operand starts: `12 kN`, `6 ft 3 in`, `3/4 in`, `1.5`.
pub(super) fn literal<E: Failure>() -> Parse<E, ExpressionId> {
    let unit = unit();
    let more = choice((fraction(), decimal()))
        .then(unit.clone())
        .labelled(label::OPERATOR)
        .map(|(number, unit)| part(number, Some(unit)));
    let measured = unit.then(more.repeated().collect::<Vec<_>>()).boxed();
    let first = choice((
        fraction().then(measured.clone().map(Some)),
        decimal().then(measured.or_not()),
    ));
    first
        .map_with(|(number, measured), with: With<E>| {
            let parts = match measured {
                Some((unit, more)) => {
                    let mut parts = vec![part(number, Some(unit))];
                    parts.extend(more);
                    parts
                }
                None => vec![part(number, None)],
            };
            push(with.state(), parts)
        })
        .boxed()
}

/// A literal as an exponent: no fraction, since `h^3/12 mm` divides by 12 mm.
pub(super) fn exponent<E: Failure>() -> Parse<E, ExpressionId> {
    decimal()
        .then(unit().or_not())
        .map_with(|(number, unit), with: With<E>| push(with.state(), vec![part(number, unit)]))
        .boxed()
}

fn push(state: &mut Reading, parts: Vec<LiteralPart>) -> ExpressionId {
    let span = parts
        .iter()
        .map(|part| match &part.unit {
            Some(unit) => part.number_span.cover(unit.span),
            None => part.number_span,
        })
        .reduce(Span::cover)
        .unwrap_or_default();
    state.push(ExpressionKind::Literal(Literal { parts }), span)
}
