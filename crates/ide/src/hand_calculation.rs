//! A section's centroid and second moment of area as lines of a hand calculation.

use haunch_calc::blocks::{Model, TableRow};
use haunch_calc::{LineView, Snapshot};
use haunch_quantity::{Preferences, Quantity};
use haunch_syntax::{PartTurn, Statement};
use haunch_text::content;

use crate::rewrite::{Rewrite, RewriteKind, inserted_below, line_ending};
use crate::show;
use crate::trial::adds_no_error;

/// Most parts of a section that is worked out by hand.
const MOST_PARTS: usize = 20;
/// Digits of sizes that are not exact as shown.
const DIGITS: u8 = 10;

/// Writes, under a section, the area, level and own second moment of each part, what the centroid and the
/// second moment of area of the whole follow to by the parallel axis theorem, and a comparison of both with the
/// section's own results. Not where parts of several materials are referred to one.
pub(crate) fn rewrite(snapshot: &Snapshot, line: LineView<'_>) -> Option<Rewrite> {
    let Statement::Heading(heading) = &line.tree().statement else {
        return None;
    };
    let section = heading.name.as_ref()?.text.as_str();
    let Some(Model::Section(model)) = &line.block()?.model else {
        return None;
    };
    let rows = &model.table();
    let transformed = rows.iter().any(|row| row.modular_ratio != 1.0);
    if rows.is_empty() || rows.len() > MOST_PARTS || transformed {
        return None;
    }
    let file = line.file();
    let suffix = free_suffix(snapshot, line, rows.len())?;
    let own = snapshot.preferences(file);
    let preferences = Preferences::new(own.units().to_vec(), DIGITS);
    let words = lines(snapshot, line, section, rows, &suffix, &preferences);
    let words = words.join(line_ending(snapshot, file));
    // A blank line before, and the last line of the file stays the last.
    let before = line_ending(snapshot, file);
    let edits = vec![inserted_below(snapshot, line, &format!("{before}{words}"))?];
    adds_no_error(snapshot, file, &edits).then(|| Rewrite {
        title: format!("Write the hand calculation of {section}"),
        kind: RewriteKind::Rewrite,
        edits,
    })
}

/// What is put after the names so that none is taken.
fn free_suffix(snapshot: &Snapshot, line: LineView<'_>, parts: usize) -> Option<String> {
    let file = line.file();
    let section = snapshot.name_of(line.id())?;
    let tried = [
        String::new(),
        format!("_{section}"),
        format!("_{section}_by_hand"),
    ];
    tried.into_iter().find(|suffix| {
        let parts = (1..=parts).flat_map(|number| {
            [
                format!("A{number}"),
                format!("y{number}"),
                format!("I{number}"),
            ]
        });
        let names = parts.chain(["ybar".to_owned(), "Ixx".to_owned()]);
        names.map(|name| format!("{name}{suffix}")).all(|name| {
            let name = name.as_str().into();
            snapshot.defining(file, &name).is_empty() && snapshot.naming(file, &name).is_empty()
        })
    })
}

fn lines(
    snapshot: &Snapshot,
    line: LineView<'_>,
    section: &str,
    rows: &[TableRow],
    suffix: &str,
    preferences: &Preferences,
) -> Vec<String> {
    let plain = |quantity: Quantity| show::plain(quantity, None, preferences);
    let unit = |quantity: Quantity| preferences.unit_for(quantity.dimension()).source_text();
    let mut lines = vec![format!("# {section} by hand")];
    for (index, row) in rows.iter().enumerate() {
        let number = index + 1;
        let (area, own) = match rectangle(snapshot, line, row) {
            Some((breadth, height)) => {
                let (breadth, height) = (plain(breadth), plain(height));
                let sign = if row.is_deduction { "-" } else { "" };
                (
                    format!("{sign}({breadth} * {height})"),
                    format!("{sign}({breadth} * ({height})^3/12)"),
                )
            }
            None => (plain(row.area), plain(row.own)),
        };
        let area = without_group(&area);
        let own = without_group(&own);
        lines.push(format!("A{number}{suffix} = {area}  # {}", row.part));
        lines.push(format!("y{number}{suffix} = {}", plain(row.y)));
        lines.push(format!("I{number}{suffix} = {own}"));
    }
    let sum =
        |term: &dyn Fn(usize) -> String| (1..=rows.len()).map(term).collect::<Vec<_>>().join(" + ");
    let areas = sum(&|n| format!("A{n}{suffix}"));
    let moments = sum(&|n| format!("A{n}{suffix}*y{n}{suffix}"));
    let own = sum(&|n| format!("I{n}{suffix} + A{n}{suffix}*(y{n}{suffix} - ybar{suffix})^2"));
    let first = rows.first();
    let (of_level, of_own) = match first {
        Some(row) => (unit(row.y), unit(row.own)),
        None => return lines,
    };
    lines.push(format!(
        "ybar{suffix} = ({moments})/({areas})  [{of_level}]"
    ));
    lines.push(format!("Ixx{suffix} = {own}  [{of_own}]"));
    lines.push(format!(
        "expect ybar{suffix} = {section}.ybar within 0.01 %"
    ));
    lines.push(format!("expect Ixx{suffix} = {section}.Ixx within 0.01 %"));
    lines
}

/// The breadth and height of a part that is an upright rectangle.
fn rectangle(
    snapshot: &Snapshot,
    heading: LineView<'_>,
    row: &TableRow,
) -> Option<(Quantity, Quantity)> {
    let id = *snapshot
        .defining_in_block(heading.id(), &row.part)
        .first()?;
    let line = snapshot.line(id)?;
    let Statement::Part(part) = &line.tree().statement else {
        return None;
    };
    let turned = part
        .turns
        .iter()
        .any(|turn| matches!(turn, PartTurn::Turned(..)));
    let [breadth, height] = part.sizes.as_slice() else {
        return None;
    };
    if part.shape.text != "rect" || turned {
        return None;
    }
    let size = |id| line.evaluated(id).as_quantity();
    Some((size(*breadth)?, size(*height)?))
}

/// Parentheses round the whole are left out.
fn without_group(text: &str) -> &str {
    let text = content(text);
    text.strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'))
        .unwrap_or(text)
}
