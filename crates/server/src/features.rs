//! Editor features in the protocol's shapes. Each takes a request's view and gives its answer.

use std::collections::HashMap;

use haunch_calc::FileId;
use haunch_ide::{CompletionKind, Extent, HintKind, Symbol, SymbolKind};
use tower_lsp::lsp_types::{self, DocumentSymbolResponse};
use tower_lsp::lsp_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CompletionItem,
    CompletionItemKind, CompletionTextEdit, DocumentSymbol, Hover, HoverContents, InlayHint,
    InlayHintKind, InlayHintLabel, Location, MarkupContent, MarkupKind, SymbolInformation,
    SymbolKind as LspSymbolKind, TextDocumentPositionParams, TextEdit, Url, WorkspaceEdit,
};

use crate::diagnostics::diagnostic;
use crate::greeting::Greeting;
use crate::world::View;

/// The hints of the lines that a range touches.
pub(crate) fn hints(
    view: &View,
    uri: &Url,
    range: lsp_types::Range,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<InlayHint>> {
    let file = view.file(uri)?;
    let last = (range.end.line as usize).saturating_add(1);
    let hints = haunch_ide::hints(&view.snapshot, file, range.start.line as usize..last, stop);
    let shown = hints.into_iter().map(|hint| InlayHint {
        position: view.position(file, hint.at),
        label: InlayHintLabel::String(hint.label),
        kind: match hint.kind {
            HintKind::Value => None,
            HintKind::Default => Some(InlayHintKind::PARAMETER),
        },
        text_edits: None,
        tooltip: None,
        padding_left: None,
        padding_right: None,
        data: None,
    });
    Some(shown.collect())
}

/// The working of what stands at a place.
pub(crate) fn hover(view: &View, at: &TextDocumentPositionParams) -> Option<Hover> {
    let file = view.file(&at.text_document.uri)?;
    let hover = haunch_ide::hover(&view.snapshot, file, view.position_in(file, at.position))?;
    Some(Hover {
        contents: HoverContents::Markup(MarkupContent {
            kind: MarkupKind::Markdown,
            value: hover.markdown,
        }),
        range: Some(view.range(file, hover.range)),
    })
}

/// Where the name at a place is defined.
pub(crate) fn definition(view: &View, at: &TextDocumentPositionParams) -> Option<Location> {
    let file = view.file(&at.text_document.uri)?;
    let target = haunch_ide::definition(&view.snapshot, file, view.position_in(file, at.position))?;
    Some(Location {
        uri: view.uri(target.file)?,
        range: view.range(target.file, target.range),
    })
}

/// What can be written at a place.
pub(crate) fn completions(
    view: &View,
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

/// The outline of a document: a tree where the client shows one.
pub(crate) fn symbols(
    view: &View,
    greeting: Greeting,
    uri: &Url,
) -> Option<DocumentSymbolResponse> {
    let file = view.file(uri)?;
    let symbols = haunch_ide::symbols(&view.snapshot, file);
    if greeting.nests_symbols {
        let nested = symbols.into_iter().map(|symbol| nested(view, file, symbol));
        return Some(DocumentSymbolResponse::Nested(nested.collect()));
    }
    let mut flat = Vec::new();
    for symbol in symbols {
        flat.push(listed(view, file, uri, &symbol, None));
        for child in &symbol.children {
            flat.push(listed(view, file, uri, child, Some(&symbol.name)));
        }
    }
    Some(DocumentSymbolResponse::Flat(flat))
}

fn nested(view: &View, file: FileId, symbol: Symbol) -> DocumentSymbol {
    let children: Vec<_> = symbol
        .children
        .into_iter()
        .map(|child| nested(view, file, child))
        .collect();
    #[allow(deprecated, reason = "the struct has the old field and no default")]
    DocumentSymbol {
        name: symbol.name,
        detail: (!symbol.detail.is_empty()).then_some(symbol.detail),
        kind: kind(symbol.kind),
        tags: None,
        deprecated: None,
        range: view.range(file, symbol.range),
        selection_range: view.range(file, symbol.name_range),
        children: (!children.is_empty()).then_some(children),
    }
}

fn listed(
    view: &View,
    file: FileId,
    uri: &Url,
    symbol: &Symbol,
    parent: Option<&str>,
) -> SymbolInformation {
    #[allow(deprecated, reason = "the struct has the old field and no default")]
    SymbolInformation {
        name: symbol.name.clone(),
        kind: kind(symbol.kind),
        tags: None,
        deprecated: None,
        location: Location {
            uri: uri.clone(),
            range: view.range(file, symbol.range),
        },
        container_name: parent.map(str::to_owned),
    }
}

fn kind(kind: SymbolKind) -> LspSymbolKind {
    match kind {
        SymbolKind::Block(_) => LspSymbolKind::STRUCT,
        SymbolKind::Value => LspSymbolKind::VARIABLE,
        SymbolKind::Formula => LspSymbolKind::FUNCTION,
        SymbolKind::Part | SymbolKind::Point | SymbolKind::Support | SymbolKind::Combination => {
            LspSymbolKind::FIELD
        }
        SymbolKind::File => LspSymbolKind::MODULE,
    }
}

/// The edits that lay out a document. An editor's wishes for tabs and their width have no place: the
/// notation has one layout.
pub(crate) fn format(view: &View, uri: &Url) -> Option<Vec<TextEdit>> {
    laid_out(view, uri, &Extent::File)
}

/// The same for the lines that a range touches.
pub(crate) fn format_range(
    view: &View,
    uri: &Url,
    range: lsp_types::Range,
) -> Option<Vec<TextEdit>> {
    let first = range.start.line as usize;
    // A range that ends before a line's first character does not touch that line.
    let last = match range.end.character {
        0 => (range.end.line as usize).max(first.saturating_add(1)),
        _ => (range.end.line as usize).saturating_add(1),
    };
    laid_out(view, uri, &Extent::Lines(first..last))
}

/// The same for the line that was left by a new line; the caret's own line stays.
pub(crate) fn format_line_above(
    view: &View,
    at: &TextDocumentPositionParams,
) -> Option<Vec<TextEdit>> {
    let extent = Extent::LineAbove(at.position.line as usize);
    laid_out(view, &at.text_document.uri, &extent)
}

fn laid_out(view: &View, uri: &Url, extent: &Extent) -> Option<Vec<TextEdit>> {
    let file = view.file(uri)?;
    let edits = haunch_ide::format(&view.snapshot, file, extent);
    let shown = edits.into_iter().map(|edit| TextEdit {
        range: view.range(file, edit.range),
        new_text: edit.text,
    });
    Some(shown.collect())
}

/// The repairs of what a range touches.
pub(crate) fn actions(
    view: &View,
    greeting: Greeting,
    params: &CodeActionParams,
) -> Option<Vec<CodeActionOrCommand>> {
    let wanted = params.context.only.as_ref();
    if wanted.is_some_and(|kinds| !kinds.iter().any(includes_quick_fix)) {
        return Some(Vec::new());
    }
    let file = view.file(&params.text_document.uri)?;
    let found = haunch_ide::actions(&view.snapshot, file, view.range_in(file, params.range));
    let action = |action: haunch_ide::Action| {
        let mut changes: HashMap<Url, Vec<TextEdit>> = HashMap::new();
        for (target, range, new_text) in action.edits {
            let range = view.range(target, range);
            changes
                .entry(view.uri(target)?)
                .or_default()
                .push(TextEdit { range, new_text });
        }
        Some(CodeActionOrCommand::CodeAction(CodeAction {
            title: action.title,
            kind: Some(CodeActionKind::QUICKFIX),
            diagnostics: diagnostic(view, greeting, file, &action.finding).map(|one| vec![one]),
            is_preferred: Some(action.preferred),
            edit: Some(WorkspaceEdit {
                changes: Some(changes),
                ..WorkspaceEdit::default()
            }),
            ..CodeAction::default()
        }))
    };
    Some(found.into_iter().filter_map(action).collect())
}

fn includes_quick_fix(kind: &CodeActionKind) -> bool {
    kind.as_str().is_empty() || *kind == CodeActionKind::QUICKFIX
}
