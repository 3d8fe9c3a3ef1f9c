//! The report as text for people.

use haunch_text::{content, split_lines};

use crate::finding_view::{findings, more};
use crate::report::FileReport;
use crate::summary_view::{closing, summary};

/// A file's report beside its text.
pub(crate) struct Checked {
    pub(crate) report: FileReport,
    pub(crate) text: String,
}

/// Findings file by file, then checks and answers, then the closing lines.
pub(crate) fn render(files: &[Checked]) -> String {
    let mut text = String::new();
    for file in files {
        let lines: Vec<&str> = split_lines(&file.text).map(content).collect();
        text.push_str(&findings(&file.report, &lines));
    }
    if files.iter().any(|file| !file.report.findings.is_empty()) {
        text.push_str(&more());
    }
    for file in files {
        text.push_str(&summary(&file.report));
    }
    let reports: Vec<FileReport> = files.iter().map(|file| file.report.clone()).collect();
    text + &closing(&reports)
}
