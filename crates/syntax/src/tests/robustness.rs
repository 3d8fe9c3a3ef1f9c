use std::time::{Duration, Instant};

use proptest::prelude::*;

use super::read;
use crate::{
    MAXIMUM_CONTINUATIONS, MAXIMUM_DEPTH, MAXIMUM_LINE_LENGTH, Statement, SyntaxErrorKind, tokens,
};

/// Runs on a thread with the stack that a server's worker has.
fn on_a_small_stack(run: impl FnOnce() + Send + 'static) {
    let thread = std::thread::Builder::new().stack_size(2 * 1024 * 1024);
    let result = thread.spawn(run).map(std::thread::JoinHandle::join);
    assert!(matches!(result, Ok(Ok(()))));
}

fn first_kind(text: &str) -> Option<SyntaxErrorKind> {
    read(text).errors.first().map(|error| error.kind)
}

#[test]
fn deep_nesting_is_refused_without_a_deep_stack() {
    on_a_small_stack(|| {
        let start = Instant::now();
        for (open, close) in [
            ("(", ")"),
            ("f(", ")"),
            ("[", "]"),
            ("if a then ", ""),
            ("(", ""),
        ] {
            let depth = 20_000 / open.len();
            let text = format!("a = {}1{}", open.repeat(depth), close.repeat(depth));
            assert_eq!(first_kind(&text), Some(SyntaxErrorKind::TooDeep), "{open}");
        }
        let text = "(".repeat(100_000);
        assert_eq!(first_kind(&text), Some(SyntaxErrorKind::TooLong));
        assert!(start.elapsed() < Duration::from_secs(2));
    });
}

#[test]
fn the_deepest_nesting_allowed_is_read() {
    on_a_small_stack(|| {
        for (open, close) in [("(", ")"), ("f(1, ", ")"), ("-(", ")^2"), ("2*(-", ")²")] {
            let text = format!(
                "a = {}1{}",
                open.repeat(MAXIMUM_DEPTH),
                close.repeat(MAXIMUM_DEPTH)
            );
            assert_eq!(first_kind(&text), None, "{open}");
            assert!(first_kind(&format!("{text} b")).is_some(), "{open}");
        }
        let text = format!("a = {}3", "if b then 2 else ".repeat(MAXIMUM_DEPTH));
        assert_eq!(first_kind(&text), None);
        assert!(first_kind(&format!("{text} b")).is_some());
    });
}

#[test]
fn long_chains_need_no_stack() {
    on_a_small_stack(|| {
        for link in ["a+", "a*", "a^", "-", "not ", "a and ", "a or ", "a^-"] {
            let text = format!("v = {}a", link.repeat(60_000 / link.len()));
            assert_eq!(first_kind(&text), None, "{link}");
            assert!(read(&text).outline().len() > 60_000);
        }
        let text = format!("v = {}a", "a.".repeat(10_000));
        assert_eq!(first_kind(&text), None);
    });
}

#[test]
fn long_words_and_lines() {
    on_a_small_stack(|| {
        let word = "a".repeat(100_000);
        assert_eq!(first_kind(&word), Some(SyntaxErrorKind::TooLong));
        let word = "a".repeat(MAXIMUM_LINE_LENGTH - 4);
        assert_eq!(first_kind(&format!("{word} = 1")), None);
        assert_eq!(first_kind(&word), Some(SyntaxErrorKind::UnknownStatement));
    });
}

#[test]
fn many_mistakes_are_told_fast() {
    for part in [
        "1,000 ",
        "1..5 ",
        "$ ",
        "2 b ",
        "(",
        ")",
        "3 [m] ",
        "\"",
        "“",
        "a == ",
        "5 mm ^ 2 + ",
    ] {
        for size in [4_000, 60_000] {
            let text = format!("a = {}", part.repeat(size / part.len()));
            let start = Instant::now();
            let tree = read(&text);
            assert!(!tree.errors.is_empty() && tree.errors.len() <= 8, "{part}");
            assert!(start.elapsed() < Duration::from_secs(3), "{part}");
        }
    }
}

#[test]
fn continuations_are_counted() {
    let allowed = format!("a = b{}", "\n  + b".repeat(MAXIMUM_CONTINUATIONS));
    assert_eq!(first_kind(&allowed), None);
    assert_eq!(first_kind(&format!("{allowed}\n")), None);
    assert_eq!(
        first_kind(&format!("{allowed}\n  + b")),
        Some(SyntaxErrorKind::TooManyContinuations)
    );
}

/// Pieces of lines, so that random lines come near to what can be read.
pub(crate) fn line() -> impl Strategy<Value = String> {
    const PIECES: &[&str] = &[
        "a",
        "b",
        "rail",
        "x",
        "at",
        "of",
        "in",
        "mm",
        "kN",
        "kip-ft",
        "m",
        "load",
        "rect",
        "beam",
        "support",
        "point",
        "limit",
        "expect",
        "verify",
        "if",
        "then",
        "else",
        "and",
        "not",
        "largest",
        "above",
        "start",
        "throughout",
        "moving",
        "one way",
        "=",
        "==",
        ":=",
        "<",
        "<=",
        "≤",
        "+",
        "-",
        "−",
        "*",
        "·",
        "×",
        "/",
        "^",
        "²",
        "⁻¹",
        "(",
        ")",
        "[",
        "]",
        ",",
        ".",
        "1",
        "20",
        "1.5",
        "1e3",
        "3/4",
        "1,000",
        "..",
        "%",
        "°",
        "\"",
        "\"w\"",
        "“w”",
        "#",
        " ",
        " ",
        " ",
        "\n  ",
        "\r\n",
        "\t",
        "\u{FEFF}",
        "\u{200B}",
        "$",
        "ȳ",
        "y\u{304}",
        "½",
        "note",
        "x = ",
        "f(a) = ",
        "\u{A0}",
    ];
    let piece = prop_oneof![
        9 => prop::sample::select(PIECES).prop_map(str::to_owned),
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(piece, 0..24).prop_map(|pieces| pieces.concat())
}

/// Every span that a tree holds, taken from what it prints.
fn spans(printed: &str) -> Vec<(usize, usize)> {
    printed
        .split("Span { start: ")
        .skip(1)
        .filter_map(|rest| {
            let (start, rest) = rest.split_once(", end: ")?;
            let (end, _) = rest.split_once(' ')?;
            Some((start.parse().ok()?, end.parse().ok()?))
        })
        .collect()
}

/// What holds for every text.
fn holds_for(text: &str) {
    let mut end = 0;
    for token in tokens(text) {
        assert_eq!(token.span.range().start, end);
        assert!(!token.span.is_empty() && !token.span.text(text).is_empty());
        end = token.span.range().end;
    }
    assert_eq!(end, text.len());

    let tree = read(text);
    assert_eq!(tree, read(text));
    for (start, end) in spans(&format!("{tree:?}")) {
        assert!(text.get(start..end).is_some(), "{start}..{end} in {text:?}");
    }
    let is_broken = matches!(tree.statement, Statement::Broken { .. });
    assert_eq!(is_broken, !tree.errors.is_empty());
    for (index, expression) in tree.expressions.iter().enumerate() {
        let printed = format!("{:?}", expression.kind);
        for child in printed.split("ExpressionId(").skip(1) {
            let id: usize = child.split(')').next().unwrap_or("").parse().unwrap();
            assert!(id < index);
        }
    }
    tree.outline();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn any_text_is_read(text in any::<String>()) {
        holds_for(&text);
    }

    #[test]
    fn any_line_is_read(text in line()) {
        holds_for(&text);
    }

    #[test]
    fn a_comment_changes_nothing(text in line()) {
        // A quote that is open takes the comment in.
        let text = text.replace(['"', '#', '“', '”', '„', '‟', '«', '»'], "");
        let before = read(&text);
        let is_note = matches!(before.statement, Statement::Note(_));
        prop_assume!(!is_note && !text.trim_start_matches('\u{FEFF}').is_empty());
        let mut after = read(&format!("{text} # why"));
        after.comment = None;
        prop_assert_eq!(before, after);
    }

    #[test]
    fn indentation_changes_no_statement(text in line()) {
        let text = text.trim_start_matches(|c: char| c.is_whitespace() || c == '\u{FEFF}');
        prop_assert_eq!(read(text).outline(), read(&format!("  {text}")).outline());
    }
}
