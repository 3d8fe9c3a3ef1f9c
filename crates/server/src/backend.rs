//! The handlers of the protocol's requests: each computes one feature from its request's view.

use std::sync::{Arc, Mutex, PoisonError};

use serde_json::Value;
use tower_lsp::jsonrpc::Result;
use tower_lsp::lsp_types::request::{GotoTypeDefinitionParams, GotoTypeDefinitionResponse};
use tower_lsp::lsp_types::{
    CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams, CallHierarchyItem,
    CallHierarchyOutgoingCall, CallHierarchyOutgoingCallsParams, CallHierarchyPrepareParams,
    CodeActionParams, CodeActionResponse, CodeLens, CodeLensParams, CompletionItem,
    CompletionParams, CompletionResponse, DocumentDiagnosticParams, DocumentDiagnosticReportResult,
    DocumentFormattingParams, DocumentHighlight, DocumentHighlightParams, DocumentLink,
    DocumentLinkParams, DocumentOnTypeFormattingParams, DocumentRangeFormattingParams,
    DocumentSymbolParams, DocumentSymbolResponse, ExecuteCommandParams, FoldingRange,
    FoldingRangeParams, GotoDefinitionParams, GotoDefinitionResponse, Hover, HoverParams,
    InitializeParams, InitializeResult, InlayHint, InlayHintParams, LinkedEditingRangeParams,
    LinkedEditingRanges, Location, PrepareRenameResponse, ReferenceParams, RenameFilesParams,
    RenameParams, SelectionRange, SelectionRangeParams, SemanticTokens, SemanticTokensDeltaParams,
    SemanticTokensFullDeltaResult, SemanticTokensParams, SemanticTokensRangeParams,
    SemanticTokensRangeResult, SemanticTokensResult, SignatureHelp, SignatureHelpParams,
    SymbolInformation, TextDocumentPositionParams, TextEdit, WorkspaceDiagnosticParams,
    WorkspaceDiagnosticReportResult, WorkspaceEdit, WorkspaceSymbolParams,
};
use tower_lsp::{Client, LanguageServer, async_trait};

use crate::capabilities::answer_to;
use crate::commands;
use crate::features::tokens::{Sent, tokens};
use crate::features::{
    actions, completion, diagnostics, format, hints, lens, names, outline, reading, uses,
};
use crate::greeting::Greeting;
use crate::work::{compute, try_compute, try_write, write};

/// What the handlers share.
pub(crate) struct Backend {
    client: Client,
    greeting: Arc<Mutex<Greeting>>,
    sent_tokens: Arc<Sent>,
}

impl Backend {
    /// Handlers that speak to `client`.
    pub(crate) fn new(client: Client) -> Backend {
        Backend {
            client,
            greeting: Arc::default(),
            sent_tokens: Arc::default(),
        }
    }

    /// The client.
    pub(crate) fn client(&self) -> &Client {
        &self.client
    }

    /// Keeps what the client said of itself.
    pub(crate) fn set_greeting(&self, greeting: Greeting) {
        *self.greeting.lock().unwrap_or_else(PoisonError::into_inner) = greeting;
    }

    /// Reads what the client said of itself, whenever that was.
    pub(crate) fn greeting_reader(&self) -> impl Fn() -> Greeting + Send + use<> {
        let greeting = self.greeting.clone();
        move || *greeting.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn greeting(&self) -> Greeting {
        *self.greeting.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[async_trait]
impl LanguageServer for Backend {
    async fn initialize(&self, _: InitializeParams) -> Result<InitializeResult> {
        Ok(answer_to(&self.greeting()))
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        let greeting = self.greeting();
        write(move |view, stop| {
            let uri = &params.text_document.uri;
            hints::hints(view, greeting, uri, params.range, &|| stop.is_raised())
        })
        .await
    }

    async fn inlay_hint_resolve(&self, hint: InlayHint) -> Result<InlayHint> {
        compute(move |view, _| hints::resolve(view, hint)).await
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        let greeting = self.greeting();
        let at = params.text_document_position_params;
        compute(move |view, _| reading::hover(view, greeting, &at)).await
    }

    async fn signature_help(&self, params: SignatureHelpParams) -> Result<Option<SignatureHelp>> {
        let greeting = self.greeting();
        let at = params.text_document_position_params;
        compute(move |view, _| reading::signature(view, greeting, &at)).await
    }

    async fn goto_definition(
        &self,
        params: GotoDefinitionParams,
    ) -> Result<Option<GotoDefinitionResponse>> {
        compute(move |view, _| {
            let location = reading::definition(view, &params.text_document_position_params);
            location.map(GotoDefinitionResponse::Scalar)
        })
        .await
    }

    async fn goto_type_definition(
        &self,
        params: GotoTypeDefinitionParams,
    ) -> Result<Option<GotoTypeDefinitionResponse>> {
        compute(move |view, _| {
            let location = reading::type_definition(view, &params.text_document_position_params);
            location.map(GotoTypeDefinitionResponse::Scalar)
        })
        .await
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        write(move |view, _| names::references(view, &params)).await
    }

    async fn document_highlight(
        &self,
        params: DocumentHighlightParams,
    ) -> Result<Option<Vec<DocumentHighlight>>> {
        write(move |view, _| names::highlights(view, &params.text_document_position_params)).await
    }

    async fn linked_editing_range(
        &self,
        params: LinkedEditingRangeParams,
    ) -> Result<Option<LinkedEditingRanges>> {
        compute(move |view, _| names::linked(view, &params.text_document_position_params)).await
    }

    async fn prepare_rename(
        &self,
        params: TextDocumentPositionParams,
    ) -> Result<Option<PrepareRenameResponse>> {
        try_compute(move |view, _| names::prepare_rename(view, &params)).await
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        let greeting = self.greeting();
        try_write(move |view, _| names::rename(view, greeting, &params)).await
    }

    async fn will_rename_files(&self, params: RenameFilesParams) -> Result<Option<WorkspaceEdit>> {
        let greeting = self.greeting();
        write(move |view, _| names::moved_files(view, greeting, &params)).await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        let greeting = self.greeting();
        write(move |view, _| {
            completion::completions(view, greeting, &params.text_document_position)
        })
        .await
    }

    async fn completion_resolve(&self, item: CompletionItem) -> Result<CompletionItem> {
        let greeting = self.greeting();
        compute(move |view, _| completion::resolve(view, greeting, item)).await
    }

    async fn document_symbol(
        &self,
        params: DocumentSymbolParams,
    ) -> Result<Option<DocumentSymbolResponse>> {
        let greeting = self.greeting();
        write(move |view, _| outline::symbols(view, greeting, &params.text_document.uri)).await
    }

    async fn symbol(
        &self,
        params: WorkspaceSymbolParams,
    ) -> Result<Option<Vec<SymbolInformation>>> {
        write(move |view, stop| {
            let found = outline::workspace_symbols(view, &params.query, &|| stop.is_raised());
            Some(found)
        })
        .await
    }

    async fn semantic_tokens_full(
        &self,
        params: SemanticTokensParams,
    ) -> Result<Option<SemanticTokensResult>> {
        let sent = self.sent_tokens.clone();
        write(move |view, stop| {
            let tokens = sent.full(view, &params.text_document.uri, &|| stop.is_raised());
            tokens.map(SemanticTokensResult::Tokens)
        })
        .await
    }

    async fn semantic_tokens_full_delta(
        &self,
        params: SemanticTokensDeltaParams,
    ) -> Result<Option<SemanticTokensFullDeltaResult>> {
        let sent = self.sent_tokens.clone();
        write(move |view, stop| {
            let uri = &params.text_document.uri;
            sent.delta(view, uri, &params.previous_result_id, &|| stop.is_raised())
        })
        .await
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        write(move |view, stop| {
            let range = params.range;
            let lines = range.start.line as usize..(range.end.line as usize).saturating_add(1);
            let uri = &params.text_document.uri;
            let data = tokens(view, uri, lines, &|| stop.is_raised())?;
            let result_id = None;
            Some(SemanticTokensRangeResult::Tokens(SemanticTokens {
                result_id,
                data,
            }))
        })
        .await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        write(move |view, stop| {
            outline::folds(view, &params.text_document.uri, &|| stop.is_raised())
        })
        .await
    }

    async fn selection_range(
        &self,
        params: SelectionRangeParams,
    ) -> Result<Option<Vec<SelectionRange>>> {
        compute(move |view, _| {
            outline::selections(view, &params.text_document.uri, &params.positions)
        })
        .await
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        write(move |view, stop| {
            outline::links(view, &params.text_document.uri, &|| stop.is_raised())
        })
        .await
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        write(move |view, stop| lens::lenses(view, &params.text_document.uri, &|| stop.is_raised()))
            .await
    }

    async fn code_lens_resolve(&self, lens: CodeLens) -> Result<CodeLens> {
        compute(move |view, _| lens::resolve(view, lens)).await
    }

    async fn prepare_call_hierarchy(
        &self,
        params: CallHierarchyPrepareParams,
    ) -> Result<Option<Vec<CallHierarchyItem>>> {
        compute(move |view, _| uses::prepare(view, &params.text_document_position_params)).await
    }

    async fn incoming_calls(
        &self,
        params: CallHierarchyIncomingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
        write(move |view, _| uses::users(view, &params.item)).await
    }

    async fn outgoing_calls(
        &self,
        params: CallHierarchyOutgoingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
        write(move |view, _| uses::used(view, &params.item)).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        write(move |view, _| format::format(view, &params.text_document.uri)).await
    }

    async fn range_formatting(
        &self,
        params: DocumentRangeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        write(move |view, _| format::format_range(view, &params.text_document.uri, params.range))
            .await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        compute(move |view, _| format::format_line_above(view, &params.text_document_position))
            .await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        let greeting = self.greeting();
        write(move |view, stop| actions::actions(view, greeting, &params, &|| stop.is_raised()))
            .await
    }

    async fn diagnostic(
        &self,
        params: DocumentDiagnosticParams,
    ) -> Result<DocumentDiagnosticReportResult> {
        let greeting = self.greeting();
        compute(move |view, _| {
            let previous = params.previous_result_id.as_deref();
            let report = diagnostics::report(view, greeting, &params.text_document.uri, previous);
            DocumentDiagnosticReportResult::Report(report)
        })
        .await
    }

    async fn workspace_diagnostic(
        &self,
        params: WorkspaceDiagnosticParams,
    ) -> Result<WorkspaceDiagnosticReportResult> {
        let greeting = self.greeting();
        compute(move |view, stop| {
            let stop = || stop.is_raised();
            let report = diagnostics::workspace_report(view, greeting, &params, &stop);
            WorkspaceDiagnosticReportResult::Report(report)
        })
        .await
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<Value>> {
        commands::execute(&self.client, self.greeting(), params)
    }
}
