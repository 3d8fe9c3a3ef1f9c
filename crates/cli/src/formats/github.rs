//! Findings as workflow commands, which GitHub's runners show beside the lines of a pull request.

use std::fmt::Write;

use super::{check_words, is_unsaid};
use crate::report::FileReport;

/// One command for each finding, and for each check that no finding tells.
pub(crate) fn commands(files: &[FileReport]) -> String {
    let mut text = String::new();
    for file in files {
        let path = property(file.path.strip_prefix("./").unwrap_or(&file.path));
        for finding in &file.findings {
            let command = match finding.severity {
                "information" => "notice",
                other => other,
            };
            // A column counts only on one line.
            let columns = match finding.range.line == finding.range.end_line {
                true => format!(
                    ",col={},endColumn={}",
                    finding.range.column, finding.range.end_column
                ),
                false => String::new(),
            };
            let _ = writeln!(
                text,
                "::{command} file={path},line={},endLine={}{columns},title={}::{}",
                finding.range.line,
                finding.range.end_line,
                property(&finding.code),
                data(&finding.message)
            );
        }
        for check in file
            .checks
            .iter()
            .filter(|check| is_unsaid(check, &file.findings))
        {
            let _ = writeln!(
                text,
                "::error file={path},line={},title={}::{}",
                check.line,
                property(&check.name),
                data(&check_words(check))
            );
        }
    }
    text
}

/// The escapes of a command's message.
fn data(words: &str) -> String {
    words
        .replace('%', "%25")
        .replace('\r', "%0D")
        .replace('\n', "%0A")
}

/// The escapes of a command's property.
fn property(words: &str) -> String {
    data(words).replace(':', "%3A").replace(',', "%2C")
}
