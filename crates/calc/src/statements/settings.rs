//! `use`, `results in` and `allow`: lines that say how the rest of the file is read.

use haunch_quantity::{Preferences, Unit};
use haunch_syntax::{Allow, ResultsIn};

use crate::expression::Context;
use crate::finding::Severity;
use crate::findings;
use crate::graph::use_alias;
use crate::outcome::Meaning;

pub(crate) fn use_file(context: &mut Context<'_>) -> Meaning {
    let haunch_syntax::Statement::Use(line) = &context.tree.statement else {
        return Meaning::Nothing;
    };
    if use_alias(&context.tree.statement).is_none() {
        let place = context.place(line.path.span);
        context.report(findings::missing_file::no_name(place, &line.path.text));
        return Meaning::Nothing;
    }
    let Some(file) = context.state.used_file(context.line) else {
        return Meaning::Nothing;
    };
    let present = context.state.file(file).is_some_and(|f| f.present);
    if !present {
        let place = context.place(line.path.span);
        context.report(findings::missing_file::finding(place, &line.path.text));
    }
    Meaning::File(file, present)
}

pub(crate) fn results_in(context: &mut Context<'_>, line: &ResultsIn) -> Meaning {
    for unit in &line.units {
        if Unit::parse(&unit.text).is_err() {
            let place = context.place(unit.span);
            context.report(findings::unknown_unit::finding(place, &unit.text));
        }
    }
    if let Some(digits) = &line.digits {
        let in_range = digits
            .text
            .parse::<u8>()
            .is_ok_and(|n| (1..=Preferences::MOST_DIGITS).contains(&n));
        if !in_range {
            let place = context.place(digits.span);
            context.report(findings::wrong_field::digits(
                place,
                Preferences::MOST_DIGITS,
            ));
        }
    }
    let several = context
        .state
        .file(context.file)
        .is_some_and(|file| file.settings.len() > 1);
    if several {
        let place = context.place(crate::blocks::whole_line(context.text));
        context.report(findings::defined_twice::results_in(place));
    }
    Meaning::Nothing
}

pub(crate) fn allow(context: &mut Context<'_>, line: &Allow) -> Meaning {
    let place = context.place(line.code.span);
    match findings::code(&line.code.text) {
        None => context.report(findings::unknown_code::finding(place, &line.code.text)),
        Some(code) if code.severity == Severity::Error => {
            context.report(findings::unknown_code::of_error(place, code.name));
        }
        Some(_) => {}
    }
    Meaning::Nothing
}
