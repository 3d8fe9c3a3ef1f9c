//! Any text gives findings or values, never a panic, a hang or a number that is none.

use haunch_calc::{Change, Host, Value};
use proptest::prelude::*;

fn word() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "section",
            "beam",
            "material",
            "forces",
            "sheet",
            "rect",
            "circle",
            "round tube",
            "deduct",
            "point",
            "support",
            "load",
            "limit",
            "combination",
            "verify",
            "expect",
            "answer",
            "use",
            "note",
            "allow",
            "results in",
            "largest",
            "smallest",
            "of",
            "at",
            "above",
            "below",
            "left of",
            "right of",
            "in",
            "from",
            "to",
            "throughout",
            "moving one way",
            ",",
            "middle",
            "start",
            "end",
            "top",
            "bottom",
            "pin",
            "fixed",
            "under",
            "within",
            "on",
            "as",
            "any",
            "if",
            "then",
            "else",
            "and",
            "not",
            "tension",
            "hogging",
            "clockwise",
            "up",
            "tributary",
            "self weight",
        ])
        .prop_map(str::to_owned),
        prop::sample::select(vec![
            "a", "b", "t", "rail", "plate", "web", "M", "V", "E", "length", "span", "dead", "pi",
            "kN",
        ])
        .prop_map(str::to_owned),
        prop::sample::select(vec![
            "0",
            "1",
            "3 mm",
            "12 kN",
            "2 kN/m",
            "1e308",
            "1e-308 m",
            "205 GPa",
            "7850 kg/m^3",
            "90 deg",
            "-1 m",
            "3/4 in",
            "6 ft 3 in",
            "5 %",
            "\"b.haunch\"",
            "\"",
        ])
        .prop_map(str::to_owned),
        prop::sample::select(vec![
            "=", "+", "-", "*", "/", "^", "(", ")", "[", "]", ",", ".", "<=", ">", "x", "²", "#",
            "\u{feff}",
        ])
        .prop_map(str::to_owned),
        "\\PC{0,3}",
    ]
}

fn line() -> impl Strategy<Value = String> {
    (
        prop::sample::select(vec!["", "", "    ", "\t"]),
        prop::collection::vec(word(), 0..9),
        prop::sample::select(vec!["\n", "\n", "\r\n", "\r"]),
    )
        .prop_map(|(indent, words, end)| format!("{indent}{}{end}", words.join(" ")))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn any_lines_are_read_and_told(lines in prop::collection::vec(line(), 0..25)) {
        let text = lines.concat();
        let mut host = Host::new();
        host.apply(Change::SetText { path: "a.haunch".to_owned(), text: text.clone() });
        let snapshot = host.snapshot();
        let file = snapshot.file("a.haunch").expect("the file was set");
        prop_assert_eq!(snapshot.text(file), text);
        for value in snapshot.values(file) {
            if let Some(Value::Quantity(quantity)) = value.evaluated.value {
                prop_assert!(quantity.si().is_finite());
            }
        }
        for check in snapshot.checks(file) {
            prop_assert!(check.utilisation.is_none_or(f64::is_finite));
        }
        for finding in snapshot.findings(file) {
            prop_assert!(snapshot.range(finding.place).is_some(), "{:?}", finding);
            prop_assert!(!finding.message.is_empty());
            for repair in snapshot.repairs(&finding) {
                for (place, _) in &repair.edits {
                    prop_assert!(snapshot.range(*place).is_some(), "{:?}", repair);
                }
            }
        }
    }
}

#[test]
fn deep_nesting_and_long_lines_are_told() {
    for text in [
        format!("a = {}1{}", "(".repeat(100_000), ")".repeat(100_000)),
        format!("a = {}1{}", "(".repeat(2_000), ")".repeat(2_000)),
        format!("a = 1{}", "+1".repeat(20_000)),
        format!("a = {}1", "-".repeat(20_000)),
        "x".repeat(300_000),
    ] {
        let mut host = Host::new();
        host.apply(Change::SetText {
            path: "a.haunch".to_owned(),
            text,
        });
        let snapshot = host.snapshot();
        let file = snapshot.file("a.haunch").expect("the file was set");
        let values = snapshot.values(file);
        let findings = snapshot.findings(file);
        assert!(!values.is_empty() || !findings.is_empty());
    }
}

#[test]
fn formulas_that_call_each_other_are_bounded() {
    let mut text = String::from("f0(x) = x + 1\n");
    for n in 1..40 {
        text += &format!("f{n}(x) = f{}(x) + f{}(x)\n", n - 1, n - 1);
    }
    text += "a = f39(1)\n";
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: "a.haunch".to_owned(),
        text,
    });
    let snapshot = host.snapshot();
    let file = snapshot.file("a.haunch").expect("the file was set");
    let findings = snapshot.findings(file);
    assert!(findings.iter().any(|f| f.code.name == "no-number"));
}
