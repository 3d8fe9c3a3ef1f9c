//! The grammar, with `chumsky`: one parser for each kind of statement, built once per thread.
//!
//! Every parser is generic over its error type: a line is first read with one that says nothing,
//! and again with one that tells what was expected only where the first failed.

mod beam;
mod checks;
mod expression;
pub(crate) use expression::superscript_value;
mod headings;
mod literal;
mod section;
mod values;

use chumsky::error::{EmptyErr, Error, LabelError, Rich};
use chumsky::input::{Checkpoint, Cursor, MapExtra, Stream};
use chumsky::inspector::Inspector;
use chumsky::prelude::*;
use haunch_text::Span;

use crate::keyword::Keyword;
use crate::lexeme::{Lexeme, name};
use crate::token::TokenKind;
use crate::tree::{Expression, ExpressionId, ExpressionKind, Name, Path, Statement};

/// The lexemes of a line as the parsers read them.
pub(crate) type Lexemes = Stream<std::vec::IntoIter<Lexeme>>;

/// What every error type must be able to do.
pub(crate) trait Failure:
    Error<'static, Lexemes> + LabelError<'static, Lexemes, &'static str> + 'static
{
}

impl<E> Failure for E where
    E: Error<'static, Lexemes> + LabelError<'static, Lexemes, &'static str> + 'static
{
}

/// What was expected and what was found.
pub(crate) type Detailed = Rich<'static, Lexeme>;

type Extra<E> = extra::Full<E, Reading, ()>;
type Parse<E, O> = Boxed<'static, 'static, Lexemes, O, Extra<E>>;
type With<'a, 'b, E> = &'a mut MapExtra<'static, 'b, Lexemes, Extra<E>>;

/// The text that is read, and the expressions found so far. What a parser added before it failed
/// is taken away again, so that the arena holds nothing but the line's own expressions.
pub(crate) struct Reading {
    text: String,
    pub(crate) expressions: Vec<Expression>,
}

impl Reading {
    /// Nothing read yet.
    pub(crate) fn new(text: &str) -> Reading {
        Reading {
            text: text.to_owned(),
            expressions: Vec::new(),
        }
    }

    fn push(&mut self, kind: ExpressionKind, span: Span) -> ExpressionId {
        let id = ExpressionId(u32::try_from(self.expressions.len()).unwrap_or(u32::MAX));
        self.expressions.push(Expression { kind, span });
        id
    }

    fn span(&self, id: ExpressionId) -> Span {
        self.expressions
            .get(id.0 as usize)
            .map_or(Span::default(), |expression| expression.span)
    }

    fn name(&self, lexeme: Lexeme) -> Name {
        name(&self.text, lexeme.span)
    }

    fn name_at(&self, span: Span) -> Name {
        name(&self.text, span)
    }

    /// The text between quotes; the span covers the quotes.
    fn quoted(&self, lexeme: Lexeme) -> Name {
        let inner = Span {
            start: lexeme.span.start + 1,
            end: lexeme.span.end.saturating_sub(1).max(lexeme.span.start + 1),
        };
        Name {
            span: lexeme.span,
            ..name(&self.text, inner)
        }
    }

    fn written(&self, span: Span) -> &str {
        span.text(&self.text)
    }
}

impl Inspector<'static, Lexemes> for Reading {
    type Checkpoint = usize;

    fn on_token(&mut self, _: &Lexeme) {}

    fn on_save<'parse>(&self, _: &Cursor<'static, 'parse, Lexemes>) -> usize {
        self.expressions.len()
    }

    fn on_rewind<'parse>(&mut self, marker: &Checkpoint<'static, 'parse, Lexemes, usize>) {
        self.expressions.truncate(*marker.inspector());
    }
}

/// A lexeme of a kind, with the words that tell a reader what was expected.
fn token<E: Failure>(kind: TokenKind, label: &'static str) -> Parse<E, Lexeme> {
    any()
        .filter(move |lexeme: &Lexeme| lexeme.kind == kind)
        .labelled(label)
        .boxed()
}

/// A keyword.
fn word<E: Failure>(keyword: Keyword) -> Parse<E, Lexeme> {
    any()
        .filter(move |lexeme: &Lexeme| lexeme.keyword == Some(keyword))
        .labelled(keyword.label())
        .boxed()
}

/// One of several keywords.
fn one_of_words<E: Failure>(keywords: &'static [Keyword], label: &'static str) -> Parse<E, Lexeme> {
    any()
        .filter(|lexeme: &Lexeme| {
            lexeme
                .keyword
                .is_some_and(|found| keywords.contains(&found))
        })
        .labelled(label)
        .boxed()
}

/// A name that is given or that is not dotted.
fn a_name<E: Failure>(label: &'static str) -> Parse<E, Name> {
    any()
        .filter(|lexeme: &Lexeme| lexeme.is_name())
        .labelled(label)
        .map_with(|lexeme, with: With<E>| with.state().name(lexeme))
        .boxed()
}

/// A name of this file or, dotted, of another one.
fn dotted<E: Failure>(label: &'static str) -> Parse<E, Path> {
    let member = any()
        .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Dot && lexeme.glued)
        .labelled(label::OPERATOR)
        .ignore_then(
            any()
                .filter(|lexeme: &Lexeme| lexeme.kind == TokenKind::Word && lexeme.glued)
                .labelled("a name"),
        );
    any()
        .filter(|lexeme: &Lexeme| lexeme.is_name())
        .labelled(label)
        .map_with(|lexeme, with: With<E>| vec![with.state().name(lexeme)])
        .foldl_with(member.repeated(), |mut names, lexeme, with: With<E>| {
            names.push(with.state().name(lexeme));
            names
        })
        .map(|names| Path {
            names,
            arguments: None,
            arguments_span: None,
        })
        .boxed()
}

/// Words between quotes.
fn quoted<E: Failure>(label: &'static str) -> Parse<E, Name> {
    token(TokenKind::Text, label)
        .map_with(|lexeme, with: With<E>| with.state().quoted(lexeme))
        .boxed()
}

/// What was expected, in the words that messages use.
pub(crate) mod label {
    /// Any operand.
    pub(crate) const VALUE: &str = "a value";
    /// Any operator between two operands. Messages leave it out where something else fits too.
    pub(crate) const OPERATOR: &str = "an operator";
    /// The relation of a limit.
    pub(crate) const RELATION: &str = "`<=`";
    /// A place of a part.
    pub(crate) const PLACE: &str = "a place such as `above flange`";
    /// A sideways adjustment of a part.
    pub(crate) const ADJUSTMENT: &str = "`centred on`, `flush` or `inset`";
    /// The side of a part, an edge.
    pub(crate) const EDGE: &str = "`left`, `right`, `top` or `bottom`";
    /// The sense of a force or moment.
    pub(crate) const SENSE: &str = "a sense such as `hogging` or `tension`";
    /// A place along a beam.
    pub(crate) const POSITION: &str = "a distance, `start`, `middle` or `end`";
    /// The place of a load.
    pub(crate) const LOAD_PLACE: &str = "a place such as `at middle` or `throughout`";
}

macro_rules! grammar {
    ($($(#[$doc:meta])* $field:ident: $build:path,)*) => {
        /// A parser for each kind of statement.
        pub(crate) struct Grammar<E: Failure> {
            $($(#[$doc])* pub(crate) $field: Parse<E, Statement>,)*
        }

        impl<E: Failure> Grammar<E> {
            fn new() -> Grammar<E> {
                let expressions = expression::Expressions::new();
                Grammar { $($field: $build(&expressions),)* }
            }
        }
    };
}

grammar! {
    /// `NAME = …`
    value: values::value,
    /// `f(a, b) = …`
    formula: values::formula,
    /// `sheet`, `material`, `section`, `forces`, `beam`
    heading: headings::heading,
    /// `results in …`
    results_in: headings::results_in,
    /// `use …`
    use_file: headings::use_file,
    /// `allow …`
    allow: checks::allow,
    /// `verify …`
    verify: checks::verify,
    /// `expect …`
    expect: checks::expect,
    /// `answer …`
    answer: checks::answer,
    /// `limit …`
    limit: checks::limit,
    /// `rect …` and the like
    part: section::part,
    /// `point …`
    point: section::point,
    /// `support …`
    support: beam::support,
    /// `hinge …`
    hinge: beam::hinge,
    /// `section … from … to …`
    section_stretch: beam::section_stretch,
    /// `load …`
    load: beam::load,
    /// `combination …`
    combination: beam::combination,
}

/// Which parser reads a line.
pub(crate) type Choose<E> = fn(&Grammar<E>) -> &Parse<E, Statement>;

thread_local! {
    static QUICK: Grammar<EmptyErr> = Grammar::new();
    static DETAILED: Grammar<Detailed> = Grammar::new();
}

/// Reads the lexemes of a statement; `None` where they do not fit.
pub(crate) fn read(
    lexemes: &[Lexeme],
    reading: &mut Reading,
    choose: Choose<EmptyErr>,
) -> Option<Statement> {
    let stream = Stream::from_iter(lexemes.to_vec());
    QUICK.with(|grammar| {
        choose(grammar)
            .parse_with_state(stream, reading)
            .into_output()
    })
}

/// Reads again for what was expected where the lexemes did not fit.
pub(crate) fn explain(
    lexemes: &[Lexeme],
    reading: &mut Reading,
    choose: Choose<Detailed>,
) -> Option<Detailed> {
    let stream = Stream::from_iter(lexemes.to_vec());
    DETAILED.with(|grammar| {
        choose(grammar)
            .parse_with_state(stream, reading)
            .into_errors()
            .into_iter()
            .next()
    })
}
