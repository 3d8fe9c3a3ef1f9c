//! A file read through the public surface.

use haunch_calc::{Change, Check, FileId, Host, Snapshot};

/// What a file comes to.
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) struct Read {
    /// Values in SI units by their full names, those that are known.
    pub(crate) values: Vec<(String, f64)>,
    /// Findings in the order of their places.
    pub(crate) findings: Vec<Found>,
    /// Checks in the order of their lines.
    pub(crate) checks: Vec<Check>,
    snapshot: Snapshot,
}

/// A finding.
#[derive(Debug)]
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) struct Found {
    /// `code at "text"`
    pub(crate) head: String,
    /// Its words.
    pub(crate) message: String,
    /// The titles of its repairs.
    pub(crate) repairs: Vec<String>,
}

/// A file by itself.
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) fn open(text: &str) -> (Snapshot, FileId) {
    after(&[text])
}

/// A file by itself that was other texts before the last one.
fn after(texts: &[&str]) -> (Snapshot, FileId) {
    let mut host = Host::new();
    for text in texts {
        host.apply(Change::SetText {
            path: "a.haunch".into(),
            text: (*text).into(),
        });
    }
    let snapshot = host.snapshot();
    let file = snapshot.file("a.haunch").expect("the file was set");
    (snapshot, file)
}

/// Reads a file.
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) fn read(text: &str) -> Read {
    of(after(&[text]))
}

/// Reads a file that has exactly these findings, by their heads.
#[track_caller]
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) fn only(text: &str, expected: &[&str]) -> Read {
    let read = read(text);
    let found: Vec<&str> = read.findings.iter().map(|f| f.head.as_str()).collect();
    assert_eq!(found, expected, "{:#?}", read.findings);
    read
}

/// Holds a value to nine digits, values of a section's size being far above the floor of 1e-21.
#[track_caller]
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) fn close(read: &Read, name: &str, expected: f64) {
    let found = read.si(name);
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1e-12),
        "{name} is {found}, not {expected}; {:#?}",
        read.findings
    );
}

/// What a file comes to that was another text first.
#[allow(dead_code, reason = "each test file uses its share")]
pub(crate) fn after_edit(before: &str, now: &str) -> Read {
    of(after(&[before, now]))
}

fn of((snapshot, file): (Snapshot, FileId)) -> Read {
    let values = snapshot.values(file).into_iter().filter_map(|value| {
        let quantity = value.evaluated.as_quantity()?;
        Some((value.name, quantity.si()))
    });
    let findings = snapshot.findings(file).into_iter().map(|finding| {
        let line = snapshot
            .line(finding.place.line)
            .expect("the line is there");
        Found {
            head: format!(
                "{} at {:?}",
                finding.code.name,
                finding.place.span.text(line.text())
            ),
            message: finding.message,
            repairs: finding.repairs.into_iter().map(|r| r.title).collect(),
        }
    });
    Read {
        values: values.collect(),
        findings: findings.collect(),
        checks: snapshot.checks(file),
        snapshot,
    }
}

#[allow(dead_code, reason = "each test file uses its share")]
impl Read {
    /// A value in SI units.
    pub(crate) fn get(&self, name: &str) -> Option<f64> {
        let found = self.values.iter().find(|(own, _)| own == name);
        found.map(|(_, value)| *value)
    }

    /// A value in SI units that has to be there.
    #[track_caller]
    pub(crate) fn si(&self, name: &str) -> f64 {
        self.get(name)
            .unwrap_or_else(|| panic!("{name} has no value; {:#?}", self.findings))
    }

    /// A check by its name.
    #[track_caller]
    pub(crate) fn check(&self, name: &str) -> &Check {
        let found = self.checks.iter().find(|check| check.name == name);
        found.unwrap_or_else(|| panic!("no check {name} among {:#?}", self.checks))
    }

    /// Labels and words that blocks show at the first line that starts so.
    pub(crate) fn shown(&self, start: &str) -> Vec<String> {
        let file = self.snapshot.file("a.haunch").expect("the file was set");
        let line = self
            .snapshot
            .lines(file)
            .find(|line| line.text().starts_with(start));
        let line = line.expect("there is such a line").id();
        let lines = self.snapshot.lines(file);
        let annotations = lines.flat_map(|line| self.snapshot.annotations(line.id()));
        annotations
            .filter(|annotation| annotation.line == line)
            .flat_map(|annotation| annotation.results)
            .map(|result| {
                format!("{} {}", result.label, result.word)
                    .trim()
                    .to_owned()
            })
            .collect()
    }
}
