//! Lines and what they are read as.

use crate::{Statement, Tree, read_line};

pub(crate) use robustness::line;

mod errors;
mod expressions;
mod robustness;
mod statements;

/// A few words of units; the real table is another crate's.
pub(crate) fn is_unit_word(word: &str) -> bool {
    const WORDS: &[&str] = &[
        "mm", "cm", "m", "km", "in", "ft", "N", "kN", "MN", "kPa", "MPa", "GPa", "g", "kg", "t",
        "s", "K", "lb", "lbf", "kip", "psi", "ksi", "kip-ft", "lb-ft", "deg", "rad", "%", "°",
    ];
    WORDS.contains(&word)
}

pub(crate) fn read(text: &str) -> Tree {
    read_line(text, is_unit_word)
}

/// Every line is read as its outline says, without errors.
#[track_caller]
fn check(lines: &[(&str, &str)]) {
    for (text, outline) in lines {
        let tree = read(text);
        assert_eq!(tree.errors, [], "{text}");
        assert_eq!(tree.outline(), *outline, "{text}");
        assert!(
            !matches!(tree.statement, Statement::Broken { .. }),
            "{text}"
        );
    }
}
