//! What the user has set. A value that is missing or makes no sense is the usual one.

use haunch_ide::HintOptions;
use serde_json::Value;

/// The section of the client's configuration.
pub(crate) const SECTION: &str = "haunch";

/// Most digits that are shown.
const MOST_DIGITS: u64 = 17;

/// The settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Settings {
    /// Which hints are shown, and how.
    pub(crate) hints: HintOptions,
}

impl Settings {
    /// Reads them from the section itself or from something that has it.
    pub(crate) fn read(value: &Value) -> Settings {
        let section = value.get(SECTION).unwrap_or(value);
        let flag = |pointer: &str| section.pointer(pointer).and_then(Value::as_bool);
        let usual = HintOptions::default();
        let digits = section.pointer("/hints/digits").and_then(Value::as_u64);
        Settings {
            hints: HintOptions {
                values: flag("/hints/values").unwrap_or(usual.values),
                results: flag("/hints/results").unwrap_or(usual.results),
                defaults: flag("/hints/defaults").unwrap_or(usual.defaults),
                digits: digits
                    .filter(|digits| (1..=MOST_DIGITS).contains(digits))
                    .map(|digits| digits as u8),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_makes_no_sense_is_usual() {
        for value in [
            json!(null),
            json!(3),
            json!({"hints": {"digits": 0, "values": "yes"}}),
        ] {
            assert_eq!(Settings::read(&value), Settings::default());
        }
        let set = Settings::read(&json!({"haunch": {"hints": {"digits": 6, "results": false}}}));
        assert_eq!(set.hints.digits, Some(6));
        assert!(!set.hints.results && set.hints.values);
    }
}
