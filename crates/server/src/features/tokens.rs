//! What each word is, as the protocol packs it: every token counted from the one before.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use haunch_ide::{Highlight, HighlightKind};
use tower_lsp::lsp_types::{
    SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokens, SemanticTokensDelta,
    SemanticTokensEdit, SemanticTokensFullDeltaResult, SemanticTokensLegend, Url,
};

use crate::address::path_of;
use crate::world::View;

const TYPES: [(HighlightKind, SemanticTokenType); 13] = [
    (HighlightKind::Comment, SemanticTokenType::COMMENT),
    (HighlightKind::Text, SemanticTokenType::STRING),
    (HighlightKind::Number, SemanticTokenType::NUMBER),
    (HighlightKind::Unit, SemanticTokenType::TYPE),
    (HighlightKind::Operator, SemanticTokenType::OPERATOR),
    (HighlightKind::Keyword, SemanticTokenType::KEYWORD),
    (HighlightKind::Value, SemanticTokenType::VARIABLE),
    (HighlightKind::Argument, SemanticTokenType::PARAMETER),
    (HighlightKind::Function, SemanticTokenType::FUNCTION),
    (HighlightKind::Block, SemanticTokenType::STRUCT),
    (HighlightKind::File, SemanticTokenType::NAMESPACE),
    (HighlightKind::Member, SemanticTokenType::PROPERTY),
    (HighlightKind::Piece, SemanticTokenType::ENUM_MEMBER),
];
const DECLARATION: u32 = 1;
const READONLY: u32 = 2;

/// The kinds and modifiers by their numbers.
pub(crate) fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend {
        token_types: TYPES.into_iter().map(|(_, name)| name).collect(),
        token_modifiers: vec![
            SemanticTokenModifier::DECLARATION,
            SemanticTokenModifier::READONLY,
        ],
    }
}

/// A number for the answer, and the answer.
type Answer = (u64, Arc<Vec<SemanticToken>>);

/// What was sent last for each open document, so that the next answer can be the difference.
#[derive(Default)]
pub(crate) struct Sent {
    documents: Mutex<BTreeMap<String, Answer>>,
}

impl Sent {
    /// The answer for a whole document.
    pub(crate) fn full(
        &self,
        view: &View,
        uri: &Url,
        stop: &dyn Fn() -> bool,
    ) -> Option<SemanticTokens> {
        let tokens = Arc::new(tokens(view, uri, 0..usize::MAX, stop)?);
        Some(SemanticTokens {
            result_id: self.keep(view, uri, &tokens),
            data: tokens.to_vec(),
        })
    }

    /// What differs from the answer under `previous`; the whole where that is not the last one.
    pub(crate) fn delta(
        &self,
        view: &View,
        uri: &Url,
        previous: &str,
        stop: &dyn Fn() -> bool,
    ) -> Option<SemanticTokensFullDeltaResult> {
        let before = self.of(uri, previous);
        let tokens = Arc::new(tokens(view, uri, 0..usize::MAX, stop)?);
        let result_id = self.keep(view, uri, &tokens);
        Some(match before {
            Some(before) => SemanticTokensFullDeltaResult::TokensDelta(SemanticTokensDelta {
                result_id,
                edits: difference(&before, &tokens),
            }),
            None => SemanticTokensFullDeltaResult::Tokens(SemanticTokens {
                result_id,
                data: tokens.to_vec(),
            }),
        })
    }

    fn of(&self, uri: &Url, id: &str) -> Option<Arc<Vec<SemanticToken>>> {
        let documents = self
            .documents
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        let (last, tokens) = documents.get(&path_of(uri))?;
        (last.to_string() == id).then(|| tokens.clone())
    }

    fn keep(&self, view: &View, uri: &Url, tokens: &Arc<Vec<SemanticToken>>) -> Option<String> {
        let mut documents = self
            .documents
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        documents.retain(|path, _| view.titles.contains_key(path));
        let path = path_of(uri);
        if !view.titles.contains_key(&path) {
            return None;
        }
        let id = documents.get(&path).map_or(1, |(last, _)| last + 1);
        documents.insert(path, (id, tokens.clone()));
        Some(id.to_string())
    }
}

/// The tokens of the lines that a range touches.
pub(crate) fn tokens(
    view: &View,
    uri: &Url,
    lines: std::ops::Range<usize>,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<SemanticToken>> {
    let file = view.file(uri)?;
    let found = haunch_ide::highlighting(&view.snapshot, file, lines, stop);
    let mut tokens = Vec::with_capacity(found.len());
    let (mut line, mut start) = (0, 0);
    for highlight in found {
        let range = view.range(file, highlight.range);
        let on_line = range.start.line == line;
        tokens.push(SemanticToken {
            delta_line: range.start.line - line,
            delta_start: range.start.character - if on_line { start } else { 0 },
            length: range.end.character.saturating_sub(range.start.character),
            token_type: number(highlight.kind),
            token_modifiers_bitset: modifiers(&highlight),
        });
        (line, start) = (range.start.line, range.start.character);
    }
    Some(tokens)
}

fn number(kind: HighlightKind) -> u32 {
    TYPES
        .iter()
        .position(|(known, _)| *known == kind)
        .unwrap_or(0) as u32
}

fn modifiers(highlight: &Highlight) -> u32 {
    let declaration = if highlight.is_definition {
        DECLARATION
    } else {
        0
    };
    let is_name = matches!(highlight.kind, HighlightKind::Value | HighlightKind::Member);
    let readonly = if highlight.is_fixed && is_name {
        READONLY
    } else {
        0
    };
    declaration | readonly
}

/// One edit between what both share at the start and at the end. The protocol counts numbers, five a token.
fn difference(before: &[SemanticToken], after: &[SemanticToken]) -> Vec<SemanticTokensEdit> {
    let same = |(a, b): &(&SemanticToken, &SemanticToken)| a == b;
    let head = before.iter().zip(after).take_while(same).count();
    let rest = before[head..].iter().rev().zip(after[head..].iter().rev());
    let tail = rest.take_while(same).count();
    let removed = before.len() - head - tail;
    let added = &after[head..after.len() - tail];
    if removed == 0 && added.is_empty() {
        return Vec::new();
    }
    vec![SemanticTokensEdit {
        start: 5 * head as u32,
        delete_count: 5 * removed as u32,
        data: Some(added.to_vec()),
    }]
}
