//! The outline of a file.

use haunch_calc::{FileId, LineView, Snapshot};
use haunch_quantity::Preferences;
use haunch_syntax::{BlockKind, Statement};
use haunch_text::Range;

use crate::show;

/// An entry of the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Symbol {
    /// Its name.
    pub name: String,
    /// A word or value beside it; may be empty.
    pub detail: String,
    /// What it is.
    pub kind: SymbolKind,
    /// Everything that belongs to it.
    pub range: Range,
    /// Its name in the file.
    pub name_range: Range,
    /// What stands under it.
    pub children: Vec<Symbol>,
}

/// What an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SymbolKind {
    /// A heading with its lines.
    Block(BlockKind),
    /// A value or field.
    Value,
    /// A formula with arguments.
    Formula,
    /// A part of a section.
    Part,
    /// A point of a section.
    Point,
    /// A support of a beam.
    Support,
    /// A combination of load cases.
    Combination,
    /// A line that checks or answers.
    Check,
    /// Another file.
    File,
}

/// The outline, in the order of the file.
pub fn symbols(snapshot: &Snapshot, file: FileId) -> Vec<Symbol> {
    let preferences = snapshot.preferences(file);
    let mut top: Vec<Symbol> = Vec::new();
    let mut heading = None;
    for line in snapshot.lines(file) {
        let Some(symbol) = symbol(snapshot, line, &preferences) else {
            continue;
        };
        match (line.owner(), top.last_mut()) {
            (Some(owner), Some(parent)) if heading == Some(owner) => {
                parent.range.end = parent.range.end.max(symbol.range.end);
                parent.children.push(symbol);
            }
            _ => {
                heading = Some(line.id());
                top.push(symbol);
            }
        }
    }
    top
}

/// The entry of a line by itself.
pub(crate) fn symbol(
    snapshot: &Snapshot,
    line: LineView<'_>,
    preferences: &Preferences,
) -> Option<Symbol> {
    let (kind, name, detail) = match &line.tree().statement {
        Statement::Heading(heading) => {
            let keyword = heading.keyword_span.text(line.text());
            let name = heading
                .name
                .as_ref()
                .map_or(keyword, |name| name.text.as_str());
            (SymbolKind::Block(heading.kind), name, keyword.to_owned())
        }
        Statement::Value(value) => {
            let named = line.value();
            let shown = named
                .and_then(|named| show::value(&named.evaluated, named.unit.as_ref(), preferences));
            (
                SymbolKind::Value,
                value.name.text.as_str(),
                shown.unwrap_or_default(),
            )
        }
        Statement::Formula(formula) => (
            SymbolKind::Formula,
            formula.name.text.as_str(),
            String::new(),
        ),
        Statement::Part(part) => (
            SymbolKind::Part,
            part.name.text.as_str(),
            part.shape.text.to_string(),
        ),
        Statement::Point(point) => (SymbolKind::Point, point.name.text.as_str(), String::new()),
        Statement::Support(support) => {
            let name = support.name.as_ref().unwrap_or(&support.kind);
            (
                SymbolKind::Support,
                name.text.as_str(),
                support.kind.text.to_string(),
            )
        }
        Statement::Combination(combination) => (
            SymbolKind::Combination,
            combination.name.text.as_str(),
            String::new(),
        ),
        Statement::Use(used) => {
            let name = used.alias.as_ref().unwrap_or(&used.path);
            (
                SymbolKind::File,
                name.text.as_str(),
                used.path.text.to_string(),
            )
        }
        _ => return None,
    };
    let whole = haunch_text::Span::new(0, line.text().trim_end().len());
    let range = line.range(whole)?;
    let span = snapshot.name_span(line.id());
    let name_range = match span.is_empty() {
        true => range,
        false => line.range(span)?,
    };
    Some(Symbol {
        name: name.to_owned(),
        detail,
        kind,
        range,
        name_range,
        children: Vec::new(),
    })
}
