//! The table by which a section is worked out by hand: A, y, A·y, own I, d, A·d² of each part.

use haunch_calc::blocks::{BlockMeaning, Model, TableRow};
use haunch_quantity::{Dimension, Preferences, Quantity, Unit, format_number, format_parts};

use crate::show;

/// How far the sums of the table may differ from the section's own results for them to be shown as their
/// working: the two are summed in different orders.
const AGREEMENT: f64 = 1e-9;

const TITLES: [&str; 6] = ["A", "y", "A·y", "own I", "d", "A·d²"];
const DIMENSIONS: [Dimension; 6] = [
    Dimension::AREA,
    Dimension::LENGTH,
    Dimension::FIRST_MOMENT_OF_AREA,
    Dimension::SECOND_MOMENT_OF_AREA,
    Dimension::LENGTH,
    Dimension::SECOND_MOMENT_OF_AREA,
];

/// The table in Markdown with its totals, and how the centroid and the second moment follow from them.
/// None for a block without a section's results.
pub(crate) fn table(block: &BlockMeaning, preferences: &Preferences) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let rows = &section.table();
    let totals = [
        sum(rows, |row| row.area),
        None,
        sum(rows, |row| row.area_y),
        sum(rows, |row| row.own),
        None,
        sum(rows, |row| row.carried),
    ];
    let mut text = printed(rows, &totals, preferences);
    if let Some(working) = working(block, &totals, preferences) {
        text += &format!("\n{working}");
    }
    (!rows.is_empty()).then_some(text)
}

fn sum(rows: &[TableRow], cell: impl Fn(&TableRow) -> Quantity) -> Option<Quantity> {
    let mut cells = rows.iter().map(cell);
    let first = cells.next()?;
    cells.try_fold(first, |sum, cell| sum.checked_add(cell).ok())
}

fn printed(rows: &[TableRow], totals: &[Option<Quantity>; 6], preferences: &Preferences) -> String {
    let units = DIMENSIONS.map(|dimension| preferences.unit_for(dimension));
    let transformed = rows.iter().any(|row| row.modular_ratio != 1.0);
    let ratio = |text: &str| {
        if transformed {
            format!(" {text} |")
        } else {
            String::new()
        }
    };
    let mut text = format!("| part |{}", ratio("n"));
    for (title, unit) in TITLES.iter().zip(&units) {
        let times = if transformed && title.starts_with(['A', 'o']) {
            "n·"
        } else {
            ""
        };
        text += &format!(" {times}{title} ({unit}) |");
    }
    text += &format!(
        "\n|---|{}{}\n",
        ratio("---:").replace(' ', ""),
        "---:|".repeat(units.len())
    );
    for row in rows {
        let cells = [
            row.area,
            row.y,
            row.area_y,
            row.own,
            row.distance,
            row.carried,
        ];
        let n = format_number(row.modular_ratio, preferences.digits());
        let name = if row.is_deduction {
            format!("{} (deducted)", row.part)
        } else {
            row.part.to_string()
        };
        text += &format!("| {name} |{}", ratio(&n));
        text += &line(&cells.map(Some), &units, preferences);
    }
    text += &format!("| total |{}", ratio(""));
    text + &line(totals, &units, preferences)
}

fn line(cells: &[Option<Quantity>; 6], units: &[Unit; 6], preferences: &Preferences) -> String {
    let mut text = String::new();
    for (cell, unit) in cells.iter().zip(units) {
        text += &format!(" {} |", in_unit(*cell, unit, preferences));
    }
    text + "\n"
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

/// `ybar = 95600 mm³ / 2320 mm² = 41.21 mm` and the like for Ixx.
fn working(
    block: &BlockMeaning,
    totals: &[Option<Quantity>; 6],
    preferences: &Preferences,
) -> Option<String> {
    let [area, _, first_moment, own, _, carried] = *totals;
    let (area, first_moment, own, carried) = (area?, first_moment?, own?, carried?);
    let ybar = block.member("ybar")?.as_quantity()?;
    let second_moment = block.member("Ixx")?.as_quantity()?;
    let depth = block.member("depth")?.as_quantity()?;
    let near = |sum: Quantity, result: Quantity, scale: Quantity| {
        (sum.si() - result.si()).abs() <= AGREEMENT * scale.si().abs()
    };
    if !near(first_moment.checked_divide(area).ok()?, ybar, depth)
        || !near(own.checked_add(carried).ok()?, second_moment, second_moment)
    {
        return None;
    }
    let plain = |quantity| show::plain(quantity, None, preferences);
    let shown = |quantity| haunch_quantity::format_quantity(quantity, None, preferences);
    Some(format!(
        "```haunch\nybar = {} / {} = {}\nIxx = {} + {} = {}\n```",
        plain(first_moment),
        plain(area),
        shown(ybar),
        plain(own),
        plain(carried),
        shown(second_moment),
    ))
}
