//! What each place of each statement takes: the right kind of quantity passes, any other is told, with the
//! dimension that the place takes.

use std::collections::BTreeSet;

use haunch_syntax::{Statement, read_line};

mod support;

/// Names of every kind that a place takes; `w` fits none.
const GIVEN: &str = "L = 2 m\nt = 8 mm\nF = 3 kN\nq = 2 kN/m\np = 3 kN/m^2\nM = 4 kN*m\nf = 160 MPa\nn = 2\n\
                     a = 20 deg\nrho = 7850 kg/m^3\nalpha = 12e-6 / 1 K\nT = 30 K\nw = 3 s\n\
                     double(x) = 2*x\n\
                     material steel\n    E = 205 GPa\n    G = 79 GPa\n    density = 7850 kg/m^3\n    \
                     thermal_expansion = 12e-6 / 1 K\n\
                     section s of steel\n    rect r 60 mm x 120 mm\n";

const BEAM: &str = "beam h of s\n    length = 4 m\n";

/// The lines above, a line with a place between « and », and what is said of `w` there.
const PLACES: &[(&str, &str, &str)] = &[
    // Values and formulas.
    ("", "y = «F»  [kN]", "[kN] asks for a force"),
    ("", "y = F + «F»", "these cannot be added"),
    ("", "y = F + F - «F»", "the other terms are a force"),
    ("", "y = max(F, F, «F»)", "the others are a force"),
    ("", "y = sin(«a»)", "sin takes an angle"),
    ("", "y = 2^«n»", "an exponent is a plain number"),
    (
        "",
        "y = if n > 1 then F else «F» [kN]",
        "both branches have to be of one kind",
    ),
    (
        "",
        "y = if n > «n» then F else F",
        "these cannot be compared",
    ),
    (
        "",
        "y = s.first_moment(«t»)",
        "first_moment takes a level of the section, a length",
    ),
    ("", "g(x) = «F» [kN]", "[kN] asks for a force"),
    ("", "g(x) = (F + «F»)*x", "these cannot be added"),
    // Checks.
    ("", "verify F <= «F»", "these cannot be compared"),
    ("", "expect F = «F» within 1 %", "these cannot be compared"),
    (
        "",
        "expect F = 3 kN within «F»",
        "this tolerance has to be a force",
    ),
    // Fields of blocks.
    (
        "material m",
        "E = «f»",
        "modulus of elasticity has to be a stress",
    ),
    ("material m", "G = «f»", "shear modulus has to be a stress"),
    (
        "material m",
        "density = «rho»",
        "mass per volume has to be a density",
    ),
    (
        "material m",
        "thermal_expansion = «alpha»",
        "has to be a thermal expansion",
    ),
    ("forces on_it on s", "M = «M» sagging", "has to be a moment"),
    (
        "forces on_it on s",
        "My = «M» left in tension",
        "has to be a moment",
    ),
    (
        "forces on_it on s",
        "V = «F»",
        "shear force along y has to be a force",
    ),
    ("forces on_it on s", "N = «F» tension", "has to be a force"),
    ("beam h of s", "length = «L»", "has to be a length"),
    ("beam h of s", "spans = L, «L»", "has to be a length"),
    (BEAM, "effective_length = «L»", "has to be a length"),
    // Limits.
    (
        "material m",
        "limit tension <= «f»",
        "a limit on a stress has to be a stress",
    ),
    (
        "material m",
        "limit shear <= «f»",
        "a limit on a stress has to be a stress",
    ),
    (
        "material m",
        "limit tension <= f for thickness up to «t»",
        "a thickness has to be a length",
    ),
    (
        "forces on_it on s\n    M = M sagging",
        "limit tension <= «f»",
        "has to be a stress",
    ),
    (
        BEAM,
        "limit deflection <= «t»",
        "a limit on a deflection has to be a length",
    ),
    (
        BEAM,
        "limit deflection sideways <= «t»",
        "a limit on a deflection has to be a length",
    ),
    (
        BEAM,
        "limit reaction <= «F»",
        "a limit on a reaction has to be a force",
    ),
    (
        BEAM,
        "limit uplift <= «F»",
        "a limit on a reaction has to be a force",
    ),
    (
        BEAM,
        "limit reaction at 0*«L» <= F",
        "a place along the beam has to be a length",
    ),
    // Parts and points.
    (
        "section u",
        "rect r «t» x 20 mm",
        "a size has to be a length",
    ),
    (
        "section u",
        "rect r 20 mm x «t»",
        "a size has to be a length",
    ),
    ("section u", "circle r «t»", "a size has to be a length"),
    (
        "section u",
        "rect r 20 mm x 20 mm at («t», t)",
        "the x of a place has to be a length",
    ),
    (
        "section u",
        "rect r 20 mm x 20 mm at (t, «t»)",
        "the y of a place has to be a length",
    ),
    (
        "section u",
        "rect r 20 mm x 20 mm turned «a»",
        "an angle, such as 90 deg, has to be a ratio",
    ),
    (
        "section u\n    rect v 60 mm x 20 mm",
        "rect r 20 mm x 20 mm above v inset «t»",
        "an inset has to be a length",
    ),
    (
        "section u",
        "I shape r 80 mm x 100 mm x 6 mm x 8 mm root «t»",
        "a size has to be a length",
    ),
    (
        "section u\n    rect v 60 mm x 20 mm",
        "point A at («t», t)",
        "the x of a point has to be a length",
    ),
    (
        "section u\n    rect v 60 mm x 20 mm",
        "point A at (t, «t»)",
        "the y of a point has to be a length",
    ),
    // Supports, hinges, other sections.
    (
        BEAM,
        "support pin at «L»",
        "a place along the beam has to be a length",
    ),
    (
        BEAM,
        "support spring «q» at L",
        "the stiffness of a spring has to be a force per length",
    ),
    (
        "beam h of s\n    length = 4 m\n    support fixed at start\n    support roller at end",
        "hinge at «L»",
        "a place along the beam has to be a length",
    ),
    (
        BEAM,
        "section s from «L» to end",
        "a place along the beam has to be a length",
    ),
    (
        BEAM,
        "section s from start to «L»",
        "a place along the beam has to be a length",
    ),
    // Loads.
    (
        BEAM,
        "load dead «q» throughout",
        "a load throughout has to be a force per length",
    ),
    (
        BEAM,
        "load dead «p» throughout tributary L",
        "a load throughout has to be a force per length",
    ),
    (
        BEAM,
        "load dead p throughout tributary «L»",
        "a tributary width has to be a length",
    ),
    (
        BEAM,
        "load dead «q» from start to L",
        "a load along a stretch has to be a force per length",
    ),
    (
        BEAM,
        "load dead q from «L» to end",
        "a place along the beam has to be a length",
    ),
    (
        BEAM,
        "load dead «q» on span 1",
        "a load on a span has to be a force per length",
    ),
    (
        BEAM,
        "load dead «q» on any spans",
        "a load on a span has to be a force per length",
    ),
    (
        BEAM,
        "load dead «q» to q throughout",
        "a load throughout has to be a force per length",
    ),
    (
        BEAM,
        "load dead q to «q» throughout",
        "a load throughout has to be a force per length",
    ),
    (
        BEAM,
        "load dead «F» at L",
        "a load at a place has to be a force",
    ),
    (
        BEAM,
        "load dead F at «L»",
        "a place along the beam has to be a length",
    ),
    (
        BEAM,
        "load dead «M» clockwise at L",
        "a load with the word clockwise has to be a moment",
    ),
    (
        BEAM,
        "load dead «T» top warmer throughout",
        "a load with the word top warmer has to be a temperature",
    ),
    (BEAM, "load dead «F» moving", "a wheel has to be a force"),
    (
        BEAM,
        "load dead F, «F» at 0 m, L moving",
        "the load of a wheel has to be a force",
    ),
    (
        BEAM,
        "load dead F, F at 0 m, «L» moving",
        "the distance of a wheel has to be a length",
    ),
    (
        "beam h of s\n    length = 4 m\n    load dead q throughout",
        "combination c = «n»*dead",
        "",
    ),
];

fn whole(above: &str, line: &str) -> String {
    let indent = if above.is_empty() { "" } else { "    " };
    let above = above.trim_end();
    format!("{GIVEN}{above}\n{indent}{line}\n")
}

fn errors(text: &str, line: &str) -> Vec<String> {
    let read = support::read(text);
    let told = read.findings.into_iter();
    let codes = ["unit-mismatch", "wrong-arguments", "unreadable"];
    told.filter(|own| codes.iter().any(|code| own.head.starts_with(code)))
        .map(|own| format!("{line}: {} {}", own.head, own.message))
        .collect()
}

fn check(above: &str, line: &str, says: &str) {
    let right = line.replace(['«', '»'], "");
    assert_eq!(errors(&whole(above, &right), &right), [""; 0], "{right}");
    let from = line.find('«').expect("a row has a place");
    let to = line.find('»').expect("a place ends") + '»'.len_utf8();
    let wrong = format!("{}w{}", &line[..from], &line[to..]);
    let found = errors(&whole(above, &wrong), &wrong);
    assert_eq!(found.len(), 1, "{wrong}: {found:#?}");
    assert!(found[0].contains(says), "{found:#?}");
    assert!(found[0].contains("a time (s)"), "{found:#?}");
}

#[test]
fn every_place_takes_its_own_kind_and_tells_any_other() {
    for (above, line, says) in PLACES {
        check(above, line, says);
    }
}

/// The statement of a line by its name; none where it has no expression.
fn kind(statement: &Statement) -> Option<&'static str> {
    match statement {
        Statement::Value(_) => Some("value"),
        Statement::Formula(_) => Some("formula"),
        Statement::Verify(_) => Some("verify"),
        Statement::Expect(_) => Some("expect"),
        Statement::Limit(_) => Some("limit"),
        Statement::Part(_) => Some("part"),
        Statement::Point(_) => Some("point"),
        Statement::Support(_) => Some("support"),
        Statement::Hinge(_) => Some("hinge"),
        Statement::SectionStretch(_) => Some("section"),
        Statement::Load(_) => Some("load"),
        Statement::Combination(_) => Some("combination"),
        // `answer` takes any kind.
        Statement::Answer(_)
        | Statement::Empty
        | Statement::Heading(_)
        | Statement::Note(_)
        | Statement::ResultsIn(_)
        | Statement::Use(_)
        | Statement::Allow(_)
        | Statement::Broken { .. } => None,
    }
}

#[test]
fn every_statement_with_a_quantity_is_in_the_table() {
    let told: BTreeSet<&str> = PLACES
        .iter()
        .filter_map(|(above, line, _)| {
            let indent = if above.is_empty() { "" } else { "    " };
            let text = format!("{indent}{}", line.replace(['«', '»'], ""));
            let tree = read_line(&text, haunch_quantity::is_unit_word);
            kind(&tree.statement)
        })
        .collect();
    let all = [
        "combination",
        "expect",
        "formula",
        "hinge",
        "limit",
        "load",
        "part",
        "point",
        "section",
        "support",
        "value",
        "verify",
    ];
    assert_eq!(told.into_iter().collect::<Vec<_>>(), all);
}

#[test]
fn every_field_with_a_quantity_is_in_the_table() {
    for kind in haunch_syntax::BlockKind::ALL {
        for field in haunch_calc::blocks::fields::of(kind) {
            let is_quantity = field.kind != haunch_calc::blocks::fields::FieldKind::Text;
            let is_told = PLACES
                .iter()
                .any(|(_, line, _)| line.starts_with(&format!("{} = ", field.name)));
            assert!(!is_quantity || is_told, "{}", field.name);
        }
    }
}
#[test]
fn a_function_of_a_block_without_results_takes_a_length_as_well() {
    let broken = "section u of nothing\n    rect r 60 mm x 120 mm\n";
    let text = |at: &str| format!("{GIVEN}{broken}y = u.first_moment({at})\n");
    assert_eq!(errors(&text("t"), "t"), [""; 0]);
    assert_eq!(
        errors(&text("w"), "w"),
        ["w: wrong-arguments at \"w\" first_moment takes a length (mm) here, but w is a time (s).",]
    );
}
