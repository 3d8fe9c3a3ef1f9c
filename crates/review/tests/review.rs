//! Two versions of small files, and what a review says of them.

use haunch_calc::{Change, Host, Snapshot};
use haunch_review::{Action, ConcernKind, FilePair, MARGIN, Review, Subject, Verdict, review};
use proptest::prelude::*;

fn versions(old: &[(&str, &str)], new: &[(&str, &str)]) -> (Snapshot, Snapshot, Vec<FilePair>) {
    let mut host = Host::new();
    let set = |host: &mut Host, files: &[(&str, &str)]| {
        for (path, text) in files {
            host.apply(Change::SetText {
                path: (*path).to_owned(),
                text: (*text).to_owned(),
            });
        }
    };
    set(&mut host, old);
    let before = host.snapshot();
    set(&mut host, new);
    let after = host.snapshot();
    let pairs = after
        .files()
        .into_iter()
        .map(|file| FilePair {
            old: before.file(after.path(file)),
            new: Some(file),
        })
        .collect();
    (before, after, pairs)
}

fn compare(old: &str, new: &str) -> Review {
    let (before, after, pairs) = versions(&[("a.haunch", old)], &[("a.haunch", new)]);
    review(&before, &after, &pairs, MARGIN)
}

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
    let review = review(&before, &after, &pairs, MARGIN);
    assert_eq!(review.changes.len(), 1, "{:#?}", review.changes);
    assert!(!review.results_changed(), "{review:#?}");
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
    let review = review(&before, &after, &pairs, MARGIN);
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
        let sign = if (a ^ b) % 3 == 0 { '-' } else { '+' };
        lines.push(format!("f{i} = {} {sign} {}", name(*a), name(*b)));
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
    #![proptest_config(ProptestConfig { cases: 8, failure_persistence: None, ..ProptestConfig::default() })]

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
            let undone = compare(RAIL, &with_edits(|at| chosen[at] && !edits.contains(&at)));
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
