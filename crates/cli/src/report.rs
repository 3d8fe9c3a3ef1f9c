//! What a check reports, as data: the shape that `--format json` writes and scripts rely on.
//!
//! Lines and columns count from 1, columns in Unicode scalar values. A field never changes its type or
//! meaning and is never removed under one [`SCHEMA`] version; `tests/schema/check.schema.json` says the
//! same as a JSON Schema.

use std::collections::BTreeMap;

use serde::Serialize;

/// The version of the shape below.
pub const SCHEMA: u32 = 1;

/// The whole report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// The program's version.
    pub haunch: &'static str,
    /// The version of this shape.
    pub schema: u32,
    /// The files in the order in which they were asked for, then the files that these use and that
    /// have an error.
    pub files: Vec<FileReport>,
}

/// What one file says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FileReport {
    /// The path, with `/` on every system.
    pub path: String,
    /// Every named value, and every result of sections, forces and beams under its full name. What
    /// could not be computed is absent and has a finding.
    pub values: BTreeMap<String, ValueReport>,
    /// With `--with-torsion`: for each result of torsion without a value, why it has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub without_value: Option<BTreeMap<String, String>>,
    /// Limits, `verify` and `expect` lines, in the order of their lines.
    pub checks: Vec<CheckReport>,
    /// What is wrong or worth knowing, in the order of its places.
    pub findings: Vec<FindingReport>,
    /// The answers for the text form; scripts find the same under `values`.
    #[serde(skip)]
    pub answers: Vec<AnswerReport>,
}

/// A value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ValueReport {
    /// The number in SI units (m, N, kg, s, K and what is made of them), or whether it is true.
    pub si: Si,
    /// The trade's name of its dimension, or its units where it has no name; `truth` for a truth.
    pub dimension: String,
    /// As it is shown, with its unit.
    pub text: String,
    /// The line that gives it.
    pub line: u32,
    /// How a result of torsion was worked out, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub method: Option<&'static str>,
    /// How far a result of torsion may be off, in SI units; absent where it is exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub error: Option<f64>,
}

/// A number in SI units, or a truth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Si {
    /// A finite number.
    Number(f64),
    /// True or false.
    Truth(bool),
}

/// A check.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckReport {
    /// `tension`, `compression`, `shear`, `deflection`, `verify` or `expect`.
    pub kind: String,
    /// Its full name, e.g. `hoist.tension`.
    pub name: String,
    /// Demand over bound; null where it was not computed or has no sense.
    pub utilisation: Option<f64>,
    /// Whether it holds; null where it could not be computed.
    pub holds: Option<bool>,
    /// The governing point, place and combination, in words.
    #[serde(rename = "where")]
    pub place: Option<String>,
    /// Its line.
    pub line: u32,
    /// What was compared, in words, for the text form.
    #[serde(skip)]
    pub text: String,
}

/// A finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingReport {
    /// Its code, kebab-case words.
    pub code: String,
    /// `error`, `warning` or `information`.
    pub severity: &'static str,
    /// Its place.
    #[serde(flatten)]
    pub range: RangeReport,
    /// What is wrong and what to do.
    pub message: String,
    /// Places that explain it.
    pub related: Vec<RelatedReport>,
    /// Edits that would mend it, best first.
    pub repairs: Vec<RepairReport>,
}

/// A stretch of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct RangeReport {
    /// First line.
    pub line: u32,
    /// First column.
    pub column: u32,
    /// Last line.
    pub end_line: u32,
    /// One past the last column.
    pub end_column: u32,
}

/// A place that explains a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RelatedReport {
    /// The file, where it is another one than the finding's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub path: Option<String>,
    /// The place.
    #[serde(flatten)]
    pub range: RangeReport,
    /// What is there.
    pub message: String,
}

/// Edits that mend a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RepairReport {
    /// What it does.
    pub title: String,
    /// Replacements, none overlapping.
    pub edits: Vec<EditReport>,
}

/// A replacement.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EditReport {
    /// What is replaced.
    #[serde(flatten)]
    pub range: RangeReport,
    /// What it is replaced with.
    pub text: String,
}

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub struct AnswerReport {
    /// The name.
    pub name: String,
    /// The words given with it.
    pub words: Option<String>,
    /// The value as it is shown; none where it could not be computed.
    pub text: Option<String>,
}

impl FileReport {
    /// Whether no finding is an error and every check holds.
    pub fn holds(&self) -> bool {
        self.findings
            .iter()
            .all(|finding| finding.severity != "error")
            && self.checks.iter().all(|check| check.holds == Some(true))
    }
}
