//! Dimensions of names without a definition, solved for within their line.

use haunch_calc::Needs;
use support::open;

mod support;

/// What is told of each unknown name of the last line, as `name: what it has to be`.
fn told(text: &str) -> Vec<String> {
    let (snapshot, file) = open(text);
    let last = snapshot
        .lines(file)
        .filter(|line| !line.text().trim().is_empty())
        .last()
        .expect("there is a line");
    let inferred = snapshot.inferred(last.id());
    inferred
        .iter()
        .map(|own| {
            let needs = match &own.needs {
                Needs::Dimension(dimension) => dimension.name_or_units(),
                Needs::Truth => "true or false".to_owned(),
                Needs::Like(other) => format!("like {other}"),
                Needs::Product(product, dimension) => {
                    format!("{product} is {}", dimension.name_or_units())
                }
                Needs::Contradiction => "contradiction".to_owned(),
                Needs::Nothing => "not told".to_owned(),
            };
            format!("{}: {needs}", own.name)
        })
        .collect()
}

const GIVEN: &str = "L = 3 m\nb = 40 mm\nt = 8 mm\nA = 320 mm^2\nP = 6 kN\nM = 5 kN*m\nf = 200 MPa\nn = 2\n\
                     double(a) = 2*a\narea(a, b) = a*b\nsum(a, b) = a + b\nstress(a, b) = a/b [MPa]\n";

#[track_caller]
fn check(line: &str, expected: &[&str]) {
    assert_eq!(told(&format!("{GIVEN}{line}\n")), expected, "{line}");
}

#[test]
fn one_name_in_products_and_powers() {
    check("s = F/(b*t) [MPa]", &["F: force"]);
    check("V = x*x*b [mm^3]", &["x: length"]);
    check("y = x^2 [mm^2]", &["x: length"]);
    check("y = x² [mm^2]", &["x: length"]);
    check("y = sqrt(x) [mm]", &["x: area"]);
    check("y = cbrt(x) [mm]", &["x: first moment of area"]);
    check("y = sqrt(x/b) [mm]", &["x: first moment of area"]);
    check("y = x^(3/2) [mm^3]", &["x: area"]);
    check("y = x^-1 [1/m]", &["x: length"]);
    check("y = abs(-x)*b [mm^2]", &["x: length"]);
    check("y = x^2 [kN]", &["x: N^(1/2)"]);
}

#[test]
fn sums_comparisons_and_choices() {
    check("R = P + x", &["x: force"]);
    check("R = P - (x + 2*z)", &["x: force", "z: force"]);
    check("verify M <= x*L", &["x: force"]);
    check("verify x < 3 kN and z*x >= 2*M", &["x: force", "z: length"]);
    check("y = if x > b then P else z", &["x: length", "z: force"]);
    check(
        "y = if ok then P else z",
        &["ok: true or false", "z: force"],
    );
    check(
        "verify ok or not done",
        &["ok: true or false", "done: true or false"],
    );
    check("expect x = 3 kN within 1 %", &["x: force"]);
    check("verify x > 0", &["x: not told"]);
    check("y = 0 + x + 0", &["x: not told"]);
}

#[test]
fn functions() {
    check("y = sin(x)", &["x: ratio"]);
    check("y = ln(x/b)", &["x: length"]);
    check("y = max(P, x, z)", &["x: force", "z: force"]);
    check("y = min(x, z) [kN]", &["x: force", "z: force"]);
    check("y = ceil(x, 5 mm)", &["x: length"]);
    check("y = round(x)", &["x: ratio"]);
    check("y = n^x", &["x: ratio"]);
    check("y = x^n", &["x: ratio"]);
}

#[test]
fn several_names_that_the_line_determines() {
    check("y = x*z + P*L - z*L", &["x: length", "z: force"]);
    check(
        "verify x*z <= M and x/z <= 1 m/kN",
        &["x: length", "z: force"],
    );
    check("y = sqrt(x^2 + z^2) [kN]", &["x: force", "z: force"]);
}

#[test]
fn what_a_line_does_not_tell() {
    check("y = x", &["x: not told"]);
    check("y = x*z [mm^2]", &["x: x*z is area", "z: x*z is area"]);
    check(
        "y = x*z^3/12 [mm^4]",
        &[
            "x: x*z^3 is second moment of area",
            "z: x*z^3 is second moment of area",
        ],
    );
    check(
        "y = sqrt(x)/z [kN]",
        &["x: x/z^2 is N²", "z: z^2/x is 1/N²"],
    );
    check("y = x + z", &["x: like z", "z: like x"]);
    check("y = x + x*z", &["x: not told", "z: ratio"]);
}

#[test]
fn calls_of_formulas() {
    check("y = double(x) [kN]", &["x: force"]);
    check("y = area(x, b) [mm^2]", &["x: length"]);
    check("y = area(x, x) [mm^2]", &["x: length"]);
    check("y = sum(x, P)", &["x: force"]);
    check("y = stress(P, x)", &["x: area"]);
    check(
        "y = sum(double(x), area(b, z)) [mm^2]",
        &["x: area", "z: length"],
    );
    check("y = missing(3 m)*b [kN*m]", &["missing(3m): force"]);
}

#[test]
fn arguments_of_formulas() {
    check("g(a, c) = a + 3 m*c [mm]", &["a: length", "c: ratio"]);
    check("g(a, c) = a + c", &["a: like c", "c: like a"]);
    check("g(a, c) = a*c^3/12", &["a: not told", "c: not told"]);
    check(
        "g(a, c) = a*c^3/12 [mm^4]",
        &[
            "a: a*c^3 is second moment of area",
            "c: a*c^3 is second moment of area",
        ],
    );
    check("g(a) = sqrt(1 - (a/L)^2)", &["a: length"]);
    check("g(a) = sum(a, b)", &["a: length"]);
}

#[test]
fn uses_that_contradict_each_other() {
    check("verify x <= 3 kN and x >= 2 m", &["x: contradiction"]);
    check("y = x + x*L", &["x: contradiction"]);
    check(
        "verify x <= 3 kN and x >= 2 m and z > 1 s and w < x",
        &["x: contradiction", "z: time", "w: contradiction"],
    );
}

#[test]
fn places_of_statements() {
    for (block, line, expected) in [
        (
            "beam h of s",
            "load dead q throughout",
            "q: force per length",
        ),
        (
            "beam h of s",
            "load dead q from 1 m to x",
            "q: force per length; x: length",
        ),
        (
            "beam h of s",
            "load dead q throughout tributary w",
            "q: stress; w: length",
        ),
        (
            "beam h of s",
            "load dead q on span 1",
            "q: force per length",
        ),
        (
            "beam h of s",
            "load dead q to r throughout",
            "q: force per length; r: force per length",
        ),
        (
            "beam h of s",
            "load dead m clockwise at x",
            "m: moment; x: length",
        ),
        (
            "beam h of s",
            "load dead d top warmer throughout",
            "d: temperature",
        ),
        ("beam h of s", "load dead q moving", "q: force"),
        ("beam h of s", "load dead q at 1 m leftwards", "q: force"),
        // A settlement is a length at a place.
        ("beam h of s", "load dead q at 1 m", "q: not told"),
        (
            "beam h of s",
            "load dead q, r at 0 m, x moving",
            "q: force; r: force; x: length",
        ),
        ("beam h of s", "length = x", "x: length"),
        ("beam h of s", "spans = x, 2*z", "x: length; z: length"),
        (
            "beam h of s",
            "support spring k at x",
            "k: force per length; x: length",
        ),
        ("beam h of s", "hinge at x", "x: length"),
        (
            "beam h of s",
            "section s from x to 2*z",
            "x: length; z: length",
        ),
        ("beam h of s", "limit deflection <= span/k", "k: ratio"),
        ("beam h of s", "limit tension <= 0.6*g", "g: stress"),
        ("beam h of s", "limit reaction <= r", "r: force"),
        ("material m", "E = x", "x: stress"),
        ("material m", "density = x/g_n", "x: force per volume"),
        (
            "material m",
            "limit tension <= x for thickness up to w",
            "x: stress; w: length",
        ),
        ("section s", "rect web x x 20 mm", "x: length"),
        ("section s", "rect web 20 x w mm", ""),
        (
            "section s",
            "circle d d1 at (x, 2*y)",
            "d1: length; x: length; y: length",
        ),
        ("section s", "rect web 2 mm x 3 mm turned a", "a: ratio"),
        (
            "section s",
            "rect web 2 mm x 3 mm above d inset x",
            "x: length",
        ),
        ("section s", "point A at (x, y)", "x: length; y: length"),
        ("forces r on s", "M = x sagging", "x: moment"),
        ("forces r on s", "V = x*b", "x: force per length"),
    ] {
        let found = told(&format!("b = 40 mm\n{block}\n    {line}\n"));
        assert_eq!(found.join("; "), expected, "{line}");
    }
}

#[test]
fn combinations() {
    let beam = "beam h of s\n    load dead 1 kN/m throughout\n    load live 1 kN/m throughout\n";
    let found = told(&format!("{beam}    combination c = g*dead + 1.5*live\n"));
    assert_eq!(found, ["g: ratio"]);
    let found = told(&format!("{beam}    combination c = 1.35*daed + 1.5*live\n"));
    assert_eq!(found, ["daed: not told"]);
}

#[test]
fn broken_definitions() {
    let broken = [
        "F = 3 [kN]",
        "F = 3 kN +",
        "F = 3 kN + 2 m",
        "F = 1 N\nF = 2 N",
        "F = G\nG = F",
    ];
    for broken in broken {
        let found = told(&format!("{broken}\nb = 4 mm\ns = F/b^2 [MPa]\n"));
        assert_eq!(found, ["F: force"], "{broken}");
    }
    assert_eq!(
        told("s = p.F/(3 mm)^2 [MPa]\nuse \"p.haunch\" as p\ns = p.F/(3 mm)^2 [MPa]\n"),
        ["p.F: force"]
    );
}

/// The findings of a file as `"place": message`.
fn messages(text: &str) -> Vec<String> {
    let read = support::read(text);
    let of = |own: support::Found| format!("{} {}", own.head, own.message);
    read.findings.into_iter().map(of).collect()
}

#[track_caller]
fn says(line: &str, expected: &[&str]) {
    let mut found = messages(&format!("{GIVEN}{line}\n"));
    found.retain(|message| !message.starts_with("unused-value"));
    assert_eq!(found, expected, "{line}");
}

#[test]
fn the_argument_at_fault_of_a_call() {
    says(
        "g(a, c, d) = a + c + d\ny = g(b, L, P)",
        &["unit-mismatch at \"P\" d of g has to be a length (mm) here, but P is a force (kN)."],
    );
    says(
        "y = stress(P, b)",
        &[
            "unit-mismatch at \"stress(P, b)\" these do not go together in stress: P is a force (kN), \
             b is a length (mm). Either of these would be right: a as a force per length (kN/m), b as \
             an area (mm²).",
        ],
    );
    says(
        "g(a) = a + 3 m\nh(a) = g(a)*2\ny = h(3 kN)",
        &[
            "unit-mismatch at \"3 kN\" a of h has to be a length (mm) here, but 3 kN is a force (kN).",
        ],
    );
    says(
        "g(a, c) = a*c^3/12\ny = g(b, P) [mm^4]",
        &[
            "unit-mismatch at \"P\" the formula comes out as a quantity in N³·mm, but [mm^4] asks for \
             a second moment of area. b is a length (mm); P is a force (kN). Look at P: all else being right, \
             c of g has to be a length (mm).",
        ],
    );
}

#[test]
fn nothing_that_a_name_stands_for() {
    says(
        "g(a) = (a + L)/(a - P)",
        &[
            "unit-mismatch at \"a - P\" nothing that a stands for fits this line: in a + L it has to be \
             a length (mm), in a - P it has to be a force (kN).",
        ],
    );
    says(
        "g(a) = a + a*L",
        &[
            "unit-mismatch at \"a + a*L\" whatever a stands for, this does not come out right: a + a*L.",
        ],
    );
    // A name with a broken definition, whatever it is mended to.
    says(
        "F = 3 [kN]\nverify F <= P and F >= L",
        &[
            "unit-in-brackets at \"3 [kN]\" The unit of a number follows it without brackets: `3 kN`.",
            "unit-mismatch at \"F >= L\" nothing that F stands for fits this line: in F <= P it has to \
             be a force (kN), in F >= L it has to be a length (mm).",
        ],
    );
    // Another mistake on the line may be why.
    says(
        "verify x <= P and x >= 2*P + L",
        &[
            "unknown-name at \"x\" x is not defined. Give it a value on a line of its own, or check its \
             spelling. As it is used here it has to be a force (kN).",
            "unknown-name at \"x\" x is not defined. Give it a value on a line of its own, or check its \
             spelling. As it is used here it has to be a force (kN).",
            "unit-mismatch at \"L\" L is a length (mm), but the sum is meant as a force (kN). Only quantities of one \
             kind can be added.",
        ],
    );
}

#[test]
fn the_odd_one_in_functions_and_choices() {
    says(
        "y = max(b, L, P)",
        &[
            "unit-mismatch at \"P\" max takes quantities of one kind: P is a force (kN), but the others \
             are a length (mm).",
        ],
    );
    says(
        "y = max(b, P)",
        &[
            "unit-mismatch at \"max(b, P)\" max takes quantities of one kind: b is a length (mm), P is a \
             force (kN).",
        ],
    );
    says(
        "y = min(max(b, P), 2*L) + 3 m [mm]",
        &[
            "unit-mismatch at \"P\" max takes quantities of one kind: P is a force (kN), but it is meant \
             as a length (mm).",
        ],
    );
    says(
        "y = if n > 1 then b else P [mm]",
        &[
            "unit-mismatch at \"P\" both branches have to be of one kind: b is a length (mm), but P is \
             a force (kN).",
        ],
    );
}

#[test]
fn the_odd_side_of_a_comparison() {
    says(
        "verify M <= P*L^2",
        &[
            "unit-mismatch at \"L^2\" these cannot be compared: M is a moment (kN·m), but P*L^2 is a \
             flexural rigidity (kN·m²). Look at L^2: all else being right, it has to be a length (mm).",
        ],
    );
    says(
        "verify b <= L^2",
        &[
            "unit-mismatch at \"L^2\" these cannot be compared: b is a length (mm), but L^2 is an area \
             (mm²).",
        ],
    );
    says(
        "verify f^2 <= 2*f",
        &[
            "unit-mismatch at \"f^2\" these cannot be compared: f^2 is a quantity in N²/mm⁴, but 2*f is \
             a stress (MPa).",
        ],
    );
    says(
        "verify b <= A",
        &[
            "unit-mismatch at \"b <= A\" these cannot be compared: b is a length (mm), but A is an area \
             (mm²).",
        ],
    );
}

#[test]
fn what_a_line_tells_is_known_to_the_lines_that_use_it() {
    let text = "y = if x > 3 kN then x else 2*x\nverify y <= 3 m\n";
    let found = messages(text);
    assert!(
        found
            .iter()
            .any(|own| own.starts_with("unit-mismatch at \"y <= 3 m\"")),
        "{found:#?}"
    );
}
