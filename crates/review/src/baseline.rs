//! Results on record: a text with one line for each result, sorted, that can be committed.
//!
//! ```text
//! haunch results, written by haunch 0.1.0
//! beams/hoist.haunch  hoist_limit  7.51200 kN
//! beams/hoist.haunch  runway.compression  holds, 69.8412 %
//! ```
//!
//! The columns stand two spaces apart and are not aligned, so that a change of one line never moves
//! another: two branches that change different results merge line by line. Numbers have six digits at
//! least, so that a value that is read again is compared as it was written.

use std::collections::BTreeMap;

use haunch_calc::blocks::is_utilisation;
use haunch_calc::{Evaluated, FileId, Meaning, Snapshot, Value};
use haunch_quantity::{Preferences, format_quantity, format_utilisation};

/// The beginning of the first line.
const HEAD: &str = "haunch results, written by haunch ";
/// Digits of a number on record, at least.
const DIGITS: u8 = 6;
const BETWEEN: &str = "  ";

/// Results by file and name.
pub type Results = BTreeMap<(String, String), String>;

/// A record of results as it was written.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Baseline {
    /// The version of the program that wrote it; empty where it does not say.
    pub version: String,
    /// The results.
    pub results: Results,
    /// Lines that are no results, by their numbers from 1, such as the marks of a merge.
    pub unreadable: Vec<usize>,
}

/// A result that is not what is on record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drift {
    /// The file.
    pub file: String,
    /// The result.
    pub name: String,
    /// What is on record; none where it is not.
    pub recorded: Option<String>,
    /// What it is; none where there is no such result.
    pub found: Option<String>,
}

/// The results of a file: its checks, the values of its lines, the utilisations of its blocks and the
/// results of blocks that its lines use. Given numbers are none.
pub fn results(snapshot: &Snapshot, file: FileId) -> Results {
    let path = snapshot.path(file).to_owned();
    let preferences = snapshot.preferences(file);
    let digits = preferences.digits().max(DIGITS);
    let preferences = Preferences::new(preferences.units().to_vec(), digits);
    let mut results = Results::new();
    let mut used: Vec<String> = Vec::new();
    for line in snapshot.lines(file) {
        for own in snapshot.uses(line.id()) {
            let block = snapshot
                .line(own.line)
                .and_then(|line| line.block().cloned());
            if let (Some(block), Some(member)) = (block, own.member) {
                used.push(format!("{}.{member}", block.name));
            }
        }
    }
    for value in snapshot.values(file) {
        let Some(line) = snapshot.line(value.line) else {
            continue;
        };
        let is_kept = match line.meaning() {
            Meaning::Block(_) => {
                is_utilisation(&value.name) && value.name.matches('.').count() == 1
                    || used.contains(&value.name)
            }
            _ => crate::lines::is_result(line),
        };
        let text = match value.evaluated.as_quantity() {
            _ if !is_kept => None,
            Some(used) if is_utilisation(&value.name) => {
                Some(format_utilisation(used.si(), DIGITS).to_string())
            }
            _ => shown(&value.evaluated, value.unit.as_ref(), &preferences),
        };
        results.extend(text.map(|text| ((path.clone(), value.name.clone()), text)));
    }
    for check in snapshot.checks(file) {
        let verdict = match check.holds {
            Some(true) => "holds",
            Some(false) => "does not hold",
            None => "not computed",
        };
        let text = match check.utilisation {
            Some(used) => format!("{verdict}, {}", format_utilisation(used, DIGITS)),
            None => verdict.to_owned(),
        };
        let name: Vec<&str> = check.name.split_whitespace().collect();
        let name = match check.kind {
            "verify" | "expect" => format!("{} {}", check.kind, name.join(" ")),
            _ => name.join(" "),
        };
        let mut key = (path.clone(), name.clone());
        let mut number = 2;
        while results.contains_key(&key) {
            key.1 = format!("{name} ({number})");
            number += 1;
        }
        results.insert(key, text);
    }
    results
}

fn shown(
    value: &Evaluated,
    unit: Option<&haunch_quantity::Unit>,
    preferences: &Preferences,
) -> Option<String> {
    match value.value.as_ref() {
        Some(Value::Quantity(quantity)) => Some(format_quantity(*quantity, unit, preferences)),
        Some(Value::Truth(truth)) => Some(truth.to_string()),
        Some(Value::List(_) | Value::Text(_)) => None,
        None => Some("no value".to_owned()),
    }
}

impl Baseline {
    /// Reads a record. Lines that are no results are told, and nothing else is lost.
    pub fn read(text: &str) -> Baseline {
        let mut baseline = Baseline::default();
        for (index, line) in text.lines().enumerate() {
            if let Some(version) = line.strip_prefix(HEAD) {
                baseline.version = version.trim().to_owned();
                continue;
            }
            if line.trim().is_empty() {
                continue;
            }
            let mut parts = line.splitn(3, BETWEEN);
            match (parts.next(), parts.next(), parts.next()) {
                (Some(file), Some(name), Some(value)) => {
                    let key = (file.to_owned(), name.to_owned());
                    baseline.results.insert(key, value.trim_end().to_owned());
                }
                _ => baseline.unreadable.push(index + 1),
            }
        }
        baseline
    }

    /// The record as text.
    pub fn write(&self) -> String {
        let mut text = format!("{HEAD}{}\n", self.version);
        for ((file, name), value) in &self.results {
            text.push_str(&format!("{file}{BETWEEN}{name}{BETWEEN}{value}\n"));
        }
        text
    }

    /// What is not as it is on record, in order. Only results of files that
    /// `is_looked_at` are compared.
    pub fn drift(&self, found: &Results, is_looked_at: impl Fn(&str) -> bool) -> Vec<Drift> {
        let mut keys: Vec<&(String, String)> = self
            .results
            .keys()
            .chain(found.keys())
            .filter(|(file, _)| is_looked_at(file))
            .collect();
        keys.sort();
        keys.dedup();
        keys.into_iter()
            .filter_map(|key| {
                let (recorded, found) = (self.results.get(key), found.get(key));
                (recorded != found).then(|| Drift {
                    file: key.0.clone(),
                    name: key.1.clone(),
                    recorded: recorded.cloned(),
                    found: found.cloned(),
                })
            })
            .collect()
    }
}
