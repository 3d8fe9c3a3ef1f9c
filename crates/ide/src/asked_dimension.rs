//! The dimension that is asked for where a unit is written.

use haunch_calc::blocks::fields::{self, FieldKind};
use haunch_calc::blocks::limit_words;
use haunch_calc::{FileId, LineView, Snapshot};
use haunch_quantity::Dimension;
use haunch_syntax::{
    BinaryOperator, ExpressionId, ExpressionKind, Statement, TokenKind, ValueBody, tokens,
};
use haunch_text::{Position, Range, content};
use smol_str::SmolStr;

use crate::mention::kind_of;

/// The dimension that a name has to have from a position on, where one is begun: as the line tells of a
/// name that nobody defines. A line that is not whole yet is read as if it ended there.
pub(crate) fn at_name(snapshot: &Snapshot, file: FileId, begun: Range) -> Option<Dimension> {
    let line = begun.start.line;
    let text = content(snapshot.physical_line(file, line as usize));
    let before = text.get(..begun.start.column as usize)?;
    let after = text.get(begun.end.column as usize..)?;
    let rest = after.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_' || c == '.');
    let mut name = SmolStr::new_static("name_to_come");
    while snapshot.line_count(file) > 0 && !snapshot.defining(file, &name).is_empty() {
        name = format!("{name}_").into();
    }
    let mut open = 0_usize;
    for token in tokens(before) {
        match token.kind {
            TokenKind::OpenParenthesis => open += 1,
            TokenKind::CloseParenthesis => open = open.saturating_sub(1),
            _ => {}
        }
    }
    let end = text.len() as u32;
    let rest_starts = end - rest.len() as u32;
    let whole = (rest_starts, name.to_string());
    let cut = (end, format!("{name}{}", ")".repeat(open)));
    [whole, cut].into_iter().find_map(|(end, new)| {
        let end = Position { line, column: end };
        let range = Range { end, ..begun };
        let after = snapshot.after(&[(file, range, new)]);
        let read = after.line_at(file, line as usize)?;
        let inferred = after.inferred(read.id());
        let own = inferred.iter().find(|own| own.name == name)?;
        own.needs.dimension()
    })
}

/// The dimension of the formula before the brackets that are open at a position.
pub(crate) fn in_brackets(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
) -> Option<Dimension> {
    let text = content(snapshot.physical_line(file, position.line as usize));
    let open = text.get(..position.column as usize)?.rfind('[')?;
    // As if the brackets were not there yet.
    let after = without(
        snapshot,
        file,
        position.line,
        open as u32,
        text.len() as u32,
    );
    let line = after.line_at(file, position.line as usize)?;
    let root = match &line.tree().statement {
        Statement::Value(value) => match &value.body {
            ValueBody::Expression(id) => *id,
            _ => return line.value()?.evaluated.kind.dimension(),
        },
        Statement::Formula(formula) => formula.body,
        _ => return None,
    };
    line.evaluated(root).kind.dimension()
}

/// The dimension that is asked for at the number before a position, `begun` bytes of a unit left out.
pub(crate) fn at_number(
    snapshot: &Snapshot,
    file: FileId,
    position: Position,
    begun: u32,
) -> Option<Dimension> {
    let start = position.column.saturating_sub(begun);
    let after = without(snapshot, file, position.line, start, position.column);
    let text = after.physical_line(file, position.line as usize);
    let end = text.get(..start as usize)?.trim_end().len() as u32;
    let at = Position {
        line: position.line,
        column: end,
    };
    let (id, offset) = after.locate(file, at)?;
    let line = after.line(id)?;
    let number = line.tree().expressions.iter().position(|expression| {
        matches!(expression.kind, ExpressionKind::Literal(_)) && expression.span.touches(offset)
    })?;
    asked(&after, line, ExpressionId(number as u32))
}

fn asked(snapshot: &Snapshot, line: LineView<'_>, number: ExpressionId) -> Option<Dimension> {
    let fixed = snapshot.asked(line.id());
    if let Some((_, dimension)) = fixed.into_iter().find(|(id, _)| *id == number) {
        return Some(dimension);
    }
    let tree = line.tree();
    for expression in &tree.expressions {
        let (left, right) = match &expression.kind {
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            }
            | ExpressionKind::Compare { left, right, .. } => (*left, *right),
            _ => continue,
        };
        let other = match () {
            () if left == number => right,
            () if right == number => left,
            () => continue,
        };
        return line.evaluated(other).kind.dimension();
    }
    match &tree.statement {
        Statement::Value(value) => {
            let kind = kind_of(snapshot, line.owner()?)?;
            match fields::find(kind, &value.name.text)?.kind {
                FieldKind::Quantity(dimension) | FieldKind::List(dimension) => Some(dimension),
                FieldKind::Text => None,
            }
        }
        Statement::Limit(limit) => {
            let known = limit_words(kind_of(snapshot, line.owner()?)?);
            let found = known
                .into_iter()
                .find(|(word, _)| *word == limit.subject.text);
            found.map(|(_, dimension)| dimension)
        }
        Statement::Expect(expect) => {
            let dimension = |id| line.evaluated(id).kind.dimension();
            let about = [Some(expect.expected), expect.tolerance].contains(&Some(number));
            dimension(expect.actual).filter(|_| about)
        }
        _ => None,
    }
}

/// The files as they would be without a stretch of a line.
fn without(snapshot: &Snapshot, file: FileId, line: u32, from: u32, to: u32) -> Snapshot {
    let place = |column| Position { line, column };
    let range = Range {
        start: place(from),
        end: place(to),
    };
    snapshot.after(&[(file, range, String::new())])
}
