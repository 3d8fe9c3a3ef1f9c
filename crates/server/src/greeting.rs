//! What the client says about itself when it greets the server.
//!
//! Only the facts that change an answer are read, one by one, straight from the JSON. The rest is not
//! deserialised at all: a value that this version of the protocol does not know would fail the whole
//! greeting.

use haunch_text::Encoding;
use serde_json::{Value, json};

/// The facts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Greeting {
    /// How both sides count columns.
    pub(crate) encoding: Encoding,
    /// Whether the client watches files on request.
    pub(crate) watches_files: bool,
    /// Whether it tells of changed settings on request.
    pub(crate) registers_configuration: bool,
    /// Whether it gives its settings when asked.
    pub(crate) answers_configuration: bool,
    /// Whether it asks for diagnostics itself. Then none are sent unasked.
    pub(crate) pulls_diagnostics: bool,
    /// Whether it asks for diagnostics again when told to.
    pub(crate) refreshes_diagnostics: bool,
    /// Whether it asks for hints again when told to.
    pub(crate) refreshes_hints: bool,
    /// Whether it asks for semantic tokens again when told to.
    pub(crate) refreshes_tokens: bool,
    /// Whether it asks for lenses again when told to.
    pub(crate) refreshes_lenses: bool,
    /// Whether it shows Markdown in a hover.
    pub(crate) hovers_markdown: bool,
    /// Whether it shows Markdown beside a completion.
    pub(crate) completes_markdown: bool,
    /// Whether it asks for the tooltip of a hint when it is needed.
    pub(crate) resolves_tooltips: bool,
    /// Whether it asks for the places that a hint leads to when they are needed.
    pub(crate) resolves_places: bool,
    /// Whether it takes completions with places to fill in.
    pub(crate) takes_snippets: bool,
    /// Whether it shows a few words beside each completion, not only beside the chosen one.
    pub(crate) shows_label_details: bool,
    /// Whether it shows symbols as a tree.
    pub(crate) nests_symbols: bool,
    /// Whether it shows places that belong to a diagnostic.
    pub(crate) shows_related: bool,
    /// Whether it shows what is not used in its own way.
    pub(crate) shows_unused: bool,
    /// Whether it takes the place of an argument in a signature.
    pub(crate) takes_label_offsets: bool,
    /// Whether it asks if a name can be changed before it asks for the new one.
    pub(crate) prepares_rename: bool,
    /// Whether it takes actions; older clients take commands only.
    pub(crate) takes_actions: bool,
    /// Whether it takes edits with the versions that they count in.
    pub(crate) versions_edits: bool,
    /// Whether it shows progress that the server begins.
    pub(crate) shows_progress: bool,
    /// Whether it shows a document on request.
    pub(crate) shows_documents: bool,
    /// Whether it shows pictures inside a hover. The protocol has no word for that: a client says so under
    /// `experimental.haunch`.
    pub(crate) shows_drawings: bool,
    /// Whether it can show the page of a finding's code, whose address is made by [`crate::pages`]; said under
    /// `experimental.haunch` as well.
    pub(crate) shows_pages: bool,
    /// Whether it knows what to do with an answer that was dropped because the text has changed.
    pub(crate) drops_stale: bool,
}

const RESOLVED_OF_HINTS: &str = "textDocument/inlayHint/resolveSupport/properties";

impl Greeting {
    /// Reads the parameters of `initialize`.
    pub(crate) fn read(params: &Value) -> Greeting {
        let at = |path: &str| params.pointer(&format!("/capabilities/{path}"));
        let flag = |path: &str| at(path) == Some(&Value::Bool(true));
        let is_there = |path: &str| at(path).is_some_and(Value::is_object);
        let lists = |path: &str, wanted: Value| {
            let listed = at(path).and_then(Value::as_array);
            listed.is_some_and(|listed| listed.contains(&wanted))
        };
        // A client that says nothing of hints may ask for the rest of one; nothing is worked out for it in vain.
        let is_silent = at("textDocument/inlayHint").is_none();
        Greeting {
            encoding: encoding(params),
            watches_files: flag("workspace/didChangeWatchedFiles/dynamicRegistration"),
            registers_configuration: flag("workspace/didChangeConfiguration/dynamicRegistration"),
            answers_configuration: flag("workspace/configuration"),
            pulls_diagnostics: is_there("textDocument/diagnostic"),
            refreshes_diagnostics: flag("workspace/diagnostics/refreshSupport"),
            refreshes_hints: flag("workspace/inlayHint/refreshSupport"),
            refreshes_tokens: flag("workspace/semanticTokens/refreshSupport"),
            refreshes_lenses: flag("workspace/codeLens/refreshSupport"),
            hovers_markdown: lists("textDocument/hover/contentFormat", json!("markdown")),
            completes_markdown: lists(
                "textDocument/completion/completionItem/documentationFormat",
                json!("markdown"),
            ),
            resolves_tooltips: is_silent || lists(RESOLVED_OF_HINTS, json!("tooltip")),
            // The protocol's own name for it, and the one that Neovim gives.
            resolves_places: is_silent
                || lists(RESOLVED_OF_HINTS, json!("label.location"))
                || lists(RESOLVED_OF_HINTS, json!("location")),
            takes_snippets: flag("textDocument/completion/completionItem/snippetSupport"),
            shows_label_details: flag("textDocument/completion/completionItem/labelDetailsSupport"),
            nests_symbols: flag("textDocument/documentSymbol/hierarchicalDocumentSymbolSupport"),
            // Later versions of the protocol let clients that ask for diagnostics say it of these.
            shows_related: flag("textDocument/publishDiagnostics/relatedInformation")
                || flag("textDocument/diagnostic/relatedInformation"),
            shows_unused: lists(
                "textDocument/publishDiagnostics/tagSupport/valueSet",
                json!(1),
            ) || lists("textDocument/diagnostic/tagSupport/valueSet", json!(1)),
            takes_label_offsets: flag(
                "textDocument/signatureHelp/signatureInformation/parameterInformation/labelOffsetSupport",
            ),
            prepares_rename: flag("textDocument/rename/prepareSupport"),
            takes_actions: is_there("textDocument/codeAction/codeActionLiteralSupport"),
            versions_edits: flag("workspace/workspaceEdit/documentChanges"),
            shows_progress: flag("window/workDoneProgress"),
            shows_documents: flag("window/showDocument/support"),
            shows_drawings: flag("experimental/haunch/drawings")
                && lists("textDocument/hover/contentFormat", json!("markdown")),
            shows_pages: flag("experimental/haunch/pages"),
            drops_stale: is_there("general/staleRequestSupport"),
        }
    }

    /// The name of the encoding in the protocol.
    pub(crate) fn encoding_name(&self) -> &'static str {
        match self.encoding {
            Encoding::Utf8 => "utf-8",
            Encoding::Utf16 => "utf-16",
            Encoding::Utf32 => "utf-32",
        }
    }
}

/// Bytes need no conversion; whole characters are never split; the protocol's default comes last.
fn encoding(params: &Value) -> Encoding {
    let offered = params
        .pointer("/capabilities/general/positionEncodings")
        .and_then(Value::as_array)
        .map_or(&[][..], Vec::as_slice);
    [("utf-8", Encoding::Utf8), ("utf-32", Encoding::Utf32)]
        .into_iter()
        .find(|(name, _)| offered.iter().any(|offer| offer == name))
        .map_or(Encoding::Utf16, |(_, encoding)| encoding)
}

/// The least that the protocol library accepts as a greeting.
pub(crate) fn plain_params() -> Value {
    json!({ "capabilities": {} })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offered(encodings: &Value) -> Encoding {
        Greeting::read(&json!({"capabilities": {"general": {"positionEncodings": encodings}}}))
            .encoding
    }

    #[test]
    fn the_encoding_is_the_best_offered() {
        assert_eq!(
            offered(&json!(["utf-16", "utf-32", "utf-8"])),
            Encoding::Utf8
        );
        assert_eq!(offered(&json!(["utf-16", "utf-32"])), Encoding::Utf32);
        assert_eq!(offered(&json!(["utf-16"])), Encoding::Utf16);
        assert_eq!(offered(&json!([])), Encoding::Utf16);
        assert_eq!(offered(&json!("utf-8")), Encoding::Utf16);
        assert_eq!(offered(&json!([7, "utf-64"])), Encoding::Utf16);
    }

    #[test]
    fn anything_is_a_greeting() {
        let silent = Greeting {
            resolves_tooltips: true,
            resolves_places: true,
            ..Greeting::default()
        };
        assert_eq!(Greeting::read(&json!(null)), silent);
        assert_eq!(Greeting::read(&json!({"capabilities": 3})), silent);
    }
}
