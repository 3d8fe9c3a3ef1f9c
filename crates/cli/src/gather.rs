//! From what was computed to what is reported.

use std::collections::BTreeMap;

use haunch_calc::blocks::is_utilisation;
use haunch_calc::{
    Evaluated, FileId, Finding, FullValue, LineView, Place, Severity, Snapshot, Value,
};
use haunch_quantity::{Dimension, Preferences, Unit, format_quantity, format_utilisation};
use haunch_syntax::{ExpressionKind, Statement};
use haunch_text::{Encoding, Position, column_to_encoding, content};

use crate::report::{
    AnswerReport, CheckReport, EditReport, FileReport, FindingReport, RangeReport, RelatedReport,
    RepairReport, Si, ValueReport,
};

/// The report of a file, with the torsion of its sections if that is wanted; none if its text is not
/// known.
pub(crate) fn gather(snapshot: &Snapshot, path: &str, with_torsion: bool) -> Option<FileReport> {
    let file = snapshot.file(path)?;
    let gatherer = Gatherer {
        snapshot,
        file,
        preferences: &snapshot.preferences(file),
        values: snapshot.values(file),
    };
    let mut values = gatherer.values();
    let without_value = with_torsion.then(|| gatherer.torsion(&mut values));
    Some(FileReport {
        path: path.to_string(),
        values,
        without_value,
        checks: gatherer.checks(),
        findings: snapshot
            .findings(file)
            .iter()
            .map(|finding| gatherer.finding(finding))
            .collect(),
        answers: snapshot
            .lines(file)
            .filter_map(|line| gatherer.answer(line))
            .collect(),
    })
}

struct Gatherer<'a> {
    snapshot: &'a Snapshot,
    file: FileId,
    preferences: &'a Preferences,
    values: Vec<FullValue>,
}

impl Gatherer<'_> {
    fn values(&self) -> BTreeMap<String, ValueReport> {
        let report = |value: &FullValue| {
            let (si, dimension) = number(&value.evaluated)?;
            let text = self.shown(&value.name, &value.evaluated, value.unit.as_ref())?;
            let line = self.line_number(value.line);
            Some((
                value.name.clone(),
                ValueReport {
                    si,
                    dimension,
                    text,
                    line,
                    method: None,
                    error: None,
                },
            ))
        };
        self.values.iter().filter_map(report).collect()
    }

    /// Adds the torsion of every section; gives why a result has no value.
    fn torsion(&self, values: &mut BTreeMap<String, ValueReport>) -> BTreeMap<String, String> {
        let mut without_value = BTreeMap::new();
        for own in self.snapshot.torsion(self.file) {
            match own.result {
                Ok(quantity) => {
                    let report = ValueReport {
                        si: Si::Number(quantity.si()),
                        dimension: name(quantity.dimension()),
                        text: format_quantity(quantity, None, self.preferences),
                        line: self.line_number(own.line),
                        method: own.method,
                        error: own.error.map(|error| error.si()),
                    };
                    values.insert(own.name, report);
                }
                Err(reason) => {
                    without_value.insert(own.name, reason);
                }
            }
        }
        without_value
    }

    fn checks(&self) -> Vec<CheckReport> {
        let checks = self.snapshot.checks(self.file).into_iter();
        checks
            .map(|check| CheckReport {
                kind: check.kind.to_string(),
                name: check.name,
                utilisation: check.utilisation,
                holds: check.holds,
                place: check.place,
                line: self.line_number(check.line),
                text: check.text,
            })
            .collect()
    }

    fn finding(&self, finding: &Finding) -> FindingReport {
        let related = |place: Place, message: &str| {
            let path = self
                .snapshot
                .file_of(place.line)
                .filter(|file| *file != self.file);
            RelatedReport {
                path: path.map(|file| self.snapshot.path(file).to_string()),
                range: self.range(place),
                message: message.to_string(),
            }
        };
        let edit = |(place, text): &(Place, String)| EditReport {
            range: self.range(*place),
            text: text.clone(),
        };
        let repairs = self.snapshot.repairs(finding);
        let repairs = repairs.iter().map(|repair| RepairReport {
            title: repair.title.clone(),
            edits: repair.edits.iter().map(edit).collect(),
        });
        FindingReport {
            code: finding.code.name.to_string(),
            severity: severity(finding.severity),
            range: self.range(finding.place),
            message: finding.message.clone(),
            related: finding
                .related
                .iter()
                .map(|other| related(other.place, &other.message))
                .collect(),
            repairs: repairs.collect(),
        }
    }

    fn answer(&self, line: LineView) -> Option<AnswerReport> {
        let Statement::Answer(answer) = &line.tree().statement else {
            return None;
        };
        let expression = line.tree().expressions.get(answer.value.0 as usize)?;
        let name = match &expression.kind {
            ExpressionKind::Path(path) if path.arguments.is_none() => path
                .names
                .iter()
                .map(|name| name.text.as_str())
                .collect::<Vec<_>>()
                .join("."),
            _ => expression.span.text(line.text()).to_string(),
        };
        let unit = self
            .values
            .iter()
            .find(|value| value.name == name)
            .and_then(|value| value.unit.as_ref());
        Some(AnswerReport {
            words: answer.words.as_ref().map(|words| words.text.to_string()),
            text: self.shown(&name, line.evaluated(answer.value), unit),
            name,
        })
    }

    fn shown(&self, name: &str, evaluated: &Evaluated, unit: Option<&Unit>) -> Option<String> {
        match evaluated.value.as_ref()? {
            Value::Quantity(used) if is_utilisation(name) => {
                Some(format_utilisation(used.si(), self.preferences.digits()).to_string())
            }
            Value::Quantity(quantity) => Some(format_quantity(*quantity, unit, self.preferences)),
            Value::Truth(truth) => Some(truth.to_string()),
            Value::Text(_) | Value::List(_) => None,
        }
    }

    /// The number of a line's first physical line, from 1.
    fn line_number(&self, line: haunch_calc::LineId) -> u32 {
        let first = self.snapshot.first_physical(line).unwrap_or(0);
        u32::try_from(first).unwrap_or(u32::MAX).saturating_add(1)
    }

    fn range(&self, place: Place) -> RangeReport {
        let file = self.snapshot.file_of(place.line).unwrap_or(self.file);
        let range = self.snapshot.range(place).unwrap_or_default();
        let (line, column) = self.position(file, range.start);
        let (end_line, end_column) = self.position(file, range.end);
        RangeReport {
            line,
            column,
            end_line,
            end_column,
        }
    }

    /// Line and column of a position, from 1, the column in characters.
    fn position(&self, file: FileId, position: Position) -> (u32, u32) {
        let line = content(self.snapshot.physical_line(file, position.line as usize));
        let column = column_to_encoding(line, position.column, Encoding::Utf32);
        (position.line.saturating_add(1), column.saturating_add(1))
    }
}

/// A value as a number or truth, and its dimension's name. Words and lists have none.
fn number(evaluated: &Evaluated) -> Option<(Si, String)> {
    match evaluated.value.as_ref()? {
        Value::Quantity(quantity) => Some((Si::Number(quantity.si()), name(quantity.dimension()))),
        Value::Truth(truth) => Some((Si::Truth(*truth), "truth".to_string())),
        Value::Text(_) | Value::List(_) => None,
    }
}

fn name(dimension: Dimension) -> String {
    dimension.name_or_units()
}

fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Information => "information",
    }
}
