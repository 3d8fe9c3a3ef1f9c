use super::read;
use crate::SyntaxErrorKind::{self, *};
use crate::{SyntaxRepair, Tree};
use haunch_text::Span;

/// A line, and for each of its errors the kind, the text under its span and the line after each
/// repair. The lines after the repairs of a single error are read without errors.
type Line<'a> = (&'a str, &'a [(SyntaxErrorKind, &'a str, &'a [&'a str])]);

#[track_caller]
fn check(lines: &[Line]) {
    for (text, errors) in lines {
        let tree = read(text);
        let repaired: Vec<Vec<String>> = tree
            .errors
            .iter()
            .map(|error| error.repairs.iter().map(|r| apply(text, r)).collect())
            .collect();
        let found: Vec<(SyntaxErrorKind, &str, Vec<&str>)> = tree
            .errors
            .iter()
            .zip(&repaired)
            .map(|(error, repaired)| {
                let repaired = repaired.iter().map(String::as_str).collect();
                (error.kind, error.span.text(text), repaired)
            })
            .collect();
        let expected: Vec<_> = errors
            .iter()
            .map(|(kind, span, repaired)| (*kind, *span, repaired.to_vec()))
            .collect();
        assert_eq!(found, expected, "{text}");
        for line in repaired.iter().flatten() {
            assert!(read(line).errors.len() < errors.len(), "{text}: {line}");
        }
        speaks_plainly(text, &tree);
        assert!(tree.expressions.is_empty(), "{text}");
    }
}

fn apply(text: &str, repair: &SyntaxRepair) -> String {
    let mut edits = repair.edits.clone();
    edits.sort_by_key(|(span, _): &(Span, String)| std::cmp::Reverse(*span));
    let mut text = text.to_owned();
    for (span, replacement) in edits {
        text.replace_range(span.range(), &replacement);
    }
    text
}

fn speaks_plainly(text: &str, tree: &Tree) {
    for error in &tree.errors {
        let message = error.message.to_lowercase();
        for jargon in [
            "token",
            "pars",
            "syntax",
            "invalid",
            "illegal",
            "identifier",
            "unexpected",
        ] {
            assert!(!message.contains(jargon), "{text}: {message}");
        }
        assert!(message.ends_with(['.', '?']), "{text}: {message}");
    }
}

#[test]
fn numbers() {
    check(&[
        ("a = 1,000", &[(ThousandsSeparator, "1,000", &["a = 1000"])]),
        (
            "a = 1,234.5 mm",
            &[(
                ThousandsSeparator,
                "1,234.5",
                &["a = 1234.5 mm", "a = 1, 234.5 mm"],
            )],
        ),
        (
            "a = 12,000,000 N",
            &[(ThousandsSeparator, "12,000,000", &["a = 12000000 N"])],
        ),
        (
            "a = f(1,200)",
            &[(
                ThousandsSeparator,
                "1,200",
                &["a = f(1200)", "a = f(1, 200)"],
            )],
        ),
        (
            "point P at (10,200)",
            &[(ThousandsSeparator, "10,200", &["point P at (10, 200)"])],
        ),
        (
            "a = 1 000 mm",
            &[(ThousandsSeparator, "1 000", &["a = 1000 mm"])],
        ),
        (
            "a = 1,5 m",
            &[(MalformedNumber, "1,5", &["a = 1.5 m", "a = 1, 5 m"])],
        ),
        ("a = 1..5", &[(MalformedNumber, "1..5", &["a = 1.5"])]),
        ("a = 1.2.3", &[(MalformedNumber, "1.2.3", &[])]),
        ("a = 5e", &[(MalformedNumber, "5e", &[])]),
        ("a = 0x10", &[(MalformedNumber, "0x10", &[])]),
        ("a = 1e999", &[(MalformedNumber, "1e999", &[])]),
        ("a = 1e-999 m", &[(MalformedNumber, "1e-999", &[])]),
        ("a = 1_000", &[(MalformedNumber, "1_000", &["a = 1000"])]),
        ("a = b⁹⁹⁹⁹⁹⁹⁹⁹⁹⁹⁹", &[(MalformedNumber, "⁹⁹⁹⁹⁹⁹⁹⁹⁹⁹⁹", &[])]),
        (
            "rect web 120x10 mm",
            &[(MalformedNumber, "120x10", &["rect web 120 x 10 mm"])],
        ),
        (
            "rect web 8xh",
            &[(MalformedNumber, "8xh", &["rect web 8 x h"])],
        ),
    ]);
}

#[test]
fn operands_side_by_side() {
    check(&[
        ("a = 2 b", &[(MissingOperator, "2 b", &["a = 2*b"])]),
        ("a = 2b", &[(MissingOperator, "2b", &["a = 2*b"])]),
        ("a = b c", &[(MissingOperator, "b c", &["a = b*c"])]),
        ("a = (b) (c)", &[(MissingOperator, ") (", &["a = (b)*(c)"])]),
        (
            "a = sqrt (b)",
            &[(MissingOperator, "sqrt (", &["a = sqrt*(b)", "a = sqrt(b)"])],
        ),
        ("a = 3 4", &[(MissingOperator, "3 4", &[])]),
        ("a = 3 1/2", &[(MissingOperator, "3 1", &[])]),
        (
            "a = 3 kn",
            &[(MissingOperator, "3 kn", &["a = 3 kN", "a = 3*kn"])],
        ),
        (
            "a = (b + c) mm",
            &[(UnitAfterExpression, "mm", &["a = (b + c)*1 mm"])],
        ),
        ("a = b mm", &[(UnitAfterExpression, "mm", &["a = b*1 mm"])]),
        ("a = b %", &[(UnitAfterExpression, "%", &["a = b*1 %"])]),
        (
            "a = 8 mm 9 mm",
            &[(
                MissingOperator,
                "8 mm 9 mm",
                &["a = 8 mm + 9 mm", "a = 8 mm, 9 mm"],
            )],
        ),
        (
            "rect w 8 mm 9 mm",
            &[(
                MissingOperator,
                "8 mm 9 mm",
                &["rect w 8 mm x 9 mm", "rect w 8 mm + 9 mm"],
            )],
        ),
        ("a = rail.5", &[(Unreadable, ".5", &[])]),
    ]);
}

#[test]
fn independent_mistakes_are_each_told_once() {
    check(&[
        (
            "a = 2 b + (c + d) mm - 1,000",
            &[
                (MissingOperator, "2 b", &["a = 2*b + (c + d) mm - 1,000"]),
                (
                    UnitAfterExpression,
                    "mm",
                    &["a = 2 b + (c + d)*1 mm - 1,000"],
                ),
                (
                    ThousandsSeparator,
                    "1,000",
                    &["a = 2 b + (c + d) mm - 1000"],
                ),
            ],
        ),
        (
            "verify a == 2 b",
            &[
                (EqualityInExpression, "==", &["expect a = 2 b"]),
                (MissingOperator, "2 b", &["verify a == 2*b"]),
            ],
        ),
    ]);
}

#[test]
fn units_in_brackets() {
    check(&[
        ("L = 3 [m]", &[(UnitInBrackets, "3 [m]", &["L = 3 m"])]),
        (
            "L = -3   [kN/m] # why",
            &[(UnitInBrackets, "3   [kN/m]", &["L = -3 kN/m # why"])],
        ),
        ("L = (3) [m]", &[(UnitInBrackets, "3) [m]", &["L = (3 m)"])]),
        (
            "L = 3, 4 [m]",
            &[(UnitInBrackets, "3, 4 [m]", &["L = 3 m, 4 m"])],
        ),
        (
            "L = 3 [m] + b",
            &[(UnitInBrackets, "3 [m]", &["L = 3 m + b"])],
        ),
        (
            "load a 6 [kN] at middle",
            &[(UnitInBrackets, "6 [kN]", &["load a 6 kN at middle"])],
        ),
        ("L = 3 [furlong]", &[(UnitInBrackets, "3 [furlong]", &[])]),
    ]);
    super::check(&[
        ("L = 3*2 [m]", "(= L (* 3 2) [m])"),
        ("L = 3 m [mm]", "(= L {3 m} [mm])"),
    ]);
}

#[test]
fn comparisons_and_equations() {
    check(&[
        ("a := 3 m", &[(Unreadable, ":=", &["a = 3 m"])]),
        ("a == 3 m", &[(EqualityInExpression, "==", &["a = 3 m"])]),
        (
            "expect a == 3 m",
            &[(EqualityInExpression, "==", &["expect a = 3 m"])],
        ),
        (
            "verify a = b",
            &[(EqualityInExpression, "=", &["expect a = b"])],
        ),
        ("a = b == c", &[(EqualityInExpression, "==", &[])]),
        (
            "a = if b = c then 1 else 2",
            &[(EqualityInExpression, "=", &[])],
        ),
        (
            "a = b < c < d",
            &[(ChainedComparison, "<", &["a = b < c and c < d"])],
        ),
        (
            "verify 0 <= x + 1 ≤ L",
            &[(ChainedComparison, "≤", &["verify 0 <= x + 1 and x + 1 ≤ L"])],
        ),
        ("limit tension <= a <= b", &[(ChainedComparison, "<=", &[])]),
        (
            "limit tension = 165 MPa",
            &[(Unreadable, "=", &["limit tension <= 165 MPa"])],
        ),
    ]);
}

#[test]
fn characters_quotes_and_brackets() {
    check(&[
        ("a = b $ c", &[(UnknownCharacter, "$", &[])]),
        ("a = b – c", &[(UnknownCharacter, "–", &["a = b - c"])]),
        ("a = 3½ in", &[(UnknownCharacter, "½", &["a = 3 1/2 in"])]),
        ("a = b && c", &[(UnknownCharacter, "&&", &["a = b and c"])]),
        (
            "a\u{200B} = 3",
            &[(UnknownCharacter, "\u{200B}", &["a = 3"])],
        ),
        ("a = b ** 2", &[(Unreadable, "**", &["a = b ^ 2"])]),
        (
            "title = “Hoist”",
            &[(UnknownCharacter, "“Hoist”", &["title = \"Hoist\""])],
        ),
        (
            "title = \"Hoist ",
            &[(UnclosedText, "\"Hoist ", &["title = \"Hoist\" "])],
        ),
        ("a = (b + c", &[(UnmatchedBracket, "(", &["a = (b + c)"])]),
        (
            "a = (b + c [mm]",
            &[(UnmatchedBracket, "(", &["a = (b + c) [mm]"])],
        ),
        ("a = b + c)", &[(UnmatchedBracket, ")", &["a = b + c"])]),
        ("a = b [mm", &[(UnmatchedBracket, "[", &["a = b [mm]"])]),
    ]);
}

#[test]
fn conflict_markers() {
    for line in [
        "<<<<<<< HEAD",
        "=======",
        ">>>>>>> b",
        "|||||||",
        "||||||| a\n",
    ] {
        let tree = read(line);
        assert_eq!(tree.errors.len(), 1, "{line}");
        assert_eq!(tree.errors[0].kind, ConflictMarker, "{line}");
    }
    assert_ne!(read("========").errors[0].kind, ConflictMarker);
}

#[test]
fn statements() {
    check(&[
        (
            "beem hoist of rail",
            &[(UnknownStatement, "beem", &["beam hoist of rail"])],
        ),
        (
            "  lod dead 3 kN at middle",
            &[(UnknownStatement, "lod", &["  load dead 3 kN at middle"])],
        ),
        ("foo bar", &[(UnknownStatement, "foo", &[])]),
        (
            "E steel = 205 GPa",
            &[(UnknownStatement, "E steel", &["E_steel = 205 GPa"])],
        ),
        ("a.b = 3", &[(UnknownStatement, "a", &[])]),
        ("12 = a", &[(Unreadable, "12", &[])]),
        ("if = 3", &[(ReservedName, "if", &[])]),
        ("f(if) = 3", &[(ReservedName, "if", &[])]),
        ("section and", &[(ReservedName, "and", &[])]),
        (
            "beam hoist off rail",
            &[(Unreadable, "off", &["beam hoist of rail"])],
        ),
        ("sheet of", &[(Unreadable, "of", &[])]),
        (
            "rect web 8 x 140 mm abve flange",
            &[(Unreadable, "abve", &["rect web 8 x 140 mm above flange"])],
        ),
        (
            "M = 12 kN*m hoging",
            &[(Unreadable, "hoging", &["M = 12 kN*m hogging"])],
        ),
        ("point A top", &[(Unreadable, "top", &["point A at top"])]),
        ("hinge 3 m", &[(Unreadable, "3", &["hinge at 3 m"])]),
        (
            "forces f of rail",
            &[(Unreadable, "of", &["forces f on rail"])],
        ),
        ("   + b", &[(StrayContinuation, "+", &[])]),
        ("section rail\n   - web", &[(StrayContinuation, "-", &[])]),
        ("# comment\n   - web", &[(StrayContinuation, "-", &[])]),
    ]);
}

#[test]
fn two_readers_would_read_it_differently() {
    check(&[
        (
            "a = 5 mm ^ 2",
            &[(Unreadable, "5 mm ^ 2", &["a = (5 mm)^2", "a = 5 mm^2"])],
        ),
        (
            "a = 5 mm ²",
            &[(Unreadable, "5 mm ²", &["a = (5 mm)²", "a = 5 mm²"])],
        ),
        ("a = 5 mm^n", &[(Unreadable, "5 mm^n", &["a = (5 mm)^n"])]),
        (
            "a = 5 mm^2.5",
            &[(Unreadable, "5 mm^2.5", &["a = (5 mm)^2.5"])],
        ),
        (
            "a = L/3/4 in",
            &[(
                Unreadable,
                "L/3/4 in",
                &["a = L/(3/4 in)", "a = L/3/(4 in)"],
            )],
        ),
    ]);
}

#[test]
fn messages_say_what_is_expected_and_where() {
    for (text, message) in [
        ("a =", "A value is expected after `=`."),
        ("a = 3 +", "A value is expected after `+`."),
        ("a = * 3", "A value is expected after `=`, not `*`."),
        ("a = f()", "A value is expected after `(`, not `)`."),
        ("a = if b then 3", "`else` is expected after `3`."),
        ("beam", "The name of the beam is expected after `beam`."),
        (
            "rect 8 x 9 mm",
            "A name for the part is expected after `rect`, not `8`.",
        ),
        (
            "rect web 8 x 9 mm above",
            "The name of a part is expected after `above`.",
        ),
        ("rect web 8 x", "A size is expected after `x`."),
        (
            "rect web a x b flush left",
            "`x`, a place such as `above flange` or `of` is expected after `b`, not `flush`.",
        ),
        ("support pin", "`sideways` or `at` is expected after `pin`."),
        (
            "hinge at",
            "A distance, `start`, `middle` or `end` is expected after `at`.",
        ),
        (
            "load dead",
            "A load such as `6 kN` or `self weight` is expected after `dead`.",
        ),
        (
            "sheet x",
            "The line is complete after `sheet`: `x` is one thing too many.",
        ),
        (
            "use plates",
            "The name of a file in quotes is expected after `use`, not `plates`.",
        ),
        (
            "a = 2 b",
            "`b` is no unit that is known. To multiply, write `2*b`.",
        ),
        (
            "a = b == c",
            "`==` is no operation. To compare a value with one that is known, \
             write a line `expect NAME = value within 1 %`.",
        ),
    ] {
        let errors = read(text).errors;
        assert_eq!(errors.len(), 1, "{text}");
        assert_eq!(errors[0].message, message, "{text}");
    }
}

#[test]
fn what_is_known_of_a_broken_line() {
    for (text, outline) in [
        (
            "beam hoist off rail",
            "(broken keyword:beam name:hoist (paths off rail))",
        ),
        (
            "a = 2 b.c + d mm [mm]",
            "(broken keyword:a name:a (paths b.c d mm))",
        ),
        ("f(a) = 2 a + c", "(broken keyword:f name:f (paths a c))"),
        (
            "deduct round tube t 3 x x 4 of q",
            "(broken keyword:deduct name:t (paths q))",
        ),
        (
            "load dead 3 kN att middle*a",
            "(broken keyword:load name:dead (paths att a))",
        ),
        (
            "support pin at start as A B",
            "(broken keyword:support name:A (paths B))",
        ),
        ("use \"a\" as p q", "(broken keyword:use name:p (paths q))"),
        (
            "combination c = a b",
            "(broken keyword:combination name:c (paths a b))",
        ),
        ("if = a", "(broken keyword:if (paths a))"),
        ("foo bar", "(broken keyword:foo name:bar)"),
        ("3", "(broken)"),
    ] {
        assert_eq!(read(text).outline(), outline, "{text}");
        assert!(!read(text).errors.is_empty(), "{text}");
    }
}
