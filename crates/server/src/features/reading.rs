//! What a name stands for: hover, where it is defined, how it is called.

use haunch_ide::Target;
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};
use tower_lsp::lsp_types::Documentation;
use tower_lsp::lsp_types::{
    Hover, HoverContents, Location, MarkupContent, MarkupKind, ParameterInformation,
    ParameterLabel, SignatureHelp, SignatureInformation, TextDocumentPositionParams,
};

use crate::greeting::Greeting;
use crate::world::View;

/// Markdown, or the same words without its signs for clients that do not show it.
pub(crate) fn markup(markdown: String, is_shown: bool) -> MarkupContent {
    match is_shown {
        true => MarkupContent {
            kind: MarkupKind::Markdown,
            value: markdown,
        },
        false => MarkupContent {
            kind: MarkupKind::PlainText,
            value: plain(&markdown),
        },
    }
}

/// The words of our own Markdown: fences, code marks and escapes left out; tables stay as they are.
pub(crate) fn plain(markdown: &str) -> String {
    let mut text = String::new();
    let mut in_code = false;
    for line in markdown.lines() {
        if line.starts_with("```") {
            in_code = !in_code;
            continue;
        }
        match in_code {
            true => text += line,
            false => text.extend(line.chars().filter(|sign| !matches!(sign, '`' | '\\'))),
        }
        text.push('\n');
    }
    text.trim_end().to_owned()
}

/// The working of what stands at a place.
pub(crate) fn hover(
    view: &View,
    greeting: Greeting,
    at: &TextDocumentPositionParams,
) -> Option<Hover> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let mut hover = haunch_ide::hover(&view.snapshot, file, position)?;
    if greeting.shows_drawings
        && let Some(drawing) = haunch_ide::drawing(&view.snapshot, file, position)
    {
        let address = utf8_percent_encode(&drawing, NON_ALPHANUMERIC);
        let picture = format!("\n\n![The section drawn](data:image/svg+xml,{address})");
        // Under the line itself: below tables nobody would see it without looking for it.
        let under = hover.markdown.find("\n\n").unwrap_or(hover.markdown.len());
        hover.markdown.insert_str(under, &picture);
    }
    Some(Hover {
        contents: HoverContents::Markup(markup(hover.markdown, greeting.hovers_markdown)),
        range: Some(view.range(file, hover.range)),
    })
}

/// Where the name at a place is defined.
pub(crate) fn definition(view: &View, at: &TextDocumentPositionParams) -> Option<Location> {
    let file = view.file(&at.text_document.uri)?;
    let target = haunch_ide::definition(&view.snapshot, file, view.position_in(file, at.position))?;
    location(view, target)
}

/// Where the dimension of the name at a place is declared.
pub(crate) fn type_definition(view: &View, at: &TextDocumentPositionParams) -> Option<Location> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let target = haunch_ide::type_definition(&view.snapshot, file, position)?;
    location(view, target)
}

fn location(view: &View, target: Target) -> Option<Location> {
    Some(Location {
        uri: view.uri(target.file)?,
        range: view.range(target.file, target.range),
    })
}

/// How the call round a place is written.
pub(crate) fn signature(
    view: &View,
    greeting: Greeting,
    at: &TextDocumentPositionParams,
) -> Option<SignatureHelp> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let signature = haunch_ide::signature(&view.snapshot, file, position)?;
    let label = signature.label;
    let units = |end: u32| {
        let before = label.get(..end as usize).unwrap_or(&label);
        before.encode_utf16().count() as u32
    };
    let arguments = signature.arguments.iter().map(|span| ParameterInformation {
        label: match greeting.takes_label_offsets {
            // The protocol counts these in utf-16, whatever was agreed for positions.
            true => ParameterLabel::LabelOffsets([units(span.start), units(span.end)]),
            false => ParameterLabel::Simple(span.text(&label).to_owned()),
        },
        documentation: None,
    });
    let arguments: Vec<_> = arguments.collect();
    let last = arguments.len().saturating_sub(1) as u32;
    let active = signature.active.min(last);
    Some(SignatureHelp {
        signatures: vec![SignatureInformation {
            label,
            documentation: (!signature.meaning.is_empty())
                .then_some(Documentation::String(signature.meaning)),
            parameters: Some(arguments),
            active_parameter: None,
        }],
        active_signature: Some(0),
        active_parameter: Some(active),
    })
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn markdown_without_its_signs() {
        let markdown = "```haunch\nb = `a`\n```\n\n`kN`: a force\n\n5 \\* 3\n";
        assert_eq!(plain(markdown), "b = `a`\n\nkN: a force\n\n5 * 3");
    }
}
