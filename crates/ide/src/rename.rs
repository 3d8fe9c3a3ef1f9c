//! Giving a thing another name wherever it is named.

use std::collections::BTreeSet;

use haunch_calc::blocks::fields;
use haunch_calc::{FileId, LineId, Snapshot, is_kept};
use haunch_quantity::is_unit_word;
use haunch_syntax::{Statement, read_line};
use haunch_text::{Position, Range};
use smol_str::SmolStr;

use crate::mention::{Referent, kind_of};
use crate::references::{Reference, at, of};

/// A replacement in a file.
pub type FileEdit = (FileId, Range, String);

/// The name at a position that can be given another: where it stands, and how it is written. The error is
/// the reason why it cannot.
pub fn prepare_rename(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
) -> Result<(Range, String), String> {
    let (line, mention) =
        at(snapshot, file, position).ok_or("There is no name here that could be changed.")?;
    let name = renamed(snapshot, &mention.referent)?;
    let place = haunch_calc::Place {
        line,
        span: mention.span,
    };
    let range = snapshot
        .range(place)
        .ok_or("There is no name here that could be changed.")?;
    Ok((range, name.to_string()))
}

/// The edits, in all files, that give the thing at a position another name. Refused with the reason where
/// the name cannot be used, or where anything would mean something else afterwards.
pub fn rename(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
    new_name: &str,
) -> Result<Vec<FileEdit>, String> {
    let (_, mention) =
        at(snapshot, file, position).ok_or("There is no name here that could be changed.")?;
    let old = renamed(snapshot, &mention.referent)?;
    let new = word(new_name)?;
    if new == old {
        return Ok(Vec::new());
    }
    refuse_taken(snapshot, &mention.referent, &new)?;
    let found = of(snapshot, &mention.referent);
    let edits: Vec<FileEdit> = found
        .iter()
        .map(|reference| edit(snapshot, reference, new_name))
        .collect();
    refuse_changed_meaning(snapshot, &found, &edits, &new)?;
    Ok(edits)
}

/// The present name of something that can be given another.
fn renamed(snapshot: &Snapshot, referent: &Referent) -> Result<SmolStr, String> {
    match referent {
        Referent::Line(id) => {
            let name = snapshot.name_of(*id).cloned();
            let name = name.ok_or("This line gives no name.")?;
            let line = snapshot.line(*id).ok_or("This line gives no name.")?;
            let others = match line.owner() {
                None => snapshot.defining(line.file(), &name),
                Some(heading) => {
                    let kind = kind_of(snapshot, heading);
                    let is_field = kind.is_some_and(|kind| fields::find(kind, &name).is_some());
                    if is_field || matches!(line.tree().statement, Statement::Value(_)) {
                        return Err(format!(
                            "{name} is a field: its name belongs to the notation."
                        ));
                    }
                    snapshot.defining_in_block(heading, &name)
                }
            };
            if others.len() > 1 {
                return Err(format!(
                    "{name} is given in {} places. Keep one of them first.",
                    others.len()
                ));
            }
            Ok(name)
        }
        Referent::Case { name, .. } | Referent::Argument { name, .. } => Ok(name.clone()),
        Referent::Result { heading, member } => {
            let block = snapshot
                .name_of(*heading)
                .map_or("its block", SmolStr::as_str);
            Err(format!(
                "{member} is a result of {block}: its name belongs to the notation."
            ))
        }
        Referent::Kept => Err("This name belongs to the notation.".to_owned()),
        Referent::Unknown => Err("Nothing gives this name.".to_owned()),
    }
}

/// The name in the form in which names are compared.
fn word(new_name: &str) -> Result<SmolStr, String> {
    let tree = read_line(&format!("{new_name} = 1"), is_unit_word);
    match tree.statement {
        Statement::Value(value)
            if tree.errors.is_empty() && value.name.span.len() as usize == new_name.len() =>
        {
            Ok(value.name.text)
        }
        _ => Err(format!(
            "\"{new_name}\" cannot be a name. A name has letters, digits and _, starts with a letter, and is none of \
             if, then, else, and, or, not."
        )),
    }
}

fn refuse_taken(snapshot: &Snapshot, referent: &Referent, new: &SmolStr) -> Result<(), String> {
    let taken: Vec<LineId> = match referent {
        Referent::Line(id) => {
            let line = snapshot.line(*id).ok_or("This line gives no name.")?;
            match line.owner() {
                None if is_kept(new) => {
                    return Err(format!("{new} has a meaning of its own. Choose another name."));
                }
                None => snapshot.defining(line.file(), new),
                Some(heading) => snapshot.defining_in_block(heading, new),
            }
        }
        Referent::Case { heading, .. } => snapshot
            .lines_under(*heading)
            .into_iter()
            .filter(|line| {
                matches!(&line.tree().statement, Statement::Load(load) if load.case.text == *new)
            })
            .map(|line| line.id())
            .collect(),
        Referent::Argument { line, .. } => match snapshot.line(*line).map(|line| line.tree()) {
            Some(tree) => match &tree.statement {
                Statement::Formula(formula)
                    if formula.parameters.iter().any(|own| own.text == *new) =>
                {
                    vec![*line]
                }
                _ => Vec::new(),
            },
            None => Vec::new(),
        },
        Referent::Result { .. } | Referent::Kept | Referent::Unknown => Vec::new(),
    };
    match taken
        .first()
        .and_then(|&line| snapshot.first_physical(line))
    {
        Some(number) => Err(format!(
            "{new} is a name already, in line {}. Choose another.",
            number + 1
        )),
        None => Ok(()),
    }
}

fn edit(snapshot: &Snapshot, reference: &Reference, new_name: &str) -> FileEdit {
    let statement = snapshot
        .line(reference.line)
        .map(|line| &line.tree().statement);
    // A `use` line without a name of its own gets one.
    if reference.is_definition
        && let Some(Statement::Use(used)) = statement
        && used.alias.is_none()
    {
        let end = reference.range.end;
        let range = Range { start: end, end };
        return (reference.file, range, format!(" as {new_name}"));
    }
    (reference.file, reference.range, new_name.to_owned())
}

/// Reads everything again with the new name. The findings and the values of the lines that were edited
/// must be what they were, the words of findings apart.
fn refuse_changed_meaning(
    snapshot: &Snapshot,
    found: &[Reference],
    edits: &[FileEdit],
    new: &str,
) -> Result<(), String> {
    let after = snapshot.after(edits);
    let files: BTreeSet<FileId> = edits.iter().map(|(file, ..)| *file).collect();
    for &file in &files {
        if let Some(number) = first_difference(&findings(snapshot, file), &findings(&after, file)) {
            return Err(format!(
                "With the name {new}, line {} would mean something else. Choose another name.",
                number + 1
            ));
        }
    }
    for reference in found {
        let number = reference.range.start.line;
        let outcome = |view: &Snapshot| {
            let line = view.line_at(reference.file, number as usize)?;
            Some(line.outcome().expressions.clone())
        };
        if outcome(snapshot) != outcome(&after) {
            return Err(format!(
                "With the name {new}, line {} would mean something else. Choose another name.",
                number + 1
            ));
        }
    }
    Ok(())
}

fn findings(snapshot: &Snapshot, file: FileId) -> Vec<(usize, &'static str)> {
    let findings = snapshot.findings(file);
    findings
        .into_iter()
        .filter_map(|finding| {
            Some((
                snapshot.first_physical(finding.place.line)?,
                finding.code.name,
            ))
        })
        .collect()
}

fn first_difference(
    before: &[(usize, &'static str)],
    after: &[(usize, &'static str)],
) -> Option<usize> {
    let shared = before.len().min(after.len());
    let differing = (0..shared).find(|&at| before[at] != after[at]);
    let number = |list: &[(usize, &str)], at: usize| list.get(at).map(|(number, _)| *number);
    match differing {
        Some(at) => number(before, at).min(number(after, at)),
        None => number(before, shared).or(number(after, shared)),
    }
}
