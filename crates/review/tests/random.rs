//! What holds of files that are changed at random: renamed, moved, broken, merged, laid out for another
//! system.

mod support;

use std::collections::BTreeSet;

use haunch_review::{Action, Asked, FilePair, Review, review};
use proptest::prelude::*;

use support::{compare, versions};

/// Blocks and lines whose order means nothing, each with its own lines.
const PARTS: &[(&str, &[&str])] = &[
    ("results in mm, kN, kN*m, MPa, 4 digits", &[]),
    (
        "material steel",
        &[
            "E = 205 GPa",
            "density = 7850 kg/m^3",
            "limit tension <= 150 MPa",
            "limit compression <= 130 MPa",
        ],
    ),
    ("t = 12 mm", &[]),
    ("breite = 130 mm", &[]),
    ("Länge = 2.8 m", &[]),
    ("Δ = 5 mm", &[]),
    (
        "section rail of steel",
        &[
            "rect flange breite x 10 mm",
            "rect stem t x 150 mm above flange",
            "point crown at top",
        ],
    ),
    (
        "beam slip of rail",
        &[
            "length = Länge",
            "load cradle 6 kN at middle",
            "load dead self weight",
            "combination strength = 1.35*dead + 1.5*cradle",
            "limit deflection <= span/400",
        ],
    ),
    ("area = rail.area [mm^2]", &[]),
    ("überstand = 2*Δ + t [mm]", &[]),
    ("M = slip.strength.M_max [kN*m]", &[]),
    ("P = largest cradle of slip [kN]", &[]),
    ("verify area >= 1500 mm^2", &[]),
    ("expect überstand = 22 mm within 1 %", &[]),
    ("answer P \"what it carries\"", &[]),
];

/// Numbers to change, each with its line's beginning.
const NUMBERS: &[(&str, &str)] = &[
    ("t = 12", "t = 11"),
    ("breite = 130", "breite = 140"),
    ("Länge = 2.8", "Länge = 3.0"),
    ("Δ = 5", "Δ = 6"),
    ("E = 205", "E = 195"),
    ("cradle 6 kN", "cradle 5 kN"),
];

/// Names with others that nothing else has.
const NAMES: &[(&str, &str)] = &[
    ("breite", "b_f"),
    ("Länge", "ℓ"),
    ("Δ", "обрез"),
    ("überstand", "幅"),
    ("rail", "träger"),
    ("stem", "Steg"),
    ("slip", "σlip"),
    ("cradle", "wagen"),
    ("steel", "S_235"),
];

/// The file with its parts and their lines in an order given by numbers.
fn written(order: &[u8]) -> String {
    let mut keys = order.iter().copied().cycle();
    let mut sorted = |count: usize| {
        let mut places: Vec<(u8, usize)> = (0..count)
            .map(|at| (keys.next().unwrap_or(0), at))
            .collect();
        places.sort();
        places.into_iter().map(|(_, at)| at).collect::<Vec<_>>()
    };
    let mut text = String::new();
    for at in sorted(PARTS.len()) {
        let (head, lines) = PARTS[at];
        text.push_str(head);
        text.push('\n');
        for line in sorted(lines.len()) {
            text.push_str(&format!("    {}\n", lines[line]));
        }
        if !lines.is_empty() {
            text.push('\n');
        }
    }
    text
}

fn replaced(text: &str, pairs: &[(&str, &str)], chosen: &[bool]) -> String {
    let chosen = pairs.iter().zip(chosen).filter(|(_, chosen)| **chosen);
    chosen.fold(text.to_owned(), |text, ((from, to), _)| {
        assert!(text.contains(from), "{from} in {text}");
        text.replace(from, to)
    })
}

/// The names of the results that changed, as they are in the new version.
fn names(review: &Review) -> BTreeSet<String> {
    let results = review.results.iter().map(|result| result.name.clone());
    results
        .chain(
            review
                .checks
                .iter()
                .map(|check| format!("check {}", check.name)),
        )
        .collect()
}

fn is_silent(review: &Review) -> bool {
    review.changes.is_empty() && !review.results_changed()
}

fn flags(count: usize) -> impl Strategy<Value = Vec<bool>> {
    proptest::collection::vec(any::<bool>(), count)
}

/// Lines that may stand anywhere: broken ones, marks of a merge, strange letters and huge numbers.
fn stray_line() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("<<<<<<< HEAD".to_owned()),
        Just("=======".to_owned()),
        Just(">>>>>>> side".to_owned()),
        Just("||||||| base".to_owned()),
        Just("t = 9 mm".to_owned()),
        Just("    rect lip 20 x 5 mm below flange".to_owned()),
        Just("section rail of steel".to_owned()),
        Just("huge = 1e308 N * 1e308 mm [kN*m]".to_owned()),
        Just("tiny = 5e-324 mm".to_owned()),
        Just("mm = 4 m".to_owned()),
        Just("kN = 2 kN".to_owned()),
        Just("ring = ring + 1 mm".to_owned()),
        Just("beam".to_owned()),
        Just("use \"nowhere.haunch\"".to_owned()),
        "[a-z =(){}\\[\\]+*/0-9.\u{fffd}\u{202e}Δ幅\"'#<>]{0,40}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_blocks_and_lines_is_silent(one in any::<[u8; 32]>(), other in any::<[u8; 32]>()) {
        let review = compare(&written(&one), &written(&other));
        prop_assert!(is_silent(&review), "{review:#?}");
    }

    #[test]
    fn line_ends_and_marks_are_silent(order in any::<[u8; 32]>(), ends in 0_usize..3, chosen in flags(NUMBERS.len())) {
        let old = written(&order);
        let ends = ["\r\n", "\r", "\n\n"][ends];
        let laid_out = |text: &str| format!("\u{feff}{}", text.replace('\n', ends));
        let review = compare(&old, &laid_out(&old));
        prop_assert!(is_silent(&review), "{review:#?}");
        // Together with an edit only the edit is told.
        let new = replaced(&old, NUMBERS, &chosen);
        let plain = compare(&old, &new);
        let other = compare(&old, &laid_out(&new));
        prop_assert_eq!(names(&plain), names(&other));
        prop_assert_eq!(plain.changes.len(), other.changes.len());
        for result in &other.results {
            prop_assert!(!result.causes.is_empty());
        }
    }

    #[test]
    fn renamed_and_edited_and_moved(
        order in any::<[u8; 32]>(),
        other in any::<[u8; 32]>(),
        renamed in flags(NAMES.len()),
        chosen in flags(NUMBERS.len()),
    ) {
        let old = written(&order);
        let edited = replaced(&written(&other), NUMBERS, &chosen);
        let new = replaced(&edited, NAMES, &renamed);
        let review = compare(&old, &new);
        let count = chosen.iter().filter(|chosen| **chosen).count();
        let changed: Vec<_> = review.changes.iter().filter(|change| change.action != Action::Renamed).collect();
        // A name whose own line says something else, too, is another name: nobody can tell.
        let both = [("breite", 1), ("Länge", 2), ("Δ", 3), ("cradle", 5)];
        let is_both = both.iter().any(|(name, at)| {
            let own = NAMES.iter().position(|(from, _)| from == name);
            chosen[*at] && own.is_some_and(|own| renamed[own])
        });
        if !is_both {
            prop_assert_eq!(changed.len(), count, "{:#?}", review.changes);
            let expected: BTreeSet<String> = names(&compare(&old, &edited))
                .iter()
                .map(|name| replaced_names(name, &renamed))
                .collect();
            prop_assert_eq!(names(&review), expected);
        }
        for result in &review.results {
            prop_assert!(!result.causes.is_empty(), "{result:?}");
            for cause in &result.causes {
                prop_assert!(review.changes[cause.change].action != Action::Renamed);
            }
        }
    }

    #[test]
    fn lines_that_are_broken_or_in_conflict(
        order in any::<[u8; 32]>(),
        lines in proptest::collection::vec((any::<u16>(), stray_line()), 0..6),
        chosen in flags(NUMBERS.len()),
    ) {
        let old = written(&order);
        let with = |text: &str| {
            let mut all: Vec<&str> = text.split_inclusive('\n').collect();
            let written: Vec<String> = lines.iter().map(|(_, line)| format!("{line}\n")).collect();
            for ((at, _), line) in lines.iter().zip(&written) {
                all.insert(usize::from(*at) % (all.len() + 1), line);
            }
            all.concat()
        };
        let new = with(&replaced(&old, NUMBERS, &chosen));
        prop_assert!(!compare(&new, &new).results_changed());
        let there = compare(&old, &new);
        let back = compare(&new, &old);
        for result in there.results.iter().chain(&back.results) {
            prop_assert!(!result.causes.is_empty(), "{result:?}");
        }
        for check in there.checks.iter().chain(&back.checks) {
            prop_assert!(!check.causes.is_empty(), "{check:?}");
        }
        // What changed on the way there changes on the way back.
        let is_renamed = |review: &Review| review.changes.iter().any(|change| change.action == Action::Renamed);
        if !is_renamed(&there) && !is_renamed(&back) {
            let results = |review: &Review| -> BTreeSet<String> {
                review.results.iter().map(|result| result.name.clone()).collect()
            };
            prop_assert_eq!(results(&there), results(&back));
        }
    }

    #[test]
    fn causes_in_used_files_are_complete(
        numbers in proptest::collection::vec(1_u16..400, 4),
        changed in proptest::collection::vec(1_u16..400, 4),
        chosen in flags(4),
    ) {
        let shop = |numbers: &[u16]| -> String {
            let lines = numbers.iter().enumerate().map(|(at, number)| format!("g{at} = {number} mm\n"));
            lines.collect::<String>() + "both = g0 + g1\nallow unused-value\n"
        };
        let job = "use \"shop.haunch\" as shop\na = shop.both*2 [mm]\nb = max(shop.g1, shop.g2)\nc = a - b\nd = if shop.g3 > 100 mm then c else shop.g2\nverify d <= 300 mm\n";
        let mixed = |undone: &[usize]| {
            let pick = |at: usize| if chosen[at] && !undone.contains(&at) { changed[at] } else { numbers[at] };
            shop(&(0..4).map(pick).collect::<Vec<_>>())
        };
        let told = |new: &str| {
            let old = shop(&numbers);
            let (before, after, pairs) = versions(&[("shop.haunch", &old), ("job.haunch", job)], &[("shop.haunch", new)]);
            review(&before, &after, &pairs, Asked::default())
        };
        let whole = told(&mixed(&[]));
        for result in &whole.results {
            prop_assert!(!result.causes.is_empty());
            let lines = result.causes.iter().map(|cause| whole.changes[cause.change].new.as_ref());
            let undone: Vec<usize> = lines.map(|line| line.map_or(0, |line| line.line as usize - 1)).collect();
            let left = told(&mixed(&undone));
            prop_assert!(left.results.iter().all(|other| other.name != result.name), "{} in {left:#?}", result.name);
        }
    }

    #[test]
    fn files_come_and_go(order in any::<[u8; 32]>(), is_new in any::<bool>(), stray in stray_line()) {
        let text = written(&order) + &stray;
        let (empty, full, pairs) = versions(&[("a.haunch", "")], &[("a.haunch", ""), ("b.haunch", &text)]);
        let pair = |pair: &FilePair| match is_new {
            true => *pair,
            false => FilePair { old: pair.new, new: pair.old },
        };
        let pairs: Vec<FilePair> = pairs.iter().map(pair).collect();
        let (old, new) = if is_new { (&empty, &full) } else { (&full, &empty) };
        let review = review(old, new, &pairs, Asked::default());
        prop_assert_eq!(review.files.len(), 1);
        prop_assert!(review.results.iter().all(|result| result.one_sided && !result.causes.is_empty()));
        let action = if is_new { Action::Added } else { Action::Removed };
        prop_assert!(review.changes.iter().all(|change| change.action == action));
        prop_assert!(review.changes.len() > 20);
    }

    #[test]
    fn huge_and_tiny_numbers(a in "[1-9](\\.[0-9]{1,3})?e-?[0-9]{1,3}", b in "[1-9](\\.[0-9]{1,3})?e-?[0-9]{1,3}") {
        let text = |number: &str| format!("a = {number} mm\nb = a*a  [mm^2]\nc = a/(1 m)\nd = sqrt(b) + a\nverify a <= {number} mm\nexpect d = 2*a within 1 %\n");
        let review = compare(&text(&a), &text(&b));
        for result in &review.results {
            prop_assert!([result.old_si, result.new_si, result.percent].into_iter().flatten().all(f64::is_finite));
            prop_assert!(!result.causes.is_empty());
        }
        let is_other = |result: &haunch_review::ResultChange| result.old != result.new;
        prop_assert!(review.results.iter().all(is_other), "{review:#?}");
        prop_assert!(is_silent(&compare(&text(&a), &text(&a))));
    }
}

/// A result's name with the names in it replaced.
fn replaced_names(name: &str, renamed: &[bool]) -> String {
    let chosen = NAMES.iter().zip(renamed).filter(|(_, chosen)| **chosen);
    chosen.fold(name.to_owned(), |name, ((from, to), _)| {
        name.replace(from, to)
    })
}

#[test]
fn an_empty_file_and_any_other() {
    for text in ["", "\n", "\u{feff}", "# nothing\n", "\r\n\r\n"] {
        assert!(is_silent(&compare("", text)) && is_silent(&compare(text, "")));
        let all = written(&[0]);
        let review = compare(text, &all);
        assert!(review.results.iter().all(|result| result.one_sided));
        assert_eq!(names(&review), names(&compare(&all, text)));
    }
}
