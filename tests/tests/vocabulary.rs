//! The tables of units and dimensions in the language reference are those of the program.

use std::fs;

use haunch_quantity::{dimension_names, unit_words};
use haunch_tests::repository;

#[track_caller]
fn check_table(head: &str, rows: impl Iterator<Item = String>) {
    let page = fs::read_to_string(repository("tests/language/quantities-and-units.md"))
        .expect("the page is there");
    let written: Vec<&str> = page
        .lines()
        .skip_while(|line| *line != head)
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .collect();
    let rows: Vec<String> = rows.collect();
    assert_eq!(written, rows, "the table should be\n{}", rows.join("\n"));
}

#[test]
fn units() {
    let rows = unit_words().map(|word| {
        format!(
            "| `{}` | {} | {} |",
            word.spelling,
            word.dimension.name_or_units(),
            word.description
        )
    });
    check_table("| unit | dimension | what it is |", rows);
}

#[test]
fn dimensions() {
    let rows = dimension_names::names().iter().map(|row| {
        let also = row.also.join(", ");
        let unit = row.dimension.typical_unit().to_string();
        format!("| {} | {also} | {unit} |", row.name).replace("|  |", "| |")
    });
    check_table("| dimension | also | usual unit |", rows);
}
