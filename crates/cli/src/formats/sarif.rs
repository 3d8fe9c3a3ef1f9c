//! Findings as a SARIF log.
//!
//! Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0, 27 March 2020; the
//! clauses are named beside what follows from them.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::{check_words, is_unsaid};
use crate::report::{FileReport, FindingReport, RangeReport};

/// The code under which a check is told that no finding tells.
const CHECK: &str = "check-not-met";

/// The log as JSON.
pub(crate) fn log(files: &[FileReport]) -> String {
    let mut rules: BTreeMap<&str, &str> = haunch_calc::findings::ALL
        .iter()
        .map(|code| (code.name, code.summary))
        .collect();
    rules.insert(CHECK, "a check does not hold or could not be computed");
    let names: Vec<&str> = rules.keys().copied().collect();
    let mut results = Vec::new();
    for file in files {
        results.extend(
            file.findings
                .iter()
                .map(|finding| result(file, finding, &names)),
        );
        for check in file
            .checks
            .iter()
            .filter(|check| is_unsaid(check, &file.findings))
        {
            let range = RangeReport {
                line: check.line,
                column: 1,
                end_line: check.line,
                end_column: 1,
            };
            results.push(json!({
                "ruleId": CHECK,
                "ruleIndex": index(&names, CHECK),
                "level": "error",
                "message": { "text": check_words(check) },
                "locations": [location(&file.path, range)],
            }));
        }
    }
    let rules: Vec<Value> = rules
        .iter()
        .map(|(name, summary)| json!({ "id": name, "shortDescription": { "text": summary } }))
        .collect();
    let log = json!({
        "version": "2.1.0",
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "runs": [{
            "tool": { "driver": {
                "name": "haunch",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": rules,
            } },
            // 3.14.17: columns count Unicode code points.
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    });
    let mut text = serde_json::to_string_pretty(&log).unwrap_or_default();
    text.push('\n');
    text
}

fn index(names: &[&str], name: &str) -> usize {
    names.binary_search(&name).unwrap_or_default()
}

fn result(file: &FileReport, finding: &FindingReport, names: &[&str]) -> Value {
    let related: Vec<Value> = finding
        .related
        .iter()
        .map(|related| {
            let path = related.path.as_deref().unwrap_or(&file.path);
            let mut place = location(path, related.range);
            place["message"] = json!({ "text": related.message });
            place
        })
        .collect();
    // 3.27.10: error, warning or note.
    let level = match finding.severity {
        "information" => "note",
        other => other,
    };
    let mut result = json!({
        "ruleId": finding.code,
        "ruleIndex": index(names, &finding.code),
        "level": level,
        "message": { "text": finding.message },
        "locations": [location(&file.path, finding.range)],
    });
    if !related.is_empty() {
        result["relatedLocations"] = Value::Array(related);
    }
    result
}

/// 3.28: a place in a file; the end column is one past the last character (3.30.8).
fn location(path: &str, range: RangeReport) -> Value {
    json!({ "physicalLocation": {
        "artifactLocation": { "uri": address(path) },
        "region": {
            "startLine": range.line,
            "startColumn": range.column,
            "endLine": range.end_line,
            "endColumn": range.end_column,
        },
    } })
}

/// A path as a relative reference of RFC 3986: what may not stand in a path segment is written as %XX.
fn address(path: &str) -> String {
    let mut text = String::new();
    for byte in path.strip_prefix("./").unwrap_or(path).bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/!$&'()*+,;=@".contains(&byte) {
            text.push(char::from(byte));
        } else {
            text.push_str(&format!("%{byte:02X}"));
        }
    }
    text
}
