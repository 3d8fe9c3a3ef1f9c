//! Lines and what they are read as.

use crate::{SyntaxErrorKind, Tree, read_line};

mod dump;

/// A few words of units; the real table is another crate's.
fn is_unit_word(word: &str) -> bool {
    matches!(
        word,
        "mm" | "m" | "cm" | "km" | "in" | "ft" | "kN" | "N" | "MN" | "kPa" | "MPa" | "GPa" | "kg" | "g" | "t"
            | "s" | "K" | "lb" | "lbf" | "kip" | "psi" | "ksi" | "kip-ft" | "lb-ft" | "deg" | "rad" | "%" | "°"
    )
}

fn read(text: &str) -> Tree {
    read_line(text, is_unit_word)
}
