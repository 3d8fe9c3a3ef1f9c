//! What stands at a place in a line.

use haunch_calc::{BUILT_IN, BuiltIn, FileId, LineId, LineView, Snapshot};
use haunch_syntax::{Adjustment, Name, PartPlace, Path, Statement, UnitText};
use haunch_text::{Position, Span};
use smol_str::SmolStr;

/// What stands there.
pub(crate) enum Thing<'a> {
    /// A unit.
    Unit(&'a UnitText),
    /// A built-in function.
    BuiltIn(&'static BuiltIn, Span),
    /// A name of the file, of another file or of a block by its dotted name, up to the one at the place.
    Names(Vec<SmolStr>, Span),
    /// A name of the block that the line belongs to.
    OfBlock(&'a Name),
    /// The name that the line itself defines, or the words of its heading.
    Own(Span),
}

/// The line at a position, and the thing there.
pub(crate) fn at(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
) -> Option<(LineView<'_>, Thing<'_>)> {
    let (id, offset) = snapshot.locate(file, position)?;
    let line = snapshot.line(id)?;
    let thing = unit(line, offset)
        .or_else(|| path(line, offset))
        .or_else(|| of_block(line, offset))
        .or_else(|| own(snapshot, line, offset))?;
    Some((line, thing))
}

fn unit(line: LineView<'_>, offset: u32) -> Option<Thing<'_>> {
    line.tree()
        .units()
        .find(|unit| unit.span.touches(offset))
        .map(Thing::Unit)
}

fn path(line: LineView<'_>, offset: u32) -> Option<Thing<'_>> {
    let tree = line.tree();
    tree.paths()
        .chain(tree.named_block())
        .find_map(|path| names_up_to(path, offset))
}

fn names_up_to(path: &Path, offset: u32) -> Option<Thing<'static>> {
    let at = path
        .names
        .iter()
        .position(|name| name.span.touches(offset))?;
    let span = path.names[at].span;
    if at == 0 && path.arguments.is_some() && path.names.len() == 1 {
        let name = path.names[0].text.as_str();
        if let Some(function) = BUILT_IN.iter().find(|function| function.name == name) {
            return Some(Thing::BuiltIn(function, span));
        }
    }
    let names = path.names[..=at]
        .iter()
        .map(|name| name.text.clone())
        .collect();
    Some(Thing::Names(names, span))
}

fn of_block(line: LineView<'_>, offset: u32) -> Option<Thing<'_>> {
    let mut names: Vec<&Name> = Vec::new();
    match &line.tree().statement {
        Statement::Part(part) => {
            if let PartPlace::Relative {
                on, adjustments, ..
            } = &part.place
            {
                names.push(on);
                names.extend(
                    adjustments
                        .iter()
                        .filter_map(|adjustment| match adjustment {
                            Adjustment::CentredOn(part) => Some(part),
                            _ => None,
                        }),
                );
            }
        }
        Statement::Point(point) => names.extend(&point.of),
        Statement::Limit(limit) => names.extend(&limit.under),
        _ => {}
    }
    names
        .into_iter()
        .find(|name| name.span.touches(offset))
        .map(Thing::OfBlock)
}

fn own<'a>(snapshot: &Snapshot, line: LineView<'a>, offset: u32) -> Option<Thing<'a>> {
    let keyword = match &line.tree().statement {
        Statement::Heading(heading) => Some(heading.keyword_span),
        Statement::Value(_)
        | Statement::Formula(_)
        | Statement::Part(_)
        | Statement::Point(_)
        | Statement::Support(_)
        | Statement::Combination(_)
        | Statement::Use(_)
        | Statement::Broken { name: Some(_), .. } => None,
        _ => return None,
    };
    let span = snapshot.name_span(line.id());
    let reached = span.touches(offset) || keyword.is_some_and(|span| span.touches(offset));
    (reached && !span.is_empty()).then_some(Thing::Own(span))
}

/// The line that defines a name of a line's block.
pub(crate) fn line_of_block(
    snapshot: &Snapshot,
    line: LineView<'_>,
    name: &SmolStr,
) -> Option<LineId> {
    let heading = line.owner()?;
    let names = snapshot.names_in_block(heading);
    names
        .into_iter()
        .find(|(known, _)| known == name)
        .map(|(_, line)| line)
}
