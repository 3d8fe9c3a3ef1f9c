//! A review as Markdown for a comment on a pull request: the checks in a table, all else folded.

use std::fmt::Write;

use haunch_review::{CheckChange, Review, Verdict};

use super::{View, words};
use crate::CAUTION;

/// Rows of a table before the rest is only counted: a comment may hold about 65,000 characters.
const MOST_ROWS: usize = 100;

/// The whole review.
pub(super) fn render(review: &Review, view: &View) -> String {
    let mut text = format!(
        "### Calculations: {}\n\n",
        cell(&words::counts(review, view.unrecorded.len()))
    );
    let removed = review
        .checks
        .iter()
        .filter(|c| c.verdict == Verdict::Removed);
    let mut lost: Vec<String> = removed
        .map(|check| {
            let because = words::causes(review, &check.causes, &check.file);
            format!(
                "**REMOVED** {} in {}, {}; because of {because}",
                code(&words::check_name(check)),
                code(&check.file),
                cell(&words::compared(check))
            )
        })
        .collect();
    lost.extend(review.concerns.iter().map(|concern| {
        let lines = [("was", &concern.old), ("is", &concern.new)];
        let lines: Vec<String> = lines
            .iter()
            .filter_map(|(label, line)| Some(format!("{label} {}", code(line.as_ref()?))))
            .collect();
        format!(
            "{} line {}: **{}**; {}",
            code(&concern.file),
            concern.line,
            cell(&concern.words),
            lines.join(", ")
        )
    }));
    list(&mut text, "Checks removed or loosened", &lost);
    let checks: Vec<&CheckChange> = review
        .checks
        .iter()
        .filter(|check| {
            !matches!(
                check.verdict,
                Verdict::Removed | Verdict::Holds | Verdict::New
            )
        })
        .collect();
    check_table(&mut text, review, &checks);
    let escaped =
        |lines: &[String]| -> Vec<String> { lines.iter().map(|line| cell(line)).collect() };
    list(
        &mut text,
        "Recorded checks that do not cover these results",
        &escaped(&review.recorded_checks),
    );
    list(
        &mut text,
        "Results that are not those on record, though no line changed",
        &escaped(&view.unrecorded),
    );
    changes(&mut text, review);
    results(&mut text, review, view.all);
    let rest: Vec<&CheckChange> = review
        .checks
        .iter()
        .filter(|check| matches!(check.verdict, Verdict::Holds | Verdict::New))
        .collect();
    if !rest.is_empty() {
        open(&mut text, &format!("Checks that hold: {}", rest.len()));
        check_table(&mut text, review, &rest);
        text.push_str("</details>\n\n");
    }
    let balances = escaped(&words::balances(review));
    if !balances.is_empty() {
        open(
            &mut text,
            &format!("{}: {}", words::BALANCES, balances.len()),
        );
        list(&mut text, "", &balances);
        text.push_str("</details>\n\n");
    }
    let findings: Vec<String> = review
        .findings
        .iter()
        .map(|finding| {
            let came = if finding.came { "new" } else { "gone" };
            let place = format!("{} line {}", code(&finding.file), finding.line);
            format!(
                "{came}: {place}, {}: {}",
                finding.code,
                cell(&finding.message)
            )
        })
        .collect();
    if !findings.is_empty() {
        open(
            &mut text,
            &format!("Findings that came or went: {}", findings.len()),
        );
        list(&mut text, "", &findings);
        text.push_str("</details>\n\n");
    }
    let _ = writeln!(
        text,
        "<sub>from {} to {}. {CAUTION}</sub>",
        cell(&view.old),
        cell(&view.new)
    );
    text
}

fn open(text: &mut String, summary: &str) {
    let _ = write!(text, "<details><summary>{summary}</summary>\n\n");
}

fn list(text: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    if !title.is_empty() {
        let _ = write!(text, "**{title}**\n\n");
    }
    for line in lines.iter().take(MOST_ROWS) {
        let _ = writeln!(text, "- {line}");
    }
    more(text, lines.len());
    text.push('\n');
}

fn more(text: &mut String, count: usize) {
    if count > MOST_ROWS {
        let _ = write!(text, "\nand {} more\n", count - MOST_ROWS);
    }
}

fn check_table(text: &mut String, review: &Review, checks: &[&CheckChange]) {
    if checks.is_empty() {
        return;
    }
    text.push_str(
        "| check | before | after | | compared | because of |\n|---|---:|---:|---|---|---|\n",
    );
    for check in checks.iter().take(MOST_ROWS) {
        let verdict = words::verdict(check.verdict);
        let verdict = match check.verdict {
            Verdict::Holds | Verdict::New | Verdict::NowHolds => verdict.to_owned(),
            _ => format!("**{verdict}**"),
        };
        let _ = writeln!(
            text,
            "| {} {} | {} | {} | {verdict} | {} | {} |",
            code(&check.file),
            code(&words::check_name(check)),
            cell(&words::used(check, check.old.as_ref())),
            cell(&words::used(check, check.new.as_ref())),
            cell(&words::compared(check)),
            cell(&words::causes(review, &check.causes, &check.file)),
        );
    }
    more(text, checks.len());
    text.push('\n');
}

fn changes(text: &mut String, review: &Review) {
    if review.changes.is_empty() && review.files.is_empty() {
        return;
    }
    let told = words::told_by_line(review);
    let count = told.len();
    open(
        text,
        &format!(
            "Changed by hand: {count} {}",
            if count == 1 { "line" } else { "lines" }
        ),
    );
    for file in words::files(review) {
        let _ = writeln!(text, "- {}", cell(&file));
    }
    if count > 0 {
        text.push_str("\n| line | about | was | is |\n|---|---|---|---|\n");
    }
    for change in told.iter().take(MOST_ROWS) {
        let Some(place) = change.new.as_ref().or(change.old.as_ref()) else {
            continue;
        };
        let written = |line: &Option<haunch_review::Written>| {
            line.as_ref().map_or(String::new(), |line| code(&line.text))
        };
        let block = change
            .block
            .as_ref()
            .map_or(String::new(), |block| format!(" of {}", code(block)));
        let _ = writeln!(
            text,
            "| {} {} | {}{block}, {} | {} | {} |",
            code(&place.file),
            place.line,
            change.subject.word(),
            words::action(change.action),
            written(&change.old),
            written(&change.new),
        );
    }
    more(text, count);
    text.push_str("\n</details>\n\n");
}

fn results(text: &mut String, review: &Review, all: bool) {
    let shown = words::told(review, all);
    if review.result_count() == 0 {
        return;
    }
    open(
        text,
        &format!("What followed: {} results", review.result_count()),
    );
    text.push_str("| result | before | after | change | from |\n|---|---:|---:|---:|---|\n");
    for result in shown.iter().take(MOST_ROWS) {
        let (old, new, percent) = words::values(result);
        let _ = writeln!(
            text,
            "| {} {} | {} | {} | {} | {} |",
            code(&result.file),
            code(&words::name(result)),
            cell(&old),
            cell(&new),
            cell(&percent),
            cell(&words::causes(review, &result.causes, &result.file)),
        );
    }
    more(text, shown.len());
    if let Some(rest) = words::rest(review, shown.len()) {
        let _ = write!(text, "\n{rest}\n");
    }
    text.push_str("\n</details>\n\n");
}

/// Words in a cell of a table: nothing in them is taken for Markdown or HTML.
fn cell(words: &str) -> String {
    let mut text = String::new();
    for c in words.chars() {
        match c {
            '\n' | '\r' => text.push(' '),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '&' => text.push_str("&amp;"),
            '|' | '*' | '_' | '`' | '[' | ']' | '\\' | '#' | '@' | '~' => {
                text.push('\\');
                text.push(c);
            }
            _ => text.push(c),
        }
    }
    text
}

/// What stands in a file, as code.
fn code(words: &str) -> String {
    let words = words.replace(['\n', '\r'], " ").replace('|', "\\|");
    match words.contains('`') {
        true => format!("`` {words} ``"),
        false => format!("`{words}`"),
    }
}
