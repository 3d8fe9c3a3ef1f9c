//! What the server tells the client about itself.

use tower_lsp::lsp_types::{
    CallHierarchyServerCapability, CodeActionKind, CodeActionOptions, CodeActionProviderCapability,
    CodeLensOptions, CompletionOptions, DiagnosticOptions, DiagnosticServerCapabilities,
    DocumentLinkOptions, DocumentOnTypeFormattingOptions, ExecuteCommandOptions,
    FileOperationFilter, FileOperationPattern, FileOperationRegistrationOptions,
    FoldingRangeProviderCapability, HoverProviderCapability, InitializeResult, InlayHintOptions,
    InlayHintServerCapabilities, LinkedEditingRangeServerCapabilities, OneOf, PositionEncodingKind,
    RenameOptions, SelectionRangeProviderCapability, SemanticTokensFullOptions,
    SemanticTokensOptions, SemanticTokensServerCapabilities, ServerCapabilities, ServerInfo,
    SignatureHelpOptions, TextDocumentSyncCapability, TextDocumentSyncKind,
    TextDocumentSyncOptions, TypeDefinitionProviderCapability, WorkDoneProgressOptions,
    WorkspaceFileOperationsServerCapabilities, WorkspaceFoldersServerCapabilities,
    WorkspaceServerCapabilities,
};

use crate::commands;
use crate::features::actions::EXPLAIN;
use crate::features::tokens::legend;
use crate::greeting::Greeting;

/// The answer to `initialize`.
pub(crate) fn answer_to(greeting: &Greeting) -> InitializeResult {
    InitializeResult {
        capabilities: ServerCapabilities {
            position_encoding: Some(PositionEncodingKind::new(greeting.encoding_name())),
            text_document_sync: Some(TextDocumentSyncCapability::Options(
                TextDocumentSyncOptions {
                    open_close: Some(true),
                    change: Some(TextDocumentSyncKind::INCREMENTAL),
                    ..TextDocumentSyncOptions::default()
                },
            )),
            inlay_hint_provider: Some(OneOf::Right(InlayHintServerCapabilities::Options(
                InlayHintOptions {
                    resolve_provider: Some(greeting.resolves_tooltips || greeting.resolves_places),
                    ..InlayHintOptions::default()
                },
            ))),
            hover_provider: Some(HoverProviderCapability::Simple(true)),
            definition_provider: Some(OneOf::Left(true)),
            type_definition_provider: Some(TypeDefinitionProviderCapability::Simple(true)),
            references_provider: Some(OneOf::Left(true)),
            document_highlight_provider: Some(OneOf::Left(true)),
            rename_provider: Some(match greeting.prepares_rename {
                true => OneOf::Right(RenameOptions {
                    prepare_provider: Some(true),
                    work_done_progress_options: WorkDoneProgressOptions::default(),
                }),
                false => OneOf::Left(true),
            }),
            linked_editing_range_provider: Some(LinkedEditingRangeServerCapabilities::Simple(true)),
            completion_provider: Some(CompletionOptions {
                resolve_provider: Some(true),
                trigger_characters: Some(vec![".".to_owned(), "[".to_owned()]),
                ..CompletionOptions::default()
            }),
            signature_help_provider: Some(SignatureHelpOptions {
                trigger_characters: Some(vec!["(".to_owned(), ",".to_owned()]),
                ..SignatureHelpOptions::default()
            }),
            document_symbol_provider: Some(OneOf::Left(true)),
            workspace_symbol_provider: Some(OneOf::Left(true)),
            semantic_tokens_provider: Some(
                SemanticTokensServerCapabilities::SemanticTokensOptions(SemanticTokensOptions {
                    legend: legend(),
                    range: Some(true),
                    full: Some(SemanticTokensFullOptions::Delta { delta: Some(true) }),
                    ..SemanticTokensOptions::default()
                }),
            ),
            folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
            selection_range_provider: Some(SelectionRangeProviderCapability::Simple(true)),
            document_link_provider: Some(DocumentLinkOptions {
                resolve_provider: Some(false),
                work_done_progress_options: WorkDoneProgressOptions::default(),
            }),
            code_lens_provider: Some(CodeLensOptions {
                resolve_provider: Some(true),
            }),
            call_hierarchy_provider: Some(CallHierarchyServerCapability::Simple(true)),
            code_action_provider: Some(match greeting.takes_actions {
                true => CodeActionProviderCapability::Options(CodeActionOptions {
                    code_action_kinds: Some(action_kinds(greeting)),
                    ..CodeActionOptions::default()
                }),
                false => CodeActionProviderCapability::Simple(true),
            }),
            document_formatting_provider: Some(OneOf::Left(true)),
            document_range_formatting_provider: Some(OneOf::Left(true)),
            document_on_type_formatting_provider: Some(DocumentOnTypeFormattingOptions {
                first_trigger_character: "\n".to_owned(),
                more_trigger_character: None,
            }),
            execute_command_provider: Some(ExecuteCommandOptions {
                commands: commands::ALL.iter().map(|&name| name.to_owned()).collect(),
                ..ExecuteCommandOptions::default()
            }),
            diagnostic_provider: greeting.pulls_diagnostics.then(|| {
                DiagnosticServerCapabilities::Options(DiagnosticOptions {
                    identifier: Some("haunch".to_owned()),
                    inter_file_dependencies: true,
                    workspace_diagnostics: true,
                    ..DiagnosticOptions::default()
                })
            }),
            workspace: Some(WorkspaceServerCapabilities {
                workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                    supported: Some(true),
                    change_notifications: Some(OneOf::Left(true)),
                }),
                file_operations: Some(WorkspaceFileOperationsServerCapabilities {
                    will_rename: Some(files()),
                    did_rename: Some(files()),
                    ..WorkspaceFileOperationsServerCapabilities::default()
                }),
            }),
            ..ServerCapabilities::default()
        },
        server_info: Some(ServerInfo {
            name: "haunch".to_owned(),
            version: Some(env!("CARGO_PKG_VERSION").to_owned()),
        }),
    }
}

/// The kinds of actions that are offered to a client.
fn action_kinds(greeting: &Greeting) -> Vec<CodeActionKind> {
    let mut kinds = vec![
        CodeActionKind::QUICKFIX,
        CodeActionKind::REFACTOR_EXTRACT,
        CodeActionKind::REFACTOR_INLINE,
        CodeActionKind::REFACTOR_REWRITE,
    ];
    if greeting.shows_pages && greeting.shows_documents {
        kinds.push(EXPLAIN);
    }
    kinds
}

/// Calculations, and folders that may hold some.
fn files() -> FileOperationRegistrationOptions {
    let pattern = |glob: &str, matches| FileOperationFilter {
        scheme: Some("file".to_owned()),
        pattern: FileOperationPattern {
            glob: glob.to_owned(),
            matches: Some(matches),
            options: None,
        },
    };
    FileOperationRegistrationOptions {
        filters: vec![
            pattern(
                "**/*.haunch",
                tower_lsp::lsp_types::FileOperationPatternKind::File,
            ),
            pattern("**", tower_lsp::lsp_types::FileOperationPatternKind::Folder),
        ],
    }
}
