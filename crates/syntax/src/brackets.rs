//! Pairs parentheses and brackets before the grammar runs, in one pass.

use haunch_text::Span;

use crate::MAXIMUM_DEPTH;
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::repair::{error, replace};
use crate::token::TokenKind;
use crate::tree::{SyntaxError, SyntaxErrorKind};

/// Mistakes in parentheses and brackets. With one too deep, nothing else is said.
pub(crate) fn check(text: &str, lexemes: &[Lexeme]) -> Vec<SyntaxError> {
    let mut open: Vec<Lexeme> = Vec::new();
    let mut parentheses = 0_usize;
    let mut choices = 0_usize;
    let mut errors = Vec::new();
    let end = lexemes.last().map_or(0, |last| last.span.end);
    for &lexeme in lexemes {
        match lexeme.kind {
            TokenKind::OpenParenthesis | TokenKind::OpenBracket => {
                parentheses += usize::from(lexeme.kind == TokenKind::OpenParenthesis);
                open.push(lexeme);
            }
            TokenKind::CloseParenthesis | TokenKind::CloseBracket => {
                let opening = partner(lexeme.kind);
                let is_open = match opening {
                    TokenKind::OpenParenthesis => parentheses > 0,
                    _ => open.len() > parentheses,
                };
                if !is_open {
                    errors.push(stray(text, lexeme));
                    continue;
                }
                while let Some(last) = open.pop() {
                    parentheses -= usize::from(last.kind == TokenKind::OpenParenthesis);
                    if last.kind == opening {
                        break;
                    }
                    errors.push(unclosed(text, last, lexeme.span.start));
                }
            }
            _ if lexeme.is(Keyword::If) => choices += 1,
            _ => {}
        }
        if open.len() + choices > MAXIMUM_DEPTH {
            return vec![too_deep(lexeme.span)];
        }
    }
    for last in open.into_iter().rev() {
        errors.push(unclosed(text, last, end));
    }
    errors.sort_by_key(|error| error.span);
    errors
}

fn partner(kind: TokenKind) -> TokenKind {
    match kind {
        TokenKind::CloseParenthesis => TokenKind::OpenParenthesis,
        TokenKind::CloseBracket => TokenKind::OpenBracket,
        TokenKind::OpenParenthesis => TokenKind::CloseParenthesis,
        _ => TokenKind::CloseBracket,
    }
}

fn shape(kind: TokenKind) -> &'static str {
    match kind {
        TokenKind::OpenParenthesis => "(",
        TokenKind::CloseParenthesis => ")",
        TokenKind::OpenBracket => "[",
        _ => "]",
    }
}

fn stray(text: &str, lexeme: Lexeme) -> SyntaxError {
    let close = shape(lexeme.kind);
    let open = shape(partner(lexeme.kind));
    let mut error = error(
        SyntaxErrorKind::UnmatchedBracket,
        lexeme.span,
        format!("No `{open}` stands before this `{close}`. Remove it, or add the `{open}`."),
    );
    // The white space before it goes with it.
    let before = &text[..lexeme.span.range().start];
    let start = before.trim_end_matches([' ', '\t']).len();
    let gone = Span::new(start, lexeme.span.range().end);
    error
        .repairs
        .push(replace(format!("Remove `{close}`"), gone, ""));
    error
}

fn unclosed(text: &str, lexeme: Lexeme, at: u32) -> SyntaxError {
    let open = shape(lexeme.kind);
    let close = shape(partner(lexeme.kind));
    let mut error = error(
        SyntaxErrorKind::UnmatchedBracket,
        lexeme.span,
        format!("This `{open}` has no `{close}` after it. Add the `{close}` where it belongs."),
    );
    let place = text[..at as usize].trim_end().len();
    let title = format!("Add `{close}`");
    error
        .repairs
        .push(replace(title.clone(), Span::empty(place), close));
    // The bracket at the end of a formula closes after its parentheses.
    if lexeme.kind == TokenKind::OpenParenthesis
        && let Some(bracket) = text[..place].rfind('[')
        && bracket > lexeme.span.range().start
    {
        let place = text[..bracket].trim_end().len();
        error
            .repairs
            .push(replace(title, Span::empty(place), close));
    }
    error
}

fn too_deep(span: Span) -> SyntaxError {
    error(
        SyntaxErrorKind::TooDeep,
        span,
        format!(
            "Parentheses and choices are nested more than {MAXIMUM_DEPTH} deep. \
             Give parts of the expression names of their own."
        ),
    )
}
