//! What can be written at a place.

use haunch_ide::CompletionKind;
use tower_lsp::lsp_types::{
    CompletionItem, CompletionItemKind, CompletionTextEdit, TextDocumentPositionParams, TextEdit,
};

use crate::greeting::Greeting;
use crate::world::View;

/// What can be written at a place.
pub(crate) fn completions(
    view: &View,
    _greeting: Greeting,
    at: &TextDocumentPositionParams,
) -> Option<Vec<CompletionItem>> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let found = haunch_ide::completions(&view.snapshot, file, position);
    let item = |completion: haunch_ide::Completion| CompletionItem {
        label: completion.text.trim_end().to_owned(),
        kind: Some(match completion.kind {
            CompletionKind::Value => CompletionItemKind::VARIABLE,
            CompletionKind::Block => CompletionItemKind::STRUCT,
            CompletionKind::Member => CompletionItemKind::FIELD,
            CompletionKind::Field => CompletionItemKind::PROPERTY,
            CompletionKind::Function => CompletionItemKind::FUNCTION,
            CompletionKind::Unit => CompletionItemKind::UNIT,
            CompletionKind::Keyword => CompletionItemKind::KEYWORD,
        }),
        detail: (!completion.detail.is_empty()).then_some(completion.detail),
        text_edit: Some(CompletionTextEdit::Edit(TextEdit {
            range: view.range(file, completion.replaces),
            new_text: completion.text,
        })),
        ..CompletionItem::default()
    };
    Some(found.into_iter().map(item).collect())
}

/// Adds the description.
pub(crate) fn resolve(_view: &View, item: CompletionItem) -> CompletionItem {
    item
}
