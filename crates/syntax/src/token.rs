//! Tokens: the smallest pieces of a line, trivia kept.

use haunch_text::Span;
use logos::Logos;

/// A piece of a logical line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// Where it stands.
    pub span: Span,
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Logos)]
pub enum TokenKind {
    /// White space within a line.
    #[regex(
        r"[ \t\x0B\x0C\u{00A0}\u{1680}\u{2000}-\u{200A}\u{2028}\u{2029}\u{202F}\u{205F}\u{3000}]+"
    )]
    Space,
    /// LF, CRLF or CR.
    #[regex(r"\r\n|\n|\r")]
    Terminator,
    /// The mark at the start of a file.
    ByteOrderMark,
    /// `# …` to the end of its physical line.
    #[regex(r"#[^\r\n]*", allow_greedy = true)]
    Comment,
    /// The words of a `note`.
    NoteText,
    /// A name, a keyword or a unit's word; only its place tells.
    #[regex(r"[\p{L}_][\p{L}\p{M}\p{Nd}_₀-₉]*['′]?")]
    Word,
    /// `12`, `.5`, `1e-3`
    #[regex(r"([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+\-]?[0-9]+)?")]
    Number,
    /// `²`, `⁻¹²`
    #[regex(r"⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+")]
    Superscript,
    /// `"words"`
    #[regex(r#""[^"\r\n]*""#)]
    Text,
    /// A text without its closing quote.
    #[regex(r#""[^"\r\n]*"#, allow_greedy = true)]
    UnclosedText,
    /// `+`
    #[token("+")]
    Plus,
    /// `-`, `−`
    #[token("-")]
    #[token("−")]
    Minus,
    /// `*`
    #[token("*")]
    Star,
    /// `·`
    #[token("·")]
    MiddleDot,
    /// `×`
    #[token("×")]
    Times,
    /// `/`
    #[token("/")]
    Slash,
    /// `^`
    #[token("^")]
    Caret,
    /// `%`
    #[token("%")]
    Percent,
    /// `°`
    #[token("°")]
    Degree,
    /// `<`
    #[token("<")]
    Less,
    /// `<=`, `≤`
    #[token("<=")]
    #[token("≤")]
    LessOrEqual,
    /// `>`
    #[token(">")]
    Greater,
    /// `>=`, `≥`
    #[token(">=")]
    #[token("≥")]
    GreaterOrEqual,
    /// `=`
    #[token("=")]
    Equals,
    /// `==`
    #[token("==")]
    DoubleEquals,
    /// `:=`
    #[token(":=")]
    ColonEquals,
    /// `,`
    #[token(",")]
    Comma,
    /// `.`
    #[token(".")]
    Dot,
    /// `(`
    #[token("(")]
    OpenParenthesis,
    /// `)`
    #[token(")")]
    CloseParenthesis,
    /// `[`
    #[token("[")]
    OpenBracket,
    /// `]`
    #[token("]")]
    CloseBracket,
    /// Words between quotes that are not the straight `"`.
    #[regex(r#"[“”„‟«»][^“”„‟«»"\r\n]*[“”„‟«»"]?"#)]
    CurlyText,
    /// A character that has no meaning in the notation.
    Unknown,
}

impl TokenKind {
    /// Whether the token has no part in what a line says.
    pub fn is_trivia(self) -> bool {
        matches!(
            self,
            TokenKind::Space
                | TokenKind::Terminator
                | TokenKind::ByteOrderMark
                | TokenKind::Comment
        )
    }

    /// Whether it stands for an operation or a relation between two operands; `and` and `or` are
    /// words.
    pub(crate) fn is_operator(self) -> bool {
        use TokenKind::{Caret, MiddleDot, Minus, Plus, Slash, Star, Times};
        matches!(
            self,
            Plus | Minus | Star | MiddleDot | Times | Slash | Caret
        ) || self.is_relation()
    }

    /// Whether it compares two sides.
    pub(crate) fn is_relation(self) -> bool {
        use TokenKind::{Greater, GreaterOrEqual, Less, LessOrEqual};
        matches!(self, Less | LessOrEqual | Greater | GreaterOrEqual)
    }
}

/// The mark that some editors put at the start of a file.
const BYTE_ORDER_MARK: &str = "\u{FEFF}";

/// The tokens of a logical line, in order; they cover every byte of it, and none is empty.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut tokens: Vec<Token> = Vec::with_capacity(text.len() / 3 + 2);
    let body = text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text);
    let offset = text.len() - body.len();
    if offset > 0 {
        tokens.push(Token {
            kind: TokenKind::ByteOrderMark,
            span: Span::new(0, offset),
        });
    }
    // Counts the tokens that say something, so that a note is known by its first two.
    let mut said = 0;
    let mut note = None;
    for (kind, range) in TokenKind::lexer(body).spanned() {
        let kind = kind.unwrap_or(TokenKind::Unknown);
        let span = Span::new(range.start + offset, range.end + offset);
        if !kind.is_trivia() {
            said += 1;
            match said {
                1 if kind == TokenKind::Word && span.text(text) == "note" => note = Some(span),
                2 => {
                    if let Some(keyword) = note
                        && !gives_a_value(kind, keyword, span)
                    {
                        push_note(&mut tokens, text, keyword);
                        return tokens;
                    }
                }
                _ => {}
            }
        }
        match tokens.last_mut() {
            Some(last) if kind == TokenKind::Unknown && last.kind == kind => {
                last.span = last.span.cover(span);
            }
            _ => tokens.push(Token { kind, span }),
        }
    }
    if let (Some(keyword), 1) = (note, said) {
        push_note(&mut tokens, text, keyword);
    }
    tokens
}

/// Whether the second token of a line makes it `WORD = …` or `WORD(…) = …`, whatever the word.
pub(crate) fn gives_a_value(second: TokenKind, first: Span, span: Span) -> bool {
    match second {
        TokenKind::Equals | TokenKind::DoubleEquals | TokenKind::ColonEquals => true,
        TokenKind::OpenParenthesis => first.end == span.start,
        _ => false,
    }
}

/// Replaces all tokens after the word `note` by one that is its text.
fn push_note(tokens: &mut Vec<Token>, text: &str, keyword: Span) {
    tokens.retain(|token| token.span.end <= keyword.end);
    let rest = &text[keyword.range().end..];
    let start = rest.len() - rest.trim_start().len();
    let end = rest.trim_end().len().max(start);
    let start_of_end = keyword.range().end + end;
    let mut push = |kind, from: usize, to: usize| {
        if from < to {
            let span = Span::new(from, to);
            tokens.push(Token { kind, span });
        }
    };
    let after = keyword.range().end;
    push_space(text, after, after + start, &mut push);
    push(TokenKind::NoteText, after + start, start_of_end);
    push_space(text, start_of_end, text.len(), &mut push);
}

/// White space and terminators between two places.
fn push_space(text: &str, from: usize, to: usize, push: &mut impl FnMut(TokenKind, usize, usize)) {
    let mut start = from;
    for line in haunch_text::split_lines(&text[from..to]) {
        let content = haunch_text::content(line).len();
        push(TokenKind::Space, start, start + content);
        push(TokenKind::Terminator, start + content, start + line.len());
        start += line.len();
    }
}

/// Whether a physical line continues the one above: it is indented and starts with an operator
/// that needs an operand on its left.
pub fn is_continuation(physical_line: &str) -> bool {
    let mut lexer = TokenKind::lexer(physical_line);
    if lexer.next() != Some(Ok(TokenKind::Space)) {
        return false;
    }
    match lexer.next() {
        Some(Ok(TokenKind::Word)) => matches!(lexer.slice(), "and" | "or"),
        Some(Ok(kind)) => kind.is_operator(),
        _ => false,
    }
}

/// Whether a line has an expression that the next one can go on with. `head` is the line with the
/// continuations that it has. Blank lines and comments have none, and neither has a line that is
/// itself a continuation without a line above. A list under a note belongs to the note.
pub fn can_be_continued(head: &str) -> bool {
    let first = haunch_text::content(head.split_inclusive(['\n', '\r']).next().unwrap_or(""));
    let text = first.trim_start_matches(BYTE_ORDER_MARK).trim();
    !(text.is_empty() || text.starts_with('#') || is_continuation(first))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<(TokenKind, &str)> {
        tokens(text)
            .into_iter()
            .map(|token| (token.kind, token.span.text(text)))
            .collect()
    }

    #[test]
    fn trivia_is_kept() {
        use TokenKind::*;
        assert_eq!(
            kinds("\u{FEFF} a = 3 # x\r\n  + b\n"),
            [
                (ByteOrderMark, "\u{FEFF}"),
                (Space, " "),
                (Word, "a"),
                (Space, " "),
                (Equals, "="),
                (Space, " "),
                (Number, "3"),
                (Space, " "),
                (Comment, "# x"),
                (Terminator, "\r\n"),
                (Space, "  "),
                (Plus, "+"),
                (Space, " "),
                (Word, "b"),
                (Terminator, "\n"),
            ]
        );
    }

    #[test]
    fn what_odd_numbers_become() {
        use TokenKind::*;
        assert_eq!(kinds("5e"), [(Number, "5"), (Word, "e")]);
        assert_eq!(kinds("5."), [(Number, "5.")]);
        assert_eq!(kinds(".5"), [(Number, ".5")]);
        assert_eq!(kinds("1e-3"), [(Number, "1e-3")]);
        assert_eq!(kinds("1e-"), [(Number, "1"), (Word, "e"), (Minus, "-")]);
        assert_eq!(kinds("2e3kN"), [(Number, "2e3"), (Word, "kN")]);
        assert_eq!(kinds("1..5"), [(Number, "1."), (Number, ".5")]);
        assert_eq!(kinds("3mm4"), [(Number, "3"), (Word, "mm4")]);
        assert_eq!(kinds("0x10"), [(Number, "0"), (Word, "x10")]);
        assert_eq!(kinds("1_000"), [(Number, "1"), (Word, "_000")]);
        assert_eq!(kinds("1e999"), [(Number, "1e999")]);
    }

    #[test]
    fn names_in_any_script() {
        for name in ["σ", "y\u{304}", "ȳ", "σ₁", "f'", "f′", "A_1", "面积", "µ"] {
            assert_eq!(kinds(name), [(TokenKind::Word, name)]);
        }
    }

    #[test]
    fn a_note_takes_its_line() {
        use TokenKind::*;
        assert_eq!(
            kinds(" note it's 5\" # \"so\n"),
            [
                (Space, " "),
                (Word, "note"),
                (Space, " "),
                (NoteText, "it's 5\" # \"so"),
                (Terminator, "\n"),
            ]
        );
        assert_eq!(kinds("note"), [(Word, "note")]);
        assert_eq!(kinds("note=3")[1], (Equals, "="));
        assert_eq!(kinds("note(a) = 3")[1], (OpenParenthesis, "("));
    }

    #[test]
    fn unknown_characters_stand_together() {
        use TokenKind::*;
        assert_eq!(
            kinds("a $$ b"),
            [
                (Word, "a"),
                (Space, " "),
                (Unknown, "$$"),
                (Space, " "),
                (Word, "b"),
            ]
        );
    }

    #[test]
    fn continuations() {
        for line in [
            " + b", "\t- b", " −b", " *b", " / b", " ^2", " · b", " × b", " < b", " <= b", " ≤ b",
            " > b", " >= b", " ≥ b", " and b", " or b\n",
        ] {
            assert!(is_continuation(line), "{line:?}");
        }
        for line in [
            "+ b",
            " b",
            " android = 3",
            " or_b",
            " = 3",
            " # + b",
            "",
            " ",
            " \n",
            " x 3",
            "\n+",
        ] {
            assert!(!is_continuation(line), "{line:?}");
        }
    }

    #[test]
    fn a_word_of_100_000_letters() {
        let word = "a".repeat(100_000);
        assert_eq!(kinds(&word), [(TokenKind::Word, word.as_str())]);
    }
}
