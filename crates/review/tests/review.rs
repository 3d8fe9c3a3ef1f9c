//! Two versions of small files, and what a review says of them.

mod support;

use haunch_review::{Action, Asked, ConcernKind, Review, Subject, Verdict, review};
use proptest::prelude::*;

use support::{compare, versions};

const RAIL: &str = "\
sheet
    title    = \"Rail of the boat slip\"
    revision = \"B\"
    checked  = \"A. Ito, 4 March, revision A\"

material steel
    E = 205 GPa
    density = 7850 kg/m^3
    limit tension     <= 150 MPa
    limit compression <= 130 MPa

t = 12 mm                     # stem
section rail of steel
    rect flange 130 x 10 mm
    rect stem   t x 150 mm  above flange
    point crown at top

beam slip of rail
    length = 2.8 m
    load cradle 9 kN at middle
    load dead self weight
    combination strength = 1.35*dead + 1.5*cradle
    combination rest     = dead
    limit deflection <= span/400

P = largest cradle of slip under strength   [kN]
area = rail.area                            [mm^2]
verify area >= 1500 mm^2
answer P \"largest cradle\"
";

fn changed(from: &str, to: &str) -> Review {
    assert!(RAIL.contains(from), "{from}");
    compare(RAIL, &RAIL.replacen(from, to, 1))
}

fn verdict(review: &Review, name: &str) -> Option<Verdict> {
    let check = review.checks.iter().find(|check| check.name == name)?;
    Some(check.verdict)
}

#[track_caller]
fn result<'a>(review: &'a Review, name: &str) -> &'a haunch_review::ResultChange {
    let found = review.results.iter().find(|result| result.name == name);
    found.unwrap_or_else(|| panic!("{name} in {:#?}", review.results))
}

#[test]
fn a_file_and_itself() {
    assert_eq!(
        compare(RAIL, RAIL),
        Review {
            recorded_checks: vec![
                "a.haunch: checked by A. Ito, 4 March, revision A, but the sheet is at revision B"
                    .to_owned()
            ],
            ..Review::default()
        }
    );
}

#[test]
fn a_thinner_stem_fails_a_check_and_says_why() {
    let review = changed("t = 12 mm", "t = 4 mm");
    assert_eq!(review.changes.len(), 1, "{:#?}", review.changes);
    let change = &review.changes[0];
    assert_eq!(
        (change.action, change.subject),
        (Action::Changed, Subject::Given)
    );
    assert_eq!(change.new.as_ref().unwrap().text, "t = 4 mm");
    assert_eq!(
        verdict(&review, "slip.compression"),
        Some(Verdict::NoLongerHolds)
    );
    assert_eq!(review.checks[0].verdict, Verdict::NoLongerHolds);
    assert!(
        review.checks[0]
            .causes
            .iter()
            .all(|cause| cause.change == 0)
    );
    assert_eq!(review.checks[0].causes[0].through, ["stem", "rail"]);
    // 1300 + 12*150 and 1300 + 4*150
    let area = result(&review, "area");
    assert_eq!(area.old.as_deref(), Some("3100 mm²"));
    assert_eq!(area.new.as_deref(), Some("1900 mm²"));
    assert!((area.percent.unwrap() + 1200.0 / 3100.0 * 100.0).abs() < 1e-9);
    assert!(
        review
            .results
            .iter()
            .all(|result| !result.causes.is_empty())
    );
    assert!(
        review.recorded_checks[0].contains("checked by A. Ito"),
        "{:?}",
        review.recorded_checks
    );
    assert!(review.concerns.is_empty() && review.checks_suffer());
}

#[test]
fn a_removed_limit_comes_first() {
    let review = changed("    limit deflection <= span/400\n", "");
    assert_eq!(verdict(&review, "slip.deflection"), Some(Verdict::Removed));
    assert_eq!(review.changes[0].action, Action::Removed);
    assert!(review.concerns.is_empty(), "said once, by the check");
    let review = changed("    limit compression <= 130 MPa\n", "");
    assert_eq!(review.checks[0].verdict, Verdict::Removed);
    assert_eq!(review.checks[0].name, "slip.compression");
    assert_eq!(verdict(&review, "slip.tension"), None);
    let review = changed("rail of steel", "rail");
    assert!(
        review
            .checks
            .iter()
            .filter(|c| c.verdict == Verdict::Removed)
            .count()
            >= 2
    );
}

#[track_caller]
fn loosened(from: &str, to: &str, words: &str) {
    let review = changed(from, to);
    assert!(
        review
            .concerns
            .iter()
            .any(|concern| concern.words.contains(words)),
        "{:#?}",
        review.concerns
    );
    assert!(review.checks_suffer());
    let back = compare(&RAIL.replacen(from, to, 1), RAIL);
    assert!(
        back.concerns
            .iter()
            .all(|c| c.kind == ConcernKind::Restated),
        "{:#?}",
        back.concerns
    );
}

#[test]
fn whatever_asks_less_is_said() {
    loosened(
        "tension     <= 150 MPa",
        "tension     <= 165 MPa",
        "150.0 MPa before, 165.0 MPa now",
    );
    loosened("span/400", "span/300", "deflection of slip is higher");
    loosened("span/400", "span/400 under rest", "only under rest");
    loosened("1.35*dead + 1.5*cradle", "1.5*cradle", "dead was dropped");
    loosened("1.5*cradle", "1.4*cradle", "factor of cradle");
    loosened("area >= 1500 mm^2", "area >= 1400 mm^2", "asks less");
    loosened("answer P", "allow unused-value\nanswer P", "newly allowed");
}

#[test]
fn a_wider_tolerance() {
    let old = "a = 2 mm\nb = a*a  [mm^2]\nexpect b = 4 mm^2 within 0.1 %\n";
    let review = compare(old, &old.replace("0.1 %", "5 %"));
    assert!(
        review.concerns[0]
            .words
            .contains("0.1000 % before, 5.000 % now"),
        "{:?}",
        review.concerns
    );
}

#[test]
fn bounds_are_told_in_the_unit_in_which_they_are_written() {
    let words = |old: &str, from: &str, to: &str| {
        let review = compare(old, &old.replace(from, to));
        review.concerns.first().map(|concern| concern.words.clone())
    };
    let told = "a check asks less: 0.3000 m before, 0.3500 m now";
    let old = "results in mm\nspan = 4 m\nsag = span/20  [mm]\nverify sag <= 0.3 m\n";
    assert_eq!(words(old, "0.3 m", "0.35 m").as_deref(), Some(told));
    let told = "a check asks less: 300.0 mm before, 350.0 mm now";
    assert_eq!(words(old, "0.3 m", "350 mm").as_deref(), Some(told));
    let old = "results in kPa\nsection bar\n    rect plate 40 x 120 mm\nforces bent on bar\n    M = 9 kN*m sagging\n    limit tension <= 150 MPa\n";
    let told = "the limit on tension of bent is higher: 150.0 MPa before, 165.0 MPa now";
    assert_eq!(words(old, "150", "165").as_deref(), Some(told));
    let old = "results in m\na = 2 m\nexpect a = 2 m within 1 mm\n";
    let told = "a tolerance is wider: 1.000 mm before, 2.000 mm now";
    assert_eq!(words(old, "1 mm", "2 mm").as_deref(), Some(told));
}

#[test]
fn a_limit_through_a_given_number() {
    let old = "fy = 235 MPa\nsection bar\n    rect plate 40 x 120 mm\nforces bent on bar\n    M = 9 kN*m sagging\n    limit tension <= fy/1.5\n";
    let review = compare(old, &old.replace("235", "355"));
    assert!(
        review.concerns[0]
            .words
            .contains("156.7 MPa before, 236.7 MPa now"),
        "{:?}",
        review.concerns
    );
}

#[test]
fn a_rename_is_no_removal() {
    let new = RAIL
        .replace("t = 12 mm", "stem_thickness = 12 mm")
        .replace("rect stem   t x", "rect stem   stem_thickness x");
    let review = compare(RAIL, &new);
    assert_eq!(review.changes.len(), 1, "{:#?}", review.changes);
    assert_eq!(review.changes[0].action, Action::Renamed);
    assert!(!review.results_changed(), "{review:#?}");
    let new = RAIL
        .replace("rail", "girder")
        .replace("stem ", "web ")
        .replace("area", "A_all")
        .replace("girder.A_all", "girder.area");
    let review = compare(RAIL, &new);
    assert!(
        review
            .changes
            .iter()
            .all(|change| change.action == Action::Renamed),
        "{:#?}",
        review.changes
    );
    assert!(!review.results_changed(), "{:#?}", review.results);
}

#[test]
fn a_rename_reaches_other_files() {
    let shop = "thin = 6 mm\nmaterial steel\n    E = 205 GPa\nallow unused-value\n";
    let job = "use \"shop.haunch\" as shop\na = 2*shop.thin [mm]\nsection s of shop.steel\n    rect p shop.thin x 3 mm\n";
    let (before, after, pairs) = versions(
        &[("shop.haunch", shop), ("job.haunch", job)],
        &[
            ("shop.haunch", &shop.replace("thin", "slender")),
            ("job.haunch", &job.replace("thin", "slender")),
        ],
    );
    let review = review(&before, &after, &pairs, Asked::default());
    assert_eq!(review.changes.len(), 1, "{:#?}", review.changes);
    assert!(!review.results_changed(), "{review:#?}");
}

#[test]
fn a_name_that_a_line_did_not_follow_is_a_cause() {
    let shop =
        "thin = 6 mm\nwide = 3*thin [mm]\nmaterial steel\n    E = 205 GPa\nallow unused-value\n";
    let job =
        "use \"shop.haunch\" as shop\na = 2*shop.thin [mm]\nb = 2*a [mm]\nverify b <= 30 mm\n";
    for (old, new) in [("thin", "slender"), ("slender", "thin")] {
        let shop = |name: &str| shop.replace("thin", name);
        let (before, after, pairs) = versions(
            &[("shop.haunch", &shop(old)), ("job.haunch", job)],
            &[("shop.haunch", &shop(new))],
        );
        let review = review(&before, &after, &pairs, Asked::default());
        let changed: Vec<_> = review
            .changes
            .iter()
            .map(|change| &change.new.as_ref().unwrap().text)
            .collect();
        let wide = format!("wide = 3*{new} [mm]");
        assert_eq!(changed, [&format!("{new} = 6 mm"), &wide], "{old}");
        assert!(review.concerns.is_empty(), "{:#?}", review.concerns);
        for name in ["a", "b"] {
            let causes = &result(&review, name).causes;
            assert_eq!(causes.len(), 1, "{causes:#?}");
            assert_eq!(causes[0].change, 0);
        }
        assert_eq!(review.checks[0].causes.len(), 1);
    }
}

#[test]
fn causes_cross_files() {
    let shop = "thin = 6 mm\nthick = 8 mm\n\nallow unused-value\n";
    let job =
        "use \"shop.haunch\" as shop\na = 2*shop.thin [mm]\nb = 2*a [mm]\nc = shop.thick*2 [mm]\n";
    let (before, after, pairs) = versions(
        &[("shop.haunch", shop), ("job.haunch", job)],
        &[("shop.haunch", &shop.replace("6 mm", "5 mm"))],
    );
    let review = review(&before, &after, &pairs, Asked::default());
    assert_eq!(review.results.len(), 2, "{:#?}", review.results);
    let b = result(&review, "b");
    assert_eq!(b.causes[0].through, ["a"]);
    assert_eq!(
        review.changes[b.causes[0].change]
            .old
            .as_ref()
            .unwrap()
            .file,
        "shop.haunch"
    );
}

#[test]
fn layout_comments_and_order_are_silent() {
    let new = RAIL
        .replace(
            "t = 12 mm                     # stem",
            "t   =   12 mm  # thickness of the stem",
        )
        .replace("    rect flange", "\trect   flange")
        .replace("    limit deflection <= span/400\n", "")
        .replace(
            "    length = 2.8 m\n",
            "    limit deflection ≤ span/400\n    length = 2.8 m\n",
        );
    let review = compare(RAIL, &new);
    assert!(
        review.changes.is_empty() && !review.results_changed(),
        "{review:#?}"
    );
}

#[test]
fn only_what_has_a_part_is_a_cause() {
    // The load is a cause of the moment, the limit is none; of the deflection check both are.
    let review = compare(
        RAIL,
        &RAIL
            .replace("9 kN at middle", "8 kN at middle")
            .replace("span/400", "span/500"),
    );
    let load = review
        .changes
        .iter()
        .position(|c| c.subject == Subject::Load)
        .unwrap();
    let limit = review
        .changes
        .iter()
        .position(|c| c.subject == Subject::Limit)
        .unwrap();
    let moment: Vec<_> = result(&review, "slip.M_max")
        .causes
        .iter()
        .map(|c| c.change)
        .collect();
    assert_eq!(moment, [load]);
    let of = |name: &str| -> Vec<usize> {
        let check = review.checks.iter().find(|c| c.name == name).unwrap();
        check.causes.iter().map(|c| c.change).collect()
    };
    assert_eq!(of("slip.deflection"), {
        let mut both = vec![load, limit];
        both.sort();
        both
    });
    assert_eq!(of("slip.tension"), [load]);
}

#[test]
fn a_broken_line_takes_values_away() {
    let review = changed("area = rail.area", "area = rail.area + 1 mm");
    assert!(
        review
            .findings
            .iter()
            .any(|f| f.came && f.severity == "error")
    );
    assert_eq!(result(&review, "area").new, None);
    assert_eq!(
        verdict(&review, "area >= 1500 mm^2"),
        Some(Verdict::NoLongerComputed)
    );
}

#[test]
fn near_its_bound() {
    let old = "a = 80 mm\nverify a <= 100 mm\n";
    let near = compare(old, &old.replace("80", "96"));
    assert_eq!(near.checks[0].verdict, Verdict::NearItsBound);
    let far = compare(old, &old.replace("80", "94"));
    assert_eq!(far.checks[0].verdict, Verdict::Holds);
    let over = compare(old, &old.replace("80", "100.0001"));
    assert_eq!(
        over.checks[0].new.as_ref().unwrap().used.as_deref(),
        Some("100.0001 %")
    );
}

/// The names of what caused a result, as they stand at the beginning of the changed lines.
#[track_caller]
fn caused_by<'a>(review: &'a Review, causes: &[haunch_review::Cause]) -> Vec<&'a str> {
    let change = |cause: &haunch_review::Cause| &review.changes[cause.change];
    let text = |cause| change(cause).new.as_ref().unwrap().text.as_str();
    causes.iter().map(text).collect()
}

#[test]
fn of_the_lines_of_a_block_only_those_that_matter_are_causes() {
    let new = RAIL
        .replace("t = 12 mm", "t = 11 mm")
        .replace("flange 130 x", "flange 125 x")
        .replace("cradle 9 kN", "cradle 8 kN");
    let review = compare(RAIL, &new);
    let of = |name: &str| caused_by(&review, &result(&review, name).causes);
    assert_eq!(of("rail.stem.area"), ["t = 11 mm"]);
    assert_eq!(of("rail.flange.area"), ["rect flange 125 x 10 mm"]);
    assert_eq!(of("rail.area"), ["t = 11 mm", "rect flange 125 x 10 mm"]);
    // The search is for the cradle: what it is in the file does not matter.
    assert_eq!(of("P"), ["t = 11 mm", "rect flange 125 x 10 mm"]);
    assert_eq!(
        of("slip.rest.M_max"),
        ["t = 11 mm", "rect flange 125 x 10 mm"]
    );
    assert_eq!(review.untried, [""; 0]);
}

#[test]
fn the_largest_of_several_has_the_cause_that_governs() {
    let old = "a = 3 mm\nb = 5 mm\nc = max(a, b)  [mm]\n";
    let review = compare(old, "a = 4 mm\nb = 6 mm\nc = max(a, b)  [mm]\n");
    assert_eq!(
        caused_by(&review, &result(&review, "c").causes),
        ["b = 6 mm"]
    );
    // Neither alone makes it what it was.
    let old = "a = 3 mm\nb = 3 mm\nc = max(a, b)  [mm]\n";
    let review = compare(old, "a = 5 mm\nb = 5 mm\nc = max(a, b)  [mm]\n");
    let of_c = caused_by(&review, &result(&review, "c").causes);
    assert_eq!(of_c, ["a = 5 mm", "b = 5 mm"]);
    let balance = &review.balances;
    assert!(balance.is_empty(), "{balance:#?}");
}

#[test]
fn changes_in_balance_are_told() {
    let old = "a = 5 mm\nb = 5 mm\nsum = a + b  [mm]\ntwice = 2*a  [mm]\nmore = sum + c  [mm]\nc = 1 mm\n";
    let new = old
        .replace("a = 5", "a = 6")
        .replace("b = 5", "b = 4")
        .replace("c = 1", "c = 2");
    let review = compare(old, &new);
    assert_eq!(
        caused_by(&review, &result(&review, "twice").causes),
        ["a = 6 mm"]
    );
    assert_eq!(
        caused_by(&review, &result(&review, "more").causes),
        ["c = 2 mm"]
    );
    assert_eq!(review.balances.len(), 1, "{:#?}", review.balances);
    let balance = &review.balances[0];
    assert_eq!(balance.changes, [0]);
    let held: Vec<_> = balance
        .results
        .iter()
        .map(|held| {
            (
                held.name.as_str(),
                held.new.as_deref(),
                held.undone.as_deref(),
            )
        })
        .collect();
    assert_eq!(
        held,
        [
            ("sum", Some("10.00 mm"), Some("9.000 mm")),
            ("more", Some("12.00 mm"), Some("11.00 mm"))
        ]
    );
}

#[test]
fn lines_and_blocks_that_came_or_went_are_undone_too() {
    let old = RAIL.replace("answer P", "spare = 2*t  [mm]\nanswer P");
    let new = RAIL
        .replace(
            "    rect flange",
            "    rect lip 20 x 6 mm  below flange\n    rect flange",
        )
        .replace("    load dead self weight\n", "")
        .replace("1.35*dead + ", "")
        .replace("    combination rest     = dead\n", "")
        .replace("t = 12 mm", "web = 12 mm")
        .replace("stem   t x", "stem   web x")
        + "\nsection pad\n    rect all 40 x 5 mm\n";
    let review = compare(&old, &new);
    let of = |name: &str| caused_by(&review, &result(&review, name).causes);
    assert_eq!(of("rail.Ixx"), ["rect lip 20 x 6 mm below flange"]);
    let gone = result(&review, "spare");
    assert_eq!(
        review.changes[gone.causes[0].change].action,
        Action::Removed
    );
    assert_eq!(of("pad.area"), ["section pad", "rect all 40 x 5 mm"]);
}

#[test]
fn parts_joined_are_the_whole() {
    let files = |t: &str, a: &str| {
        [
            ("a.haunch", RAIL.replace("t = 12 mm", t).replace("9 kN", a)),
            (
                "b.haunch",
                format!("g = {}\nh = 2*g  [mm]\nverify h <= 30 mm\n", &t[4..]),
            ),
            (
                "c.haunch",
                RAIL.replace("span/400", "span/380")
                    .replace("12 mm", &t[4..]),
            ),
        ]
    };
    let (old, new) = (files("t = 12 mm", "9 kN"), files("t = 4 mm", "8 kN"));
    let borrowed =
        |files: &'_ [(&'static str, String)]| -> Vec<(&'static str, String)> { files.to_vec() };
    let (old, new) = (borrowed(&old), borrowed(&new));
    let texts = |files: &[(&'static str, String)]| -> Vec<(&'static str, &'static str)> {
        files
            .iter()
            .map(|(path, text)| (*path, &*text.clone().leak()))
            .collect()
    };
    let (before, after, pairs) = versions(&texts(&old), &texts(&new));
    let whole = review(&before, &after, &pairs, Asked::default());
    let one = |range: std::ops::Range<usize>| {
        let (before, after, pairs) = versions(&texts(&old[range.clone()]), &texts(&new[range]));
        review(&before, &after, &pairs, Asked::default())
    };
    assert!(!whole.checks.is_empty() && whole.changes.len() > 3);
    assert_eq!(Review::joined(vec![one(2..3), one(0..1), one(1..2)]), whole);
    assert_eq!(Review::joined(vec![one(0..2), one(2..3)]), whole);
}

/// A file of givens and formulas, written from numbers.
fn network(numbers: &[u8], shape: &[(u8, u8)]) -> Vec<String> {
    let mut lines: Vec<String> = numbers
        .iter()
        .enumerate()
        .map(|(i, n)| format!("g{i} = {n} mm"))
        .collect();
    for (i, (a, b)) in shape.iter().enumerate() {
        let name = |k: u8| match usize::from(k) % (numbers.len() + i) {
            k if k < numbers.len() => format!("g{k}"),
            k => format!("f{}", k - numbers.len()),
        };
        let (one, other) = (name(*a), name(*b));
        lines.push(match (a ^ b) % 4 {
            0 => format!("f{i} = {one} - {other}"),
            1 => format!("f{i} = max({one}, {other})"),
            _ => format!("f{i} = {one} + {other}"),
        });
    }
    lines
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// With exactly the causes of a result undone it is as it was, and with exactly these done it is as it
    /// has become.
    #[test]
    fn causes_are_complete(
        old in proptest::collection::vec(1_u8..5, 6),
        new in proptest::collection::vec(1_u8..5, 6),
        shape in proptest::collection::vec((0_u8..40, 0_u8..40), 8),
        other in proptest::collection::vec((0_u8..40, 0_u8..40), 8),
        swap in 0_usize..8,
    ) {
        let mut new_shape = shape.clone();
        new_shape[swap] = other[swap];
        let before = network(&old, &shape);
        let after = network(&new, &new_shape);
        let text = |lines: &[String]| lines.join("\n");
        let whole = compare(&text(&before), &text(&after));
        for result in &whole.results {
            prop_assert!(!result.causes.is_empty());
            let mut undone = after.clone();
            for cause in &result.causes {
                let line = whole.changes[cause.change].new.as_ref().unwrap().line as usize - 1;
                undone[line] = before[line].clone();
            }
            let left = compare(&text(&before), &text(&undone));
            prop_assert!(
                left.results.iter().all(|other| other.name != result.name),
                "{} in {:#?}", result.name, left
            );
            // Exactly those results are undone whose causes these are; what is otherwise is told.
            let moved = compare(&text(&after), &text(&undone));
            let names = |review: &Review| -> Vec<String> {
                review.results.iter().map(|result| result.name.clone()).collect()
            };
            let (moved, left) = (names(&moved), names(&left));
            let set: Vec<usize> = result.causes.iter().map(|cause| cause.change).collect();
            let told = whole.balances.iter().find(|balance| balance.changes == set);
            for i in 0..shape.len() {
                let name = format!("f{i}");
                let own = whole.results.iter().find(|other| other.name == name);
                let own: Vec<usize> = own.map_or(Vec::new(), |own| own.causes.iter().map(|c| c.change).collect());
                let shares = own.iter().any(|change| set.contains(change));
                let is_inside = shares && own.iter().all(|change| set.contains(change));
                let differs = (!shares && moved.contains(&name)) || (is_inside && left.contains(&name));
                let is_told = told.is_some_and(|told| told.results.iter().any(|held| held.name == name));
                prop_assert_eq!(differs, is_told, "{} when {} is undone, of {:#?}", name, result.name, whole);
            }
            let mut alone = before.clone();
            for cause in &result.causes {
                let line = whole.changes[cause.change].new.as_ref().unwrap().line as usize - 1;
                alone[line] = after[line].clone();
            }
            let more = compare(&text(&alone), &text(&after));
            prop_assert!(
                more.results.iter().all(|other| other.name != result.name),
                "{} in {:#?}", result.name, more
            );
        }
    }

    #[test]
    fn any_two_texts_can_be_compared(a in "[a-c =\n0-9m+\\[\\]<>#\\\"']{0,80}", b in "[a-c =\n0-9m+.\\[\\]<>#\\\"']{0,80}") {
        let review = compare(&a, &b);
        prop_assert!(review.results.iter().all(|result| !result.causes.is_empty()), "{review:#?}");
        prop_assert!(!compare(&a, &a).results_changed());
    }
}

/// Changes of single lines of a whole calculation.
const EDITS: &[(&str, &str)] = &[
    ("E = 205 GPa", "E = 195 GPa"),
    ("density = 7850", "density = 7800"),
    ("tension     <= 150 MPa", "tension     <= 140 MPa"),
    ("compression <= 130 MPa", "compression <= 125 MPa"),
    ("t = 12 mm", "t = 11 mm"),
    ("flange 130 x", "flange 120 x"),
    ("length = 2.8 m", "length = 3.1 m"),
    ("cradle 9 kN", "cradle 7 kN"),
    ("1.5*cradle", "1.6*cradle"),
    ("= dead\n", "= 1.1*dead\n"),
    ("span/400", "span/350"),
    ("of slip under strength", "of slip"),
];

fn with_edits(chosen: impl Fn(usize) -> bool) -> String {
    let chosen = EDITS.iter().enumerate().filter(|(at, _)| chosen(*at));
    chosen.fold(RAIL.to_owned(), |text, (_, (from, to))| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    /// The same of sections, beams, searches and checks.
    #[test]
    fn causes_in_blocks_are_complete(chosen in proptest::collection::vec(any::<bool>(), EDITS.len())) {
        let after = with_edits(|at| chosen[at]);
        let whole = compare(RAIL, &after);
        let edit_of = |change: usize| {
            let line = &whole.changes[change].new.as_ref().unwrap().text;
            let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
            EDITS.iter().position(|(_, to)| line.ends_with(&words(to)) || line.contains(&words(to))).unwrap()
        };
        let undone_of = |causes: &[haunch_review::Cause]| -> Vec<usize> {
            causes.iter().map(|cause| edit_of(cause.change)).collect()
        };
        let mut groups: Vec<(Vec<usize>, Vec<String>)> = Vec::new();
        let named = whole.results.iter().map(|r| (&r.causes, format!("result {}", r.name)));
        let checks = whole.checks.iter().map(|c| (&c.causes, format!("check {}", c.name)));
        for (causes, name) in named.chain(checks) {
            prop_assert!(!causes.is_empty(), "{name}");
            let edits = undone_of(causes);
            match groups.iter_mut().find(|(own, _)| *own == edits) {
                Some((_, names)) => names.push(name),
                None => groups.push((edits, vec![name])),
            }
        }
        for (edits, names) in groups {
            let without = with_edits(|at| chosen[at] && !edits.contains(&at));
            let undone = compare(RAIL, &without);
            let moved = compare(&after, &without);
            let told: Vec<&str> = whole
                .balances
                .iter()
                .filter(|balance| {
                    let own: Vec<usize> = balance.changes.iter().map(|&change| edit_of(change)).collect();
                    own == edits
                })
                .flat_map(|balance| balance.results.iter().map(|held| held.name.as_str()))
                .collect();
            let of = |name: &str| -> Vec<usize> {
                let result = whole.results.iter().find(|other| other.name == name);
                result.map_or(Vec::new(), |result| undone_of(&result.causes))
            };
            for result in &moved.results {
                let shares = of(&result.name).iter().any(|edit| edits.contains(edit));
                prop_assert!(shares || told.contains(&result.name.as_str()), "{} by {edits:?} of {chosen:?}", result.name);
            }
            for result in &whole.results {
                let is_inside = of(&result.name).iter().all(|edit| edits.contains(edit));
                let is_back = undone.results.iter().all(|other| other.name != result.name);
                prop_assert!(!is_inside || is_back || told.contains(&result.name.as_str()), "{} by {edits:?} of {chosen:?}", result.name);
            }
            let alone = compare(&with_edits(|at| edits.contains(&at)), &after);
            for left in [&undone, &alone] {
                let results = left.results.iter().map(|r| format!("result {}", r.name));
                let changed: Vec<String> = results
                    .chain(left.checks.iter().map(|c| format!("check {}", c.name)))
                    .collect();
                for name in &names {
                    prop_assert!(!changed.contains(name), "{name} by {edits:?} of {chosen:?}");
                }
            }
        }
    }
}
