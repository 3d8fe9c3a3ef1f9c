//! Two tokens decide what a line says.

use crate::grammar::{Choose, Failure};
use crate::keyword::{Keyword, nearest};
use crate::lexeme::Lexeme;
use crate::mistakes::short;
use crate::repair::{error, replace};
use crate::token::{TokenKind, gives_a_value};
use crate::tree::{SyntaxError, SyntaxErrorKind};

/// The kinds of statement that the grammar reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StatementKind {
    Value,
    Formula,
    Heading,
    ResultsIn,
    UseFile,
    Allow,
    Verify,
    Expect,
    Answer,
    Limit,
    Part,
    Point,
    Support,
    Hinge,
    SectionStretch,
    Load,
    Combination,
}

impl StatementKind {
    /// The parser for it.
    pub(crate) fn parser<E: Failure>(self) -> Choose<E> {
        match self {
            StatementKind::Value => |grammar| &grammar.value,
            StatementKind::Formula => |grammar| &grammar.formula,
            StatementKind::Heading => |grammar| &grammar.heading,
            StatementKind::ResultsIn => |grammar| &grammar.results_in,
            StatementKind::UseFile => |grammar| &grammar.use_file,
            StatementKind::Allow => |grammar| &grammar.allow,
            StatementKind::Verify => |grammar| &grammar.verify,
            StatementKind::Expect => |grammar| &grammar.expect,
            StatementKind::Answer => |grammar| &grammar.answer,
            StatementKind::Limit => |grammar| &grammar.limit,
            StatementKind::Part => |grammar| &grammar.part,
            StatementKind::Point => |grammar| &grammar.point,
            StatementKind::Support => |grammar| &grammar.support,
            StatementKind::Hinge => |grammar| &grammar.hinge,
            StatementKind::SectionStretch => |grammar| &grammar.section_stretch,
            StatementKind::Load => |grammar| &grammar.load,
            StatementKind::Combination => |grammar| &grammar.combination,
        }
    }

    /// Whether it may end with a unit in brackets.
    pub(crate) fn is_formula(self) -> bool {
        matches!(self, StatementKind::Value | StatementKind::Formula)
    }

    fn of(keyword: Keyword) -> Option<StatementKind> {
        Some(match keyword {
            keyword if keyword.is_heading() => StatementKind::Heading,
            keyword if keyword.is_shape() => StatementKind::Part,
            Keyword::Deduct => StatementKind::Part,
            Keyword::Results => StatementKind::ResultsIn,
            Keyword::Use => StatementKind::UseFile,
            Keyword::Allow => StatementKind::Allow,
            Keyword::Verify => StatementKind::Verify,
            Keyword::Expect => StatementKind::Expect,
            Keyword::Answer => StatementKind::Answer,
            Keyword::Limit => StatementKind::Limit,
            Keyword::Point => StatementKind::Point,
            Keyword::Support => StatementKind::Support,
            Keyword::Hinge => StatementKind::Hinge,
            Keyword::Load => StatementKind::Load,
            Keyword::Combination => StatementKind::Combination,
            _ => return None,
        })
    }
}

/// What the line says by its first two lexemes; there is at least one.
pub(crate) fn kind_of(text: &str, lexemes: &[Lexeme]) -> Result<StatementKind, Box<SyntaxError>> {
    let Some(&first) = lexemes.first() else {
        return Err(Box::new(unknown_statement(
            text,
            Lexeme::inserted(TokenKind::Word, 0),
            &[],
        )));
    };
    if let Some(mistake) = no_word(text, lexemes) {
        return Err(Box::new(mistake));
    }
    let second = lexemes.get(1);
    if let Some(second) = second
        && gives_a_value(second.kind, first.span, second.span)
    {
        return Ok(match second.kind {
            TokenKind::OpenParenthesis => StatementKind::Formula,
            _ => StatementKind::Value,
        });
    }
    if is_section_stretch(lexemes) {
        return Ok(StatementKind::SectionStretch);
    }
    // `I` is a name too often for a line to be about a shape because of it alone.
    let is_shape = |second: &Lexeme| second.is(Keyword::Shape);
    first
        .keyword
        .filter(|_| !first.is(Keyword::I) || second.is_some_and(is_shape))
        .and_then(StatementKind::of)
        .ok_or_else(|| Box::new(unknown_statement(text, first, &lexemes[1..])))
}

/// `section NAME from …`. A section of a material `from` is none.
fn is_section_stretch(lexemes: &[Lexeme]) -> bool {
    let [first, _, rest @ ..] = lexemes else {
        return false;
    };
    first.is(Keyword::Section)
        && rest.iter().any(|lexeme| lexeme.is(Keyword::From))
        && !rest.first().is_some_and(|lexeme| lexeme.is(Keyword::Of))
}

fn is_space(c: char) -> bool {
    c.is_whitespace() && c != '\n' && c != '\r'
}

/// A line that does not start with a word.
fn no_word(text: &str, lexemes: &[Lexeme]) -> Option<SyntaxError> {
    let first = *lexemes.first()?;
    let is_operator = first.kind.is_operator() || first.is(Keyword::And) || first.is(Keyword::Or);
    // What stands before it on its physical line can only be white space.
    let indented = text[..first.span.range().start].ends_with(is_space);
    if is_operator && indented {
        return Some(stray_continuation(text, first));
    }
    if first.kind == TokenKind::Word {
        return None;
    }
    let written = short(first.span.text(text));
    Some(error(
        SyntaxErrorKind::Unreadable,
        first.span,
        format!(
            "A line starts with a name and `=`, or with a word such as `section` or `load`, \
             not with `{written}`."
        ),
    ))
}

/// A line that starts with an operator and has nothing above it to continue.
pub(crate) fn stray_continuation(text: &str, first: Lexeme) -> SyntaxError {
    let written = first.span.text(text);
    error(
        SyntaxErrorKind::StrayContinuation,
        first.span,
        format!(
            "An indented line that starts with `{written}` goes on with the line above, \
             but no expression ends there."
        ),
    )
}

fn unknown_statement(text: &str, first: Lexeme, rest: &[Lexeme]) -> SyntaxError {
    let word = first.span.text(text);
    let shown = short(word);
    let kind = SyntaxErrorKind::UnknownStatement;
    if let [dot, ..] = rest
        && dot.kind == TokenKind::Dot
    {
        return error(
            kind,
            first.span,
            "A name with a dot belongs to a block: it is given its value there, not here.",
        );
    }
    let equals = rest
        .iter()
        .position(|lexeme| lexeme.kind == TokenKind::Equals);
    let mut mistake = error(kind, first.span, "");
    if let Some(equals) = equals
        && rest[..equals]
            .iter()
            .all(|lexeme| lexeme.is_name() || lexeme.is_whole)
    {
        let words: Vec<&str> = std::iter::once(&first)
            .chain(&rest[..equals])
            .map(|lexeme| lexeme.span.text(text))
            .collect();
        let name = words.join("_");
        mistake.span = first.span.cover(rest[equals.saturating_sub(1)].span);
        mistake.message = format!("A name is one word: write `{}`.", short(&name));
        mistake
            .repairs
            .push(replace(format!("Write `{name}`"), mistake.span, name));
    } else {
        mistake.message =
            format!("No line starts with the word `{shown}`. A value is given as `{shown} = …`.");
    }
    let near = nearest(word, Keyword::statements().map(Keyword::text));
    if let [best, ..] = near[..] {
        mistake
            .message
            .push_str(&format!(" Did you mean `{best}`?"));
    }
    for candidate in near {
        let title = format!("Write `{candidate}`");
        mistake.repairs.push(replace(title, first.span, candidate));
    }
    mistake
}
