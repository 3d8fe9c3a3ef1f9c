//! Where a name stands.

use haunch_calc::{FileId, LineId, LineView, Place, Snapshot};
use haunch_syntax::Statement;
use haunch_text::{Position, Range};
use smol_str::SmolStr;

use crate::mention::{Mention, Referent, mentions};

/// A place where a name stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    /// The file.
    pub file: FileId,
    /// The logical line.
    pub line: LineId,
    /// The name there.
    pub range: Range,
    /// Whether the name is given there.
    pub is_definition: bool,
}

/// The name at a position with what it stands for.
pub(crate) fn at(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
) -> Option<(LineId, Mention)> {
    let (id, offset) = snapshot.locate(file, position)?;
    let found = mentions(snapshot, snapshot.line(id)?);
    let touching = |mention: &&Mention| mention.span.touches(offset);
    // Between two names that touch, the one that starts here.
    let mention = found.iter().rev().find(touching)?;
    Some((id, mention.clone()))
}

/// Every place, in all files, where the name at a position stands, in the order of the files.
pub fn references(snapshot: &Snapshot, file: FileId, position: Position) -> Vec<Reference> {
    match at(snapshot, file, position) {
        Some((_, mention)) => of(snapshot, &mention.referent),
        None => Vec::new(),
    }
}

/// The places of one file where the name at a position stands.
pub fn highlights(snapshot: &Snapshot, file: FileId, position: Position) -> Vec<Reference> {
    let mut found = references(snapshot, file, position);
    found.retain(|reference| reference.file == file);
    found
}

/// The places that can be edited together with the name at a position: those of a formula's argument, which
/// stand in one line. All other names may stand in other files, or meet another name on the way to the new
/// one; they are renamed.
pub fn linked(snapshot: &Snapshot, file: FileId, position: Position) -> Vec<Range> {
    match at(snapshot, file, position) {
        Some((_, mention)) if matches!(mention.referent, Referent::Argument { .. }) => {
            let found = of(snapshot, &mention.referent);
            found.into_iter().map(|reference| reference.range).collect()
        }
        _ => Vec::new(),
    }
}

/// Every place where something is named.
pub(crate) fn of(snapshot: &Snapshot, wanted: &Referent) -> Vec<Reference> {
    let mut lines = candidates(snapshot, wanted);
    lines.sort_by_key(|&line| (snapshot.file_of(line), snapshot.first_physical(line)));
    lines.dedup();
    let mut found = Vec::new();
    for line in lines.into_iter().filter_map(|line| snapshot.line(line)) {
        for mention in mentions(snapshot, line) {
            if mention.referent == *wanted {
                found.extend(reference(snapshot, line, &mention));
            }
        }
    }
    found
}

fn reference(snapshot: &Snapshot, line: LineView<'_>, mention: &Mention) -> Option<Reference> {
    Some(Reference {
        file: line.file(),
        line: line.id(),
        range: snapshot.range(Place {
            line: line.id(),
            span: mention.span,
        })?,
        is_definition: mention.is_definition,
    })
}

/// The lines that may name something: only these are read.
fn candidates(snapshot: &Snapshot, wanted: &Referent) -> Vec<LineId> {
    match wanted {
        Referent::Line(id) => {
            let Some(line) = snapshot.line(*id) else {
                return Vec::new();
            };
            match line.owner() {
                Some(heading) => of_block(snapshot, heading),
                None => match snapshot.name_of(*id) {
                    Some(name) => of_file(snapshot, line.file(), name),
                    None => vec![*id],
                },
            }
        }
        Referent::Result { heading, .. } | Referent::Case { heading, .. } => {
            of_block(snapshot, *heading)
        }
        Referent::Argument { line, .. } => vec![*line],
        Referent::Kept | Referent::Unknown => Vec::new(),
    }
}

fn of_file(snapshot: &Snapshot, file: FileId, name: &SmolStr) -> Vec<LineId> {
    let mut lines = snapshot.naming(file, name);
    lines.extend(snapshot.defining(file, name));
    lines.extend(snapshot.allow_lines(file));
    // The points of a section stand in the calls of the blocks that use it, dotted or not.
    for &heading in &snapshot.defining(file, name) {
        lines.extend(calls_of_users(snapshot, heading));
    }
    lines
}

fn of_block(snapshot: &Snapshot, heading: LineId) -> Vec<LineId> {
    let mut lines: Vec<LineId> = snapshot
        .lines_under(heading)
        .iter()
        .map(|line| line.id())
        .collect();
    if let (Some(file), Some(name)) = (snapshot.file_of(heading), snapshot.name_of(heading)) {
        lines.extend(snapshot.naming(file, name));
        lines.extend(snapshot.allow_lines(file));
    }
    lines.extend(calls_of_users(snapshot, heading));
    lines
}

/// The lines that name a block that uses this one.
fn calls_of_users(snapshot: &Snapshot, section: LineId) -> Vec<LineId> {
    let is_heading = |line: LineView<'_>| matches!(line.tree().statement, Statement::Heading(_));
    if !snapshot.line(section).is_some_and(is_heading) {
        return Vec::new();
    }
    let mut headings: Vec<LineId> = snapshot
        .used_by(section)
        .into_iter()
        .filter_map(|id| {
            let line = snapshot.line(id)?;
            line.owner().or_else(|| is_heading(line).then_some(id))
        })
        .collect();
    headings.dedup();
    let mut lines = Vec::new();
    for heading in headings {
        if let (Some(file), Some(name)) = (snapshot.file_of(heading), snapshot.name_of(heading)) {
            lines.extend(snapshot.naming(file, name));
        }
    }
    lines
}
