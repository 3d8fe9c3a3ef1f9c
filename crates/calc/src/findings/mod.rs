//! The catalogue of findings: one page per subject, each with its code, its meaning and its words.

pub(crate) mod bends_sideways;
pub(crate) mod capacity;
pub(crate) mod combination;
pub(crate) mod deductions;
pub(crate) mod defined_twice;
pub(crate) mod designations;
pub(crate) mod expect_differs;
pub(crate) mod hides_result;
pub(crate) mod impossible_value;
pub(crate) mod kept_name;
pub(crate) mod limit_exceeded;
pub(crate) mod mechanism;
pub(crate) mod misplaced_line;
pub(crate) mod missing_file;
pub(crate) mod missing_length;
pub(crate) mod missing_property;
pub(crate) mod no_value;
pub(crate) mod not_a_quantity;
pub(crate) mod not_a_truth;
pub(crate) mod not_accurate;
pub(crate) mod not_supported;
pub(crate) mod part_places;
pub(crate) mod parts;
pub(crate) mod place;
pub(crate) mod points;
pub(crate) mod power_not_literal;
pub(crate) mod reading;
pub(crate) mod reference;
pub(crate) mod ring;
pub(crate) mod section_materials;
pub(crate) mod sense;
pub(crate) mod shape_sizes;
pub(crate) mod sizing;
pub(crate) mod tributary;
pub(crate) mod turns;
pub(crate) mod unit_mismatch;
pub(crate) mod unit_or_name;
pub(crate) mod unknown_code;
pub(crate) mod unknown_field;
pub(crate) mod unknown_limit;
pub(crate) mod unknown_member;
pub(crate) mod unknown_name;
pub(crate) mod unknown_support;
pub(crate) mod unknown_unit;
pub(crate) mod unused_value;
pub(crate) mod verify_fails;
pub(crate) mod wrong_arguments;
pub(crate) mod wrong_field;

pub(crate) use reading::findings as reading;

use std::sync::LazyLock;

use crate::finding::Code;
use crate::lints;

/// Every code, sorted by name.
pub static ALL: LazyLock<Vec<&'static Code>> = LazyLock::new(|| {
    let mut codes: Vec<&'static Code> = vec![
        &lints::conversion_factor::CODE,
        &lints::degrees::CODE,
        &lints::looks_like_formula::CODE,
        &lints::loose_deflection::CODE,
        &lints::near_fibre::CODE,
        &lints::stress_sum::CODE,
        &lints::stress_sum::MAGNITUDE,
        &lints::unit_name::CODE,
        &lints::unlikely_material::CODE,
        &lints::unlikely_sizes::CODE,
        &lints::unlikely_span::CODE,
        &bends_sideways::CODE,
        &capacity::NONE_HOLDS,
        &capacity::NOTHING_LIMITS,
        &combination::LEFT_OUT,
        &combination::NOT_A_SUM,
        &deductions::MATERIAL,
        &deductions::NOTHING_LEFT,
        &deductions::OUTSIDE,
        &deductions::OVERLAP,
        &defined_twice::CODE,
        &designations::UNKNOWN,
        &expect_differs::CODE,
        &expect_differs::NO_TOLERANCE,
        &hides_result::CODE,
        &impossible_value::CODE,
        &kept_name::CODE,
        &limit_exceeded::CODE,
        &mechanism::CODE,
        &mechanism::SUPPORT_MISSING,
        &misplaced_line::CODE,
        &missing_file::CODE,
        &missing_length::CODE,
        &missing_length::TWICE,
        &missing_property::CODE,
        &missing_property::NO_DEFLECTION,
        &no_value::CODE,
        &not_a_quantity::CODE,
        &not_a_truth::CODE,
        &not_accurate::CODE,
        &not_supported::CODE,
        &part_places::CONTRADICTION,
        &part_places::TWO_WITHOUT,
        &parts::APART,
        &parts::EMPTY,
        &parts::OUT_OF_PROPORTION,
        &parts::OVERLAP,
        &place::MISSING,
        &place::OUTSIDE,
        &place::WRONG,
        &points::BETWEEN,
        &points::OUTSIDE,
        &power_not_literal::CODE,
        &reference::CODE,
        &ring::CODE,
        &sense::MISSING,
        &sense::WRONG,
        &shape_sizes::CORNERS,
        &shape_sizes::COUNT,
        &shape_sizes::IMPOSSIBLE,
        &shape_sizes::NOT_POSITIVE,
        &shape_sizes::WALL,
        &shape_sizes::WORDS,
        &sizing::CODE,
        &tributary::MISSING,
        &tributary::WRONG,
        &turns::CODE,
        &unit_mismatch::CODE,
        &unit_or_name::CODE,
        &unknown_code::CODE,
        &unknown_field::CODE,
        &unknown_limit::CODE,
        &unknown_member::CODE,
        &unknown_name::CODE,
        &unknown_support::CODE,
        &unknown_unit::CODE,
        &unused_value::CODE,
        &verify_fails::CODE,
        &wrong_arguments::CODE,
        &wrong_field::CODE,
    ];
    codes.extend_from_slice(reading::CODES);
    codes.sort_by_key(|code| code.name);
    codes
});

/// The names of codes that are spelled nearly like a word, the nearest first.
pub fn nearest(word: &str) -> Vec<&'static str> {
    crate::spelling::nearest(word, ALL.iter().map(|code| code.name))
}

/// A code by its name.
pub fn code(name: &str) -> Option<&'static Code> {
    ALL.iter().find(|code| code.name == name).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_kebab_case_and_unique() {
        for pair in ALL.windows(2) {
            assert_ne!(pair[0].name, pair[1].name);
        }
        for code in ALL.iter() {
            assert!(
                code.name
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c == '-'),
                "{}",
                code.name
            );
            assert!(!code.summary.is_empty());
        }
    }
}
