//! Changes that are offered at a place: repairs of findings, and rewriting.

use haunch_ide::{FileEdit, RewriteKind};
use tower_lsp::lsp_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, Command, Diagnostic,
    Position,
};

use crate::commands::{APPLY, SHOW};
use crate::features::diagnostics::diagnostic;
use crate::features::edits::workspace_edit;
use crate::greeting::Greeting;
use crate::pages;
use crate::world::View;

/// The kind of what changes nothing and shows what a finding means.
pub(crate) const EXPLAIN: CodeActionKind = CodeActionKind::new("explain");

/// The changes of the kinds that the client wants. `stop` is polled; when it says so, what was found is returned.
pub(crate) fn actions(
    view: &View,
    greeting: Greeting,
    params: &CodeActionParams,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<CodeActionOrCommand>> {
    let file = view.file(&params.text_document.uri)?;
    let range = view.range_in(file, params.range);
    let wanted = params.context.only.as_deref();
    let wants = |kind: &CodeActionKind| {
        wanted.is_none_or(|wanted| wanted.iter().any(|wanted| includes(wanted, kind)))
    };
    let mut offered = Vec::new();
    if wants(&CodeActionKind::QUICKFIX) {
        for action in haunch_ide::actions(&view.snapshot, file, range, stop) {
            let finding = diagnostic(view, greeting, file, &action.finding);
            let offer = Offer {
                title: action.title,
                kind: CodeActionKind::QUICKFIX,
                finding,
                preferred: Some(action.preferred),
                edits: action.edits,
            };
            offered.extend(shown(view, greeting, offer));
        }
    }
    let rewriting = [
        RewriteKind::Extract,
        RewriteKind::Inline,
        RewriteKind::Rewrite,
    ];
    if rewriting.iter().any(|one| wants(&kind(*one))) {
        for rewrite in haunch_ide::rewrites(&view.snapshot, file, range) {
            let offer = Offer {
                title: rewrite.title,
                kind: kind(rewrite.kind),
                finding: None,
                preferred: None,
                edits: rewrite.edits,
            };
            if wants(&offer.kind) {
                offered.extend(shown(view, greeting, offer));
            }
        }
    }
    if greeting.shows_pages && greeting.shows_documents && wants(&EXPLAIN) {
        let codes = haunch_ide::codes(&view.snapshot, file, range);
        offered.extend(codes.into_iter().filter_map(|code| page(greeting, code)));
    }
    Some(offered)
}

/// Shows the page about a code.
fn page(greeting: Greeting, code: &str) -> Option<CodeActionOrCommand> {
    let title = format!("Show what {code} means");
    let command = Command {
        title: title.clone(),
        command: SHOW.to_owned(),
        arguments: Some(vec![
            serde_json::to_value(pages::address(code)?).ok()?,
            serde_json::to_value(Position::default()).ok()?,
        ]),
    };
    if !greeting.takes_actions {
        return Some(CodeActionOrCommand::Command(command));
    }
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        title,
        kind: Some(EXPLAIN),
        command: Some(command),
        ..CodeAction::default()
    }))
}

struct Offer {
    title: String,
    kind: CodeActionKind,
    finding: Option<Diagnostic>,
    preferred: Option<bool>,
    edits: Vec<FileEdit>,
}

fn shown(view: &View, greeting: Greeting, offer: Offer) -> Option<CodeActionOrCommand> {
    let edit = workspace_edit(view, greeting, offer.edits)?;
    if !greeting.takes_actions {
        return Some(CodeActionOrCommand::Command(Command {
            title: offer.title,
            command: APPLY.to_owned(),
            arguments: Some(vec![serde_json::to_value(edit).ok()?]),
        }));
    }
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        title: offer.title,
        kind: Some(offer.kind),
        diagnostics: offer.finding.map(|finding| vec![finding]),
        is_preferred: offer.preferred,
        edit: Some(edit),
        ..CodeAction::default()
    }))
}

fn kind(kind: RewriteKind) -> CodeActionKind {
    match kind {
        RewriteKind::Extract => CodeActionKind::REFACTOR_EXTRACT,
        RewriteKind::Inline => CodeActionKind::REFACTOR_INLINE,
        RewriteKind::Rewrite => CodeActionKind::REFACTOR_REWRITE,
    }
}

/// Whether a kind is the wanted one or one under it, as `refactor.inline` is under `refactor`.
fn includes(wanted: &CodeActionKind, kind: &CodeActionKind) -> bool {
    let rest = kind.as_str().strip_prefix(wanted.as_str());
    wanted.as_str().is_empty() || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}
