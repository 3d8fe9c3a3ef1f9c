//! Changes that are offered at a place.

use tower_lsp::lsp_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, Command,
};

use crate::commands::APPLY;
use crate::features::diagnostics::diagnostic;
use crate::features::edits::workspace_edit;
use crate::greeting::Greeting;
use crate::world::View;

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
        let edit = workspace_edit(view, greeting, action.edits)?;
        if !greeting.takes_actions {
            return Some(CodeActionOrCommand::Command(Command {
                title: action.title,
                command: APPLY.to_owned(),
                arguments: Some(vec![serde_json::to_value(edit).ok()?]),
            }));
        }
        Some(CodeActionOrCommand::CodeAction(CodeAction {
            title: action.title,
            kind: Some(CodeActionKind::QUICKFIX),
            diagnostics: diagnostic(view, greeting, file, &action.finding).map(|one| vec![one]),
            is_preferred: Some(action.preferred),
            edit: Some(edit),
            ..CodeAction::default()
        }))
    };
    Some(found.into_iter().filter_map(action).collect())
}

fn includes_quick_fix(kind: &CodeActionKind) -> bool {
    kind.as_str().is_empty() || *kind == CodeActionKind::QUICKFIX
}
