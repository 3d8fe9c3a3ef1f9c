//! Who checked what: the fields `prepared`, `checked` and `approved` of a sheet.
//!
//! Each says who, when and to which revision it refers: `checked = "A. Ito, 4 March 2026, revision B"`.
//! A recorded check covers the results as they were; where results change and the field does not, it
//! does not cover them.

use std::collections::BTreeMap;

use haunch_calc::{Change, FileId, Host, Snapshot};
use haunch_syntax::{BlockKind, Statement, ValueBody};

use crate::outcome::{Concern, Review};
use crate::pairs::{Hand, Pairs, line_number};

/// The fields that record a check.
const FIELDS: [&str; 2] = ["checked", "approved"];

/// Recorded checks that do not cover the results as they are, in words.
pub(crate) fn outdated(pairs: &Pairs<'_>, review: &Review) -> Vec<String> {
    let mut said = Vec::new();
    let mut counts: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for result in &review.results {
        counts.entry(&result.file).or_default().0 += 1;
    }
    for (file, count) in &review.counted {
        counts.entry(file).or_default().0 += count;
    }
    for check in &review.checks {
        counts.entry(&check.file).or_default().1 += 1;
    }
    for (file, pair) in pairs.files.iter().enumerate() {
        let Some(new) = pair.new else { continue };
        let path = pairs.path(file);
        let (results, checks) = counts.get(path.as_str()).copied().unwrap_or_default();
        let is_own = |concern: &&Concern| concern.file == path;
        let loosened = review.concerns.iter().filter(is_own).count();
        let fields = fields(pairs.new, new);
        for (name, words, line) in &fields {
            if !FIELDS.contains(&name.as_str()) {
                continue;
            }
            let is_kept = pairs
                .of_new(*line)
                .and_then(|at| pairs.get(at))
                .is_some_and(|pair| pair.hand == Hand::Same);
            let others: Vec<String> = [
                (results, "result changed", "results changed"),
                (checks, "check changed", "checks changed"),
                (loosened, "check was loosened", "checks were loosened"),
            ]
            .into_iter()
            .filter(|(count, ..)| *count > 0)
            .map(|(count, one, many)| counted(count, one, many))
            .collect();
            if is_kept && !others.is_empty() {
                said.push(format!(
                    "{path}: {name} by {words}, before these changes: since then {}",
                    others.join(", ")
                ));
            }
        }
        said.extend(other_revisions(pairs.new, new));
    }
    said
}

/// Recorded checks that refer to another revision than the sheet's, in words.
pub fn other_revisions(snapshot: &Snapshot, file: FileId) -> Vec<String> {
    let fields = fields(snapshot, file);
    let sheet = fields.iter().find(|(name, ..)| name == "revision");
    let Some((_, revision, _)) = sheet else {
        return Vec::new();
    };
    let mut said = Vec::new();
    for (name, words, _) in &fields {
        if let Some(own) = revision_in(words).filter(|_| FIELDS.contains(&name.as_str()))
            && own != revision
        {
            let path = snapshot.path(file);
            said.push(format!(
                "{path}: {name} by {words}, but the sheet is at revision {revision}"
            ));
        }
    }
    said
}

/// The numbers of the lines of a text in which a sheet records who checked or approved it, from 1.
pub fn lines(text: &str) -> Vec<u32> {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: String::new(),
        text: text.to_owned(),
    });
    let snapshot = host.snapshot();
    let Some(file) = snapshot.file("") else {
        return Vec::new();
    };
    let recorded = fields(&snapshot, file).into_iter();
    recorded
        .filter(|(name, ..)| FIELDS.contains(&name.as_str()))
        .map(|(_, _, line)| line_number(&snapshot, line))
        .collect()
}

/// The revision that a recorded check refers to: the word after `rev` or `revision`.
fn revision_in(words: &str) -> Option<&str> {
    let mut words = words.split_whitespace();
    words.find(|word| matches!(*word, "rev" | "rev." | "revision"))?;
    Some(words.next()?.trim_end_matches([',', ';', '.']))
}

/// The text fields of a file's sheets, each with its line.
fn fields(snapshot: &Snapshot, file: FileId) -> Vec<(String, String, haunch_calc::LineId)> {
    let mut found = Vec::new();
    for line in snapshot.lines(file) {
        let is_sheet = matches!(&line.tree().statement,
            Statement::Heading(heading) if heading.kind == BlockKind::Sheet);
        if !is_sheet || line.owner().is_some() {
            continue;
        }
        for field in snapshot.lines_under(line.id()) {
            if let Statement::Value(value) = &field.tree().statement
                && let ValueBody::Text(words) = &value.body
            {
                found.push((
                    value.name.text.to_string(),
                    words.text.to_string(),
                    field.id(),
                ));
            }
        }
    }
    found
}

fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
