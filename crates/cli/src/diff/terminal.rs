//! A review as text for people: checks first, then what was changed by hand, then what followed.

use std::fmt::Write;

use anstyle::{AnsiColor, Style};
use haunch_review::{CheckChange, ResultChange, Review, Verdict};

use super::View;
use super::words::{self, BALANCES};
use crate::CAUTION;
use crate::columns::{harmless, width};

const BOLD: Style = Style::new().bold();
const DIM: Style = Style::new().dimmed();

/// The whole review.
pub(super) fn render(review: &Review, view: &View) -> String {
    let mut text = String::new();
    let _ = writeln!(
        text,
        "{DIM}from {} to {}{DIM:#}\n",
        harmless(&view.old),
        harmless(&view.new)
    );
    lost(&mut text, review);
    let section = |text: &mut String, title: &str, wanted: &[Verdict]| {
        let checks = review.checks.iter();
        let rows: Vec<&CheckChange> = checks.filter(|c| wanted.contains(&c.verdict)).collect();
        check_rows(text, review, title, &rows);
    };
    use Verdict::{
        Holds, NearItsBound, New, NewAndDoesNotHold, NewAndNotComputed, NoLongerComputed,
        NoLongerHolds, NowHolds, StillDoesNotHold,
    };
    section(
        &mut text,
        "Checks that do not hold",
        &[NoLongerHolds, NewAndDoesNotHold, StillDoesNotHold],
    );
    section(
        &mut text,
        "Checks that could not be computed",
        &[NoLongerComputed, NewAndNotComputed],
    );
    let near = format!("Checks that came within {} of their bound", view.margin);
    section(&mut text, &near, &[NearItsBound]);
    list(
        &mut text,
        "Recorded checks that do not cover these results",
        &review.recorded_checks,
    );
    list(
        &mut text,
        "Results that are not those on record, though no line changed",
        &view.unrecorded,
    );
    changes(&mut text, review);
    results(&mut text, review, view.all);
    section(&mut text, "Checks that hold", &[NowHolds, New, Holds]);
    list(&mut text, BALANCES, &words::balances(review));
    list(&mut text, "Findings", &words::findings(review));
    let _ = writeln!(
        text,
        "{}\n{CAUTION}",
        words::counts(review, view.unrecorded.len())
    );
    text
}

fn title(text: &mut String, words: &str) {
    let _ = writeln!(text, "{BOLD}{words}{BOLD:#}");
}

fn list(text: &mut String, heading: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    title(text, heading);
    for line in lines {
        let _ = writeln!(text, "  {}", harmless(line).replace('\n', "\n    "));
    }
    text.push('\n');
}

/// Checks that are no longer made, and those that ask less.
fn lost(text: &mut String, review: &Review) {
    let removed: Vec<&CheckChange> = review
        .checks
        .iter()
        .filter(|check| check.verdict == Verdict::Removed)
        .collect();
    if removed.is_empty() && review.concerns.is_empty() {
        return;
    }
    title(text, "Checks removed or loosened");
    let red = AnsiColor::Red.on_default();
    for check in removed {
        let _ = writeln!(
            text,
            "  {red}REMOVED{red:#}  {}: {}  {}",
            harmless(&check.file),
            harmless(&words::check_name(check)),
            harmless(&words::compared(check)),
        );
        because(text, &words::causes(review, &check.causes, &check.file));
    }
    for concern in &review.concerns {
        let place = format!("{} line {}", concern.file, concern.line);
        let _ = writeln!(
            text,
            "  {red}{}{red:#}: {}",
            harmless(&place),
            harmless(&concern.words)
        );
        for (label, line) in [("was", &concern.old), ("is", &concern.new)] {
            if let Some(line) = line {
                let _ = writeln!(text, "      {label:<3}  {}", harmless(line));
            }
        }
    }
    text.push('\n');
}

fn because(text: &mut String, causes: &str) {
    let _ = writeln!(text, "      {DIM}because of {}{DIM:#}", harmless(causes));
}

fn check_rows(text: &mut String, review: &Review, heading: &str, rows: &[&CheckChange]) {
    if rows.is_empty() {
        return;
    }
    title(text, heading);
    let rows: Vec<(Vec<String>, &CheckChange)> = rows
        .iter()
        .map(|check| {
            let shares = format!(
                "{} → {}",
                words::used(check, check.old.as_ref()),
                words::used(check, check.new.as_ref())
            );
            let cells = vec![
                harmless(&format!("{}: {}", check.file, words::check_name(check))),
                shares,
                words::verdict(check.verdict).to_owned(),
                harmless(&words::compared(check)),
            ];
            (cells, *check)
        })
        .collect();
    let widths = widths(rows.iter().map(|(cells, _)| cells.as_slice()));
    for (cells, check) in &rows {
        let colour = match check.verdict {
            Verdict::NowHolds | Verdict::New | Verdict::Holds => AnsiColor::Green,
            Verdict::NearItsBound => AnsiColor::Yellow,
            _ => AnsiColor::Red,
        };
        row(text, cells, &widths, Some((2, colour.on_default())));
        because(text, &words::causes(review, &check.causes, &check.file));
    }
    text.push('\n');
}

fn changes(text: &mut String, review: &Review) {
    if review.changes.is_empty() && review.files.is_empty() {
        return;
    }
    title(text, "Changed by hand");
    for file in words::files(review) {
        let _ = writeln!(text, "  {}", harmless(&file));
    }
    let mut last = String::new();
    for change in words::told_by_line(review) {
        let Some(place) = change.new.as_ref().or(change.old.as_ref()) else {
            continue;
        };
        if place.file != last {
            let _ = writeln!(text, "  {DIM}{}{DIM:#}", harmless(&place.file));
            last.clone_from(&place.file);
        }
        let block = change
            .block
            .as_ref()
            .map_or(String::new(), |block| format!(" of {block}"));
        let _ = writeln!(
            text,
            "    line {}, {}{}, {}",
            place.line,
            change.subject.word(),
            harmless(&block),
            words::action(change.action),
        );
        for (label, written) in [("was", &change.old), ("is", &change.new)] {
            if let Some(written) = written {
                let _ = writeln!(text, "      {label:<3}  {}", harmless(&written.text));
            }
        }
    }
    text.push('\n');
}

fn results(text: &mut String, review: &Review, all: bool) {
    let shown: Vec<&ResultChange> = words::told(review, all);
    if review.result_count() == 0 {
        return;
    }
    title(text, "What followed");
    let rows: Vec<Vec<String>> = shown
        .iter()
        .map(|result| {
            let (old, new, percent) = words::values(result);
            vec![
                harmless(&format!("{}: {}", result.file, words::name(result))),
                format!("{old} → {new}"),
                percent,
                format!(
                    "from {}",
                    harmless(&words::causes(review, &result.causes, &result.file))
                ),
            ]
        })
        .collect();
    let widths = widths(rows.iter().map(Vec::as_slice));
    for cells in &rows {
        row(text, cells, &widths, None);
    }
    if let Some(rest) = words::rest(review, shown.len()) {
        let _ = writeln!(text, "  {DIM}{rest}: --all shows them{DIM:#}");
    }
    text.push('\n');
}

fn widths<'a>(rows: impl Iterator<Item = &'a [String]>) -> Vec<usize> {
    let mut widths: Vec<usize> = Vec::new();
    for row in rows {
        widths.resize(widths.len().max(row.len()), 0);
        for (cell, widest) in row.iter().zip(&mut widths) {
            *widest = (*widest).max(width(cell));
        }
    }
    widths
}

fn row(text: &mut String, cells: &[String], widths: &[usize], style: Option<(usize, Style)>) {
    let mut line = String::from(" ");
    for (at, (cell, widest)) in cells.iter().zip(widths).enumerate() {
        let space = " ".repeat(widest.saturating_sub(width(cell)));
        let cell = match style {
            Some((column, style)) if column == at => format!("{style}{cell}{style:#}"),
            _ => cell.clone(),
        };
        let _ = write!(line, " {cell}{space} ");
    }
    let _ = writeln!(text, "{}", line.trim_end());
}
