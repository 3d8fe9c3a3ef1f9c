//! Laying out a document. An editor's wishes for tabs and their width have no place: the notation has one
//! layout.

use haunch_ide::Extent;
use tower_lsp::lsp_types::{self, TextDocumentPositionParams, TextEdit, Url};

use crate::world::View;

/// The edits that lay out a document.
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
