//! Where a name stands, and giving it another.

use haunch_ide::Reference;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::lsp_types::{
    DocumentHighlight, DocumentHighlightKind, LinkedEditingRanges, Location, PrepareRenameResponse,
    ReferenceParams, RenameFilesParams, RenameParams, TextDocumentPositionParams, Url,
    WorkspaceEdit,
};

use crate::address::path_of;
use crate::features::edits::workspace_edit;
use crate::greeting::Greeting;
use crate::world::View;

/// Every place where the name at a place stands.
pub(crate) fn references(view: &View, params: &ReferenceParams) -> Option<Vec<Location>> {
    let at = &params.text_document_position;
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let found = haunch_ide::references(&view.snapshot, file, position);
    let wanted =
        |reference: &Reference| params.context.include_declaration || !reference.is_definition;
    let found = found.into_iter().filter(wanted);
    let locations = found.filter_map(|reference| {
        Some(Location {
            uri: view.uri(reference.file)?,
            range: view.range(reference.file, reference.range),
        })
    });
    Some(locations.collect())
}

/// The places of the document where the name at a place stands.
pub(crate) fn highlights(
    view: &View,
    at: &TextDocumentPositionParams,
) -> Option<Vec<DocumentHighlight>> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let found = haunch_ide::highlights(&view.snapshot, file, position);
    let shown = found.into_iter().map(|reference| DocumentHighlight {
        range: view.range(file, reference.range),
        kind: Some(match reference.is_definition {
            true => DocumentHighlightKind::WRITE,
            false => DocumentHighlightKind::READ,
        }),
    });
    Some(shown.collect())
}

/// The places that are edited together.
pub(crate) fn linked(view: &View, at: &TextDocumentPositionParams) -> Option<LinkedEditingRanges> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let found = haunch_ide::linked(&view.snapshot, file, position);
    let ranges: Vec<_> = found
        .into_iter()
        .map(|range| view.range(file, range))
        .collect();
    (!ranges.is_empty()).then_some(LinkedEditingRanges {
        ranges,
        word_pattern: None,
    })
}

/// The name at a place that can be given another. The error is why it cannot.
pub(crate) fn prepare_rename(
    view: &View,
    at: &TextDocumentPositionParams,
) -> Result<Option<PrepareRenameResponse>> {
    let Some(file) = view.file(&at.text_document.uri) else {
        return Ok(None);
    };
    let position = view.position_in(file, at.position);
    let found = haunch_ide::prepare_rename(&view.snapshot, file, position);
    let (range, placeholder) = found.map_err(refused)?;
    Ok(Some(PrepareRenameResponse::RangeWithPlaceholder {
        range: view.range(file, range),
        placeholder,
    }))
}

/// The edits that give a name another. The error is why it cannot be given.
pub(crate) fn rename(
    view: &View,
    greeting: Greeting,
    params: &RenameParams,
) -> Result<Option<WorkspaceEdit>> {
    let at = &params.text_document_position;
    let Some(file) = view.file(&at.text_document.uri) else {
        return Ok(None);
    };
    let position = view.position_in(file, at.position);
    let edits = haunch_ide::rename(&view.snapshot, file, position, &params.new_name);
    Ok(workspace_edit(view, greeting, edits.map_err(refused)?))
}

/// The edits of `use` lines for files that will get another address.
pub(crate) fn moved_files(
    view: &View,
    greeting: Greeting,
    params: &RenameFilesParams,
) -> Option<WorkspaceEdit> {
    let path = |address: &str| Url::parse(address).ok().map(|uri| path_of(&uri));
    let moves: Vec<(String, String)> = params
        .files
        .iter()
        .filter_map(|moved| Some((path(&moved.old_uri)?, path(&moved.new_uri)?)))
        .collect();
    let edits = haunch_ide::moved_files(&view.snapshot, &moves);
    workspace_edit(view, greeting, edits)
}

fn refused(reason: String) -> Error {
    let mut error = Error::invalid_params(reason);
    error.data = None;
    error
}
