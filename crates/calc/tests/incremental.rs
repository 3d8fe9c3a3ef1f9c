//! State is a function of the texts alone: after any edits everything that the host says equals
//! what a fresh reading of the same texts says. And an edit computes again only what it reaches.

use haunch_calc::{Change, Host, Snapshot};
use haunch_text::{Edit, Position, Range};
use proptest::prelude::*;

const FILES: [&str; 2] = ["a.haunch", "b.haunch"];

/// Everything that a snapshot says about a file, as text without identities.
fn told(snapshot: &Snapshot, path: &str) -> String {
    let Some(file) = snapshot.file(path) else {
        return "absent".to_owned();
    };
    let mut told = String::new();
    for value in snapshot.values(file) {
        let line = snapshot.first_physical(value.line);
        told += &format!(
            "{line:?} {} {:?} {:?}\n",
            value.name, value.evaluated, value.unit
        );
    }
    for check in snapshot.checks(file) {
        let line = snapshot.first_physical(check.line);
        told += &format!(
            "{line:?} {} {} {:?} {:?} {:?} {}\n",
            check.kind, check.name, check.utilisation, check.holds, check.place, check.text
        );
    }
    for finding in snapshot.findings(file) {
        let related: Vec<_> = finding
            .related
            .iter()
            .map(|related| (snapshot.range(related.place), &related.message))
            .collect();
        let repairs: Vec<_> = finding
            .repairs
            .iter()
            .map(|repair| {
                let edits: Vec<_> = repair
                    .edits
                    .iter()
                    .map(|(place, text)| (snapshot.range(*place), text))
                    .collect();
                (&repair.title, edits)
            })
            .collect();
        told += &format!(
            "{:?} {} {} {related:?} {repairs:?}\n",
            snapshot.range(finding.place),
            finding.code.name,
            finding.message
        );
    }
    for (name, line) in snapshot.names(file) {
        told += &format!("{name} {:?}\n", snapshot.first_physical(line));
        for (own, line) in snapshot.names_in_block(line) {
            told += &format!("{name}.{own} {:?}\n", snapshot.first_physical(line));
        }
    }
    for line in snapshot.lines(file) {
        let owner = line
            .owner()
            .and_then(|owner| snapshot.first_physical(owner));
        let first = line.first_physical();
        assert_eq!(
            first,
            snapshot.first_physical(line.id()),
            "met and searched for"
        );
        told += &format!("{first:?} {owner:?} {:?}\n", line.outcome().expressions);
    }
    told
}

fn fresh(snapshot: &Snapshot) -> Host {
    let mut host = Host::new();
    for path in FILES {
        if let Some(file) = snapshot.file(path) {
            host.apply(Change::SetText {
                path: path.to_owned(),
                text: snapshot.text(file),
            });
        }
    }
    host
}

/// Lines that name, use, break and mend each other.
fn line() -> impl Strategy<Value = String> {
    let name = prop::sample::select(vec!["a", "b", "c", "t", "plate", "rail", "hoist", "p"]);
    let member = prop::sample::select(vec!["E", "density", "area", "ybar", "web", "length"]);
    prop_oneof![
        (name.clone(), 1..9u32).prop_map(|(n, v)| format!("{n} = {v} mm")),
        (name.clone(), name.clone(), name.clone())
            .prop_map(|(n, a, b)| format!("{n} = {a} + 2*{b}")),
        (name.clone(), name.clone(), member.clone())
            .prop_map(|(n, a, m)| format!("{n} = {a}.{m}*3 [mm]")),
        (name.clone(), name.clone()).prop_map(|(n, a)| format!("{n}(x) = x*{a}")),
        (name.clone(), name.clone()).prop_map(|(n, f)| format!("{n} = {f}(3 mm)")),
        name.clone().prop_map(|n| format!("material {n}")),
        (name.clone(), name.clone()).prop_map(|(n, m)| format!("section {n} of {m}")),
        (name.clone(), name.clone()).prop_map(|(n, s)| format!("beam {n} of {s}")),
        (member, name.clone()).prop_map(|(m, n)| format!("    {m} = {n}*205 GPa/(1 mm)")),
        Just("    E = 205 GPa".to_owned()),
        Just("    limit tension <= 165 MPa".to_owned()),
        Just("    rect web 8 x 140 mm".to_owned()),
        Just("rect web 8 x 140 mm".to_owned()),
        Just("load dead 2 kN ad middle".to_owned()),
        Just("=======".to_owned()),
        Just("    rect cap 80 x 8 mm above web".to_owned()),
        name.clone()
            .prop_map(|m| format!("    rect foot 80 x 8 mm below web of {m}")),
        name.clone()
            .prop_map(|n| format!("    rect lug {n} x 20 mm right of cap flush top")),
        Just("    deduct circle bore 4 mm in web".to_owned()),
        Just("    point tip at top of cap".to_owned()),
        Just("    point heel at bottom".to_owned()),
        (name.clone(), name.clone()).prop_map(|(n, s)| format!("forces {n} on {s}")),
        (name.clone()).prop_map(|n| format!("    M = {n}*3 kN sagging")),
        Just("    N = 2 kN tension".to_owned()),
        (name.clone(), name.clone()).prop_map(|(n, f)| format!("{n} = {f}.stress(tip)/(1 MPa)")),
        (name.clone(), name.clone())
            .prop_map(|(n, s)| format!("{n} = 3 kN*m*{s}.to_bottom/{s}.Ixx")),
        (name.clone(), name.clone()).prop_map(|(n, s)| format!("{n} = {s}.section_modulus_top")),
        (name.clone(), name.clone()).prop_map(|(n, f)| format!("{n} = {f}.shear_stress_max")),
        (name.clone(), name.clone(), name.clone())
            .prop_map(|(n, f, a)| format!("{n} = {f}.stress_top + {a}")),
        (name.clone(), name.clone()).prop_map(|(n, a)| format!("{n} = abs({a})*(-1 MPa)/(1 mm)")),
        Just("    length = 3 m".to_owned()),
        (name.clone(), name.clone())
            .prop_map(|(n, b)| format!("{n} = smallest 2 mm to 9 mm step 1 mm for {b}")),
        name.clone()
            .prop_map(|n| format!("    rect web {n} x 140 mm")),
        name.clone().prop_map(|n| format!("    length = 1000*{n}")),
        Just("    load dead 2 kN at middle".to_owned()),
        Just("    load live 2 kN ad middle".to_owned()),
        Just("    load live 3 mm at end".to_owned()),
        Just("    load dead self weight".to_owned()),
        Just("    load live 2 kN/m on any spans".to_owned()),
        Just("    load trolley 2 kN, 1 kN at 0 m, 0.8 m moving".to_owned()),
        Just("    spans = 2 m, 3 m".to_owned()),
        Just("    combination c = 1.35*dead + live".to_owned()),
        Just("    limit tension <= 20 MPa under c".to_owned()),
        Just("    limit reaction at north <= 2 kN".to_owned()),
        Just("    support pin at start as north".to_owned()),
        name.clone()
            .prop_map(|n| format!("    effective_length = {n}")),
        name.clone()
            .prop_map(|s| format!("    section {s} from 1 m to 2 m")),
        Just("    + 4 mm".to_owned()),
        Just("    - b".to_owned()),
        Just(String::new()),
        Just("# a comment".to_owned()),
        Just("use \"b.haunch\" as p".to_owned()),
        Just("use \"a.haunch\" as p".to_owned()),
        name.clone().prop_map(|n| format!("x = p.{n}")),
        Just("results in cm, kN".to_owned()),
        Just("allow unused-value".to_owned()),
        (name.clone(), name).prop_map(|(a, b)| format!("verify {a} <= {b}")),
        Just("expect a = 3 mm within 1 %".to_owned()),
        Just("c = (a + ".to_owned()),
    ]
}

#[derive(Debug, Clone)]
enum Step {
    Edit {
        file: usize,
        start: (u32, u32),
        lines: u32,
        end_column: u32,
        text: String,
    },
    Set(usize, String),
    Remove(usize),
}

fn step() -> impl Strategy<Value = Step> {
    let text = prop_oneof![
        3 => line(),
        2 => line().prop_map(|line| format!("{line}\n")),
        1 => (line(), line()).prop_map(|(a, b)| format!("{a}\r\n{b}\r")),
        1 => Just("\n".to_owned()),
        1 => Just(String::new()),
        1 => "[a-c=+ \n]{0,3}",
    ];
    let columns = prop_oneof![Just(0_u32), Just(99_u32), 0..12_u32];
    prop_oneof![
        12 => (0..2_usize, (0..14_u32, columns.clone()), 0..3_u32, columns, text).prop_map(
            |(file, start, lines, end_column, text)| Step::Edit {
                file,
                start,
                lines,
                end_column,
                text,
            }
        ),
        1 => (0..2_usize, prop::collection::vec(line(), 0..9))
            .prop_map(|(file, lines)| Step::Set(file, lines.join("\n"))),
        1 => (0..2_usize).prop_map(Step::Remove),
    ]
}

fn apply(host: &mut Host, step: &Step) {
    let change = match step {
        Step::Edit {
            file,
            start,
            lines,
            end_column,
            text,
        } => Change::Edit {
            path: FILES[*file].to_owned(),
            edits: vec![Edit {
                range: Range {
                    start: Position {
                        line: start.0,
                        column: start.1,
                    },
                    end: Position {
                        line: start.0 + lines,
                        column: *end_column,
                    },
                },
                text: text.clone(),
            }],
        },
        Step::Set(file, text) => Change::SetText {
            path: FILES[*file].to_owned(),
            text: text.clone(),
        },
        Step::Remove(file) => Change::Remove {
            path: FILES[*file].to_owned(),
        },
    };
    host.apply(change);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn after_any_edits_the_state_is_that_of_a_fresh_reading(
        first in prop::collection::vec(line(), 0..14),
        second in prop::collection::vec(line(), 0..6),
        steps in prop::collection::vec(step(), 1..16),
    ) {
        let mut host = Host::new();
        for (path, lines) in FILES.iter().zip([&first, &second]) {
            host.apply(Change::SetText { path: (*path).to_owned(), text: lines.join("\n") });
        }
        for step in &steps {
            apply(&mut host, step);
            let snapshot = host.snapshot();
            let again = fresh(&snapshot).snapshot();
            for path in FILES {
                prop_assert_eq!(told(&snapshot, path), told(&again, path), "after {:?}", step);
            }
        }
    }
}

/// A beam whose plate is searched for, and the lines that its lines may become.
const SIZED: [&str; 13] = [
    "q = 1 kN",
    "t = smallest 2 mm to 9 mm step 1 mm for hoist",
    "material steel",
    "    E = 205 GPa",
    "    limit tension <= 150 MPa",
    "section rail of steel",
    "    rect web t x 140 mm",
    "",
    "beam hoist of rail",
    "    length = 3 m",
    "    load a q at middle",
    "    limit deflection <= span/300",
    "u = 2*t + hoist.deflection_max",
];

fn line_of_sized() -> impl Strategy<Value = &'static str> {
    let others = [
        "q = 2 kN",
        "q = 1 N*t/(1 mm)",
        "q = r",
        "r = 3 kN",
        "t = largest 2 mm to 9 mm step 1 mm for hoist",
        "t = smallest 2 mm to 9 mm step s for hoist",
        "s = 2 mm",
        "s = t",
        "t = smallest 2 mm to 9 mm step 1 mm for post",
        "t = 5 mm",
        "f(x) = x*t",
        "    rect web f(2) x 140 mm",
        "    rect web 8 x 140 mm",
        "    rect cap 80 mm x u above web",
        "    rect cap 80 mm x 8 mm above web",
        "u = smallest 2 mm to 4 mm step 1 mm for hoist",
        "beam post of rail",
        "    length = 4 m",
        "    section rail from 1 m to 2 m",
        "    load a 2 kN at middle",
        "    limit shear <= 9 MPa",
        "    limit tension <= 90 MPa",
        "verify t <= 4 mm",
        "use \"b.haunch\" as p",
    ];
    prop::sample::select([&SIZED[..], &others[..]].concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn a_search_for_a_size_follows_every_edit(
        steps in prop::collection::vec((0..14_u32, 0..3_u32, line_of_sized()), 1..14),
    ) {
        follows_every_edit(&SIZED.join("\n"), steps)?;
    }
}

/// A search between another one and its block is one of the lines between when it becomes a value.
#[test]
fn a_search_between_becomes_a_value() {
    let text = SIZED.join("\n").replace(
        "\n\n",
        "\n    rect cap 80 mm x v above web\n\nv = smallest 2 mm to 4 mm step 1 mm for hoist\n",
    );
    let number = text.lines().position(|line| line.starts_with("v = "));
    let mut host = host_of(&text);
    replace_lines(&mut host, number.expect("it is there") as u32, 1, "v = t");
    let snapshot = host.snapshot();
    let again = fresh(&snapshot).snapshot();
    assert_eq!(told(&snapshot, "a.haunch"), told(&again, "a.haunch"));
}

/// Lines that lints look at together: fibres of a section, signs of stresses, angles behind names.
const LOOKED_AT_TOGETHER: [&str; 24] = [
    "M = 3 kN*m",
    "section tee",
    "    rect flange 150 x 12 mm",
    "    rect stem 10 x 180 mm above flange",
    "    point foot at bottom",
    "I = tee.Ixx",
    "c = tee.to_bottom",
    "s = M*c/I",
    "s2 = M*tee.to_bottom/tee.Ixx",
    "J = 1.3e7 mm^4",
    "y_top = 81 mm",
    "y_bot = 129 mm",
    "u = M*y_top/J",
    "N = -35 kN",
    "A = 3600 mm^2",
    "W = 95 cm^3",
    "n = N/A",
    "b = abs(M)/W",
    "sigma = n + b",
    "phi = atan(0.4)*180/pi",
    "x = sin(phi)",
    "theta = 40 deg",
    "z = theta + 15",
    "forces on_it on tee",
];

fn line_looked_at_together() -> impl Strategy<Value = &'static str> {
    let others = [
        "M = abs(-3 kN*m)",
        "M_m = abs(M)",
        "b = M_m/W",
        "I = 1.3e7 mm^4",
        "section beam2 of oak",
        "section tee of oak",
        "material oak",
        "    E = 12 GPa",
        "    rect stem 10 x 180 mm above flange of oak",
        "    rect flange 90 x 12 mm",
        "    rect foot 150 x 12 mm",
        "    rect edging 150 x 12 mm below flange",
        "r = M*tee.to_top/tee.Ixx",
        "r = tee.depth - tee.ybar",
        "r = M*tee.to_bottom/tee.Ixx",
        "verify M/tee.section_modulus_top <= 160 MPa",
        "s_foot = M*tee.to_bottom/tee.Ixx",
        "h = tee.to_bottom",
        "c = h",
        "c = tee.to_top",
        "c = 54 mm",
        "s = M*tee.depth/2/I",
        "    M = 3 kN*m hogging",
        "    N = 60 kN compression",
        "expect s2 = on_it.stress_bottom within 1 %",
        "expect u = on_it.stress_top within 1 %",
        "v = M*y_bot/J",
        "y_top = 210 mm - y_bot",
        "y_top = 140 mm",
        "y_bot = 81 mm",
        "N = 35 kN",
        "N = 0 kN - 35 kN",
        "d = n - b",
        "d = n - N/A",
        "n = on_it.stress_top",
        "n = on_it.N/A",
        "b = on_it.shear_stress_max",
        "b = 3 MPa",
        "theta = atan(0.4) [deg]",
        "theta = 0.4",
        "phi = 0.4",
        "tee = 3 mm",
        "use \"b.haunch\" as p",
        "results in cm, MPa",
        "c = (",
        "",
    ];
    prop::sample::select([&LOOKED_AT_TOGETHER[..], &others[..]].concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn what_lints_say_of_lines_together_follows_every_edit(
        steps in prop::collection::vec((0..25_u32, 0..3_u32, line_looked_at_together()), 1..14),
    ) {
        follows_every_edit(&LOOKED_AT_TOGETHER.join("\n"), steps)?;
    }
}

/// Lines that give the same few names over and over.
const GIVEN_OFTEN: [&str; 18] = [
    "a = 1 mm",
    "a = 2 mm",
    " a = 3 mm",
    "a = 4 mm",
    "a(x) = x",
    "use \"b.haunch\" as a",
    "b = a*2",
    "c = a(2 mm)",
    "d = b + 1 mm",
    "section a",
    "section b",
    "    rect a 8 x 140 mm",
    "    rect a 9 x 140 mm above a",
    "     rect a 9 x 140 mm above a",
    "    a = 5 mm",
    "    E = 5 GPa*a",
    "a = sin(0.4) + a",
    "",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn names_that_are_given_often_follow_every_edit(
        steps in prop::collection::vec(
            (0..20_u32, 0..4_u32, prop::sample::select(&GIVEN_OFTEN[..])),
            1..20,
        ),
    ) {
        let text = "a = 1 mm\na = 2 mm\nb = a\na = 1 mm\nsection s\n    rect a 8 x 140 mm\n    rect a 9 x 14 mm\n\
                    a = 4 mm\na = 4 mm\na = 4 mm\na = 4 mm\nc = s.a.area\n";
        follows_every_edit(text, steps)?;
    }
}

/// After each step, which takes lines out and puts another in their place, the file is told as a fresh reading
/// tells it.
fn follows_every_edit(text: &str, steps: Vec<(u32, u32, &str)>) -> Result<(), TestCaseError> {
    let mut host = host_of(text);
    for (line, removed, text) in steps {
        replace_lines(&mut host, line, removed, text);
        let snapshot = host.snapshot();
        let again = fresh(&snapshot).snapshot();
        let file = snapshot.file("a.haunch").expect("it is there");
        prop_assert_eq!(
            told(&snapshot, "a.haunch"),
            told(&again, "a.haunch"),
            "{}",
            snapshot.text(file)
        );
    }
    Ok(())
}

/// Takes lines out and puts another in their place.
fn replace_lines(host: &mut Host, line: u32, removed: u32, text: &str) {
    let at = |line| Position { line, column: 0 };
    host.apply(Change::Edit {
        path: "a.haunch".to_owned(),
        edits: vec![Edit {
            range: Range {
                start: at(line),
                end: at(line + removed),
            },
            text: format!("{text}\n"),
        }],
    });
}

fn host_of(text: &str) -> Host {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: "a.haunch".to_owned(),
        text: text.to_owned(),
    });
    host
}

fn replace(line: u32, columns: std::ops::Range<u32>, text: &str) -> Change {
    let at = |column| Position { line, column };
    Change::Edit {
        path: "a.haunch".to_owned(),
        edits: vec![Edit {
            range: Range {
                start: at(columns.start),
                end: at(columns.end),
            },
            text: text.to_owned(),
        }],
    }
}

#[test]
fn an_edit_computes_only_what_uses_it() {
    let mut host = host_of("a = 3 mm\nb = a*2\nc = 4 mm\nd = c*2\ne = b + d\n");
    assert_eq!(host.apply(replace(0, 4..5, "5")).recomputed, 3);
}

/// A formula's text stays the same when a value that it uses changes.
#[test]
fn a_value_inside_a_formula_reaches_its_calls() {
    let mut host = host_of("t = 3 mm\nf(x) = x*t\ny = f(2)\n");
    assert_eq!(host.apply(replace(0, 4..5, "5")).recomputed, 3);
    assert_eq!(
        told(&host.snapshot(), "a.haunch"),
        told(&fresh(&host.snapshot()).snapshot(), "a.haunch")
    );
}

#[test]
fn an_equal_value_stops_the_wave() {
    let mut host = host_of("a = 3 mm\nb = max(a, 9 mm)\nc = b*2\nd = c*2\n");
    assert_eq!(host.apply(replace(0, 4..5, "5")).recomputed, 2);
    assert_eq!(host.apply(replace(0, 3..4, "  ")).recomputed, 1);
}

#[test]
fn a_comment_computes_nothing_else() {
    let mut host = host_of("a = 3 mm\nb = a*2\n# note\n");
    assert_eq!(host.apply(replace(2, 2..6, "text")).recomputed, 1);
}

#[test]
fn a_thousand_lines_elsewhere_stay_as_they_are() {
    let mut text = String::from("a = 3 mm\nb = a*2\n");
    for n in 0..1000 {
        text += &format!("x{n} = {n} mm\ny{n} = x{n}*2\n");
    }
    let mut host = host_of(&text);
    assert_eq!(host.apply(replace(0, 4..5, "5")).recomputed, 2);
    assert!(host.apply(replace(0, 8..8, "\nnew = 1 mm")).recomputed <= 2);
}

/// Only the first of many definitions are known to the others.
#[test]
fn a_name_that_is_given_often_is_edited_at_the_cost_of_its_line() {
    let mut host = host_of(&format!("{}b = a*2\n", "a = 1 mm\n".repeat(1_000)));
    assert_eq!(host.apply(replace(500, 4..5, "5")).recomputed, 1);
    assert_eq!(host.apply(replace(500, 0..1, "c")).recomputed, 1);
    assert_eq!(host.apply(replace(500, 0..1, "a")).recomputed, 1);
    assert_eq!(host.apply(replace(0, 4..5, "5")).recomputed, 1);
    assert!(host.apply(replace(0, 0..1, "c")).recomputed >= 999);
}

/// Each of several lines of preferred units says so, whichever came last and whatever it prefers.
#[test]
fn several_lines_of_preferred_units_tell_of_each_other() {
    let mut host = host_of("results in furlong\na = 1 mm\n");
    replace_lines(&mut host, 2, 0, "results in mm, MPa");
    let same = |host: &Host| {
        assert_eq!(
            told(&host.snapshot(), "a.haunch"),
            told(&fresh(&host.snapshot()).snapshot(), "a.haunch")
        );
    };
    same(&host);
    host.apply(replace(0, 0..18, ""));
    same(&host);
}

#[test]
fn a_walk_begins_with_the_line_that_it_meets_first() {
    let text = "a = 1 mm\nb = 1 mm\n    + 2 mm\n    + 3 mm\nc = 4 mm";
    let mut host = Host::new();
    let path = "main.haunch".to_owned();
    host.apply(Change::SetText {
        path,
        text: text.to_owned(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file("main.haunch").expect("it was given");
    let met = |lines: std::ops::Range<usize>| -> Vec<_> {
        let lines = snapshot.lines_in(file, lines);
        lines.filter_map(|line| line.first_physical()).collect()
    };
    assert_eq!(met(0..9), [0, 1, 4]);
    assert_eq!(met(2..4), [1]);
    assert_eq!(met(3..5), [1, 4]);
    assert_eq!(met(3..3), []);
    assert_eq!(met(7..9), []);
    for line in snapshot.lines(file) {
        let span = haunch_text::Span::new(0, line.text().len());
        let id = line.id();
        assert_eq!(
            line.range(span),
            snapshot.range(haunch_calc::Place { line: id, span })
        );
    }
}
