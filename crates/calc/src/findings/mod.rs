//! The catalogue of findings: one page per subject, each with its code, its meaning and its words.

pub(crate) mod defined_twice;
pub(crate) mod expect_differs;
pub(crate) mod hides_result;
pub(crate) mod impossible_value;
pub(crate) mod kept_name;
pub(crate) mod limit_exceeded;
pub(crate) mod misplaced_line;
pub(crate) mod missing_file;
pub(crate) mod no_value;
pub(crate) mod not_a_quantity;
pub(crate) mod not_a_truth;
pub(crate) mod not_supported;
pub(crate) mod power_not_literal;
pub(crate) mod reading;
pub(crate) mod reference;
pub(crate) mod ring;
pub(crate) mod sense;
pub(crate) mod unit_mismatch;
pub(crate) mod unit_or_name;
pub(crate) mod unknown_code;
pub(crate) mod unknown_field;
pub(crate) mod unknown_limit;
pub(crate) mod unknown_member;
pub(crate) mod unknown_name;
pub(crate) mod unknown_unit;
pub(crate) mod unused_value;
pub(crate) mod verify_fails;
pub(crate) mod wrong_arguments;
pub(crate) mod wrong_field;

pub(crate) use reading::findings as reading;

use std::sync::LazyLock;

use crate::finding::Code;

/// Every code, sorted by name.
pub static ALL: LazyLock<Vec<&'static Code>> = LazyLock::new(|| {
    let mut codes: Vec<&'static Code> = vec![
        &defined_twice::CODE,
        &expect_differs::CODE,
        &expect_differs::NO_TOLERANCE,
        &hides_result::CODE,
        &impossible_value::CODE,
        &kept_name::CODE,
        &limit_exceeded::CODE,
        &misplaced_line::CODE,
        &missing_file::CODE,
        &no_value::CODE,
        &not_a_quantity::CODE,
        &not_a_truth::CODE,
        &not_supported::CODE,
        &power_not_literal::CODE,
        &reference::CODE,
        &ring::CODE,
        &sense::MISSING,
        &sense::WRONG,
        &unit_mismatch::CODE,
        &unit_or_name::CODE,
        &unknown_code::CODE,
        &unknown_field::CODE,
        &unknown_limit::CODE,
        &unknown_member::CODE,
        &unknown_name::CODE,
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
