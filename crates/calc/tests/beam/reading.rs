//! Reading a file, and asking what came out.

use std::collections::BTreeMap;

use haunch_calc::{Change, Check, Host, Snapshot, Value};

/// Steel of 205 GPa, and a bar of 30 mm by 120 mm with a point at each edge.
pub(crate) const BAR: &str = "\
material steel
    E = 205 GPa
    density = 7850 kg/m^3
section bar of steel
    rect plate 30 x 120 mm
    point low at bottom
    point high at top
";

/// E·I of the bar, N·m².
pub(crate) const EI: f64 = 205e9 * 0.03 * 0.12 * 0.12 * 0.12 / 12.0;
/// Section modulus of the bar, m³.
pub(crate) const W: f64 = 0.03 * 0.12 * 0.12 / 6.0;
/// Weight of the bar per length, N/m.
pub(crate) const WEIGHT: f64 = 7850.0 * 0.03 * 0.12 * 9.80665;

pub(crate) fn host(text: &str) -> Host {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: "a.haunch".into(),
        text: text.into(),
    });
    host
}

/// What a file comes to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Read {
    /// Numbers in SI units by their full names.
    pub(crate) values: BTreeMap<String, f64>,
    pub(crate) checks: Vec<Check>,
    /// `code at "text": message`
    pub(crate) findings: Vec<String>,
}

pub(crate) fn of(snapshot: &Snapshot) -> Read {
    let file = snapshot.file("a.haunch").expect("the file was set");
    let values = snapshot
        .values(file)
        .into_iter()
        .filter_map(|value| match value.evaluated.value {
            Some(Value::Quantity(quantity)) => Some((value.name, quantity.si())),
            _ => None,
        })
        .collect();
    let findings = snapshot
        .findings(file)
        .into_iter()
        .map(|finding| {
            let line = snapshot
                .line(finding.place.line)
                .expect("the line is there");
            let marked = finding.place.span.text(line.text());
            format!("{} at {marked:?}: {}", finding.code.name, finding.message)
        })
        .collect();
    Read {
        values,
        checks: snapshot.checks(file),
        findings,
    }
}

/// Reads a file of its own.
pub(crate) fn file(text: &str) -> Read {
    of(&host(text).snapshot())
}

/// Reads a beam `b` of the bar, by the lines under its heading, and more lines after it.
pub(crate) fn beam(lines: &str, more: &str) -> Read {
    file(&with_bar(lines, more))
}

pub(crate) fn with_bar(lines: &str, more: &str) -> String {
    let lines: String = lines
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect();
    format!("{BAR}beam b of bar\n{lines}{more}\n")
}

impl Read {
    #[track_caller]
    pub(crate) fn value(&self, name: &str) -> f64 {
        match self.values.get(name) {
            Some(value) => *value,
            None => panic!("{name} has no value: {:#?}", self.findings),
        }
    }

    /// Compares values with numbers that were worked out otherwise, to 11 digits.
    #[track_caller]
    pub(crate) fn agrees(&self, expected: &[(&str, f64)]) {
        assert_eq!(self.findings, Vec::<String>::new());
        for (name, expected) in expected {
            let value = self.value(name);
            let tolerance = 1e-11 * expected.abs().max(1e-9);
            assert!(
                (value - expected).abs() <= tolerance,
                "{name} is {value}, not {expected}"
            );
        }
    }

    #[track_caller]
    pub(crate) fn check(&self, name: &str) -> &Check {
        let found = self.checks.iter().find(|check| check.name == name);
        found.unwrap_or_else(|| panic!("no check {name}: {:#?}", self.checks))
    }

    /// Exactly these findings, each given by the beginning of its text.
    #[track_caller]
    pub(crate) fn finds(&self, expected: &[&str]) {
        let fits = |(found, expected): (&String, &&str)| found.starts_with(expected);
        let all = self.findings.iter().zip(expected).all(fits);
        assert!(
            all && self.findings.len() == expected.len(),
            "{:#?}\nnot\n{expected:#?}",
            self.findings
        );
    }
}
