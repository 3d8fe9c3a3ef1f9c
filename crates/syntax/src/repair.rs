//! Errors with their repairs, and the proof that a repair helps.

use haunch_text::Span;

use crate::tree::{SyntaxError, SyntaxErrorKind, SyntaxRepair, Tree};

/// An error without repairs.
pub(crate) fn error(kind: SyntaxErrorKind, span: Span, message: impl Into<String>) -> SyntaxError {
    SyntaxError {
        kind,
        span,
        message: message.into(),
        repairs: Vec::new(),
    }
}

/// A repair that replaces one stretch.
pub(crate) fn replace(
    title: impl Into<String>,
    span: Span,
    text: impl Into<String>,
) -> SyntaxRepair {
    SyntaxRepair {
        title: title.into(),
        edits: vec![(span, text.into())],
    }
}

/// Lines longer than this keep no repairs: trying each would take long.
const LONGEST_REPAIRED: usize = 2048;

/// The text after a repair; `None` where its edits do not fit the text.
fn repaired(text: &str, repair: &SyntaxRepair) -> Option<String> {
    let mut edits: Vec<&(Span, String)> = repair.edits.iter().collect();
    edits.sort_by_key(|(span, _)| *span);
    let mut result = String::with_capacity(text.len() + 16);
    let mut done = 0;
    for (span, replacement) in edits {
        result.push_str(text.get(done..span.range().start)?);
        result.push_str(replacement);
        done = span.range().end;
    }
    result.push_str(text.get(done..)?);
    Some(result)
}

/// Drops the repairs after which the line would read no better.
pub(crate) fn keep_helpful(text: &str, errors: &mut [SyntaxError], read: impl Fn(&str) -> Tree) {
    let count = errors.len();
    for error in errors {
        if text.len() > LONGEST_REPAIRED {
            error.repairs.clear();
        }
        let kind = error.kind;
        error.repairs.retain(|repair| {
            repaired(text, repair).is_some_and(|text| {
                let after = read(&text).errors;
                // Nothing of an unknown statement is read beyond its first word.
                after.len() < count
                    || kind == SyntaxErrorKind::UnknownStatement
                        && after.iter().all(|error| error.kind != kind)
            })
        });
        let mut seen = Vec::new();
        error.repairs.retain(|repair| {
            let is_new = !seen.contains(&repair.edits);
            seen.push(repair.edits.clone());
            is_new
        });
    }
}
