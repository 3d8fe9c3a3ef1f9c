//! A finding as text: where, the source line with the place marked, what is wrong, what explains it,
//! and how to mend it.

use std::fmt::Write;

use anstyle::{AnsiColor, Style};

use crate::columns::{harmless, shown};
use crate::report::{FileReport, FindingReport, RangeReport, RelatedReport};

const PLAIN: Style = Style::new();
const DIM: Style = Style::new().dimmed();
const BOLD: Style = Style::new().bold();

/// Lines of one finding that are shown; a longer stretch is cut.
const MOST_LINES: u32 = 6;

/// Every finding of a file.
pub(crate) fn findings(file: &FileReport, lines: &[&str]) -> String {
    file.findings
        .iter()
        .map(|finding| one(&file.path, finding, lines))
        .collect()
}

/// Where to learn more about them.
pub(crate) fn more() -> String {
    format!("{DIM}`haunch explain CODE` tells more about a finding.{DIM:#}\n\n")
}

fn one(path: &str, finding: &FindingReport, lines: &[&str]) -> String {
    let mut text = String::new();
    let colour = colour(finding.severity);
    let place = format!("{}, line {}", harmless(path), finding.range.line);
    line(&mut text, DIM, &place);
    source(&mut text, finding.range, lines, colour);
    let severity = match finding.severity {
        "error" => String::new(),
        other => format!(" ({other})"),
    };
    let _ = write!(text, "  {colour}{}{colour:#}{severity}: ", finding.code);
    indented(&mut text, PLAIN, &finding.message, "", "    ");
    let new = |related: &&RelatedReport| !finding.message.contains(&related.message);
    for related in finding.related.iter().filter(new) {
        let here = related.path.is_none() && related.range.line == finding.range.line;
        let place = match (&related.path, here) {
            (Some(path), _) => format!("{}, line {}: ", harmless(path), related.range.line),
            (None, false) => format!("line {}: ", related.range.line),
            (None, true) => match quoted(related.range, lines) {
                words if words.is_empty() || related.message.starts_with(&words) => String::new(),
                words => format!("{words}: "),
            },
        };
        indented(
            &mut text,
            PLAIN,
            &format!("{place}{}", related.message),
            "    ",
            "      ",
        );
    }
    for repair in &finding.repairs {
        indented(
            &mut text,
            BOLD,
            &format!("to mend it: {}", repair.title),
            "    ",
            "      ",
        );
    }
    text.push('\n');
    text
}

/// The source lines with marks under the stretch.
fn source(text: &mut String, range: RangeReport, lines: &[&str], colour: Style) {
    let last = range
        .end_line
        .min(range.line.saturating_add(MOST_LINES - 1));
    for number in range.line..=last {
        let Some(written) = lines.get(number as usize - 1) else {
            continue;
        };
        let length = written.chars().count();
        let start = if number == range.line {
            range.column as usize - 1
        } else {
            indent(written)
        };
        let end = if number == range.end_line {
            range.end_column as usize - 1
        } else {
            length
        };
        let shown = shown(written, start..end.max(start));
        line(text, PLAIN, &format!("    {}", shown.line));
        line(text, colour, &format!("    {}", shown.marks));
    }
}

/// The words that a related place on the same line covers, in front of what is said about them.
fn quoted(range: RangeReport, lines: &[&str]) -> String {
    let written = lines
        .get(range.line as usize - 1)
        .copied()
        .unwrap_or_default();
    if range.end_line != range.line {
        return String::new();
    }
    let count = range.end_column.saturating_sub(range.column) as usize;
    let words: String = written
        .chars()
        .skip(range.column as usize - 1)
        .take(count)
        .collect();
    harmless(&words)
}

fn indent(line: &str) -> usize {
    line.chars().take_while(|c| c.is_whitespace()).count()
}

fn line(text: &mut String, style: Style, words: &str) {
    let _ = writeln!(text, "{style}{words}{style:#}");
}

fn indented(text: &mut String, style: Style, words: &str, first: &str, next: &str) {
    for (index, words) in harmless(words).lines().enumerate() {
        let lead = if index == 0 { first } else { next };
        line(text, style, &format!("{lead}{words}"));
    }
}

fn colour(severity: &str) -> Style {
    let colour = match severity {
        "error" => AnsiColor::Red,
        "warning" => AnsiColor::Yellow,
        _ => AnsiColor::Cyan,
    };
    colour.on_default().bold()
}
