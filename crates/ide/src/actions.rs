//! Repairs of findings.

use haunch_calc::{FileId, Finding, Snapshot};
use haunch_text::Range;

/// A repair that can be applied.
#[derive(Debug, Clone, PartialEq)]
pub struct Action {
    /// What it does.
    pub title: String,
    /// The finding that it mends.
    pub finding: Finding,
    /// Whether it is the best repair of its finding.
    pub preferred: bool,
    /// What to replace, and by what.
    pub edits: Vec<(FileId, Range, String)>,
}

/// The findings that touch a range of a file, in their order.
pub(crate) fn touching(
    snapshot: &Snapshot,
    file: FileId,
    range: Range,
) -> impl Iterator<Item = Finding> {
    let touches = move |finding: &Finding| {
        snapshot
            .range(finding.place)
            .is_some_and(|at| at.start <= range.end && range.start <= at.end)
    };
    snapshot.findings(file).into_iter().filter(touches)
}

/// The repairs of the findings that touch a range of a file. `stop` is polled; when it says so, what was found is
/// returned.
pub fn actions(
    snapshot: &Snapshot,
    file: FileId,
    range: Range,
    stop: &dyn Fn() -> bool,
) -> Vec<Action> {
    touching(snapshot, file, range)
        .take_while(|_| !stop())
        .flat_map(|finding| {
            let repairs = snapshot.repairs(&finding);
            repairs
                .into_iter()
                .enumerate()
                .filter_map(move |(rank, repair)| {
                    let edits = repair
                        .edits
                        .into_iter()
                        .map(|(place, text)| {
                            Some((snapshot.file_of(place.line)?, snapshot.range(place)?, text))
                        })
                        .collect::<Option<Vec<_>>>()?;
                    Some(Action {
                        title: repair.title,
                        finding: finding.clone(),
                        preferred: rank == 0,
                        edits,
                    })
                })
        })
        .collect()
}
