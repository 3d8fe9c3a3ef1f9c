//! `sheet`, `material`, `section`, `forces`, `beam`, `results in`, `use`

use chumsky::prelude::*;

use super::expression::Expressions;
use super::values::written_unit;
use super::{Failure, Parse, With, a_name, dotted, quoted, token, word};
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::token::TokenKind;
use crate::tree::{BlockKind, Heading, Name, Path, ResultsIn, Statement, UnitText, Use};

/// A block's first line.
pub(super) fn heading<E: Failure>(_: &Expressions<E>) -> Parse<E, Statement> {
    let of = word(Keyword::Of);
    choice((
        block(
            Keyword::Sheet,
            BlockKind::Sheet,
            empty().to((None, None)).boxed(),
        ),
        block(
            Keyword::Material,
            BlockKind::Material,
            a_name("the name of the material")
                .map(|name| (Some(name), None))
                .boxed(),
        ),
        block(
            Keyword::Section,
            BlockKind::Section,
            a_name("the name of the section")
                .then(of.clone().ignore_then(dotted("a material")).or_not())
                .map(|(name, of)| (Some(name), of))
                .boxed(),
        ),
        block(
            Keyword::Forces,
            BlockKind::Forces,
            a_name("a name for the forces")
                .then_ignore(word(Keyword::On))
                .then(dotted("a section"))
                .map(|(name, on)| (Some(name), Some(on)))
                .boxed(),
        ),
        block(
            Keyword::Beam,
            BlockKind::Beam,
            a_name("the name of the beam")
                .then(of.ignore_then(dotted("a section")).or_not())
                .map(|(name, of)| (Some(name), of))
                .boxed(),
        ),
    ))
    .then_ignore(end())
    .boxed()
}

fn block<E: Failure>(
    keyword: Keyword,
    kind: BlockKind,
    rest: Parse<E, (Option<Name>, Option<Path>)>,
) -> Parse<E, Statement> {
    word(keyword)
        .then(rest)
        .map(move |(first, (name, of))| {
            Statement::Heading(Heading {
                kind,
                keyword_span: first.span,
                name,
                of,
            })
        })
        .boxed()
}

/// An entry of `results in`.
enum Entry {
    Digits(Name),
    Unit(UnitText),
}

/// `results in mm, kN, 4 digits`
pub(super) fn results_in<E: Failure>(_: &Expressions<E>) -> Parse<E, Statement> {
    let digits = any()
        .filter(|lexeme: &Lexeme| lexeme.is_whole)
        .labelled("a unit or a number of digits")
        .then_ignore(word(Keyword::Digits))
        .map_with(|lexeme, with: With<E>| Entry::Digits(with.state().name(lexeme)));
    let unit = written_unit(
        |kind| !matches!(kind, TokenKind::Comma | TokenKind::Number),
        "a unit or a number of digits",
    );
    word(Keyword::Results)
        .ignore_then(word(Keyword::In))
        .ignore_then(
            choice((digits, unit.map(Entry::Unit)))
                .separated_by(token(TokenKind::Comma, "`,`"))
                .at_least(1)
                .collect::<Vec<_>>(),
        )
        .then_ignore(end())
        .map(|entries| {
            let mut results = ResultsIn {
                units: Vec::new(),
                digits: None,
            };
            for entry in entries {
                match entry {
                    Entry::Digits(number) => results.digits = Some(number),
                    Entry::Unit(unit) => results.units.push(unit),
                }
            }
            Statement::ResultsIn(results)
        })
        .boxed()
}

/// `use "plates.haunch" as p`
pub(super) fn use_file<E: Failure>(_: &Expressions<E>) -> Parse<E, Statement> {
    word(Keyword::Use)
        .ignore_then(quoted("the name of a file in quotes"))
        .then(word(Keyword::As).ignore_then(a_name("a name")).or_not())
        .then_ignore(end())
        .map(|(path, alias)| Statement::Use(Use { path, alias }))
        .boxed()
}
