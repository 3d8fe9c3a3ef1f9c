//! What a value uses, and what uses it.

use haunch_calc::{FileId, LineId, LineView, Place, Snapshot};
use haunch_syntax::Statement;
use haunch_text::{Position, Range, Span};

use crate::mention::{Mention, Referent, mentions};
use crate::references;
use crate::show;
use crate::symbols::SymbolKind;

/// Something that uses others and is used: a value, a formula, a block, or a line that checks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// The line; of a block its heading.
    pub line: LineId,
    /// The file.
    pub file: FileId,
    /// Its name, or what the line says.
    pub name: String,
    /// Its value or kind in a few words; may be empty.
    pub detail: String,
    /// What it is.
    pub kind: SymbolKind,
    /// Everything that belongs to it.
    pub range: Range,
    /// Its name in the file.
    pub name_range: Range,
}

/// Something that is used or uses, and the places where its name, or the name it uses, stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// The other.
    pub item: Item,
    /// Where the names stand.
    pub ranges: Vec<Range>,
}

/// The thing that is named at a position.
pub fn item_at(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Item> {
    let named = references::at(snapshot, file, position);
    let line = match named.map(|(_, mention)| mention.referent) {
        Some(Referent::Line(line)) => line,
        Some(Referent::Result { heading, .. } | Referent::Case { heading, .. }) => heading,
        Some(Referent::Argument { line, .. }) => line,
        Some(Referent::Kept | Referent::Unknown) => return None,
        None => snapshot.locate(file, position)?.0,
    };
    item(snapshot, head(snapshot, line))
}

/// What an item uses.
pub fn used_by_item(snapshot: &Snapshot, line: LineId) -> Vec<Use> {
    let heading = head(snapshot, line);
    let Some(view) = snapshot.line(heading) else {
        return Vec::new();
    };
    let mut found: Vec<(LineId, Vec<Range>)> = Vec::new();
    for line in [view].into_iter().chain(snapshot.lines_under(heading)) {
        for mention in mentions(snapshot, line) {
            let Some(target) = target(snapshot, &mention) else {
                continue;
            };
            let span = mention.span;
            let place = Place {
                line: line.id(),
                span,
            };
            if target != heading
                && let Some(range) = snapshot.range(place)
            {
                add(&mut found, target, range);
            }
        }
    }
    uses(snapshot, found)
}

/// What uses an item.
pub fn users_of_item(snapshot: &Snapshot, line: LineId) -> Vec<Use> {
    let heading = head(snapshot, line);
    let mut found: Vec<(LineId, Vec<Range>)> = Vec::new();
    for reference in references::of(snapshot, &Referent::Line(heading)) {
        let user = head(snapshot, reference.line);
        if !reference.is_definition && user != heading {
            add(&mut found, user, reference.range);
        }
    }
    uses(snapshot, found)
}

/// How many lines use what a line gives.
pub(crate) fn count(snapshot: &Snapshot, line: LineId) -> usize {
    let users = snapshot.used_by(line);
    users
        .into_iter()
        .filter(|&user| head(snapshot, user) != line)
        .count()
}

fn add(found: &mut Vec<(LineId, Vec<Range>)>, line: LineId, range: Range) {
    match found.iter_mut().find(|(known, _)| *known == line) {
        Some((_, ranges)) => ranges.push(range),
        None => found.push((line, vec![range])),
    }
}

fn uses(snapshot: &Snapshot, found: Vec<(LineId, Vec<Range>)>) -> Vec<Use> {
    let found = found.into_iter();
    found
        .filter_map(|(line, ranges)| {
            let item = item(snapshot, line)?;
            Some(Use { item, ranges })
        })
        .collect()
}

fn target(snapshot: &Snapshot, mention: &Mention) -> Option<LineId> {
    match &mention.referent {
        Referent::Line(line) if !mention.is_definition => {
            let line = head(snapshot, *line);
            let statement = &snapshot.line(line)?.tree().statement;
            // The name of a file leads to something in it, which is what is used.
            (!matches!(statement, Statement::Use(_))).then_some(line)
        }
        Referent::Result { heading, .. } => Some(*heading),
        _ => None,
    }
}

/// The heading of a line under one, otherwise the line itself.
fn head(snapshot: &Snapshot, line: LineId) -> LineId {
    snapshot
        .line(line)
        .and_then(LineView::owner)
        .unwrap_or(line)
}

fn item(snapshot: &Snapshot, id: LineId) -> Option<Item> {
    let line = snapshot.line(id)?;
    let text = line.text();
    let whole = Span::new(0, text.trim_end().len());
    let preferences = snapshot.preferences(line.file());
    let (kind, name, detail) = match &line.tree().statement {
        Statement::Value(value) => {
            let shown = line
                .value()
                .and_then(|named| show::value(&named.evaluated, named.unit.as_ref(), &preferences));
            let name = value.name.text.to_string();
            (SymbolKind::Value, name, shown.unwrap_or_default())
        }
        Statement::Formula(formula) => (
            SymbolKind::Formula,
            formula.name.text.to_string(),
            String::new(),
        ),
        Statement::Heading(heading) => {
            let keyword = heading.keyword_span.text(text).to_owned();
            let name = heading
                .name
                .as_ref()
                .map_or(keyword.clone(), |name| name.text.to_string());
            (SymbolKind::Block(heading.kind), name, keyword)
        }
        Statement::Verify(_) | Statement::Expect(_) | Statement::Answer(_) => {
            let said = crate::working::as_written(line, whole);
            (SymbolKind::Check, said, String::new())
        }
        _ => return None,
    };
    let last = snapshot.lines_under(id).last().copied().unwrap_or(line);
    let end = Span::new(0, last.text().trim_end().len());
    let start = snapshot.range(Place {
        line: id,
        span: whole,
    })?;
    let end = snapshot.range(Place {
        line: last.id(),
        span: end,
    })?;
    let span = snapshot.name_span(id);
    Some(Item {
        line: id,
        file: line.file(),
        name,
        detail,
        kind,
        range: Range {
            start: start.start,
            end: end.end.max(start.end),
        },
        name_range: match span.is_empty() {
            true => start,
            false => snapshot.range(Place { line: id, span })?,
        },
    })
}
