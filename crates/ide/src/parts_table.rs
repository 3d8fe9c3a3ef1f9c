//! The table by which a section is worked out by hand: A, y, A·y, own I, d, A·d² of each part.

use haunch_calc::LineView;
use haunch_calc::blocks::BlockMeaning;
use haunch_quantity::{Dimension, Preferences, Quantity, Rational, Unit, format_parts};
use haunch_syntax::Statement;

/// How far the sums of the table may differ from the section's own results, which are worked out in
/// another way, before the table is left out.
const AGREEMENT: f64 = 1e-9;

struct Row {
    name: String,
    /// A, y, A·y, own I, d, A·d²
    cells: [Option<Quantity>; 6],
}

/// The table in Markdown, with totals. None where a part has no value, or where the sums are not the
/// section's results: parts of several materials add up in another way.
pub(crate) fn table(
    block: &BlockMeaning,
    lines: &[LineView<'_>],
    preferences: &Preferences,
) -> Option<String> {
    let centroid = block.member("ybar")?.as_quantity()?;
    let rows = lines
        .iter()
        .filter_map(|line| match &line.tree().statement {
            Statement::Part(part) => Some((part.name.text.as_str(), part.deduct.is_some())),
            _ => None,
        })
        .map(|(name, deducted)| row(block, name, deducted, centroid))
        .collect::<Option<Vec<_>>>()?;
    let total = total(&rows)?;
    let [area, _, _, own, _, carried] = total.cells;
    let second_moment = own?.checked_add(carried?).ok()?;
    let agrees = |member: &str, sum: Quantity| {
        let result = block.member(member)?.as_quantity()?;
        Some((result.si() - sum.si()).abs() <= AGREEMENT * result.si().abs())
    };
    if !(agrees("area", area?)? && agrees("Ixx", second_moment)?) {
        return None;
    }
    Some(printed(&rows, &total, preferences))
}

fn row(block: &BlockMeaning, name: &str, deducted: bool, centroid: Quantity) -> Option<Row> {
    let member = |result: &str| block.member(&format!("{name}.{result}"))?.as_quantity();
    let signed = |quantity: Quantity| match deducted {
        true => quantity.absolute().negated(),
        false => quantity,
    };
    let area = signed(member("area")?);
    let y = member("ybar")?;
    let own = signed(member("Ixx")?);
    let distance = y.checked_subtract(centroid).ok()?;
    let square = distance.power(Rational::new(2, 1)?).ok()?;
    Some(Row {
        name: name.to_owned(),
        cells: [
            Some(area),
            Some(y),
            area.checked_multiply(y).ok(),
            Some(own),
            Some(distance),
            area.checked_multiply(square).ok(),
        ],
    })
}

fn total(rows: &[Row]) -> Option<Row> {
    let sum = |column: usize| {
        let mut cells = rows.iter().map(|row| row.cells[column]);
        let first = cells.next()??;
        cells.try_fold(first, |sum, cell| sum.checked_add(cell?).ok())
    };
    Some(Row {
        name: "total".to_owned(),
        cells: [
            Some(sum(0)?),
            None,
            Some(sum(2)?),
            Some(sum(3)?),
            None,
            Some(sum(5)?),
        ],
    })
}

fn printed(rows: &[Row], total: &Row, preferences: &Preferences) -> String {
    let units = [
        Dimension::AREA,
        Dimension::LENGTH,
        Dimension::FIRST_MOMENT_OF_AREA,
        Dimension::SECOND_MOMENT_OF_AREA,
        Dimension::LENGTH,
        Dimension::SECOND_MOMENT_OF_AREA,
    ]
    .map(|dimension| preferences.unit_for(dimension));
    let titles = ["A", "y", "A·y", "own I", "d", "A·d²"];
    let mut text = "| part |".to_owned();
    for (title, unit) in titles.iter().zip(&units) {
        text += &format!(" {title} ({unit}) |");
    }
    text += "\n|---|---:|---:|---:|---:|---:|---:|\n";
    for row in rows.iter().chain([total]) {
        text += &format!("| {} |", row.name);
        for (cell, unit) in row.cells.iter().zip(&units) {
            text += &format!(" {} |", in_unit(*cell, unit, preferences));
        }
        text.push('\n');
    }
    text
}

fn in_unit(cell: Option<Quantity>, unit: &Unit, preferences: &Preferences) -> String {
    let Some(quantity) = cell else {
        return String::new();
    };
    let parts = format_parts(quantity, Some(unit), preferences);
    if parts.unit == unit.to_string() {
        parts.digits
    } else {
        parts.to_string()
    }
}
