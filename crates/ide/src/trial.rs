//! Edits that are offered only if they leave every meaning as it is.

use haunch_calc::{Evaluated, FileId, Severity, Snapshot};

use crate::rename::FileEdit;

/// The files after the edits, if these leave the findings of the file they are about as they are, and the
/// values of the named things too.
pub(crate) fn tried(snapshot: &Snapshot, file: FileId, edits: &[FileEdit]) -> Option<Snapshot> {
    let after = snapshot.after(edits);
    (codes(snapshot, file) == codes(&after, file)).then_some(after)
}

/// Whether the edits add no error to a file.
pub(crate) fn adds_no_error(snapshot: &Snapshot, file: FileId, edits: &[FileEdit]) -> bool {
    errors(&snapshot.after(edits), file) <= errors(snapshot, file)
}

fn errors(snapshot: &Snapshot, file: FileId) -> usize {
    let findings = snapshot.findings(file);
    findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error)
        .count()
}

fn codes(snapshot: &Snapshot, file: FileId) -> Vec<&'static str> {
    let findings = snapshot.findings(file);
    let mut codes: Vec<_> = findings.iter().map(|finding| finding.code.name).collect();
    codes.sort_unstable();
    codes
}

/// What the outermost expressions of a physical line come to.
pub(crate) fn meaning_at(
    snapshot: &Snapshot,
    file: FileId,
    number: usize,
) -> Option<Vec<Evaluated>> {
    let line = snapshot.line_at(file, number)?;
    let heading = line.owner().unwrap_or(line.id());
    let mut values: Vec<Evaluated> = match snapshot.line(heading)?.block() {
        Some(block) => block
            .members()
            .into_iter()
            .map(|(_, value)| value)
            .collect(),
        None => Vec::new(),
    };
    values.extend(line.value().map(|named| named.evaluated.clone()));
    // Of a line that gives no value, what its whole comes to: the last expression.
    if values.is_empty() {
        values.extend(line.outcome().expressions.last().cloned());
    }
    Some(values)
}
