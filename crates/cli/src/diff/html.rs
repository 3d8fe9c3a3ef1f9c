//! A review as a page of its own, without anything from elsewhere.

use std::fmt::Write;

use haunch_review::{CheckChange, ResultChange, Review, Verdict};

use super::{View, words};
use crate::CAUTION;

/// Plain, for wide and narrow windows, light and dark, and for paper.
const STYLE: &str = include_str!("page.css");

/// The whole page.
pub(super) fn render(review: &Review, view: &View, drawings: &[String]) -> String {
    let mut text = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <title>Changes from {0} to {1}</title><style>{STYLE}</style></head><body>\n\
         <h1>Changes from {0} to {1}</h1>\n<p>{2}</p>\n",
        escaped(&view.old),
        escaped(&view.new),
        escaped(&words::counts(review, view.unrecorded.len())),
    );
    let mut lost: Vec<String> = review
        .checks
        .iter()
        .filter(|check| check.verdict == Verdict::Removed)
        .map(|check| {
            format!(
                "<span class=\"bad\">REMOVED</span> <code>{}</code> in {}, {}; because of {}",
                escaped(&words::check_name(check)),
                escaped(&check.file),
                escaped(&words::compared(check)),
                escaped(&words::causes(review, &check.causes, &check.file)),
            )
        })
        .collect();
    lost.extend(review.concerns.iter().map(|concern| {
        let line = |label: &str, line: &Option<String>| {
            line.as_ref().map_or(String::new(), |line| {
                format!("<br>{label} <code>{}</code>", escaped(line))
            })
        };
        format!(
            "{} line {}: <span class=\"bad\">{}</span>{}{}",
            escaped(&concern.file),
            concern.line,
            escaped(&concern.words),
            line("was", &concern.old),
            line("is", &concern.new),
        )
    }));
    list(&mut text, "Checks removed or loosened", &lost);
    let is_bad =
        |c: &&CheckChange| c.verdict > Verdict::Removed && c.verdict <= Verdict::NearItsBound;
    let is_good = |c: &&CheckChange| c.verdict > Verdict::NearItsBound;
    checks(
        &mut text,
        review,
        "Checks that do not hold, or came near their bound",
        is_bad,
    );
    let plain =
        |lines: &[String]| -> Vec<String> { lines.iter().map(|line| escaped(line)).collect() };
    list(
        &mut text,
        "Recorded checks that do not cover these results",
        &plain(&review.recorded_checks),
    );
    list(
        &mut text,
        "Results that are not those on record, though no line changed",
        &plain(&view.unrecorded),
    );
    changes(&mut text, review);
    if !drawings.is_empty() {
        text.push_str("<h2>Sections, before in dashes and after in full lines</h2>\n<div class=\"sections\">\n");
        text.push_str(&drawings.join("\n"));
        text.push_str("\n</div>\n");
    }
    results(&mut text, review);
    checks(&mut text, review, "Checks that hold", is_good);
    list(&mut text, words::BALANCES, &plain(&words::balances(review)));
    list(&mut text, "Findings", &plain(&words::findings(review)));
    let _ = write!(text, "<p><small>{CAUTION}</small></p>\n</body></html>\n");
    text
}

fn list(text: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    let _ = write!(text, "<h2>{title}</h2>\n<ul>\n");
    for line in lines {
        let _ = writeln!(text, "<li>{line}</li>");
    }
    text.push_str("</ul>\n");
}

fn checks(
    text: &mut String,
    review: &Review,
    title: &str,
    is_wanted: impl Fn(&&CheckChange) -> bool,
) {
    let rows: Vec<&CheckChange> = review.checks.iter().filter(is_wanted).collect();
    if rows.is_empty() {
        return;
    }
    let _ = write!(
        text,
        "<h2>{title}</h2>\n<table><tr><th>check</th><th class=\"n\">before</th><th class=\"n\">after</th><th></th><th>compared</th><th>because of</th></tr>\n"
    );
    for check in rows {
        let class = match check.verdict {
            Verdict::NearItsBound => "near",
            verdict if verdict < Verdict::NearItsBound => "bad",
            _ => "",
        };
        let _ = writeln!(
            text,
            "<tr><td><span class=\"file\">{}</span><br><code>{}</code></td><td class=\"n\" data-is=\"before\">{}</td><td class=\"n\" data-is=\"after\">{}</td><td class=\"{class}\">{}</td><td>{}</td><td data-is=\"because of\">{}</td></tr>",
            escaped(&check.file),
            escaped(&words::check_name(check)),
            escaped(&words::used(check, check.old.as_ref())),
            escaped(&words::used(check, check.new.as_ref())),
            words::verdict(check.verdict),
            escaped(&words::compared(check)),
            escaped(&words::causes(review, &check.causes, &check.file)),
        );
    }
    text.push_str("</table>\n");
}

fn changes(text: &mut String, review: &Review) {
    let files: Vec<String> = words::files(review)
        .iter()
        .map(|file| escaped(file))
        .collect();
    list(text, "Files", &files);
    let told = words::told_by_line(review);
    if told.is_empty() {
        return;
    }
    text.push_str("<h2>Changed by hand</h2>\n<table><tr><th>line</th><th>about</th><th>was</th><th>is</th></tr>\n");
    for change in told {
        let Some(place) = change.new.as_ref().or(change.old.as_ref()) else {
            continue;
        };
        let written = |line: &Option<haunch_review::Written>| {
            line.as_ref().map_or(String::new(), |line| {
                format!("<code>{}</code>", escaped(&line.text))
            })
        };
        let block = change
            .block
            .as_ref()
            .map_or(String::new(), |block| format!(" of {block}"));
        let _ = writeln!(
            text,
            "<tr><td><span class=\"file\">{}</span> line&nbsp;{}</td><td>{}{}, {}</td><td data-is=\"was\">{}</td><td data-is=\"is\">{}</td></tr>",
            escaped(&place.file),
            place.line,
            change.subject.word(),
            escaped(&block),
            words::action(change.action),
            written(&change.old),
            written(&change.new),
        );
    }
    text.push_str("</table>\n");
}

fn results(text: &mut String, review: &Review) {
    if review.results.is_empty() {
        return;
    }
    text.push_str("<h2>What followed</h2>\n");
    let (used, along): (Vec<_>, Vec<_>) = review.results.iter().partition(|result| result.used);
    result_table(text, review, &used);
    if !along.is_empty() {
        let _ = writeln!(
            text,
            "<details><summary>{} that no line uses</summary>",
            along.len()
        );
        result_table(text, review, &along);
        text.push_str("</details>\n");
    }
}

fn result_table(text: &mut String, review: &Review, results: &[&ResultChange]) {
    if results.is_empty() {
        return;
    }
    text.push_str("<table><tr><th>result</th><th class=\"n\">before</th><th class=\"n\">after</th><th class=\"n\">change</th><th>from</th></tr>\n");
    for result in results {
        let (old, new, percent) = words::values(result);
        let _ = writeln!(
            text,
            "<tr><td><span class=\"file\">{}</span> <code>{}</code></td><td class=\"n\" data-is=\"before\">{}</td><td class=\"n\" data-is=\"after\">{}</td><td class=\"n\" data-is=\"change\">{}</td><td data-is=\"from\">{}</td></tr>",
            escaped(&result.file),
            escaped(&words::name(result)),
            escaped(&old),
            escaped(&new),
            escaped(&percent),
            escaped(&words::causes(review, &result.causes, &result.file)),
        );
    }
    text.push_str("</table>\n");
}

/// Words in a page.
pub(super) fn escaped(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
