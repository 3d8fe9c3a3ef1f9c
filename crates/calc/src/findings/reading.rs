//! Lines that could not be read: what the reader of the notation found.

use haunch_syntax::{SyntaxErrorKind, Tree};

use crate::finding::{Code, Finding, Place, Repair, Severity};
use crate::line::LineId;

macro_rules! reading_codes {
    ($($kind:ident $constant:ident $name:literal $summary:literal;)*) => {
        $(
            #[doc = $summary]
            pub(crate) static $constant: Code = Code {
                name: $name,
                severity: Severity::Error,
                summary: $summary,
                page: include_str!(concat!("pages/", $name, ".md")),
            };
        )*

        /// The codes of this page.
        pub(super) const CODES: &[&Code] = &[$(&$constant),*];

        fn code(kind: SyntaxErrorKind) -> &'static Code {
            match kind {
                $(SyntaxErrorKind::$kind => &$constant,)*
                SyntaxErrorKind::ReservedName => &super::kept_name::CODE,
            }
        }
    };
}

reading_codes! {
    Unreadable UNREADABLE "unreadable" "a line cannot be read";
    UnknownStatement UNKNOWN_STATEMENT "unknown-statement" "the first word of a line is none of the notation";
    UnmatchedBracket UNMATCHED_BRACKET "unmatched-bracket" "a bracket has no partner";
    TooDeep TOO_DEEP "too-deep" "parentheses are nested too deep";
    ThousandsSeparator THOUSANDS_SEPARATOR "thousands-separator" "a number is written with separators";
    MalformedNumber MALFORMED_NUMBER "malformed-number" "a number cannot be read";
    MissingOperator MISSING_OPERATOR "missing-operator" "two operands stand side by side";
    UnitAfterExpression UNIT_AFTER_EXPRESSION "unit-after-expression" "a unit stands after something that is no number";
    UnitInBrackets UNIT_IN_BRACKETS "unit-in-brackets" "the unit of a given number stands in brackets";
    ChainedComparison CHAINED_COMPARISON "chained-comparison" "comparisons are chained";
    EqualityInExpression EQUALITY_IN_EXPRESSION "equality-in-expression" "an equals sign stands inside an expression";
    UnknownCharacter UNKNOWN_CHARACTER "unknown-character" "a character has no meaning here";
    UnclosedText UNCLOSED_TEXT "unclosed-text" "words in quotes are not closed";
    StrayContinuation STRAY_CONTINUATION "stray-continuation" "a line continues no expression";
    TooManyContinuations TOO_MANY_CONTINUATIONS "too-many-continuations" "an expression has too many continuations";
    ConflictMarker CONFLICT_MARKER "conflict-marker" "a merge left its marks";
    TooLong TOO_LONG "too-long" "a line is too long to be read";
}

/// The reading mistakes of a line as findings.
pub(crate) fn findings(line: LineId, tree: &Tree) -> Vec<Finding> {
    tree.errors
        .iter()
        .map(|error| {
            let place = |span| Place { line, span };
            let mut finding =
                Finding::new(code(error.kind), place(error.span), error.message.clone());
            finding.repairs = error
                .repairs
                .iter()
                .map(|repair| Repair {
                    title: repair.title.clone(),
                    edits: repair
                        .edits
                        .iter()
                        .map(|(span, text)| (place(*span), text.clone()))
                        .collect(),
                })
                .collect();
            finding
        })
        .collect()
}
