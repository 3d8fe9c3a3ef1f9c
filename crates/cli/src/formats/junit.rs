//! Checks and errors as test cases, in the XML form that continuous integration reads as JUnit's.
//!
//! Common practice, no standard: `testsuites` with a `testsuite` for each file, in it a `testcase` for
//! each check and each error, with a `failure` or `error` where it is not met.

use std::fmt::Write;

use super::check_words;
use crate::report::FileReport;

/// The report as XML.
pub(crate) fn report(files: &[FileReport]) -> String {
    let mut suites = String::new();
    let mut all = [0; 3];
    for file in files {
        let errors: Vec<_> = file
            .findings
            .iter()
            .filter(|finding| finding.severity == "error")
            .filter(|finding| {
                !matches!(
                    finding.code.as_str(),
                    "limit-exceeded" | "verify-fails" | "expect-differs"
                )
            })
            .collect();
        let failed = file
            .checks
            .iter()
            .filter(|check| check.holds != Some(true))
            .count();
        let counts = [
            file.checks.len() + errors.len().max(1),
            failed,
            errors.len(),
        ];
        for (sum, count) in all.iter_mut().zip(counts) {
            *sum += count;
        }
        let path = escaped(&file.path);
        let _ = writeln!(
            suites,
            "  <testsuite name=\"{path}\" tests=\"{}\" failures=\"{}\" errors=\"{}\">",
            counts[0], counts[1], counts[2]
        );
        for check in &file.checks {
            let name = escaped(&check.name);
            let _ = write!(
                suites,
                "    <testcase classname=\"{path}\" name=\"{name}\" file=\"{path}\" line=\"{}\"",
                check.line
            );
            if check.holds == Some(true) {
                suites.push_str("/>\n");
                continue;
            }
            let kind = if check.holds.is_none() {
                "not computed"
            } else {
                "does not hold"
            };
            let _ = writeln!(
                suites,
                ">\n      <failure type=\"{kind}\" message=\"{}\"/>\n    </testcase>",
                escaped(&check_words(check))
            );
        }
        for finding in &errors {
            let _ = writeln!(
                suites,
                "    <testcase classname=\"{path}\" name=\"line {0}: {1}\" file=\"{path}\" line=\"{0}\">\n      <error type=\"{1}\" message=\"{2}\"/>\n    </testcase>",
                finding.range.line,
                escaped(&finding.code),
                escaped(&finding.message)
            );
        }
        if errors.is_empty() {
            let _ = writeln!(
                suites,
                "    <testcase classname=\"{path}\" name=\"no errors\" file=\"{path}\"/>"
            );
        }
        suites.push_str("  </testsuite>\n");
    }
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"haunch\" tests=\"{}\" failures=\"{}\" errors=\"{}\">\n{suites}</testsuites>\n",
        all[0], all[1], all[2]
    )
}

/// Words in an attribute. XML 1.0 (2.2) has no place for most control characters.
fn escaped(words: &str) -> String {
    let mut text = String::new();
    for c in words.chars() {
        match c {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '"' => text.push_str("&quot;"),
            '\n' => text.push_str("&#10;"),
            '\t' => text.push_str("&#9;"),
            '\u{fffe}' | '\u{ffff}' => text.push(char::REPLACEMENT_CHARACTER),
            c if c.is_control() => text.push(char::REPLACEMENT_CHARACTER),
            c => text.push(c),
        }
    }
    text
}
