//! Every row of the table against the published properties beside it.

use haunch_mechanics::section::{Part, Section, Shape};
use haunch_quantity::typed::Typed;

use super::*;

#[test]
fn every_row_has_its_published_properties() {
    let rows = include_str!("sizes.tsv").lines();
    let rows = rows.filter(|line| !line.starts_with('#')).count();
    assert_eq!(all().len(), rows, "a row could not be read");
    for size in all() {
        let outline = size.outline().expect("possible sizes");
        let section = Section::new(&[Part::material(Shape::Outline(outline))]).expect("sound");
        let second = section.second_moments();
        let own = [section.area().si(), second.ixx.si(), second.iyy.si()];
        let mut checked = 0;
        for (own, published) in own.into_iter().zip(size.published) {
            let Some(published) = published else { continue };
            checked += 1;
            let differs = (own - published.value).abs() / published.value;
            assert!(
                differs <= published.tolerance,
                "{}: {own} against {}",
                size.designation,
                published.value
            );
        }
        assert!(checked >= 2, "{}: nothing to check", size.designation);
    }
}

#[test]
fn designations_differ() {
    let mut names: Vec<String> = all().iter().map(|size| plain(size.designation)).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), all().len());
}

#[test]
fn spaces_case_and_zeros_do_not_matter() {
    let found = |name: &str| find(name).map(|size| size.designation);
    assert_eq!(found("ipe100"), Some("IPE 100"));
    assert_eq!(found("HE 200 B"), Some("HE 200B"));
    assert_eq!(found("l 100×75×8"), Some("L 100x75x8"));
    assert_eq!(found("HSS10X0.5"), Some("HSS10.000X0.500"));
    assert_eq!(found("IPE 1000"), None);
    assert_eq!(found(""), None);
}

#[test]
fn the_nearest_designations_are_of_the_same_series() {
    assert_eq!(nearest("IPE 110")[0], "IPE 100");
    assert_eq!(nearest("SHS 60x60x5")[0], "SHS 60x60x5.0 hot finished");
    assert!(nearest("zz").is_empty());
}
