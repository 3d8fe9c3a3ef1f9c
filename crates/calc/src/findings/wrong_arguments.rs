//! A call with the wrong number or kind of arguments.

use haunch_quantity::Dimension;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "wrong-arguments",
    severity: Severity::Error,
    summary: "a formula or function is called with the wrong arguments",
    page: include_str!("pages/wrong-arguments.md"),
};

fn counted(count: usize) -> String {
    match count {
        1 => "1 argument".to_owned(),
        n => format!("{n} arguments"),
    }
}

/// Another number of arguments than the formula has.
pub(crate) fn count(place: Place, name: &str, expected: usize, found: usize) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} takes {}, and here it gets {found}.",
            counted(expected)
        ),
    )
}

/// Too few or too many arguments of a built-in function.
pub(crate) fn count_of_built_in(place: Place, name: &str, least: usize, found: usize) -> Finding {
    let call = crate::expression::functions::BUILT_IN
        .iter()
        .find(|function| function.name == name)
        .map_or("", |function| function.call);
    Finding::new(
        &CODE,
        place,
        format!(
            "{name} takes at least {} and is written {call}; here it gets {found}.",
            counted(least)
        ),
    )
}

/// A formula or function without its arguments.
pub(crate) fn missing(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} is a formula: give its arguments in parentheses."),
    )
}

/// Arguments after a plain value.
pub(crate) fn not_a_formula(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} is a value, not a formula. To multiply, write {name}*( … )."),
    )
}

/// Rounding a quantity with a unit without a step.
pub(crate) fn needs_step(place: Place, name: &str, source: &str, dimension: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{source} is {}, so {name} needs a step, for example {name}({source}, 5 {}).",
            dimension.describe_with_article(),
            dimension.typical_unit().source_text()
        ),
    )
}

/// An argument of a block's function.
pub(crate) fn finding(place: Place, message: String) -> Finding {
    Finding::new(&CODE, place, message)
}

/// A formula that goes wrong with these arguments.
pub(crate) fn inside(place: Place, name: &str, inner: &Finding) -> Finding {
    let code = if *inner.code == super::unit_mismatch::CODE {
        &super::unit_mismatch::CODE
    } else {
        &CODE
    };
    Finding::new(
        code,
        place,
        format!("with these arguments {name} goes wrong: {}", inner.message),
    )
    .with_related(inner.place, inner.message.clone())
}
