//! What a name stands for: hover, where it is defined, how it is called.

use haunch_ide::Target;
use tower_lsp::lsp_types::Documentation;
use tower_lsp::lsp_types::{
    Hover, HoverContents, Location, MarkupContent, MarkupKind, ParameterInformation,
    ParameterLabel, SignatureHelp, SignatureInformation, TextDocumentPositionParams,
};

use crate::greeting::Greeting;
use crate::world::View;

/// Markdown.
pub(crate) fn markup(value: String) -> MarkupContent {
    MarkupContent {
        kind: MarkupKind::Markdown,
        value,
    }
}

/// The working of what stands at a place.
pub(crate) fn hover(view: &View, at: &TextDocumentPositionParams) -> Option<Hover> {
    let file = view.file(&at.text_document.uri)?;
    let hover = haunch_ide::hover(&view.snapshot, file, view.position_in(file, at.position))?;
    Some(Hover {
        contents: HoverContents::Markup(markup(hover.markdown)),
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
