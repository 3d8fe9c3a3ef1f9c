//! Comparing what came out with what a page expects.

use std::fs;
use std::path::Path;

use crate::expectation::{Expectation, read};
use crate::number::Written;
use crate::page::Case;
use crate::program::{CheckOut, EditOut, FileOut, FindingOut, check, run};

/// Checks a case of a page in a folder where the files that it uses already are. Returns one line for
/// each disagreement, with the page's line number.
pub fn disagreements(case: &Case, folder: &Path) -> Vec<String> {
    let path = folder.join(&case.name);
    fs::write(&path, &case.text).expect("the file can be written");
    let (file, run) = check(&path);
    let mut judge = Judge {
        case,
        file: &file,
        path: &path,
        findings: file.findings.iter().collect(),
        last: None,
    };
    let mut wrong: Vec<String> = Vec::new();
    for (line, text) in &case.expected {
        let verdict = read(text).and_then(|expectation| judge.judge(&expectation));
        if let Err(reason) = verdict {
            wrong.push(format!("line {line}: {text}\n      {reason}"));
        }
    }
    for finding in judge.findings {
        wrong.push(format!(
            "line {}: not expected: {}",
            case.line,
            described(case, finding)
        ));
    }
    let expected_status = u8::from(!holds(&file));
    if run.status != expected_status {
        wrong.push(format!(
            "line {}: exit status {}, not {expected_status}",
            case.line, run.status
        ));
    }
    wrong
}

fn holds(file: &FileOut) -> bool {
    file.findings
        .iter()
        .all(|finding| finding.severity != "error")
        && file.checks.iter().all(|check| check.holds == Some(true))
}

struct Judge<'a> {
    case: &'a Case,
    file: &'a FileOut,
    path: &'a Path,
    /// Findings that no line has expected so far.
    findings: Vec<&'a FindingOut>,
    /// The finding that the last line expected.
    last: Option<&'a FindingOut>,
}

impl Judge<'_> {
    fn judge(&mut self, expectation: &Expectation) -> Result<(), String> {
        match expectation {
            Expectation::Value { name, number } => self.value(name, number),
            Expectation::Truth { name, truth } => {
                let si = &self.found(name)?.si;
                agree(si.as_bool() == Some(*truth), || format!("it is {si}"))
            }
            Expectation::Shows { name, text } => {
                let shown = &self.found(name)?.text;
                agree(shown == text, || format!("it shows `{shown}`"))
            }
            Expectation::Unknown(name) => match self.file.values.get(name) {
                None => Ok(()),
                Some(value) => Err(format!("it is {}", value.text)),
            },
            Expectation::Check {
                name,
                holds,
                utilisation,
                governing,
            } => {
                let check = self.check(name)?;
                agree(check.holds == *holds, || format!("it is {check:?}"))?;
                used(check, utilisation.as_deref())?;
                let place = check.place.clone().unwrap_or_default();
                let named = |word: &String| words(&place).any(|other| other == word);
                agree(governing.iter().all(named), || {
                    format!("what governs is `{place}`")
                })
            }
            Expectation::Prints(text) => {
                let printed = self.printed();
                agree(printed.contains(text), || format!("it prints\n{printed}"))
            }
            Expectation::Answer(name) => {
                let printed = self.printed();
                let is_answer = |line: &str| {
                    line.starts_with(&format!("  {name}: "))
                        || line.contains(&format!(" ({name}): "))
                };
                agree(printed.lines().any(is_answer), || {
                    format!("it prints\n{printed}")
                })
            }
            Expectation::Finding { code, at, severity } => {
                self.finding(code, at.as_deref(), severity)
            }
            Expectation::Says(words) => {
                let finding = self.last.ok_or("no finding above")?;
                let mut said = vec![finding.message.clone()];
                said.extend(
                    finding
                        .related
                        .iter()
                        .map(|related| related.message.clone()),
                );
                said.extend(finding.repairs.iter().map(|repair| repair.title.clone()));
                agree(said.iter().any(|text| text.contains(words)), || {
                    format!("it says {said:#?}")
                })
            }
            Expectation::Repair(line) => {
                let finding = self.last.ok_or("no finding above")?;
                let mended = mended(&self.case.text, finding)?;
                agree(&mended == line, || format!("the repair gives `{mended}`"))
            }
        }
    }

    fn value(&self, name: &str, number: &str) -> Result<(), String> {
        let value = self.found(name)?;
        let written = Written::read(number)?;
        let si = value
            .si
            .as_f64()
            .ok_or_else(|| format!("it is {}", value.si))?;
        agree(written.agrees(si), || {
            format!(
                "it is {} ({si} in SI units), not {} in SI units",
                value.text, written.si
            )
        })
    }

    fn found(&self, name: &str) -> Result<&crate::program::ValueOut, String> {
        self.file.values.get(name).ok_or_else(|| {
            let findings: Vec<_> = self
                .file
                .findings
                .iter()
                .map(|f| described(self.case, f))
                .collect();
            format!("it has no value; findings: {findings:#?}")
        })
    }

    fn check(&self, name: &str) -> Result<&CheckOut, String> {
        let named = |check: &&CheckOut| check.name == name;
        let all = || {
            self.file
                .checks
                .iter()
                .map(|check| check.name.as_str())
                .collect::<Vec<_>>()
        };
        self.file
            .checks
            .iter()
            .find(named)
            .ok_or_else(|| format!("there is no such check, only {:?}", all()))
    }

    fn printed(&self) -> String {
        run(&["check", &self.path.to_string_lossy()]).out
    }

    fn finding(&mut self, code: &str, at: Option<&str>, severity: &str) -> Result<(), String> {
        let fits = |finding: &&FindingOut| {
            let place = at.is_none_or(|at| marked(&self.case.text, finding) == at);
            finding.code == code && finding.severity == severity && place
        };
        let Some(index) = self.findings.iter().position(fits) else {
            let left: Vec<_> = self
                .findings
                .iter()
                .map(|f| described(self.case, f))
                .collect();
            return Err(format!("there is no such finding; left are {left:#?}"));
        };
        self.last = Some(self.findings.remove(index));
        Ok(())
    }
}

fn agree(is_so: bool, otherwise: impl FnOnce() -> String) -> Result<(), String> {
    if is_so { Ok(()) } else { Err(otherwise()) }
}

fn used(check: &CheckOut, expected: Option<&str>) -> Result<(), String> {
    let Some(expected) = expected else {
        return Ok(());
    };
    let written = Written::read(expected)?;
    match check.utilisation {
        Some(used) if written.agrees(used) => Ok(()),
        other => Err(format!("its utilisation is {other:?}")),
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty())
}

/// The text that a finding marks.
fn marked(text: &str, finding: &FindingOut) -> String {
    let lines = physical_lines(text);
    let mut out = String::new();
    for number in finding.line..=finding.end_line {
        let line = lines.get(number - 1).copied().unwrap_or_default();
        let start = if number == finding.line {
            finding.column - 1
        } else {
            0
        };
        let end = if number == finding.end_line {
            finding.end_column - 1
        } else {
            usize::MAX
        };
        out.extend(line.chars().skip(start).take(end.saturating_sub(start)));
    }
    out
}

/// The line of a finding after its first repair.
fn mended(text: &str, finding: &FindingOut) -> Result<String, String> {
    let repair = finding.repairs.first().ok_or("it has no repair")?;
    let line = physical_lines(text)
        .get(finding.line - 1)
        .copied()
        .unwrap_or_default();
    let mut characters: Vec<char> = line.chars().collect();
    let mut edits: Vec<&EditOut> = repair.edits.iter().collect();
    edits.sort_by_key(|edit| std::cmp::Reverse((edit.column, edit.end_column)));
    for edit in edits {
        if edit.line != finding.line || edit.end_line != finding.line {
            return Err("the repair is on another line".to_string());
        }
        characters.splice(edit.column - 1..edit.end_column - 1, edit.text.chars());
    }
    Ok(characters.into_iter().collect())
}

fn physical_lines(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let with_ends = text.split_inclusive(['\n', '\r']);
    with_ends
        .map(|line| line.trim_end_matches(['\n', '\r']))
        .collect()
}

fn described(case: &Case, finding: &FindingOut) -> String {
    format!(
        "{} ({}) at `{}`: {}",
        finding.code,
        finding.severity,
        marked(&case.text, finding),
        finding.message
    )
}
