//! What can be written at a place.

use haunch_calc::LineId;
use haunch_ide::{About, Completion, CompletionKind, Piece};
use serde::{Deserialize, Serialize};
use tower_lsp::lsp_types::{
    CompletionItem, CompletionItemKind, CompletionItemLabelDetails, CompletionList,
    CompletionResponse, CompletionTextEdit, Documentation, InsertTextFormat,
    TextDocumentPositionParams, TextEdit,
};

use crate::features::reading::{markup, plain};
use crate::greeting::Greeting;
use crate::world::View;

/// What an item keeps so that its description can be found later: a line, and the name that it must still
/// give, or the result of its block.
#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    line: u32,
    name: String,
    result: Option<String>,
}

/// What can be written at a place.
pub(crate) fn completions(
    view: &View,
    greeting: Greeting,
    at: &TextDocumentPositionParams,
) -> Option<CompletionResponse> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let found = haunch_ide::completions(&view.snapshot, file, position);
    // Whole blocks are only for clients that can fill in their places.
    let offered = found
        .items
        .into_iter()
        .filter(|one| greeting.takes_snippets || one.kind != CompletionKind::Template);
    let ending = haunch_ide::line_ending(&view.snapshot, file);
    let item = |(number, completion): (usize, Completion)| {
        let kept = kept(view, &completion.about);
        let snippet = greeting.takes_snippets && !completion.template.is_empty();
        let new_text = match snippet {
            true => snippet_of(&completion.template, ending),
            false => completion.text.clone(),
        };
        let is_named = matches!(
            completion.kind,
            CompletionKind::Value | CompletionKind::Block | CompletionKind::Member
        );
        let beside = greeting.shows_label_details && is_named && !completion.detail.is_empty();
        CompletionItem {
            label: completion.text.trim_end().to_owned(),
            label_details: beside.then(|| CompletionItemLabelDetails {
                detail: None,
                description: Some(completion.detail.clone()),
            }),
            kind: Some(kind(completion.kind)),
            detail: (!completion.detail.is_empty()).then_some(completion.detail),
            sort_text: Some(format!("{}{number:05}", u8::from(!completion.fits))),
            insert_text_format: snippet.then_some(InsertTextFormat::SNIPPET),
            text_edit: Some(CompletionTextEdit::Edit(TextEdit {
                range: view.range(file, completion.replaces),
                new_text,
            })),
            data: kept.and_then(|kept| serde_json::to_value(kept).ok()),
            ..CompletionItem::default()
        }
    };
    let items = offered.enumerate().map(item).collect();
    Some(match found.is_whole {
        true => CompletionResponse::Array(items),
        false => CompletionResponse::List(CompletionList {
            is_incomplete: true,
            items,
        }),
    })
}

fn kind(kind: CompletionKind) -> CompletionItemKind {
    match kind {
        CompletionKind::Value => CompletionItemKind::VARIABLE,
        CompletionKind::Block => CompletionItemKind::STRUCT,
        CompletionKind::Member => CompletionItemKind::FIELD,
        CompletionKind::Field => CompletionItemKind::PROPERTY,
        CompletionKind::Function => CompletionItemKind::FUNCTION,
        CompletionKind::Unit => CompletionItemKind::UNIT,
        CompletionKind::Keyword => CompletionItemKind::KEYWORD,
        CompletionKind::Template => CompletionItemKind::SNIPPET,
    }
}

fn kept(view: &View, about: &About) -> Option<Kept> {
    let (line, result) = match about {
        About::Nothing => return None,
        About::Line(line) => (*line, None),
        About::Result(heading, member) => (*heading, Some(member.to_string())),
    };
    let name = view.snapshot.name_of(line)?.to_string();
    let line = line.0;
    Some(Kept { line, name, result })
}

/// Adds the description. An item whose line is no longer there stays as it is.
pub(crate) fn resolve(view: &View, greeting: Greeting, mut item: CompletionItem) -> CompletionItem {
    let kept = item
        .data
        .clone()
        .and_then(|data| serde_json::from_value::<Kept>(data).ok());
    let words = kept.and_then(|kept| {
        let line = LineId(kept.line);
        let name = view.snapshot.name_of(line)?;
        let about = match kept.result {
            Some(member) => About::Result(line, member.into()),
            None => About::Line(line),
        };
        (*name == kept.name).then(|| haunch_ide::describe(&view.snapshot, &about))?
    });
    item.documentation = words.map(|words| match greeting.completes_markdown {
        true => Documentation::MarkupContent(markup(words, true)),
        false => Documentation::String(plain(&words)),
    });
    item
}

/// The template in the protocol's form: `${1:name}` and, at the end, `$0`.
fn snippet_of(template: &[Piece], ending: &str) -> String {
    let escaped = |words: &str| {
        let words = words
            .replace('\\', "\\\\")
            .replace('$', "\\$")
            .replace('}', "\\}");
        words.replace('\n', ending)
    };
    let mut text = String::new();
    let mut number = 0;
    for piece in template {
        match piece {
            Piece::Words(words) => text += &escaped(words),
            Piece::Hole(start) => {
                number += 1;
                text += &format!("${{{number}:{}}}", escaped(start));
            }
        }
    }
    text + "$0"
}
