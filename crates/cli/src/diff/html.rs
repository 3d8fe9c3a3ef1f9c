//! A review as a page of its own, without anything from elsewhere.

use std::fmt::Write;

use haunch_review::{CheckChange, Review, Verdict};

use super::{View, words};
use crate::CAUTION;

const STYLE: &str = "body{font:15px/1.5 system-ui,sans-serif;max-width:70rem;margin:2rem auto;padding:0 1rem;color:#1b1b1b;background:#fff}\
h2{font-size:1.1rem;margin:1.6rem 0 .4rem}table{border-collapse:collapse;width:100%}td,th{text-align:left;vertical-align:top;padding:.25rem .6rem .25rem 0;border-top:1px solid #ddd}\
td.n{text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}code{font:13px ui-monospace,monospace}.bad{color:#a01010;font-weight:600}.near{color:#7a5200;font-weight:600}\
small{color:#555}.sections{display:flex;flex-wrap:wrap;gap:1.5rem}figure{margin:0}figcaption{font-size:13px}@media(prefers-color-scheme:dark){body{background:#161616;color:#e6e6e6}td,th{border-color:#3a3a3a}.bad{color:#ff8a80}.near{color:#ffc966}small{color:#aaa}}";

/// The whole page.
pub(super) fn render(review: &Review, view: &View, drawings: &[String]) -> String {
    let mut text = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width\">\
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
        "<h2>{title}</h2>\n<table><tr><th>check</th><th>before</th><th>after</th><th></th><th>compared</th><th>because of</th></tr>\n"
    );
    for check in rows {
        let class = match check.verdict {
            Verdict::NearItsBound => "near",
            verdict if verdict < Verdict::NearItsBound => "bad",
            _ => "",
        };
        let _ = writeln!(
            text,
            "<tr><td>{}<br><code>{}</code></td><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"{class}\">{}</td><td>{}</td><td>{}</td></tr>",
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
            "<tr><td>{} {}</td><td>{}{}, {}</td><td>{}</td><td>{}</td></tr>",
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
    text.push_str("<h2>What followed</h2>\n<table><tr><th>result</th><th>before</th><th>after</th><th>change</th><th>from</th></tr>\n");
    // Those that a line uses first, then what follows along.
    for is_used in [true, false] {
        for result in review
            .results
            .iter()
            .filter(|result| result.used == is_used)
        {
            let (old, new, percent) = words::values(result);
            let _ = writeln!(
                text,
                "<tr><td>{} <code>{}</code></td><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td>{}</td></tr>",
                escaped(&result.file),
                escaped(&words::name(result)),
                escaped(&old),
                escaped(&new),
                escaped(&percent),
                escaped(&words::causes(review, &result.causes, &result.file)),
            );
        }
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
