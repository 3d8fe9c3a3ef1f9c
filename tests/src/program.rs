//! Running the program and reading its JSON. The shape is written down a second time here, and
//! strictly, so that a field that changes is a failing test.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;

/// What the program printed, and its exit status.
#[derive(Debug)]
pub struct Run {
    /// Exit status.
    pub status: u8,
    /// Standard output without colours.
    pub out: String,
    /// Standard error without colours.
    pub err: String,
}

/// Runs the program in this process; `arguments` without the program's name.
pub fn run(arguments: &[&str]) -> Run {
    let mut out = anstream::StripStream::new(Vec::new());
    let mut err = anstream::StripStream::new(Vec::new());
    let line = std::iter::once("haunch").chain(arguments.iter().copied());
    let status = haunch::run(line, &mut out, &mut err);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program prints UTF-8");
    Run {
        status,
        out: text(out.into_inner()),
        err: text(err.into_inner()),
    }
}

/// Checks one file on disk and reads the JSON.
///
/// # Panics
/// If the program does not print the shape below.
pub fn check(path: &Path) -> (FileOut, Run) {
    let run = run(&["check", "--format", "json", &path.to_string_lossy()]);
    let report: ReportOut = serde_json::from_str(&run.out)
        .unwrap_or_else(|failure| panic!("{failure}\n{}\n{}", run.out, run.err));
    assert_eq!(report.schema, 1);
    assert!(!report.haunch.is_empty());
    let file = report
        .files
        .into_iter()
        .next()
        .expect("one file was checked");
    (file, run)
}

/// The report.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReportOut {
    /// The program's version.
    pub haunch: String,
    /// The shape's version.
    pub schema: u32,
    /// The files.
    pub files: Vec<FileOut>,
}

/// A file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FileOut {
    /// The path.
    pub path: String,
    /// Values by full name.
    pub values: BTreeMap<String, ValueOut>,
    /// Why results of torsion have no value.
    pub without_value: Option<BTreeMap<String, String>>,
    /// Checks.
    pub checks: Vec<CheckOut>,
    /// Findings.
    pub findings: Vec<FindingOut>,
}

/// A value.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValueOut {
    /// Number in SI units, or truth.
    pub si: serde_json::Value,
    /// Its dimension.
    pub dimension: String,
    /// As shown.
    pub text: String,
    /// Its line.
    pub line: u32,
    /// How a result of torsion was worked out.
    pub method: Option<String>,
    /// How far it may be off.
    pub error: Option<f64>,
}

/// A check.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckOut {
    /// The kind.
    pub kind: String,
    /// The name.
    pub name: String,
    /// Demand over bound.
    pub utilisation: Option<f64>,
    /// The verdict.
    pub holds: Option<bool>,
    /// What governs.
    #[serde(rename = "where")]
    pub place: Option<String>,
    /// Its line.
    pub line: u32,
}

/// A finding.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FindingOut {
    /// The code.
    pub code: String,
    /// `error`, `warning` or `information`.
    pub severity: String,
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Last line.
    pub end_line: usize,
    /// One past the last column.
    pub end_column: usize,
    /// What is wrong.
    pub message: String,
    /// What explains it.
    pub related: Vec<RelatedOut>,
    /// Repairs.
    pub repairs: Vec<RepairOut>,
}

/// A related place.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RelatedOut {
    /// Another file.
    pub path: Option<String>,
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Last line.
    pub end_line: usize,
    /// One past the last column.
    pub end_column: usize,
    /// What is there.
    pub message: String,
}

/// A repair.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RepairOut {
    /// What it does.
    pub title: String,
    /// Its edits.
    pub edits: Vec<EditOut>,
}

/// A replacement.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EditOut {
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Last line.
    pub end_line: usize,
    /// One past the last column.
    pub end_column: usize,
    /// The new text.
    pub text: String,
}
