//! Changes of a line's form that keep what it says: another unit, a name for an expression, an expression for
//! a name, the present value as a check.

use haunch_calc::{FileId, LineView, Place, Snapshot};
use haunch_quantity::{Dimension, Unit, format_quantity, unit_words};
use haunch_syntax::{ExpressionId, ExpressionKind, Number, Statement, ValueBody};
use haunch_text::{Position, Range, line_terminator};

use crate::hand_calculation;
use crate::mention::{Referent, mentions};
use crate::references;
use crate::rename::FileEdit;
use crate::trial::{adds_no_error, meaning_at, tried};
use crate::working::as_written;

/// A change that can be made.
#[derive(Debug, Clone, PartialEq)]
pub struct Rewrite {
    /// What it does.
    pub title: String,
    /// What kind of change it is.
    pub kind: RewriteKind,
    /// What to replace, and by what.
    pub edits: Vec<FileEdit>,
}

/// Kinds of changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RewriteKind {
    /// A part gets a line of its own.
    Extract,
    /// A name gives way to what it stands for.
    Inline,
    /// The same in another form, or more of it.
    Rewrite,
}

/// Most units that a quantity is offered in.
const MOST_UNITS: usize = 6;
/// Most uses in whose place an expression is put.
const MOST_USES: usize = 200;

/// The changes that can be made at a range of a file. Each has been tried: no finding comes or goes by it, and
/// the lines that it touches come to the same.
pub fn rewrites(snapshot: &Snapshot, file: FileId, range: Range) -> Vec<Rewrite> {
    let Some((id, offset)) = snapshot.locate(file, range.start) else {
        return Vec::new();
    };
    let Some(line) = snapshot.line(id) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    if range.start != range.end {
        found.extend(extraction(snapshot, line, range));
    }
    found.extend(inlining(snapshot, file, range.start));
    found.extend(other_units(snapshot, line, offset));
    found.extend(expectation(snapshot, line));
    found.extend(hand_calculation::rewrite(snapshot, line));
    found
}

/// The physical line above or below which a line of the file's own can be put: of a block, its heading.
fn top_line<'a>(snapshot: &'a Snapshot, line: LineView<'a>) -> LineView<'a> {
    line.owner()
        .and_then(|heading| snapshot.line(heading))
        .unwrap_or(line)
}

/// What ends the lines of a file: what ends its first one.
pub fn line_ending(snapshot: &Snapshot, file: FileId) -> &str {
    match line_terminator(snapshot.physical_line(file, 0)) {
        "" => "\n",
        terminator => terminator,
    }
}

/// A line put in under a line of a file, its block included.
pub(crate) fn inserted_below(
    snapshot: &Snapshot,
    line: LineView<'_>,
    words: &str,
) -> Option<FileEdit> {
    let file = line.file();
    let last = snapshot
        .lines_under(line.id())
        .last()
        .copied()
        .unwrap_or(line);
    let number = snapshot.first_physical(last.id())? + last.height() - 1;
    let text = snapshot.physical_line(file, number);
    let end = Position {
        line: number as u32,
        column: haunch_text::content(text).len() as u32,
    };
    let range = Range { start: end, end };
    Some((
        file,
        range,
        format!("{}{words}", line_ending(snapshot, file)),
    ))
}

fn extraction(snapshot: &Snapshot, line: LineView<'_>, range: Range) -> Option<Rewrite> {
    let file = line.file();
    let tree = line.tree();
    let (end_line, end) = snapshot.locate(file, range.end)?;
    let (_, start) = snapshot.locate(file, range.start)?;
    if end_line != line.id()
        || matches!(
            tree.statement,
            Statement::Broken { .. } | Statement::Answer(_)
        )
    {
        return None;
    }
    let selected = tree
        .expressions
        .iter()
        .find(|expression| expression.span.start == start && expression.span.end == end)?;
    let is_whole = tree
        .expressions
        .last()
        .is_some_and(|last| std::ptr::eq(last, selected));
    let is_plain_value = matches!(&tree.statement, Statement::Value(_)) && line.owner().is_none();
    let is_name = matches!(&selected.kind, ExpressionKind::Path(path) if path.arguments.is_none());
    if is_name || (is_whole && is_plain_value) {
        return None;
    }
    // Names that only this line knows cannot go to another.
    let is_local = mentions(snapshot, line).into_iter().any(|mention| {
        let inside = selected.span.contains(mention.span);
        let is_span =
            matches!(mention.referent, Referent::Kept) && mention.span.text(line.text()) == "span";
        let local = matches!(
            mention.referent,
            Referent::Argument { .. } | Referent::Case { .. }
        );
        inside && (local || is_span)
    });
    if is_local {
        return None;
    }
    let name = free_name(snapshot, file, "value")?;
    let top = top_line(snapshot, line);
    let number = snapshot.first_physical(top.id())?;
    let above = Position {
        line: number as u32,
        column: 0,
    };
    let text = as_written(line, selected.span);
    let text = match &selected.kind {
        ExpressionKind::Group(_) => text
            .trim_start_matches('(')
            .trim_end_matches(')')
            .to_owned(),
        _ => text,
    };
    let ending = line_ending(snapshot, file);
    let edits = vec![
        (
            file,
            Range {
                start: above,
                end: above,
            },
            format!("{name} = {text}{ending}"),
        ),
        (file, range, name.clone()),
    ];
    let after = tried(snapshot, file, &edits)?;
    let here = line.first_physical()?;
    let same = meaning_at(snapshot, file, here) == meaning_at(&after, file, here + 1);
    same.then(|| Rewrite {
        title: format!("Give `{text}` a name of its own"),
        kind: RewriteKind::Extract,
        edits,
    })
}

/// A name that nothing in the file has.
pub(crate) fn free_name(snapshot: &Snapshot, file: FileId, stem: &str) -> Option<String> {
    (1..1_000)
        .map(|number| format!("{stem}_{number}"))
        .find(|name| {
            let name = name.as_str().into();
            snapshot.defining(file, &name).is_empty() && snapshot.naming(file, &name).is_empty()
        })
}

fn inlining(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Rewrite> {
    let (_, mention) = references::at(snapshot, file, position)?;
    let Referent::Line(id) = mention.referent else {
        return None;
    };
    let line = snapshot.line(id)?;
    let Statement::Value(value) = &line.tree().statement else {
        return None;
    };
    let ValueBody::Expression(body) = value.body else {
        return None;
    };
    if line.owner().is_some() || line.tree().comment.is_some() || line.file() != file {
        return None;
    }
    let uses = references::of(snapshot, &Referent::Line(id));
    let uses: Vec<_> = uses.into_iter().filter(|one| !one.is_definition).collect();
    let movable = |one: &references::Reference| {
        let view = snapshot.line(one.line);
        let kept = view.is_some_and(|view| {
            matches!(
                view.tree().statement,
                Statement::Answer(_) | Statement::Allow(_)
            )
        });
        one.file == file && !kept
    };
    if uses.is_empty() || uses.len() > MOST_USES || !uses.iter().all(movable) {
        return None;
    }
    let text = as_written(line, line.tree().expression(body).span);
    let stays_whole = matches!(
        line.tree().expression(body).kind,
        ExpressionKind::Path(_) | ExpressionKind::Group(_)
    );
    let put = match stays_whole {
        true => text,
        false => format!("({text})"),
    };
    let number = snapshot.first_physical(id)?;
    let below = number + line.height();
    let whole = Range {
        start: Position {
            line: number as u32,
            column: 0,
        },
        end: Position {
            line: below as u32,
            column: 0,
        },
    };
    let mut edits: Vec<FileEdit> = uses
        .iter()
        .map(|one| (file, one.range, put.clone()))
        .collect();
    edits.push((file, whole, String::new()));
    let after = tried(snapshot, file, &edits)?;
    let removed = line.height();
    let same = uses.iter().all(|one| {
        let before = snapshot.first_physical(one.line);
        before.is_some_and(|before| {
            let now = if before > number {
                before - removed
            } else {
                before
            };
            meaning_at(snapshot, file, before) == meaning_at(&after, file, now)
        })
    });
    same.then(|| Rewrite {
        title: format!("Put `{put}` in the place of {}", value.name.text),
        kind: RewriteKind::Inline,
        edits,
    })
}

fn other_units(snapshot: &Snapshot, line: LineView<'_>, offset: u32) -> Vec<Rewrite> {
    let tree = line.tree();
    let at = tree.expressions.iter().position(|expression| {
        matches!(expression.kind, ExpressionKind::Literal(_)) && expression.span.touches(offset)
    });
    let Some(id) = at.map(|at| ExpressionId(at as u32)) else {
        return Vec::new();
    };
    let ExpressionKind::Literal(literal) = &tree.expression(id).kind else {
        return Vec::new();
    };
    let [part] = literal.parts.as_slice() else {
        return Vec::new();
    };
    let (Number::Decimal(_), Some(written), Some(quantity)) =
        (&part.number, &part.unit, line.evaluated(id).as_quantity())
    else {
        return Vec::new();
    };
    let Some(number) = line.first_physical() else {
        return Vec::new();
    };
    let place = Place {
        line: line.id(),
        span: tree.expression(id).span,
    };
    let Some(range) = snapshot.range(place) else {
        return Vec::new();
    };
    let file = line.file();
    let before = meaning_at(snapshot, file, number);
    let mut found = Vec::new();
    for unit in units(snapshot, file, quantity.dimension()) {
        let name = unit.source_text();
        if name == written.text || found.len() == MOST_UNITS {
            continue;
        }
        let Some(size) = unit.from_si(quantity.si()) else {
            continue;
        };
        let digits = size.to_string();
        if digits.len() > MOST_DIGITS || !(SMALLEST..LARGEST).contains(&size.abs()) {
            continue;
        }
        let text = format!("{digits} {name}");
        let edits = vec![(file, range, text.clone())];
        // The same number to the last bit, and the same of all that follows from it.
        let same = tried(snapshot, file, &edits).is_some_and(|after| {
            let line = after.line_at(file, number);
            let is_same =
                line.is_some_and(|line| line.evaluated(id).as_quantity() == Some(quantity));
            is_same && meaning_at(&after, file, number) == before
        });
        if same {
            found.push(Rewrite {
                title: format!("Write {text}"),
                kind: RewriteKind::Rewrite,
                edits,
            });
        }
    }
    found
}

/// Longest number that anybody would write.
const MOST_DIGITS: usize = 12;
/// Sizes outside of these are written in another unit.
const SMALLEST: f64 = 0.001;
const LARGEST: f64 = 1e6;

/// Units of a dimension: the one that the file shows results in, then those of one word; each in one spelling.
fn units(snapshot: &Snapshot, file: FileId, dimension: Dimension) -> Vec<Unit> {
    let preferred = snapshot.preferences(file).unit_for(dimension);
    let words = unit_words().filter(|word| word.dimension == dimension);
    let mut units = vec![preferred];
    for unit in words.filter_map(|word| Unit::parse(word.spelling).ok()) {
        if units
            .iter()
            .all(|own| own.from_si(1.0) != unit.from_si(1.0))
        {
            units.push(unit);
        }
    }
    units
}

fn expectation(snapshot: &Snapshot, line: LineView<'_>) -> Option<Rewrite> {
    let Statement::Value(value) = &line.tree().statement else {
        return None;
    };
    let named = line.value()?;
    let quantity = named.evaluated.as_quantity()?;
    let is_given = match &value.body {
        ValueBody::Expression(id) => {
            matches!(line.tree().expression(*id).kind, ExpressionKind::Literal(_))
        }
        _ => false,
    };
    if line.owner().is_some() || is_given || quantity.si() == 0.0 {
        return None;
    }
    let file = line.file();
    let preferences = snapshot.preferences(file);
    let shown = format_quantity(quantity, named.unit.as_ref(), &preferences);
    // Rounding to so many digits changes the value by less than this.
    let within = match preferences.digits() {
        0..=1 => "100 %",
        2 => "10 %",
        3 => "1 %",
        _ => "0.1 %",
    };
    let words = format!("expect {} = {shown} within {within}", value.name.text);
    let edits = vec![inserted_below(snapshot, line, &words)?];
    adds_no_error(snapshot, file, &edits).then(|| Rewrite {
        title: "Write the present value as a check".to_owned(),
        kind: RewriteKind::Rewrite,
        edits,
    })
}
