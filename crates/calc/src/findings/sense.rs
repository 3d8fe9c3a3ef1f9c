//! The word that says which way a force or moment acts.

use haunch_syntax::Sense;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static MISSING: Code = Code {
    name: "sense-missing",
    severity: Severity::Error,
    summary: "a force or moment needs the word that says which way it acts",
    page: include_str!("pages/sense-missing.md"),
};

/// The code.
pub(crate) static WRONG: Code = Code {
    name: "sense-wrong",
    severity: Severity::Error,
    summary: "a sense word does not fit its place",
    page: include_str!("pages/sense-wrong.md"),
};

/// A sense as it is written.
pub(crate) fn word(sense: Sense) -> &'static str {
    match sense {
        Sense::Tension => "tension",
        Sense::Compression => "compression",
        Sense::Sagging => "sagging",
        Sense::Hogging => "hogging",
        Sense::LeftInTension => "left in tension",
        Sense::RightInTension => "right in tension",
        Sense::Clockwise => "clockwise",
        Sense::Anticlockwise => "anticlockwise",
        Sense::TopWarmer => "top warmer",
        Sense::BottomWarmer => "bottom warmer",
    }
}

fn either(senses: &[Sense]) -> String {
    let words: Vec<&str> = senses.iter().map(|sense| word(*sense)).collect();
    words.join(" or ")
}

/// The word is missing; both are offered after the quantity at `place`.
pub(crate) fn missing(place: Place, name: &str, senses: &[Sense]) -> Finding {
    let mut finding = Finding::new(
        &MISSING,
        place,
        format!(
            "{name} needs the word that says which way it acts: {}.",
            either(senses)
        ),
    );
    let end = Place {
        span: haunch_text::Span::empty(place.span.end as usize),
        ..place
    };
    for sense in senses {
        let word = word(*sense);
        finding = finding.with_repair(format!("Write {word}"), end, format!(" {word}"));
    }
    finding
}

/// Another word than fits.
pub(crate) fn wrong(place: Place, name: &str, senses: &[Sense]) -> Finding {
    let mut finding = Finding::new(&WRONG, place, format!("{name} is {}.", either(senses)));
    for sense in senses {
        let word = word(*sense);
        finding = finding.with_repair(format!("Write {word}"), place, word);
    }
    finding
}

/// A sense word and a sign together.
pub(crate) fn negative(place: Place, name: &str) -> Finding {
    Finding::new(
        &WRONG,
        place,
        format!("{name} is negative and has a sense word. Write the magnitude and the word alone."),
    )
}

/// A sense word after something that has none.
pub(crate) fn not_for(place: Place, name: &str) -> Finding {
    Finding::new(&WRONG, place, format!("{name} takes no sense word."))
}

/// A sense word after a plain value.
pub(crate) fn not_here(place: Place) -> Finding {
    Finding::new(
        &WRONG,
        place,
        "a sense word belongs to a force or moment of a forces block or a load, not to a value.",
    )
}
