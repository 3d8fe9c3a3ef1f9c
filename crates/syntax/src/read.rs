//! Reads one logical line.

use haunch_text::Span;

use crate::grammar::{self, Reading};
use crate::lexeme::{Lexeme, lexemes};
use crate::messages::{Remedy, describe};
use crate::mistakes::{self, MAXIMUM_ERRORS};
use crate::repair::{error, keep_helpful};
use crate::statement::{StatementKind, kind_of};
use crate::token::{Token, TokenKind, tokens};
use crate::tree::{Statement, SyntaxError, SyntaxErrorKind, Tree};
use crate::{IsUnitWord, MAXIMUM_CONTINUATIONS, MAXIMUM_LINE_LENGTH, ambiguity, brackets, broken};

/// Reads one logical line: its physical lines joined, with their terminators. Never fails: what
/// could not be read is in [`Tree::errors`], and the line is then [`Statement::Broken`].
pub fn read_line(text: &str, is_unit_word: IsUnitWord) -> Tree {
    let mut tree = read(text, is_unit_word);
    if !tree.errors.is_empty() {
        let mut errors = std::mem::take(&mut tree.errors);
        keep_helpful(text, &mut errors, |text| read(text, is_unit_word));
        tree.errors = errors;
    }
    tree
}

fn read(text: &str, is_unit_word: IsUnitWord) -> Tree {
    let mut tree = Tree {
        indented: is_indented(text),
        statement: Statement::Empty,
        expressions: Vec::new(),
        comment: None,
        errors: Vec::new(),
    };
    if let Some(error) = too_long(text).or_else(|| conflict_marker(text)) {
        tree.statement = broken::statement(text, &[]);
        tree.errors.push(error);
        return tree;
    }
    let tokens = tokens(text);
    tree.comment = tokens
        .iter()
        .find(|token| token.kind == TokenKind::Comment)
        .map(|token| token.span);
    let mut lexemes = lexemes(text, &tokens, is_unit_word);
    if let Some(note) = note(text, &lexemes) {
        tree.statement = Statement::Note(note);
        return tree;
    }
    if lexemes.is_empty() {
        return tree;
    }
    let written = lexemes.clone();
    match statement(text, &tokens, &mut lexemes, is_unit_word) {
        Ok((statement, reading)) => {
            tree.statement = statement;
            tree.expressions = reading.expressions;
            tree.shrink();
        }
        Err(mut errors) => {
            errors.sort_by_key(|error| error.span);
            errors.truncate(MAXIMUM_ERRORS);
            tree.statement = broken::statement(text, &written);
            tree.errors = errors;
        }
    }
    tree
}

/// Whether a line starts with white space and so belongs to the heading above.
fn is_indented(text: &str) -> bool {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    text.starts_with(|c: char| c.is_whitespace() && c != '\n' && c != '\r')
}

fn too_long(text: &str) -> Option<SyntaxError> {
    (text.len() > MAXIMUM_LINE_LENGTH).then(|| {
        error(
            SyntaxErrorKind::TooLong,
            Span::new(0, text.len()),
            format!(
                "This line has more than {} kB and is not read.",
                MAXIMUM_LINE_LENGTH / 1024
            ),
        )
    })
}

/// A line that a merge of two versions left behind.
fn conflict_marker(text: &str) -> Option<SyntaxError> {
    let line = text.split(['\n', '\r']).next().unwrap_or("");
    let is_marker = ["<<<<<<<", "=======", ">>>>>>>", "|||||||"]
        .iter()
        .any(|marker| {
            line.strip_prefix(marker)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        });
    is_marker.then(|| {
        error(
            SyntaxErrorKind::ConflictMarker,
            Span::new(0, line.len()),
            "Two versions of this file were joined here and the choice between them is still open. \
             Keep one of them and remove this line.",
        )
    })
}

/// The words of a note; empty where it has none.
fn note(text: &str, lexemes: &[Lexeme]) -> Option<Span> {
    match lexemes {
        [first] if first.span.text(text) == "note" => Some(Span::empty(first.span.range().end)),
        [_, words] if words.kind == TokenKind::NoteText => Some(words.span),
        _ => None,
    }
}

/// What the lexemes say, or every mistake that keeps them from saying it.
fn statement(
    text: &str,
    tokens: &[Token],
    lexemes: &mut Vec<Lexeme>,
    is_unit_word: IsUnitWord,
) -> Result<(Statement, Reading), Vec<SyntaxError>> {
    let mut errors = brackets::check(text, lexemes);
    errors.extend(too_many_continuations(tokens));
    let kind = kind_of(text, lexemes);
    if !errors.is_empty() {
        return Err(errors);
    }
    let closes_formula = kind.as_ref().is_ok_and(|kind| kind.is_formula());
    let mistakes = mistakes::find(text, lexemes, closes_formula);
    errors = mistakes.errors;
    // With an unknown character no more is said: what it was meant to be is not known.
    if !mistakes.readable {
        return Err(errors);
    }
    let kind = match kind {
        Ok(kind) => kind,
        Err(mistake) => {
            // Text in other quotes where a word is expected is one mistake, not two.
            if errors.iter().all(|error| error.span != mistake.span) {
                errors.push(*mistake);
            }
            return Err(errors);
        }
    };
    let mut reading = Reading::new(text);
    let statement = grammar::read(lexemes, &mut reading, kind.parser());
    match statement {
        None => errors.extend(explain(text, lexemes, kind, is_unit_word)),
        Some(statement) if errors.is_empty() => {
            let unclear = ambiguity::check(text, lexemes, &reading.expressions, &statement);
            if unclear.is_empty() {
                return Ok((statement, reading));
            }
            errors = unclear;
        }
        Some(_) => {}
    }
    Err(errors)
}

fn too_many_continuations(tokens: &[Token]) -> Option<SyntaxError> {
    let mut terminators = tokens
        .iter()
        .filter(|token| token.kind == TokenKind::Terminator)
        .map(|token| token.span);
    let last_allowed = terminators.nth(MAXIMUM_CONTINUATIONS)?;
    let end = tokens.last()?.span;
    (end.start >= last_allowed.end).then(|| {
        error(
            SyntaxErrorKind::TooManyContinuations,
            Span {
                start: last_allowed.end,
                end: end.end,
            },
            format!(
                "An expression goes on for at most {MAXIMUM_CONTINUATIONS} lines. \
                 Give parts of it names of their own."
            ),
        )
    })
}

/// Every independent mistake: each is told, put right as its message says, and the line read again.
fn explain(
    text: &str,
    lexemes: &mut Vec<Lexeme>,
    kind: StatementKind,
    is_unit_word: IsUnitWord,
) -> Vec<SyntaxError> {
    let mut errors = Vec::new();
    while errors.len() < MAXIMUM_ERRORS {
        let mut reading = Reading::new(text);
        let Some(failure) = grammar::explain(lexemes, &mut reading, kind.parser()) else {
            break;
        };
        let (mistake, remedy) = describe(text, lexemes, kind, is_unit_word, &failure);
        errors.push(mistake);
        match remedy {
            Remedy::Stop => break,
            Remedy::Insert(at, kinds) => {
                let place = lexemes.get(at).map_or(0, |lexeme| lexeme.span.start);
                let inserted = kinds.iter().map(|&kind| Lexeme::inserted(kind, place));
                lexemes.splice(at..at, inserted);
            }
            Remedy::Take(at, kind) => {
                if let Some(lexeme) = lexemes.get_mut(at) {
                    lexeme.kind = kind;
                }
            }
            Remedy::Spell(at, keyword) => {
                if let Some(lexeme) = lexemes.get_mut(at) {
                    lexeme.keyword = keyword;
                }
            }
        }
    }
    errors
}
