//! The handlers of the protocol's requests: each computes one feature from its request's view.

use std::sync::{Arc, Mutex, PoisonError};

use tower_lsp::jsonrpc::Result;
use tower_lsp::lsp_types::{
    CodeActionParams, CodeActionResponse, CompletionParams, CompletionResponse,
    DidChangeWatchedFilesRegistrationOptions, DocumentFormattingParams,
    DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, DocumentSymbolParams,
    DocumentSymbolResponse, FileSystemWatcher, GlobPattern, GotoDefinitionParams,
    GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult,
    InitializedParams, InlayHint, InlayHintParams, Registration, TextEdit,
};
use tower_lsp::{Client, LanguageServer, async_trait};

use crate::capabilities::answer_to;
use crate::features;
use crate::greeting::Greeting;
use crate::work::compute;

/// What the handlers share.
pub(crate) struct Backend {
    client: Client,
    greeting: Arc<Mutex<Greeting>>,
}

impl Backend {
    /// Handlers that speak to `client`.
    pub(crate) fn new(client: Client) -> Backend {
        Backend {
            client,
            greeting: Arc::default(),
        }
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

    async fn initialized(&self, _: InitializedParams) {
        if self.greeting().watches_files {
            let client = self.client.clone();
            // A handler never waits for the client.
            tokio::spawn(async move { client.register_capability(vec![watch_files()]).await });
        }
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        compute(move |view, cancel| {
            let uri = &params.text_document.uri;
            features::hints(view, uri, params.range, &|| cancel.is_cancelled())
        })
        .await
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        compute(move |view, _| features::hover(view, &params.text_document_position_params)).await
    }

    async fn goto_definition(
        &self,
        params: GotoDefinitionParams,
    ) -> Result<Option<GotoDefinitionResponse>> {
        compute(move |view, _| {
            let location = features::definition(view, &params.text_document_position_params);
            location.map(GotoDefinitionResponse::Scalar)
        })
        .await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        compute(move |view, _| {
            let items = features::completions(view, &params.text_document_position);
            items.map(CompletionResponse::Array)
        })
        .await
    }

    async fn document_symbol(
        &self,
        params: DocumentSymbolParams,
    ) -> Result<Option<DocumentSymbolResponse>> {
        let greeting = self.greeting();
        compute(move |view, _| features::symbols(view, greeting, &params.text_document.uri)).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        compute(move |view, _| features::format(view, &params.text_document.uri)).await
    }

    async fn range_formatting(
        &self,
        params: DocumentRangeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        compute(move |view, _| {
            features::format_range(view, &params.text_document.uri, params.range)
        })
        .await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        compute(move |view, _| features::format_line_above(view, &params.text_document_position))
            .await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        let greeting = self.greeting();
        compute(move |view, _| features::actions(view, greeting, &params)).await
    }
}

fn watch_files() -> Registration {
    let options = DidChangeWatchedFilesRegistrationOptions {
        watchers: vec![FileSystemWatcher {
            glob_pattern: GlobPattern::String("**/*.haunch".to_owned()),
            kind: None,
        }],
    };
    Registration {
        id: "haunch-files".to_owned(),
        method: "workspace/didChangeWatchedFiles".to_owned(),
        register_options: serde_json::to_value(options).ok(),
    }
}
