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

/// The hints of the lines that a range touches.
pub(crate) fn hints(
    view: &View,
    greeting: Greeting,
    uri: &Url,
    range: lsp_types::Range,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<InlayHint>> {
    let file = view.file(uri)?;
    let last = (range.end.line as usize).saturating_add(1);
    let lines = range.start.line as usize..last;
    let options = view.settings.hints;
    let hints = haunch_ide::hints_with(&view.snapshot, file, lines, options, stop);
    let mut shown: Vec<InlayHint> = Vec::with_capacity(hints.len());
    let mut index = 0;
    for hint in &hints {
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
        shown.push(InlayHint {
            position,
            label: InlayHintLabel::String(hint.label.clone()),
            kind: match hint.kind {
                HintKind::Value | HintKind::Result => None,
                HintKind::Default => Some(InlayHintKind::PARAMETER),
            },
            text_edits: None,
            tooltip: None,
            padding_left: None,
            padding_right: None,
            data: greeting
                .resolves_hints
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
    let Some(hint) = found else {
        return shown;
    };
    let is_same = matches!(&shown.label, InlayHintLabel::String(label) if *label == hint.label);
    if is_same {
        shown.tooltip = haunch_ide::hint_tooltip(&view.snapshot, &hint)
            .map(|text| InlayHintTooltip::MarkupContent(markup(text, true)));
        shown.label = InlayHintLabel::LabelParts(parts(view, &hint));
    }
    shown
}

fn parts(view: &View, hint: &Hint) -> Vec<InlayHintLabelPart> {
    let mut parts = Vec::new();
    let mut push = |text: &str, location| {
        if !text.is_empty() {
            parts.push(InlayHintLabelPart {
                value: text.to_owned(),
                location,
                ..InlayHintLabelPart::default()
            });
        }
    };
    let label = hint.label.as_str();
    let mut end = 0;
    for (stretch, heading) in &hint.sources {
        push(label.get(end..stretch.start).unwrap_or(""), None);
        let place = haunch_calc::Place {
            line: *heading,
            span: view.snapshot.name_span(*heading),
        };
        push(
            label.get(stretch.clone()).unwrap_or(""),
            view.location(place),
        );
        end = stretch.end;
    }
    let source = match hint.kind {
        HintKind::Value => haunch_ide::hint_source(&view.snapshot, hint),
        HintKind::Result | HintKind::Default => None,
    };
    push(
        label.get(end..).unwrap_or(""),
        source.and_then(|place| view.location(place)),
    );
    parts
}
