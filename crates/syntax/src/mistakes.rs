//! Mistakes that single lexemes and their neighbours show, found before the grammar runs: unknown
//! characters, numbers, quotes, brackets after a number.
//!
//! Where the meaning is clear the lexemes are put right, so that the rest of the line is read and
//! other mistakes on it are found; the line has no meaning all the same.

use haunch_text::Span;

use crate::grammar::superscript_value;
use crate::keyword::Keyword;
use crate::lexeme::Lexeme;
use crate::repair::{error, replace};
use crate::token::TokenKind;
use crate::tree::{SyntaxError, SyntaxErrorKind, SyntaxRepair};

/// How many mistakes of one line are told.
pub(crate) const MAXIMUM_ERRORS: usize = 8;

/// What the lexemes of a line show.
pub(crate) struct Mistakes {
    /// The mistakes.
    pub(crate) errors: Vec<SyntaxError>,
    /// Whether the lexemes, put right, can be read on.
    pub(crate) readable: bool,
}

/// Finds mistakes and puts the lexemes right where it is clear how. `closes_formula` tells that a
/// bracket at the end of the line belongs there.
pub(crate) fn find(text: &str, lexemes: &mut Vec<Lexeme>, closes_formula: bool) -> Mistakes {
    let mut found = Mistakes {
        errors: Vec::new(),
        readable: true,
    };
    let is_part = lexemes
        .first()
        .and_then(|first| first.keyword)
        .is_some_and(|keyword| keyword.is_shape() || keyword == Keyword::Deduct);
    let mut depth = 0_usize;
    let mut at = 0;
    while let Some(&lexeme) = lexemes.get(at) {
        match lexeme.kind {
            TokenKind::Unknown => {
                found.errors.push(unknown(text, lexeme.span));
                found.readable = false;
            }
            TokenKind::UnclosedText => {
                found.errors.push(unclosed_text(text, lexeme.span));
                lexemes[at].kind = TokenKind::Text;
            }
            TokenKind::CurlyText => {
                found.errors.push(curly(text, lexeme.span));
                lexemes[at].kind = TokenKind::Text;
            }
            TokenKind::OpenParenthesis => depth += 1,
            TokenKind::CloseParenthesis => depth = depth.saturating_sub(1),
            TokenKind::Superscript if superscript_value(lexeme.span.text(text)).is_none() => {
                found.errors.push(error(
                    SyntaxErrorKind::MalformedNumber,
                    lexeme.span,
                    "This power is larger than can be computed with.",
                ));
            }
            TokenKind::OpenBracket => {
                if let Some(mistake) = bracket(text, lexemes, at, closes_formula) {
                    found.errors.push(mistake);
                }
            }
            TokenKind::Number => {
                if let Some(mistake) = number(text, lexemes, at, depth, is_part) {
                    found.errors.push(mistake);
                }
            }
            _ => {}
        }
        at += 1;
        if found.errors.len() >= MAXIMUM_ERRORS {
            found.readable = false;
            break;
        }
    }
    found
}

fn unknown(text: &str, span: Span) -> SyntaxError {
    let characters = span.text(text);
    let shown: String = characters.chars().take(12).collect();
    let invisible = characters.chars().all(|c| {
        c.is_control()
            || matches!(
                c,
                '\u{200B}'..='\u{200F}' | '\u{2060}' | '\u{FEFF}' | '\u{AD}'
            )
    });
    if invisible {
        let code = characters.chars().next().map_or(0, u32::from);
        let mut error = error(
            SyntaxErrorKind::UnknownCharacter,
            span,
            format!("An invisible character (U+{code:04X}) stands here. Remove it."),
        );
        error
            .repairs
            .push(replace("Remove the invisible character", span, ""));
        return error;
    }
    let mut error = error(
        SyntaxErrorKind::UnknownCharacter,
        span,
        format!("`{shown}` has no meaning here."),
    );
    let before = text[..span.range().start].chars().next_back();
    if let Some(meant) = meant(characters, before.is_some_and(|c| c.is_ascii_digit())) {
        error
            .message
            .push_str(&format!(" Did you mean `{}`?", meant.trim()));
        let title = format!("Write `{}`", meant.trim());
        error.repairs.push(replace(title, span, meant));
    }
    error
}

/// What a character that has no meaning stands for in most texts.
fn meant(characters: &str, after_digit: bool) -> Option<&'static str> {
    Some(match characters {
        "–" | "—" | "‐" | "‑" | "‒" => "-",
        "⋅" | "•" | "∙" => "·",
        "÷" | "∕" | "⁄" => "/",
        "∗" => "*",
        "∆" => "Δ",
        "’" | "‘" | "´" | "`" if !after_digit => "'",
        "′" | "'" | "’" if after_digit => " ft",
        "″" if after_digit => " in",
        "½" if after_digit => " 1/2",
        "½" => "1/2",
        "¼" if after_digit => " 1/4",
        "¼" => "1/4",
        "¾" if after_digit => " 3/4",
        "¾" => "3/4",
        "&&" | "&" => "and",
        "||" | "|" => "or",
        "!" => "not ",
        "∧" => "and",
        "∨" => "or",
        "{" => "(",
        "}" => ")",
        _ => return None,
    })
}

fn unclosed_text(text: &str, span: Span) -> SyntaxError {
    let mut error = error(
        SyntaxErrorKind::UnclosedText,
        span,
        "This text has no `\"` at its end.",
    );
    let end = span.range().start + span.text(text).trim_end().len();
    error
        .repairs
        .push(replace("Add `\"`", Span::empty(end), "\""));
    error
}

fn curly(text: &str, span: Span) -> SyntaxError {
    let words = span
        .text(text)
        .trim_matches(|c| "“”„‟«»\"".contains(c))
        .trim_end();
    let mut error = error(
        SyntaxErrorKind::UnknownCharacter,
        span,
        "Text stands between straight quotes, `\"`.",
    );
    error.repairs.push(replace(
        "Write straight quotes",
        span,
        format!("\"{words}\""),
    ));
    error
}

/// `3 [m]` where the bracket does not close a formula.
fn bracket(
    text: &str,
    lexemes: &mut Vec<Lexeme>,
    at: usize,
    closes_formula: bool,
) -> Option<SyntaxError> {
    let number = *lexemes.get(at.checked_sub(1)?)?;
    if number.kind != TokenKind::Number {
        return None;
    }
    let length = lexemes[at..]
        .iter()
        .position(|lexeme| lexeme.kind == TokenKind::CloseBracket)?;
    let close = at + length;
    let closes = closes_formula && close + 1 == lexemes.len();
    if length < 2 || closes {
        return None;
    }
    let inner = lexemes[at + 1].span.cover(lexemes[close - 1].span);
    let error = unit_in_brackets(text, number.span, inner, lexemes[close].span);
    lexemes.remove(close);
    lexemes.remove(at);
    lexemes[at].glued = false;
    Some(error)
}

/// The finding for a bare number with its unit in brackets.
pub(crate) fn unit_in_brackets(text: &str, number: Span, unit: Span, close: Span) -> SyntaxError {
    let written = format!("{} {}", number.text(text), unit.text(text));
    let span = number.cover(close);
    let mut error = error(
        SyntaxErrorKind::UnitInBrackets,
        span,
        format!("The unit of a number follows it without brackets: `{written}`."),
    );
    error
        .repairs
        .push(replace(format!("Write `{written}`"), span, written));
    error
}

/// Mistakes that start with the number at `at`.
fn number(
    text: &str,
    lexemes: &mut Vec<Lexeme>,
    at: usize,
    depth: usize,
    is_part: bool,
) -> Option<SyntaxError> {
    let first = lexemes[at];
    if let Some(before) = at.checked_sub(1).and_then(|at| lexemes.get(at))
        && first.glued
        && before.kind == TokenKind::Word
    {
        lexemes.remove(at);
        return Some(error(
            SyntaxErrorKind::Unreadable,
            first.span,
            "A dot after a name is followed by a name, without spaces.",
        ));
    }
    let length = number_run(text, &lexemes[at..]);
    if length == 1 {
        return match lexemes.get(at + 1) {
            Some(next) if next.glued && next.kind == TokenKind::Word && !next.is_unit => {
                letters_after(text, lexemes, at, is_part)
            }
            _ => out_of_range(text, first.span),
        };
    }
    let last = lexemes[at + length - 1];
    let span = first.span.cover(last.span);
    let written = span.text(text);
    let error = if written.contains(',') {
        comma(text, &lexemes[at..at + length], span, depth)?
    } else {
        let mut error = error(
            SyntaxErrorKind::MalformedNumber,
            span,
            format!(
                "`{}` is no number: it has more than one decimal point.",
                short(written)
            ),
        );
        let mut parts = written.split('.').filter(|part| !part.is_empty());
        if let (Some(whole), Some(decimals), None) = (parts.next(), parts.next(), parts.next())
            && written.contains("..")
        {
            let meant = format!("{whole}.{decimals}");
            error
                .repairs
                .push(replace(format!("Write `{meant}`"), span, meant));
        }
        error
    };
    // In parentheses the comma may part two arguments or coordinates.
    if depth == 0 || !written.contains(',') {
        merge(lexemes, at, length);
    }
    Some(error)
}

/// Makes one number of several lexemes.
fn merge(lexemes: &mut Vec<Lexeme>, at: usize, length: usize) {
    let last = lexemes[at + length - 1];
    let first = &mut lexemes[at];
    first.span = first.span.cover(last.span);
    first.is_whole = false;
    lexemes.drain(at + 1..at + length);
}

/// How many lexemes belong to what was meant as one number: `1..5`, `1.2.3`, `1,000`.
fn number_run(text: &str, lexemes: &[Lexeme]) -> usize {
    let mut length = 1;
    while let Some(next) = lexemes.get(length) {
        if !next.glued {
            break;
        }
        let after = lexemes.get(length + 1);
        match next.kind {
            TokenKind::Number => length += 1,
            TokenKind::Dot if after.is_some_and(|a| a.glued && a.kind == TokenKind::Number) => {
                length += 2;
            }
            TokenKind::Dot if after.is_none_or(|a| !a.glued) => length += 1,
            TokenKind::Comma
                if lexemes[length - 1].is_whole
                    && after.is_some_and(|a| {
                        let digits = a.span.text(text);
                        a.glued && digits.starts_with(|c: char| c.is_ascii_digit())
                    }) =>
            {
                length += 2;
            }
            _ => break,
        }
    }
    length
}

/// A comma without a space between digits: `1,000` or `1,5`.
fn comma(text: &str, run: &[Lexeme], span: Span, depth: usize) -> Option<SyntaxError> {
    let written = span.text(text);
    let mut groups = written.split(',');
    let first = groups.next()?;
    let groups: Vec<&str> = groups.collect();
    let digits = |group: &str| group.bytes().take_while(u8::is_ascii_digit).count();
    let grouped = digits(first) <= 3 && groups.iter().all(|group| digits(group) == 3);
    if !grouped && depth > 0 {
        return None;
    }
    let spaced = replace(
        format!("Write `{}`", written.replace(',', ", ")),
        span,
        written.replace(',', ", "),
    );
    let joined = |separator: &str| {
        let meant = written.replace(',', separator);
        replace(format!("Write `{meant}`"), span, meant)
    };
    let mut error = if grouped {
        let mut error = error(
            SyntaxErrorKind::ThousandsSeparator,
            span,
            "Digits are not grouped by commas: a comma parts two values.",
        );
        error.repairs.push(joined(""));
        error
    } else {
        let mut error = error(
            SyntaxErrorKind::MalformedNumber,
            span,
            "A decimal point is written `.`; in a list a space follows each comma.",
        );
        if run.len() == 3 {
            error.repairs.push(joined("."));
        }
        error
    };
    if groups.iter().all(|group| !group.starts_with('0')) {
        error.repairs.push(spaced);
    }
    Some(error)
}

/// A number with letters directly after it that are no unit.
fn letters_after(
    text: &str,
    lexemes: &mut Vec<Lexeme>,
    at: usize,
    is_part: bool,
) -> Option<SyntaxError> {
    let number = lexemes[at].span;
    let letters = lexemes[at + 1].span.text(text);
    let span = number.cover(lexemes[at + 1].span);
    let written = span.text(text);
    let mut repairs: Vec<SyntaxRepair> = Vec::new();
    let mut offer = |meant: String| {
        repairs.push(replace(format!("Write `{meant}`"), span, meant));
    };
    let message = match letters.strip_prefix('x') {
        Some(size) if is_part || size.starts_with(|c: char| c.is_ascii_digit()) => {
            offer(format!("{} x {size}", number.text(text)));
            format!(
                "`{}` is no number. Sizes stand apart: `120 x 10`.",
                short(written)
            )
        }
        _ if matches!(letters, "e" | "E") => {
            format!(
                "`{}` is no number: the power of ten is missing, as in `5e3`.",
                short(written)
            )
        }
        _ if letters.starts_with('_') => {
            let digits = written.replace('_', "");
            if digits.bytes().all(|byte| byte.is_ascii_digit()) {
                offer(digits);
            }
            format!(
                "`{}` is no number. Digits are written without `_`.",
                short(written)
            )
        }
        _ => return None,
    };
    let mut error = error(SyntaxErrorKind::MalformedNumber, span, message);
    error.repairs = repairs;
    merge(lexemes, at, 2);
    Some(error)
}

/// Numbers that the computer's own cannot hold.
fn out_of_range(text: &str, span: Span) -> Option<SyntaxError> {
    let written = span.text(text);
    let has_power = written.bytes().any(|byte| matches!(byte, b'e' | b'E'));
    if !has_power && written.len() < 300 {
        return None;
    }
    let value: f64 = written.parse().ok()?;
    let mantissa = written.split(['e', 'E']).next().unwrap_or("");
    let is_zero = mantissa.bytes().all(|byte| matches!(byte, b'0' | b'.'));
    let message = if value.is_infinite() {
        "This number is larger than can be computed with."
    } else if value == 0.0 && !is_zero {
        "This number is smaller than can be computed with."
    } else {
        return None;
    };
    Some(error(SyntaxErrorKind::MalformedNumber, span, message))
}

/// Text for a message, cut where it is long.
pub(crate) fn short(text: &str) -> String {
    let mut letters = text.chars();
    let mut shown: String = letters.by_ref().take(24).collect();
    if letters.next().is_some() {
        shown.push('…');
    }
    shown
}
