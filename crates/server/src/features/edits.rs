//! Edits of several files as the client takes them.

use std::collections::HashMap;

use haunch_ide::FileEdit;
use tower_lsp::lsp_types::{
    DocumentChanges, OneOf, OptionalVersionedTextDocumentIdentifier, TextDocumentEdit, TextEdit,
    Url, WorkspaceEdit,
};

use crate::greeting::Greeting;
use crate::world::View;

/// The edits, with the versions of the documents that they count in where the client can take those.
pub(crate) fn workspace_edit(
    view: &View,
    greeting: Greeting,
    edits: Vec<FileEdit>,
) -> Option<WorkspaceEdit> {
    let mut changes: Vec<(haunch_calc::FileId, Vec<TextEdit>)> = Vec::new();
    for (file, range, new_text) in edits {
        let range = view.range(file, range);
        let edit = TextEdit { range, new_text };
        match changes.iter_mut().find(|(known, _)| *known == file) {
            Some((_, edits)) => edits.push(edit),
            None => changes.push((file, vec![edit])),
        }
    }
    if greeting.versions_edits {
        let documents = changes.into_iter().map(|(file, edits)| {
            let title = view.titles.get(view.snapshot.path(file));
            Some(TextDocumentEdit {
                text_document: OptionalVersionedTextDocumentIdentifier {
                    uri: view.uri(file)?,
                    version: title.map(|title| title.version),
                },
                edits: edits.into_iter().map(OneOf::Left).collect(),
            })
        });
        return Some(WorkspaceEdit {
            document_changes: Some(DocumentChanges::Edits(documents.collect::<Option<_>>()?)),
            ..WorkspaceEdit::default()
        });
    }
    let mut by_address: HashMap<Url, Vec<TextEdit>> = HashMap::new();
    for (file, edits) in changes {
        by_address.insert(view.uri(file)?, edits);
    }
    Some(WorkspaceEdit {
        changes: Some(by_address),
        ..WorkspaceEdit::default()
    })
}
