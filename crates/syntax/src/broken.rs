//! What is known of a line that could not be read: its first word, its name, the names it uses.

use crate::keyword::Keyword;
use crate::lexeme::{Lexeme, name};
use crate::token::TokenKind;
use crate::tree::{Path, Statement};

/// The statement of a line that could not be read.
pub(crate) fn statement(text: &str, lexemes: &[Lexeme]) -> Statement {
    let keyword = lexemes
        .first()
        .filter(|first| first.kind == TokenKind::Word)
        .map(|first| name(text, first.span));
    let equals = gives_a_value(lexemes).then(|| {
        lexemes
            .iter()
            .position(|lexeme| is_equals(lexeme.kind))
            .unwrap_or(0)
    });
    let given = given_name(lexemes);
    Statement::Broken {
        keyword,
        name: given.map(|lexeme| name(text, lexeme.span)),
        paths: paths(text, lexemes, equals, given),
    }
}

fn is_equals(kind: TokenKind) -> bool {
    use TokenKind::{ColonEquals, DoubleEquals, Equals};
    matches!(kind, Equals | DoubleEquals | ColonEquals)
}

fn gives_a_value(lexemes: &[Lexeme]) -> bool {
    match lexemes {
        [first, second, ..] => crate::token::gives_a_value(second.kind, first.span, second.span),
        _ => false,
    }
}

/// The name that the line would have given.
fn given_name(lexemes: &[Lexeme]) -> Option<Lexeme> {
    use Keyword::{As, Combination, Load, Point, Support, Use};
    let first = *lexemes.first()?;
    let a_name = |at: usize| lexemes.get(at).copied().filter(|l| l.is_name());
    if gives_a_value(lexemes) {
        return a_name(0);
    }
    let Some(keyword) = first.keyword else {
        // A heading of a kind that is not known, as far as can be told, still gives its name.
        let heads = first.kind == TokenKind::Word && !lexemes.iter().any(|l| is_equals(l.kind));
        return a_name(1).filter(|_| heads);
    };
    match keyword {
        keyword if keyword.is_heading() => a_name(1),
        Combination | Load | Point => a_name(1),
        Support | Use => {
            let at = lexemes.iter().rposition(|lexeme| lexeme.is(As))?;
            a_name(at + 1)
        }
        keyword if keyword.is_shape() || keyword == Keyword::Deduct => {
            let shape = usize::from(keyword == Keyword::Deduct);
            let second = lexemes
                .get(shape)
                .and_then(|lexeme| lexeme.keyword?.second_of_shape());
            let has_two =
                second.is_some_and(|second| lexemes.get(shape + 1).is_some_and(|l| l.is(second)));
            let is_shape = has_two || !lexemes.get(shape).is_some_and(|l| l.is(Keyword::I));
            a_name(shape + 1 + usize::from(has_two)).filter(|_| is_shape)
        }
        _ => None,
    }
}

/// Every path on the line but the name that it gives. Words in brackets are units; in lines other
/// than values the words of the notation are left out.
fn paths(
    text: &str,
    lexemes: &[Lexeme],
    equals: Option<usize>,
    given: Option<Lexeme>,
) -> Vec<Path> {
    let start = equals.unwrap_or(0) + 1;
    let mut paths = Vec::new();
    let mut at = start;
    let mut in_brackets = false;
    while let Some(&lexeme) = lexemes.get(at) {
        at += 1;
        let is_number = lexemes
            .get(at.wrapping_sub(2))
            .is_some_and(|before| before.kind == TokenKind::Number);
        let is_keyword = equals.is_none() && lexeme.keyword.is_some();
        in_brackets = match lexeme.kind {
            TokenKind::OpenBracket => true,
            TokenKind::CloseBracket => false,
            _ => in_brackets,
        };
        if in_brackets
            || given == Some(lexeme)
            || !lexeme.is_name()
            || is_keyword
            || (lexeme.is_unit && is_number)
        {
            continue;
        }
        let mut names = vec![name(text, lexeme.span)];
        while let [dot, member, ..] = lexemes.get(at..).unwrap_or(&[])
            && dot.kind == TokenKind::Dot
            && (dot.glued && member.glued && member.kind == TokenKind::Word)
        {
            names.push(name(text, member.span));
            at += 2;
        }
        paths.push(Path {
            names,
            arguments: None,
            arguments_span: None,
        });
    }
    paths
}
