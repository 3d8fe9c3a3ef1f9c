//! Checks and answers as text, and the closing lines.

use std::fmt::Write;

use anstyle::{AnsiColor, Style};
use haunch_quantity::format_utilisation;

use crate::CAUTION;
use crate::columns::{harmless, width};
use crate::report::{AnswerReport, CheckReport, FileReport};

/// Checks and answers of a file under its name; nothing where it has neither.
pub(crate) fn summary(file: &FileReport) -> String {
    let mut text = String::new();
    if file.checks.is_empty() && file.answers.is_empty() {
        return text;
    }
    let bold = Style::new().bold();
    let _ = writeln!(text, "{bold}{}{bold:#}", harmless(&file.path));
    let rows: Vec<_> = file.checks.iter().map(Row::new).collect();
    let widest =
        |column: fn(&Row) -> &str| rows.iter().map(|row| width(column(row))).max().unwrap_or(0);
    let columns = [
        widest(|row| &row.name),
        widest(|row| row.verdict),
        widest(|row| &row.used),
    ];
    for row in &rows {
        row.write(&mut text, columns);
    }
    for answer in &file.answers {
        let _ = writeln!(text, "  {}", answer_line(answer));
    }
    text.push('\n');
    text
}

/// The counts over all files, and the caution.
pub(crate) fn closing(files: &[FileReport]) -> String {
    let checks = || files.iter().flat_map(|file| &file.checks);
    let count = |verdict: Option<bool>| checks().filter(|check| check.holds == verdict).count();
    let severity = |wanted: &str| {
        let all = files.iter().flat_map(|file| &file.findings);
        all.filter(|finding| finding.severity == wanted).count()
    };
    let mut parts = vec![
        counted(files.len(), "file", "files"),
        counted(count(Some(true)), "check holds", "checks hold"),
    ];
    let more = [
        (
            count(Some(false)),
            "check does not hold",
            "checks do not hold",
        ),
        (
            count(None),
            "check could not be computed",
            "checks could not be computed",
        ),
        (severity("error"), "error", "errors"),
        (severity("warning"), "warning", "warnings"),
    ];
    parts.extend(
        more.into_iter()
            .filter(|(n, ..)| *n > 0)
            .map(|(n, one, many)| counted(n, one, many)),
    );
    format!("{}\n{CAUTION}\n", parts.join("; "))
}

fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

fn answer_line(answer: &AnswerReport) -> String {
    let value = answer.text.as_deref().unwrap_or("not known");
    match &answer.words {
        Some(words) => format!(
            "{} ({}): {}",
            harmless(words),
            harmless(&answer.name),
            harmless(value)
        ),
        None => format!("{}: {}", harmless(&answer.name), harmless(value)),
    }
}

/// A check in columns: name, verdict, share used, what was compared and where.
struct Row {
    name: String,
    verdict: &'static str,
    colour: AnsiColor,
    used: String,
    rest: String,
}

impl Row {
    fn new(check: &CheckReport) -> Row {
        let (verdict, colour) = match check.holds {
            Some(true) => ("holds", AnsiColor::Green),
            Some(false) => ("DOES NOT HOLD", AnsiColor::Red),
            None => ("NOT COMPUTED", AnsiColor::Yellow),
        };
        let used = check
            .utilisation
            .map(|used| format_utilisation(used, DIGITS).to_string());
        let place = check.place.iter().map(|place| harmless(place));
        let rest: Vec<_> = std::iter::once(harmless(&check.text))
            .chain(place)
            .filter(|part| !part.is_empty() && *part != check.name)
            .collect();
        Row {
            name: harmless(&check.name),
            verdict,
            colour,
            used: used.unwrap_or_default(),
            rest: rest.join(", "),
        }
    }

    fn write(&self, text: &mut String, [names, verdicts, uses]: [usize; 3]) {
        let style = self.colour.on_default();
        let pad = |words: &str, cells: usize| " ".repeat(cells.saturating_sub(width(words)));
        let line = format!(
            "  {}{}  {style}{}{style:#}{}  {}{}  {}",
            self.name,
            pad(&self.name, names),
            self.verdict,
            pad(self.verdict, verdicts),
            pad(&self.used, uses),
            self.used,
            self.rest
        );
        let _ = writeln!(text, "{}", line.trim_end());
    }
}

/// Digits of a utilisation.
const DIGITS: u8 = 3;
