use super::check;

/// Each is read as the right side of a value.
#[track_caller]
fn expressions(lines: &[(&str, &str)]) {
    for (text, outline) in lines {
        check(&[(&format!("v = {text}"), &format!("(= v {outline})"))]);
    }
}

#[test]
fn quantities() {
    expressions(&[
        ("12 kN", "{12 kN}"),
        ("12kN", "{12 kN}"),
        ("3 kN/m", "{3 kN/m:m}"),
        ("205 GPa", "{205 GPa}"),
        ("6.2e6 mm^4", "{6.2e6 mm^4}"),
        ("6.2e6 mm4", "{6.2e6 mm4}"),
        ("6.2e6 mm⁴", "{6.2e6 mm⁴}"),
        ("5 s^-2", "{5 s^-2}"),
        ("5 s⁻²*kg", "{5 s⁻²*kg:kg}"),
        ("7850 kg/m^3", "{7850 kg/m^3:m}"),
        ("5 %", "{5 %}"),
        ("30 deg", "{30 deg}"),
        ("30°", "{30 °}"),
        ("12 kip-ft", "{12 kip-ft}"),
        ("12 kip-ft/ft", "{12 kip-ft/ft:ft}"),
        ("12 kip·ft", "{12 kip·ft:ft}"),
        ("12 N·mm^2/m", "{12 N·mm^2/m:mm:m}"),
    ]);
}

#[test]
fn the_longest_chain_of_known_words_is_the_unit() {
    expressions(&[
        ("3 kN/m*L", "(* {3 kN/m:m} L)"),
        ("3 kN*L", "(* {3 kN} L)"),
        ("3 kN / m", "(/ {3 kN} m)"),
        ("3 kN/ m", "(/ {3 kN} m)"),
        ("3 kN /m", "(/ {3 kN} m)"),
        ("3 kN*m(2)", "(* {3 kN} (m 2))"),
        ("3 kN/m.x", "(/ {3 kN} m.x)"),
        ("3 kip-L", "(- {3 kip} L)"),
        ("3 kip - ft", "(- {3 kip} ft)"),
        ("kip-ft", "(- kip ft)"),
        ("m*3 m", "(* m {3 m})"),
    ]);
}

#[test]
fn several_parts_and_fractions() {
    expressions(&[
        ("6 ft 3 in", "{6 ft} {3 in}"),
        ("3/4 in", "{3/4 in}"),
        ("3 1/2 in", "{3+1/2 in}"),
        ("5 ft 6 1/2 in", "{5 ft} {6+1/2 in}"),
        ("5 ft 1/2 in", "{5 ft} {1/2 in}"),
        ("-3/4 in", "(- {3/4 in})"),
        ("2*3/4 in", "(* 2 {3/4 in})"),
        ("3/4 * L", "(* (/ 3 4) L)"),
        ("3 / 4 in", "(/ 3 {4 in})"),
        ("3.5/4 in", "(/ 3.5 {4 in})"),
        ("h^3/12 mm", "(/ (^ h 3) {12 mm})"),
        ("(L)/3 in", "(/ (group L) {3 in})"),
    ]);
}

#[test]
fn numbers() {
    expressions(&[
        ("1e-3", "1e-3"),
        (".5", ".5"),
        ("5.", "5."),
        ("5.*b", "(* 5. b)"),
        ("1E5 mm", "{1E5 mm}"),
        ("2e3kN", "{2e3 kN}"),
        ("3mm4", "{3 mm4}"),
        ("f(1,5)", "(f 1 5)"),
        ("0e-999", "0e-999"),
    ]);
}

#[test]
fn operators() {
    expressions(&[
        ("a + b - c", "(- (+ a b) c)"),
        ("a − b", "(- a b)"),
        ("a*b/c·d×e", "(* (* (/ (* a b) c) d) e)"),
        ("a + b*c^d", "(+ a (* b (^ c d)))"),
        ("a^b^c", "(^ a (^ b c))"),
        ("-h^2", "(- (^ h 2))"),
        ("a^-2", "(^ a (- 2))"),
        ("a^-b^-c", "(^ a (- (^ b (- c))))"),
        ("--a", "(- (- a))"),
        ("a - -b", "(- a (- b))"),
        ("2^-1 * 3", "(* (^ 2 (- 1)) 3)"),
        ("h²·b³", "(* (power h 2) (power b 3))"),
        ("-h²", "(- (power h 2))"),
        ("a⁻¹", "(power a -1)"),
        ("(a)²^2", "(^ (power (group a) 2) 2)"),
        ("a^b²", "(^ a (power b 2))"),
        ("(5 mm)^2", "(^ (group {5 mm}) 2)"),
    ]);
}

#[test]
fn conditions() {
    expressions(&[
        ("a < b", "(< a b)"),
        ("a ≤ b + c", "(<= a (+ b c))"),
        ("a >= b", "(>= a b)"),
        ("a ≥ b", "(>= a b)"),
        ("(a < b) > c", "(> (group (< a b)) c)"),
        ("a and b or c and not d", "(or (and a b) (and c (not d)))"),
        ("not not a < b", "(not (not (< a b)))"),
        ("if a then b else c", "(if a b c)"),
        (
            "if a < b then 1 else if c or d then 2 else 3 + 4",
            "(if (< a b) 1 (if (or c d) 2 (+ 3 4)))",
        ),
        ("2*(if a then b else c)", "(* 2 (group (if a b c)))"),
    ]);
}

#[test]
fn paths() {
    expressions(&[
        ("rail.ybar", "rail.ybar"),
        ("lib.hoist.strength.M(1 m)", "(lib.hoist.strength.M {1 m})"),
        ("sqrt(a*b)", "(sqrt (* a b))"),
        ("stress(B, L/2)", "(stress B (/ L 2))"),
        (
            "max(a, min(b, c), if d then 1 else 2)",
            "(max a (min b c) (if d 1 2))",
        ),
        ("x.of.at", "x.of.at"),
        ("rail.if", "rail.if"),
        ("a\n  + b\n  - c", "(- (+ a b) c)"),
    ]);
}
