//! Every request that the server offers.

/// What a request is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum About {
    /// A position in a document.
    Place,
    /// A document, or a stretch of it.
    Document,
    /// All files.
    Workspace,
    /// Something that an answer gave before.
    Answer,
}

pub(crate) const OFFERED: [(About, &str); 34] = [
    (About::Place, "textDocument/hover"),
    (About::Place, "textDocument/definition"),
    (About::Place, "textDocument/typeDefinition"),
    (About::Place, "textDocument/references"),
    (About::Place, "textDocument/documentHighlight"),
    (About::Place, "textDocument/prepareRename"),
    (About::Place, "textDocument/rename"),
    (About::Place, "textDocument/linkedEditingRange"),
    (About::Place, "textDocument/completion"),
    (About::Place, "textDocument/signatureHelp"),
    (About::Place, "textDocument/prepareCallHierarchy"),
    (About::Place, "textDocument/onTypeFormatting"),
    (About::Document, "textDocument/semanticTokens/full"),
    (About::Document, "textDocument/semanticTokens/range"),
    (About::Document, "textDocument/inlayHint"),
    (About::Document, "textDocument/foldingRange"),
    (About::Document, "textDocument/documentLink"),
    (About::Document, "textDocument/documentSymbol"),
    (About::Document, "textDocument/selectionRange"),
    (About::Document, "textDocument/codeLens"),
    (About::Document, "textDocument/codeAction"),
    (About::Document, "textDocument/diagnostic"),
    (About::Document, "textDocument/formatting"),
    (About::Document, "textDocument/rangeFormatting"),
    (About::Workspace, "workspace/diagnostic"),
    (About::Workspace, "workspace/symbol"),
    (About::Workspace, "workspace/willRenameFiles"),
    (About::Answer, "workspace/executeCommand"),
    (About::Answer, "textDocument/semanticTokens/full/delta"),
    (About::Answer, "callHierarchy/incomingCalls"),
    (About::Answer, "callHierarchy/outgoingCalls"),
    (About::Answer, "completionItem/resolve"),
    (About::Answer, "inlayHint/resolve"),
    (About::Answer, "codeLens/resolve"),
];

/// The requests about some things.
pub(crate) fn about(things: &[About]) -> Vec<&'static str> {
    let offered = OFFERED.iter();
    offered
        .filter(|(about, _)| things.contains(about))
        .map(|(_, method)| *method)
        .collect()
}
