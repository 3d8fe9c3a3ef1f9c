//! The catalogue derived again: areas, centroids, moments of area and moduli by integrating over the shape,
//! moments, reactions, slopes and deflections by integrating the curvature M/(E·I). Apart from the program's
//! own sections and beams, and from the books that the entries name from memory.

#[path = "../support/mod.rs"]
mod support;

mod beam;
mod shape;

use haunch_calc::catalogue::entries;
use support::read;

/// What a formula comes to with the values of its letters, in SI units.
fn worked_out(formula: &str, values: &str) -> f64 {
    let (_, right) = formula.split_once(" = ").expect("a formula");
    let values = values.replace("; ", "\n");
    read(&format!(
        "allow unused-value\n{values}\nfound_here = {right}\n"
    ))
    .si("found_here")
}

#[track_caller]
fn check(formula: &str, values: &str, derived: f64, within: f64) {
    let found = worked_out(formula, values);
    assert!(
        (found - derived).abs() <= within * derived.abs(),
        "{formula} is {found}, and {derived} by integration"
    );
}

/// Whether the catalogue has a formula: a row about one that it has not would check nothing.
fn is_in_catalogue(formula: &str) -> bool {
    entries().any(|entry| entry.formulas.contains(&formula))
}
