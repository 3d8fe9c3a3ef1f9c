//! Lexemes: tokens without trivia, with what the grammar asks of each.

use haunch_text::Span;
use smol_str::SmolStr;
use unicode_normalization::{UnicodeNormalization, is_nfc};

use crate::IsUnitWord;
use crate::keyword::Keyword;
use crate::token::{Token, TokenKind};
use crate::tree::Name;

/// A token that says something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lexeme {
    /// What it is.
    pub(crate) kind: TokenKind,
    /// Where it stands. Empty for a lexeme that a repair would put in.
    pub(crate) span: Span,
    /// The keyword that a word spells.
    pub(crate) keyword: Option<Keyword>,
    /// Directly after the lexeme before it, without white space.
    pub(crate) glued: bool,
    /// The first on its physical line.
    pub(crate) starts_line: bool,
    /// A word that is a unit's, with or without a power in digits: `kN`, `mm4`, `kip-ft`, `%`.
    pub(crate) is_unit: bool,
    /// A number that is written with digits only.
    pub(crate) is_whole: bool,
    /// The upper number of `3/4 in`: whole numbers before a unit.
    pub(crate) starts_fraction: bool,
}

impl Lexeme {
    /// A lexeme that a repair would put in, so that the rest of the line can be read.
    pub(crate) fn inserted(kind: TokenKind, at: u32) -> Lexeme {
        Lexeme {
            kind,
            span: Span { start: at, end: at },
            keyword: None,
            glued: false,
            starts_line: false,
            is_unit: false,
            is_whole: false,
            starts_fraction: false,
        }
    }

    /// Whether it is a word that can be a name.
    pub(crate) fn is_name(self) -> bool {
        self.kind == TokenKind::Word && !self.keyword.is_some_and(Keyword::is_reserved)
    }

    /// Whether it is the word.
    pub(crate) fn is(self, keyword: Keyword) -> bool {
        self.keyword == Some(keyword)
    }

    /// Whether an operand can end with it.
    pub(crate) fn ends_operand(self) -> bool {
        use TokenKind::{CloseParenthesis, Degree, Number, Percent, Superscript};
        self.is_name()
            || matches!(
                self.kind,
                Number | Superscript | CloseParenthesis | Percent | Degree
            )
    }

    /// Whether an operand can start with it.
    pub(crate) fn starts_operand(self) -> bool {
        self.is_name() || matches!(self.kind, TokenKind::Number | TokenKind::OpenParenthesis)
    }
}

/// The name that a stretch of text spells, in normal form C.
pub(crate) fn name(text: &str, span: Span) -> Name {
    let written = span.text(text);
    let text = if is_nfc(written) {
        SmolStr::new(written)
    } else {
        written.nfc().collect()
    };
    Name { text, span }
}

/// The lexemes of a line.
pub(crate) fn lexemes(text: &str, tokens: &[Token], is_unit_word: IsUnitWord) -> Vec<Lexeme> {
    let mut lexemes: Vec<Lexeme> = Vec::with_capacity(tokens.len());
    let mut starts_line = true;
    for token in tokens {
        if token.kind.is_trivia() {
            starts_line |= token.kind == TokenKind::Terminator;
            continue;
        }
        let written = token.span.text(text);
        let is_word = token.kind == TokenKind::Word;
        lexemes.push(Lexeme {
            kind: token.kind,
            span: token.span,
            keyword: if is_word { Keyword::of(written) } else { None },
            glued: lexemes
                .last()
                .is_some_and(|last| last.span.end == token.span.start),
            starts_line,
            is_unit: false,
            is_whole: token.kind == TokenKind::Number
                && written.bytes().all(|byte| byte.is_ascii_digit()),
            starts_fraction: false,
        });
        starts_line = false;
    }
    mark_units(text, &mut lexemes, is_unit_word);
    mark_fractions(&mut lexemes);
    lexemes
}

/// Finds the words of units and joins those that are written with a hyphen, such as `kip-ft`.
fn mark_units(text: &str, lexemes: &mut Vec<Lexeme>, is_unit_word: IsUnitWord) {
    let mut kept = 0;
    let mut next = 0;
    while let Some(&lexeme) = lexemes.get(next) {
        next += 1;
        let mut lexeme = lexeme;
        if matches!(
            lexeme.kind,
            TokenKind::Word | TokenKind::Percent | TokenKind::Degree
        ) && kept > 0
        {
            let before = lexemes[kept - 1];
            if let [hyphen, word, ..] = lexemes[next..]
                && hyphen.kind == TokenKind::Minus
                && (hyphen.glued && word.glued && word.kind == TokenKind::Word)
                && follows_number(before, lexeme)
            {
                let joined = lexeme.span.cover(word.span);
                if is_unit(joined.text(text), is_unit_word) {
                    lexeme.span = joined;
                    lexeme.keyword = None;
                    next += 2;
                }
            }
            // `m(…)` and `m.…` are names whatever they spell.
            let is_path = lexemes.get(next).is_some_and(|after| {
                after.glued && matches!(after.kind, TokenKind::OpenParenthesis | TokenKind::Dot)
            });
            lexeme.is_unit = !is_path && is_unit(lexeme.span.text(text), is_unit_word);
        }
        lexemes[kept] = lexeme;
        kept += 1;
    }
    lexemes.truncate(kept);
}

/// Finds `3/4 in`: whole numbers without spaces before a unit.
fn mark_fractions(lexemes: &mut [Lexeme]) {
    for at in 1..lexemes.len().saturating_sub(3) {
        if let [above, slash, below, unit] = &lexemes[at..at + 4]
            && slash.kind == TokenKind::Slash
            && above.is_whole
            && below.is_whole
            && (slash.glued && below.glued && unit.is_unit)
        {
            lexemes[at].starts_fraction = true;
        }
    }
}

/// Whether a word may be a unit's by what stands before it: a number, or more of a unit's chain.
fn follows_number(before: Lexeme, word: Lexeme) -> bool {
    use TokenKind::{Comma, MiddleDot, Number, OpenBracket, Slash, Star};
    match before.kind {
        Number | OpenBracket | Comma => true,
        Star | MiddleDot | Slash => before.glued && word.glued,
        _ => before.is(Keyword::In),
    }
}

/// Whether a word is a unit's, with or without a power in digits.
fn is_unit(word: &str, is_unit_word: IsUnitWord) -> bool {
    is_unit_word(word) || {
        let base = word.trim_end_matches(|c: char| c.is_ascii_digit());
        base.len() < word.len() && is_unit_word(base)
    }
}
