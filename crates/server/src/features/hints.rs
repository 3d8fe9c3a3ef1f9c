//! Live values beside the lines.

use haunch_ide::{Hint, HintKind};
use serde::{Deserialize, Serialize};
use tower_lsp::lsp_types::{
    self, InlayHint, InlayHintKind, InlayHintLabel, InlayHintLabelPart, InlayHintTooltip, Url,
};

use crate::features::reading::markup;
use crate::greeting::Greeting;
use crate::world::View;

/// What a hint keeps so that its tooltip can be found later.
#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    uri: Url,
    line: u32,
    /// Which of the hints at its position's line.
    index: usize,
}

/// Lines for which a client that does not ask again gets everything at once. It is more than a window shows; the
/// working behind every value of a long file would hold up the values.
const WINDOW: usize = 500;

/// Names that a tooltip lists.
const MOST_USED: usize = 12;

/// The hints of the lines that a range touches.
pub(crate) fn hints(
    view: &View,
    greeting: Greeting,
    uri: &Url,
    range: lsp_types::Range,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<InlayHint>> {
    let file = view.file(uri)?;
    let first = range.start.line as usize;
    let last = (range.end.line as usize).saturating_add(1);
    let end = last.min(view.snapshot.line_count(file));
    let is_window = end.saturating_sub(first) <= WINDOW;
    let options = view.settings.hints;
    let hints = haunch_ide::hints_with(&view.snapshot, file, first..last, options, stop);
    let mut shown: Vec<InlayHint> = Vec::with_capacity(hints.len());
    let mut index = 0;
    for hint in &hints {
        if stop() {
            break;
        }
        let position = view.position(file, hint.at);
        index = match shown.last() {
            Some(last) if last.position.line == position.line => index + 1,
            _ => 0,
        };
        let kept = Kept {
            uri: uri.clone(),
            line: hint.at.line,
            index,
        };
        let is_led = is_window && !greeting.resolves_places;
        let is_explained = is_window && !greeting.resolves_tooltips;
        shown.push(InlayHint {
            position,
            label: InlayHintLabel::LabelParts(parts(view, hint, is_led)),
            kind: match hint.kind {
                HintKind::Value | HintKind::Result => None,
                HintKind::Default => Some(InlayHintKind::PARAMETER),
            },
            text_edits: None,
            tooltip: is_explained.then(|| tooltip(view, hint)).flatten(),
            padding_left: None,
            padding_right: None,
            data: (greeting.resolves_places || greeting.resolves_tooltips)
                .then(|| serde_json::to_value(kept).ok())
                .flatten(),
        });
    }
    Some(shown)
}

/// Adds the working, and the places that the parts of the label lead to. A hint that is no longer there
/// stays as it is.
pub(crate) fn resolve(view: &View, mut shown: InlayHint) -> InlayHint {
    let kept = shown
        .data
        .clone()
        .and_then(|data| serde_json::from_value::<Kept>(data).ok());
    let found = kept.and_then(|kept| {
        let file = view.file(&kept.uri)?;
        let lines = kept.line as usize..(kept.line as usize).saturating_add(1);
        let options = view.settings.hints;
        let hints = haunch_ide::hints_with(&view.snapshot, file, lines, options, &|| false);
        let mut here = hints.into_iter().filter(|hint| hint.at.line == kept.line);
        here.nth(kept.index)
    });
    if let Some(hint) = found
        && words(&shown.label) == hint.label
    {
        shown.tooltip = tooltip(view, &hint);
        shown.label = InlayHintLabel::LabelParts(parts(view, &hint, true));
    }
    shown
}

fn words(label: &InlayHintLabel) -> String {
    match label {
        InlayHintLabel::String(words) => words.clone(),
        InlayHintLabel::LabelParts(parts) => parts.iter().map(|part| part.value.as_str()).collect(),
    }
}

fn tooltip(view: &View, hint: &Hint) -> Option<InlayHintTooltip> {
    let mut words = haunch_ide::hint_tooltip(&view.snapshot, hint)?;
    if let Some(used) = used(view, hint) {
        words += &format!("\n\n{used}");
    }
    Some(InlayHintTooltip::MarkupContent(markup(words, true)))
}

/// The names that the hint's line uses, each with its value and a link to where it is given, in Markdown: a
/// part of the label leads to one place only.
fn used(view: &View, hint: &Hint) -> Option<String> {
    let used = haunch_ide::used_names(&view.snapshot, hint.line);
    let mut lines: Vec<String> = used
        .iter()
        .take(MOST_USED)
        .filter_map(|used| {
            let location = view.location(used.place)?;
            // Parentheses would end the link.
            let address = location
                .uri
                .as_str()
                .replace('(', "%28")
                .replace(')', "%29");
            let value = used.value.as_ref().map(|value| format!(" `= {value}`"));
            Some(format!(
                "- [`{}`]({address}#L{}){}",
                used.name,
                location.range.start.line + 1,
                value.unwrap_or_default()
            ))
        })
        .collect();
    if used.len() > MOST_USED {
        lines.push(format!("- and {} more", used.len() - MOST_USED));
    }
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// The label in its parts; each leads to a place if `is_led` and there is one.
fn parts(view: &View, hint: &Hint, is_led: bool) -> Vec<InlayHintLabelPart> {
    let mut parts = Vec::new();
    let mut push = |text: &str, place: Option<haunch_calc::Place>| {
        if !text.is_empty() {
            parts.push(InlayHintLabelPart {
                value: text.to_owned(),
                location: place.and_then(|place| view.location(place)),
                ..InlayHintLabelPart::default()
            });
        }
    };
    let label = hint.label.as_str();
    let mut end = 0;
    for (stretch, heading) in &hint.sources {
        // The space that sets a hint off is no part of its own: editors that draw part by part would put other
        // hints of the place in between.
        let before = label.get(end..stretch.start).unwrap_or("");
        let start = match before.trim_start() {
            "" => end,
            _ => stretch.start,
        };
        push(label.get(end..start).unwrap_or(""), None);
        let place = haunch_calc::Place {
            line: *heading,
            span: view.snapshot.name_span(*heading),
        };
        let place = Some(place).filter(|_| is_led);
        push(label.get(start..stretch.end).unwrap_or(""), place);
        end = stretch.end;
    }
    let source = match hint.kind {
        HintKind::Value if is_led => haunch_ide::hint_source(&view.snapshot, hint),
        _ => None,
    };
    push(label.get(end..).unwrap_or(""), source);
    parts
}
