use super::{check, read};
use crate::{ExpressionKind, Statement};

#[test]
fn values_and_formulas() {
    check(&[
        (
            "title = \"Boathouse hoist rail\"",
            "(= title \"Boathouse hoist rail\")",
        ),
        ("length = 3.6 m", "(= length {3.6 m})"),
        ("spans = 4 m, 5 m", "(= spans (list {4 m} {5 m}))"),
        ("spans = 4 m,5 m", "(= spans (list {4 m} {5 m}))"),
        ("spans = a, 2*a [m]", "(= spans (list a (* 2 a)) [m])"),
        ("A1 = 120 mm * 10 mm", "(= A1 (* {120 mm} {10 mm}))"),
        (
            "ybar = (A1*y1 + A2*y2)/(A1 + A2)             [mm]",
            "(= ybar (/ (group (+ (* A1 y1) (* A2 y2))) (group (+ A1 A2))) [mm])",
        ),
        (
            "x = a [any force per  length]",
            "(= x a [any force per length])",
        ),
        ("x = a [furlong/day]", "(= x a [furlong/day])"),
        ("x = a [kip-ft]", "(= x a [kip-ft])"),
        ("f(a, b) = a*b [mm^2]", "(formula (f a b) (* a b) [mm^2])"),
        ("load(x) = x", "(formula (load x) x)"),
    ]);
}

#[test]
fn a_word_with_an_equals_sign_is_a_value_whatever_the_word() {
    check(&[
        ("load = 3", "(= load 3)"),
        ("note = 3", "(= note 3)"),
        ("section = at", "(= section at)"),
        ("at = x*of", "(= at (* x of))"),
        ("largest = smallest", "(= largest smallest)"),
        ("any = end", "(= any end)"),
    ]);
}

#[test]
fn searches() {
    check(&[
        (
            "P = largest trolley of hoist  [kN]",
            "(= P (largest trolley hoist) [kN])",
        ),
        (
            "P = smallest M of lib.wall under uls",
            "(= P (smallest M lib.wall under:uls))",
        ),
        (
            "P = largest of of of under under",
            "(= P (largest of of under:under))",
        ),
        ("P = largest + 2", "(= P (+ largest 2))"),
        ("P = largest hogging", "(= P largest hogging)"),
    ]);
}

#[test]
fn senses() {
    check(&[
        ("M = 12 kN*m hogging", "(= M {12 kN*m:m} hogging)"),
        (
            "M = 12 kN*m sagging [kN*m]",
            "(= M {12 kN*m:m} sagging [kN*m])",
        ),
        ("M = 12 kN*m top in tension", "(= M {12 kN*m:m} hogging)"),
        ("M = 2*a bottom in tension", "(= M (* 2 a) sagging)"),
        (
            "My = 3 kN*m left in tension",
            "(= My {3 kN*m:m} leftintension)",
        ),
        (
            "My = 3 kN*m right in tension",
            "(= My {3 kN*m:m} rightintension)",
        ),
        ("N = tension tension", "(= N tension tension)"),
        ("N = 5 kN compression", "(= N {5 kN} compression)"),
    ]);
}

#[test]
fn headings_and_the_lines_of_a_file() {
    check(&[
        ("", "()"),
        ("   # only a comment", "()"),
        ("sheet", "(sheet)"),
        ("material plate", "(material plate)"),
        ("section rail of plate", "(section rail of:plate)"),
        ("section of of of", "(section of of:of)"),
        ("section rail of lib.plate", "(section rail of:lib.plate)"),
        ("section rail", "(section rail)"),
        ("forces f on rail", "(forces f of:rail)"),
        ("beam hoist of rail", "(beam hoist of:rail)"),
        ("note Welded; it's \"5\" # long", "(note)"),
        ("note", "(note)"),
        ("note - a\n   - b", "(note)"),
        (
            "results in mm, kN, kN*m, MPa, 4 digits",
            "(results mm kN kN*m MPa digits:4)",
        ),
        ("results in kip-ft, in, %", "(results kip-ft in %)"),
        ("use \"plates.haunch\"", "(use \"plates.haunch\")"),
        (
            "use \"plates.haunch\" as as",
            "(use \"plates.haunch\" as:as)",
        ),
    ]);
}

#[test]
fn checks() {
    check(&[
        (
            "limit tension     <= 165 MPa",
            "(limit tension <= {165 MPa})",
        ),
        (
            "limit deflection ≤ span/360 under sls",
            "(limit deflection <= (/ span 360) under:sls)",
        ),
        (
            "verify a*b <= c and d > e",
            "(verify (and (<= (* a b) c) (> d e)))",
        ),
        (
            "expect ybar = rail.ybar within 0.01 mm",
            "(expect ybar rail.ybar within:{0.01 mm})",
        ),
        (
            "expect hoist.M(1 m) = 3 kN*m",
            "(expect (hoist.M {1 m}) {3 kN*m:m})",
        ),
        (
            "expect within = within within 1 %",
            "(expect within within within:{1 %})",
        ),
        ("answer P_allow", "(answer P_allow)"),
        (
            "answer hoist.M(1 m) \"in words\"",
            "(answer (hoist.M {1 m}) \"in words\")",
        ),
        ("allow unused-value", "(allow unused-value)"),
        (
            "allow for-and-or for rail.E",
            "(allow for-and-or for:rail.E)",
        ),
        (
            "allow unused-value for \"a <= b\"",
            "(allow unused-value for:a <= b)",
        ),
    ]);
}

#[test]
fn parts() {
    check(&[
        (
            "rect flange  120 x 10 mm",
            "(part \"rect\" flange (sizes 120 {10 mm}))",
        ),
        (
            "rect web       8 x 140 mm  above flange",
            "(part \"rect\" web (sizes 8 {140 mm}) (above flange))",
        ),
        (
            "rect web tw x (h - 2*tf) in x of plate",
            "(part \"rect\" web (sizes tw (group (- h (* 2 tf)))) (in x) of:plate)",
        ),
        ("rect x x x x", "(part \"rect\" x (sizes x x))"),
        (
            "rect web tw × h*2",
            "(part \"rect\" web (sizes tw (* h 2)))",
        ),
        (
            "rect web tw × (a×b)",
            "(part \"rect\" web (sizes tw (group (* a b))))",
        ),
        (
            "rect web 8\n   × 140 mm",
            "(part \"rect\" web (sizes 8 {140 mm}))",
        ),
        (
            "rect web 8 in x 4 in in flange",
            "(part \"rect\" web (sizes {8 in} {4 in}) (in flange))",
        ),
        (
            "rect p 8 x 9 mm left of web flush top inset 2*t centred on q of lib.steel",
            "(part \"rect\" p (sizes 8 {9 mm}) (leftof web flush:top inset:(* 2 t) centred:q) of:lib.steel)",
        ),
        (
            "rect p 8 x 9 mm right of web flush bottom",
            "(part \"rect\" p (sizes 8 {9 mm}) (rightof web flush:bottom))",
        ),
        (
            "rect p a x b below of of of",
            "(part \"rect\" p (sizes a b) (below of) of:of)",
        ),
        (
            "rect p a x b at (-10 mm, y + 2 mm)",
            "(part \"rect\" p (sizes a b) (at (- {10 mm}) (+ y {2 mm})))",
        ),
        ("circle c 20 mm", "(part \"circle\" c (sizes {20 mm}))"),
        (
            "round tube tube 100 x 5 mm",
            "(part \"round tube\" tube (sizes 100 {5 mm}))",
        ),
        (
            "box tube b 100 x 60 x 5 mm",
            "(part \"box tube\" b (sizes 100 60 {5 mm}))",
        ),
        (
            "I shape girder 200 x 600 x 10 x 20 mm bottom 300 x 25 mm root 8 mm above p",
            "(part \"I shape\" girder (sizes 200 600 10 {20 mm}) (bottom 300 {25 mm}) \
             (root {8 mm}) (above p))",
        ),
        (
            "angle a 75 x 100 x 8 mm root 10 mm toe 5 mm mirrored sideways turned 30 deg of s",
            "(part \"angle\" a (sizes 75 100 {8 mm}) (root {10 mm}) (toe {5 mm}) \
             (mirrored sideways) (turned {30 deg}) of:s)",
        ),
        (
            "quarter fillet f r in corner mirrored upside down",
            "(part \"quarter fillet\" f (sizes r) (in corner) (mirrored upside-down))",
        ),
        (
            "deduct polygon notch (0, 0) (40, 0) (0 mm, a + b) at (5 mm, 0 mm)",
            "(deduct \"polygon\" notch (sizes 0 0 40 0 {0 mm} (+ a b)) (at {5 mm} {0 mm}))",
        ),
        (
            "rolled rail \"IPE 200\" above plate turned 90 deg",
            "(part \"rolled\" rail \"IPE 200\" (above plate) (turned {90 deg}))",
        ),
        (
            "deduct circle hole 20 mm in web",
            "(deduct \"circle\" hole (sizes {20 mm}) (in web))",
        ),
        (
            "tee t 100 x 80 x 6 x 8 mm",
            "(part \"tee\" t (sizes 100 80 6 {8 mm}))",
        ),
        (
            "polygon p (0, 0) (1 mm, 0) (0, 1 mm) above q",
            "(part \"polygon\" p (sizes 0 0 {1 mm} 0 0 {1 mm}) (above q))",
        ),
    ]);
}

#[test]
fn points() {
    check(&[
        ("point A at bottom", "(point A bottom)"),
        ("point C at top of flange", "(point C top of:flange)"),
        ("point at at top left of of", "(point at top-left of:of)"),
        ("point D at left bottom", "(point D bottom-left)"),
        ("point E at right", "(point E right)"),
        ("point F at (3 mm, 4)", "(point F (at {3 mm} 4))"),
        ("point F at (10,20) of web", "(point F (at 10 20) of:web)"),
    ]);
}

#[test]
fn beams() {
    check(&[
        ("support pin    at start", "(support pin start)"),
        ("support roller at 3 m as A", "(support roller {3 m} as:A)"),
        (
            "support spring 2*k at end as as",
            "(support spring (* 2 k) end as:as)",
        ),
        ("support spring at at at", "(support spring at at)"),
        ("support clamp at L/2", "(support clamp (/ L 2))"),
        ("hinge at end - 1 m", "(hinge (- end {1 m}))"),
        ("load dead     self weight", "(load dead self-weight)"),
        (
            "load live 3 kN/m on any spans",
            "(load live {3 kN/m:m} any-spans)",
        ),
        ("load sinking 5 mm at 3 m", "(load sinking {5 mm} at:{3 m})"),
        ("load crane 8 kN moving", "(load crane {8 kN} moving)"),
        (
            "load moving moving at moving moving one way",
            "(load moving moving at:moving moving one-way)",
        ),
        (
            "load trolley 12 kN, 2*F at 0 m, 1.8 m moving",
            "(load trolley (wheels {12 kN} (* 2 F)) at:{0 m} at:{1.8 m} moving)",
        ),
        (
            "section rail from 1 m to end",
            "(section rail from:{1 m} to:end)",
        ),
        (
            "limit reaction at north <= 3 kN",
            "(limit reaction at:north <= {3 kN})",
        ),
        (
            "limit uplift at end < 3 kN",
            "(limit uplift at:end < {3 kN})",
        ),
        (
            "limit tension on span 2 <= 3 MPa under c",
            "(limit tension span:2 <= {3 MPa} under:c)",
        ),
        (
            "t = smallest 6 mm to 2*a step 1 mm for p.rail",
            "(= t (smallest {6 mm} (* 2 a) {1 mm} p.rail))",
        ),
        ("load dead self at middle", "(load dead self at:middle)"),
        (
            "load trolley  6 kN at middle",
            "(load trolley {6 kN} at:middle)",
        ),
        ("load at at at at", "(load at at at:at)"),
        ("load x 3 kN/m throughout", "(load x {3 kN/m:m} throughout)"),
        (
            "load x 3 to 5 kN/m from start to end",
            "(load x (to 3 {5 kN/m:m}) from:start to:end)",
        ),
        (
            "load to to to to from to to to",
            "(load to (to to to) from:to to:to)",
        ),
        (
            "load live 3 kN/m on span 2",
            "(load live {3 kN/m:m} span:2)",
        ),
        (
            "load wind 3 kPa throughout up tributary 2 m",
            "(load wind {3 kPa} throughout up tributary:{2 m})",
        ),
        (
            "load c 3 kN*m clockwise at 2 m",
            "(load c {3 kN*m:m} clockwise at:{2 m})",
        ),
        (
            "combination uls = 1.35*dead + 1.5*live",
            "(combination uls (+ (* 1.35 dead) (* 1.5 live)))",
        ),
    ]);
}

#[test]
fn indentation_comments_and_terminators_are_no_part_of_the_statement() {
    for (text, indented) in [
        ("a = b", false),
        ("    a = b  # why\r\n", true),
        ("\ta=b\r", true),
        ("\u{FEFF}a = b\n", false),
        ("\u{FEFF}\u{A0}a = b", true),
        ("a =\u{A0}b#", false),
    ] {
        let tree = read(text);
        assert_eq!(tree.outline(), "(= a b)", "{text:?}");
        assert_eq!(tree.indented, indented, "{text:?}");
    }
    let tree = read("a = b # first\n  + c # second");
    assert_eq!(tree.outline(), "(= a (+ b c))");
    let comment = tree.comment.map(|span| span.text("a = b # first"));
    assert_eq!(comment, Some("# first"));
}

#[test]
fn names_are_compared_in_normal_form_c() {
    let tree = read("y\u{304} = σ₁*y\u{304}'");
    assert_eq!(tree.outline(), "(= ȳ (* σ₁ ȳ'))");
    let Statement::Value(value) = &tree.statement else {
        panic!("a value is read");
    };
    assert_eq!((value.name.span.start, value.name.span.end), (0, 3));
}

#[test]
fn spans_cover_what_was_read() {
    let text = "a = (b + 3 mm)*f(c)²";
    let tree = read(text);
    let spans: Vec<&str> = tree
        .expressions
        .iter()
        .map(|expression| expression.span.text(text))
        .collect();
    assert_eq!(
        spans,
        [
            "b",
            "3 mm",
            "b + 3 mm",
            "(b + 3 mm)",
            "c",
            "f(c)",
            "f(c)²",
            "(b + 3 mm)*f(c)²"
        ]
    );
    let names: Vec<String> = tree
        .paths()
        .map(|path| path.names[0].text.to_string())
        .collect();
    assert_eq!(names, ["b", "c", "f"]);
    let Statement::Value(value) = &tree.statement else {
        panic!("a value is read");
    };
    let crate::ValueBody::Expression(id) = value.body else {
        panic!("an expression is read");
    };
    assert!(matches!(
        tree.expression(id).kind,
        ExpressionKind::Binary { .. }
    ));
}
