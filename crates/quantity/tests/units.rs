//! The unit table against published conversion factors; sources stand beside each case in
//! `units.toml`.

use haunch_quantity::{
    Dimension, Quantity, STANDARD_ACCELERATION_OF_FREE_FALL, Unit, format_number, to_si, unit_words,
};
use serde::Deserialize;

#[derive(Deserialize)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    title: String,
    source: String,
    value: String,
    unit: String,
    #[serde(default)]
    also: Vec<String>,
    published: String,
    published_unit: String,
    digits: u8,
    relative_tolerance: f64,
    exact: bool,
}

fn cases() -> Vec<Case> {
    let cases: Cases = toml::from_str(include_str!("units.toml")).unwrap();
    cases.case
}

fn unit(text: &str) -> Unit {
    Unit::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn quantity(value: &str, unit_text: &str) -> Quantity {
    if unit_text == "standard_gravity" {
        assert_eq!(value, "1");
        return Quantity::new(STANDARD_ACCELERATION_OF_FREE_FALL, Dimension::ACCELERATION).unwrap();
    }
    let unit = unit(unit_text);
    Quantity::new(to_si(value, &unit).unwrap(), unit.dimension()).unwrap()
}

#[test]
fn sizes_agree_with_published_factors() {
    let cases = cases();
    assert_eq!(
        cases.iter().filter(|case| case.id.starts_with('A')).count(),
        31
    );
    for case in cases {
        let name = format!("{} {}: {}", case.id, case.title, case.source);
        let ours = quantity(&case.value, &case.unit);
        let published = quantity(&case.published, &case.published_unit);
        assert_eq!(ours.dimension(), published.dimension(), "{name}");

        let difference = (ours.si() / published.si() - 1.0).abs();
        assert!(
            difference <= case.relative_tolerance,
            "{name}: {difference:e}"
        );
        if case.exact {
            assert!(difference <= f64::EPSILON, "{name}: {difference:e}");
        }

        // Rounded to the digits of the source, our value is the published one.
        let in_published_unit = unit(&case.published_unit).from_si(ours.si()).unwrap();
        let rounded: f64 = format_number(in_published_unit, case.digits)
            .parse()
            .unwrap();
        assert_eq!(rounded, case.published.parse::<f64>().unwrap(), "{name}");
    }
}

#[test]
fn short_spellings_are_exactly_the_units_they_stand_for() {
    for case in cases() {
        for spelling in &case.also {
            let (short, long) = (unit(spelling), unit(&case.unit));
            assert_eq!(short.exact_factor(), long.exact_factor(), "{spelling}");
            assert_eq!(short.dimension(), long.dimension(), "{spelling}");
        }
    }
}

#[test]
fn every_unit_that_is_no_power_of_ten_has_a_published_value() {
    let cases = cases();
    let published: Vec<Unit> = cases
        .iter()
        .filter(|case| case.unit != "standard_gravity")
        .flat_map(|case| std::iter::once(&case.unit).chain(&case.also))
        .map(|text| unit(text))
        .collect();
    for word in unit_words() {
        let size = unit(word.spelling).factor();
        let is_power_of_ten = format!("{size:e}").starts_with("1e");
        let has_case = published
            .iter()
            .any(|unit| unit.powers().iter().any(|power| power.word == word));
        assert!(is_power_of_ten || has_case, "{}", word.spelling);
    }
}
