//! Where the dimension of a name is declared.

use haunch_calc::{FileId, Place, Snapshot};
use haunch_syntax::{ExpressionKind, Statement, ValueBody};
use haunch_text::{Position, Span};

use crate::definition::Target;
use crate::mention::Referent;
use crate::references;

/// Where the dimension of the name at a position is declared: the brackets at the end of its formula, the
/// unit of its number, or else the formula from which it follows.
pub fn type_definition(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Target> {
    let (_, mention) = references::at(snapshot, file, position)?;
    let line = match mention.referent {
        Referent::Line(line) => line,
        Referent::Result { heading, .. } => heading,
        _ => return None,
    };
    let span = declared(snapshot, line)?;
    Some(Target {
        file: snapshot.file_of(line)?,
        range: snapshot.range(Place { line, span })?,
    })
}

fn declared(snapshot: &Snapshot, line: haunch_calc::LineId) -> Option<Span> {
    let view = snapshot.line(line)?;
    let tree = view.tree();
    let (shown, root) = match &tree.statement {
        Statement::Value(value) => {
            let root = match &value.body {
                ValueBody::Expression(id) => Some(*id),
                ValueBody::List(ids) => ids.last().copied(),
                _ => None,
            };
            (value.shown.as_ref(), root)
        }
        Statement::Formula(formula) => (formula.shown.as_ref(), Some(formula.body)),
        Statement::Heading(heading) => return Some(heading.keyword_span),
        _ => return None,
    };
    if let Some(shown) = shown {
        return Some(shown.span);
    }
    let expression = tree.expression(root?);
    let unit = match &expression.kind {
        ExpressionKind::Literal(literal) => {
            let mut parts = literal.parts.iter().rev();
            parts.find_map(|part| part.unit.as_ref())
        }
        _ => None,
    };
    Some(unit.map_or(expression.span, |unit| unit.span))
}
