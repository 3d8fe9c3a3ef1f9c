//! Checks that ask less than before, however the change is written.

mod support;

use haunch_review::ConcernKind;

use support::compare;

#[track_caller]
fn told(old: &str, edits: &[(&str, &str)], expected: &[(ConcernKind, &str)]) {
    let mut new = old.to_owned();
    for (from, to) in edits {
        assert!(new.contains(from), "{from} in {new}");
        new = new.replace(from, to);
    }
    let review = compare(old, &new);
    let said: Vec<(ConcernKind, &str)> = review
        .concerns
        .iter()
        .map(|concern| (concern.kind, concern.words.as_str()))
        .collect();
    assert_eq!(said, expected, "{new}");
}

use ConcernKind::{Loosened, Restated};

const PLATE: &str = "\
t = 8 mm
most = 200 mm
area = 120 mm * t  [mm^2]
verify area >= 900 mm^2
verify t <= most
expect area = 960 mm^2 within 1 %
";

#[test]
fn a_check_of_a_renamed_value() {
    let renamed = [
        ("area", "A_plate"),
        ("t <=", "thickness <="),
        ("t = 8", "thickness = 8"),
        ("mm * t", "mm * thickness"),
    ];
    told(PLATE, &renamed, &[]);
    let mut lower = renamed.to_vec();
    lower.push(("900", "800"));
    told(
        PLATE,
        &lower,
        &[(
            Loosened,
            "a check asks less: 900.0 mm² before, 800.0 mm² now",
        )],
    );
}

#[test]
fn an_independent_value_and_its_tolerance() {
    told(
        PLATE,
        &[("960 mm^2 within 1 %", "970 mm^2 within 2 %")],
        &[
            (
                Loosened,
                "a tolerance is wider: 1.000 % before, 2.000 % now",
            ),
            (
                Restated,
                "the value to compare with is another one: 960.0 mm² before, 970.0 mm² now",
            ),
        ],
    );
    // The same value in other words.
    told(PLATE, &[("960 mm^2", "9.6e-4 m^2")], &[]);
    told(PLATE, &[("960 mm^2", "120 mm * 8 mm")], &[]);
}

#[test]
fn a_bound_that_is_a_given_number_on_a_line_of_its_own() {
    told(
        PLATE,
        &[("most = 200", "most = 250")],
        &[(Loosened, "a check asks less: 200.0 mm before, 250.0 mm now")],
    );
    told(PLATE, &[("most = 200", "most = 150")], &[]);
    // What is compared with the bound is no bound.
    told(
        PLATE,
        &[("t = 8", "t = 9"), ("960", "1080")],
        &[(
            Restated,
            "the value to compare with is another one: 960.0 mm² before, 1080 mm² now",
        )],
    );
    // A strength that is worked out is a result, not a bound that somebody set.
    let old = "b = 3 kN\nbearing = 2*b  [kN]\nR = 4 kN\nverify R <= bearing\n";
    told(old, &[("b = 3", "b = 4")], &[]);
    let old = "tol = 1 %\na = 2 mm\nexpect a = 2 mm within tol\n";
    told(
        old,
        &[("tol = 1", "tol = 3")],
        &[(
            Loosened,
            "a tolerance is wider: 1.000 % before, 3.000 % now",
        )],
    );
}

#[test]
fn a_factor_that_is_a_given_number() {
    let old = "\
material steel
    E = 205 GPa
    limit tension <= 165 MPa
gamma = 1.35
section bar of steel
    rect plate 40 x 120 mm
beam shelf of bar
    length = 2 m
    load dead 1 kN/m throughout
    load goods 2 kN at middle
    combination strength = gamma*dead + 1.5*goods
";
    told(
        old,
        &[("gamma = 1.35", "gamma = 1.2")],
        &[(
            Loosened,
            "the factor of dead in the combination strength is lower: 1.35 before, 1.2 now",
        )],
    );
    told(old, &[("gamma = 1.35", "gamma = 1.4")], &[]);
}

#[test]
fn a_result_compared_with_itself() {
    told(
        PLATE,
        &[("area = 960 mm^2 within", "area = area within")],
        &[(Restated, "the value to compare with is the result itself")],
    );
}

const BEAM: &str = "\
material oak
    E = 11 GPa
    limit tension <= 12 MPa
q = 2 kN/m
sag = 0.5
section joist of oak
    rect timber 80 x 200 mm
beam deck of joist
    length = 3 m
    load dead 1 kN/m throughout
    load crowd q throughout
    combination strength = 1.35*dead + 1.5*crowd
    combination service  = dead + crowd
    limit deflection <= 20 mm*sag under service
most = largest crowd of deck under strength  [kN/m]
verify most >= q
";

#[test]
fn another_combination() {
    let renamed = [
        ("service ", "use "),
        ("under service", "under use"),
        ("combination strength", "combination failure"),
        ("under strength", "under failure"),
        ("q = 2", "q = 2.5"),
        ("dead 1 kN", "dead 1.2 kN"),
    ];
    told(BEAM, &renamed, &[]);
    told(
        BEAM,
        &[("under strength", "under service")],
        &[(
            Loosened,
            "the search for most looks at service and not at strength",
        )],
    );
    let removed = "    combination service  = dead + crowd\n    limit deflection <= 20 mm*sag under service\n";
    told(
        BEAM,
        &[(removed, "")],
        &[(
            ConcernKind::Removed,
            "the combination service of deck is no longer looked at",
        )],
    );
}

#[test]
fn a_recorded_check_does_not_cover_what_is_loosened() {
    let sheet = format!("sheet\n    checked = \"A. Ito, 4 March\"\n{PLATE}");
    let review = compare(&sheet, &sheet.replace("within 1 %", "within 3 %"));
    assert_eq!(
        review.recorded_checks,
        [
            "a.haunch: checked by A. Ito, 4 March, before these changes: since then 1 check was loosened"
        ]
    );
}
