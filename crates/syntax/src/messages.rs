//! From what the grammar expected to what an engineer reads.

use chumsky::error::RichPattern;
use haunch_text::Span;

use crate::IsUnitWord;
use crate::grammar::{Detailed, label};
use crate::keyword::{Keyword, nearest};
use crate::lexeme::Lexeme;
use crate::mistakes::short;
use crate::repair::{error, replace};
use crate::statement::{StatementKind, stray_continuation};
use crate::token::TokenKind;
use crate::tree::{SyntaxError, SyntaxErrorKind};

/// What is done to the lexemes so that the rest of the line can be read.
pub(crate) enum Remedy {
    /// Nothing: this is the last mistake that can be told.
    Stop,
    /// Lexemes are put in before this one.
    Insert(usize, &'static [TokenKind]),
    /// A lexeme is taken for another token.
    Take(usize, TokenKind),
    /// A word is taken for a keyword, or for none.
    Spell(usize, Option<Keyword>),
}

/// The place where the grammar came to a halt.
struct Halt<'a> {
    text: &'a str,
    lexemes: &'a [Lexeme],
    kind: StatementKind,
    is_unit_word: IsUnitWord,
    /// The lexeme that does not fit; past the last one at the end of the line.
    at: usize,
    expected: Vec<&'a str>,
}

/// The mistake that made the grammar halt, and how to go on.
pub(crate) fn describe(
    text: &str,
    lexemes: &[Lexeme],
    kind: StatementKind,
    is_unit_word: IsUnitWord,
    failure: &Detailed,
) -> (SyntaxError, Remedy) {
    let mut expected: Vec<&str> = Vec::new();
    for pattern in failure.expected() {
        if let RichPattern::Label(label) = pattern
            && !expected.contains(&label.as_ref())
        {
            expected.push(label);
        }
    }
    let halt = Halt {
        text,
        lexemes,
        kind,
        is_unit_word,
        at: chumsky::span::Span::start(failure.span()),
        expected,
    };
    halt.assignment()
        .or_else(|| halt.stray_continuation())
        .or_else(|| halt.equality())
        .or_else(|| halt.chained_comparison())
        .or_else(|| halt.reserved())
        .or_else(|| halt.misspelt())
        .or_else(|| halt.adjoining())
        .unwrap_or_else(|| (halt.plain(), Remedy::Stop))
}

impl<'a> Halt<'a> {
    fn found(&self) -> Option<Lexeme> {
        self.lexemes.get(self.at).copied()
    }

    fn before(&self) -> Option<Lexeme> {
        self.lexemes.get(self.at.checked_sub(1)?).copied()
    }

    fn written(&self, span: Span) -> String {
        short(span.text(self.text))
    }

    fn expects(&self, label: &str) -> bool {
        self.expected.contains(&label)
    }

    /// `:=` or `==` where a name is given its value.
    fn assignment(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        let kind = match found.kind {
            TokenKind::ColonEquals => SyntaxErrorKind::Unreadable,
            TokenKind::DoubleEquals => SyntaxErrorKind::EqualityInExpression,
            _ => return None,
        };
        if !self.expects("`=`") {
            return None;
        }
        let mut mistake = error(kind, found.span, "A value is given with a single `=`.");
        mistake.repairs.push(replace("Write `=`", found.span, "="));
        Some((mistake, Remedy::Take(self.at, TokenKind::Equals)))
    }

    fn stray_continuation(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        let is_operator =
            found.kind.is_operator() || found.is(Keyword::And) || found.is(Keyword::Or);
        (self.at > 0 && found.starts_line && is_operator && !self.expects(label::OPERATOR))
            .then(|| (stray_continuation(self.text, found), Remedy::Stop))
    }

    /// `a = b` or `a == b` where a value is expected.
    fn equality(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        if !matches!(
            found.kind,
            TokenKind::Equals | TokenKind::DoubleEquals | TokenKind::ColonEquals
        ) || !self.expects(label::OPERATOR)
        {
            return None;
        }
        let written = self.written(found.span);
        let mut mistake = error(
            SyntaxErrorKind::EqualityInExpression,
            found.span,
            format!(
                "`{written}` is no operation. To compare a value with one that is known, \
                 write a line `expect NAME = value within 1 %`."
            ),
        );
        if let Some(first) = self.lexemes.first()
            && self.kind == StatementKind::Verify
        {
            let mut repair = replace("Write `expect … = …`", first.span, "expect");
            repair.edits.push((found.span, "=".to_owned()));
            mistake.repairs.push(repair);
        }
        Some((mistake, Remedy::Take(self.at, TokenKind::Star)))
    }

    /// `a < b < c`
    fn chained_comparison(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        if !found.kind.is_relation() {
            return None;
        }
        let mut depth = 0_usize;
        let mut first = None;
        for (index, lexeme) in self.lexemes[..self.at].iter().enumerate().rev() {
            match lexeme.kind {
                TokenKind::CloseParenthesis => depth += 1,
                TokenKind::OpenParenthesis if depth == 0 => break,
                TokenKind::OpenParenthesis => depth -= 1,
                kind if depth == 0 && kind.is_relation() => {
                    first = Some(index);
                    break;
                }
                _ => {}
            }
        }
        let middle = self.lexemes.get(first? + 1..self.at)?;
        let middle = middle.first()?.span.cover(middle.last()?.span);
        let middle = middle.text(self.text);
        let mut mistake = error(
            SyntaxErrorKind::ChainedComparison,
            found.span,
            "One comparison has two sides. Join two comparisons by `and`.",
        );
        let place = Span::empty(found.span.range().start);
        let title = format!("Write `and {} {}`", short(middle), self.written(found.span));
        mistake
            .repairs
            .push(replace(title, place, format!("and {middle} ")));
        Some((mistake, Remedy::Take(self.at, TokenKind::Star)))
    }

    /// `if = 3 m`
    fn reserved(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        if !found.keyword.is_some_and(Keyword::is_reserved) {
            return None;
        }
        let is_name = |label: &&str| label.contains("name") || label.starts_with("a ");
        if self.expects(label::OPERATOR) || !self.expected.iter().any(is_name) {
            return None;
        }
        if self.expects(label::VALUE) {
            return None;
        }
        let word = self.written(found.span);
        let mistake = error(
            SyntaxErrorKind::ReservedName,
            found.span,
            format!("`{word}` is kept for conditions and cannot be a name."),
        );
        Some((mistake, Remedy::Spell(self.at, None)))
    }

    /// A word that is nearly one of those expected.
    fn misspelt(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        if found.kind != TokenKind::Word || self.expects(label::VALUE) {
            return None;
        }
        let word = found.span.text(self.text);
        let candidates = self.expected.iter().flat_map(|label| words_of(label));
        let near = nearest(word, candidates.copied());
        let best = *near.first()?;
        let mut mistake = error(
            SyntaxErrorKind::Unreadable,
            found.span,
            format!(
                "`{}` is not understood here. Did you mean `{best}`?",
                short(word)
            ),
        );
        for candidate in near {
            let title = format!("Write `{candidate}`");
            mistake.repairs.push(replace(title, found.span, candidate));
        }
        Some((mistake, Remedy::Spell(self.at, Keyword::of(best))))
    }

    /// Two operands side by side.
    fn adjoining(&self) -> Option<(SyntaxError, Remedy)> {
        let found = self.found()?;
        let before = self.before()?;
        if !self.expects(label::OPERATOR)
            || !before.ends_operand()
            || !(found.starts_operand() || found.is_unit)
            || before.span.end > found.span.start
        {
            return None;
        }
        let other_words = self
            .expected
            .iter()
            .any(|label| !words_of(label).is_empty() && *label != label::SENSE);
        let is_unit_after = found.is_unit && before.kind != TokenKind::Number;
        let two_words = found.kind == TokenKind::Word && before.kind == TokenKind::Word;
        if two_words && other_words && !is_unit_after {
            return None;
        }
        let gap = Span::new(before.span.range().end, found.span.range().start);
        let span = before.span.cover(found.span);
        let left = self.written(before.span);
        let right = self.written(found.span);
        if is_unit_after {
            let mut mistake = error(
                SyntaxErrorKind::UnitAfterExpression,
                found.span,
                format!(
                    "A unit follows a number only. To multiply by the unit, write `*1 {right}`."
                ),
            );
            let title = format!("Write `*1 {right}`");
            mistake.repairs.push(replace(title, gap, "*1 "));
            return Some((
                mistake,
                Remedy::Insert(self.at, &[TokenKind::Star, TokenKind::Number]),
            ));
        }
        if found.kind == TokenKind::Number && before.kind == TokenKind::Number {
            return Some((
                self.two_numbers(before, found),
                Remedy::Insert(self.at, &[TokenKind::Star]),
            ));
        }
        let product = format!("{left}*{right}");
        let is_factor = before.kind == TokenKind::Number && found.kind == TokenKind::Word;
        let message = if is_factor {
            format!("`{right}` is no unit that is known. To multiply, write `{product}`.")
        } else {
            format!("An operator is missing before `{right}`. To multiply, write `{product}`.")
        };
        let mut mistake = error(SyntaxErrorKind::MissingOperator, span, message);
        if is_factor {
            for unit in self.other_capitals(found) {
                mistake.message =
                    format!("`{right}` is no unit that is known. Did you mean `{unit}`?");
                mistake
                    .repairs
                    .push(replace(format!("Write `{unit}`"), found.span, unit));
            }
        }
        mistake
            .repairs
            .push(replace(format!("Write `{product}`"), gap, "*"));
        if before.is_name() && found.kind == TokenKind::OpenParenthesis {
            mistake
                .repairs
                .push(replace(format!("Write `{left}(`"), gap, ""));
        }
        Some((mistake, Remedy::Insert(self.at, &[TokenKind::Star])))
    }

    /// Units that differ from a word in capitals only: `kN` for `kn`.
    fn other_capitals(&self, found: Lexeme) -> Vec<String> {
        let word = found.span.text(self.text);
        if word.len() > 4 || !word.bytes().all(|byte| byte.is_ascii_alphabetic()) {
            return Vec::new();
        }
        (0..1_u32 << word.len())
            .map(|capitals| {
                word.char_indices()
                    .map(|(at, letter)| match capitals >> at & 1 {
                        1 => letter.to_ascii_uppercase(),
                        _ => letter.to_ascii_lowercase(),
                    })
                    .collect::<String>()
            })
            .filter(|word| (self.is_unit_word)(word))
            .collect()
    }

    /// `1 000` or `3 4`
    fn two_numbers(&self, before: Lexeme, found: Lexeme) -> SyntaxError {
        let span = before.span.cover(found.span);
        let groups =
            before.is_whole && before.span.len() <= 3 && found.is_whole && found.span.len() == 3;
        if !groups {
            let is_fraction = self
                .lexemes
                .get(self.at + 1)
                .is_some_and(|after| after.kind == TokenKind::Slash);
            let message = if before.is_whole && found.is_whole && is_fraction {
                "A whole number and a fraction are one number only before a unit, as in `3 1/2 in`."
            } else {
                "An operator is missing between two numbers."
            };
            return error(SyntaxErrorKind::MissingOperator, span, message);
        }
        let meant = format!(
            "{}{}",
            before.span.text(self.text),
            found.span.text(self.text)
        );
        let mut mistake = error(
            SyntaxErrorKind::ThousandsSeparator,
            span,
            format!("Digits are written without spaces: `{meant}`."),
        );
        mistake
            .repairs
            .push(replace(format!("Write `{meant}`"), span, meant));
        mistake
    }

    /// What is expected, and where.
    fn plain(&self) -> SyntaxError {
        let place = match self.before() {
            Some(before) => format!("after `{}`", self.written(before.span)),
            None => "at the start of the line".to_owned(),
        };
        let span = match (self.found(), self.before()) {
            (Some(found), _) => found.span,
            (None, Some(before)) => before.span,
            (None, None) => Span::default(),
        };
        let wanted: Vec<&str> = self
            .expected
            .iter()
            .copied()
            .filter(|label| *label != label::OPERATOR)
            .collect();
        // A limit may say where it applies, and must have its relation.
        let wanted = match wanted.iter().find(|label| **label == label::RELATION) {
            Some(relation) => vec![*relation],
            None => wanted,
        };
        let instead = match self.found() {
            Some(found) => format!(", not `{}`", self.written(found.span)),
            None => String::new(),
        };
        let message = match wanted.as_slice() {
            [] => match self.found() {
                Some(found) => {
                    let written = self.written(found.span);
                    format!("The line is complete {place}: `{written}` is one thing too many.")
                }
                None => format!("Something is missing {place}."),
            },
            wanted => capital(format!("{} is expected {place}{instead}.", list(wanted))),
        };
        let mut mistake = error(SyntaxErrorKind::Unreadable, span, message);
        if let (Some(found), [wanted]) = (self.found(), wanted.as_slice())
            && let Some(wanted) = wanted.strip_prefix('`').and_then(|w| w.strip_suffix('`'))
            && !wanted.contains('`')
        {
            let title = format!("Write `{wanted}`");
            let place = Span::empty(found.span.range().start);
            mistake
                .repairs
                .push(replace(title.clone(), place, format!("{wanted} ")));
            if found.kind == TokenKind::Word || !found.starts_operand() {
                mistake.repairs.push(replace(title, found.span, wanted));
            }
        }
        if let (Some(before), Some(found)) = (self.before(), self.found())
            && (before.kind == TokenKind::Star && found.kind == TokenKind::Star && found.glued)
        {
            let span = before.span.cover(found.span);
            mistake.message = "A power is written `^`.".to_owned();
            mistake.span = span;
            mistake.repairs.push(replace("Write `^`", span, "^"));
        }
        mistake
    }
}

/// The text with a capital where it starts with a letter.
fn capital(text: String) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => text,
    }
}

/// `a, b or c`
fn list(items: &[&str]) -> String {
    match items {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

/// The words that a label stands for.
fn words_of(expected: &str) -> &'static [&'static str] {
    const PLACE: &[&str] = &["above", "below", "left", "right", "in", "at"];
    const ADJUSTMENT: &[&str] = &["centred", "flush", "inset"];
    const EDGE: &[&str] = &["left", "right", "top", "bottom"];
    const SENSE: &[&str] = &[
        "tension",
        "compression",
        "sagging",
        "hogging",
        "clockwise",
        "anticlockwise",
        "top",
        "bottom",
        "left",
        "right",
    ];
    const LOAD_PLACE: &[&str] = &["at", "throughout", "from", "on"];
    match expected {
        label::PLACE => PLACE,
        label::ADJUSTMENT => ADJUSTMENT,
        label::EDGE => EDGE,
        label::SENSE => SENSE,
        label::LOAD_PLACE => LOAD_PLACE,
        _ => Keyword::words_of_label(expected),
    }
}
