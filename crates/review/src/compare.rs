//! The whole comparison.

use haunch_calc::{FileId, Finding, Severity, Snapshot};

use crate::causes::Causes;
use crate::changes::changes;
use crate::checks::checks;
use crate::loosened::concerns;
use crate::outcome::{
    Action, Cause, Change, CheckChange, Concern, ConcernKind, FileChange, FindingChange, Review,
    Verdict, Written,
};
use crate::pairs::{Pairs, line_number};
use crate::recorded_checks;
use crate::results::results;
use crate::subject::Subject;
use crate::trials::{Target, trials};

/// A file of both versions, or of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FilePair {
    /// In the old version.
    pub old: Option<FileId>,
    /// In the new version.
    pub new: Option<FileId>,
}

/// Findings that a check says already.
const SAID_BY_CHECKS: [&str; 3] = ["limit-exceeded", "verify-fails", "expect-differs"];

/// What is asked of a review.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// The share of a bound that counts as near it.
    pub margin: f64,
    /// Whether results that no line uses are told, too; otherwise they are only counted.
    pub every_result: bool,
}

impl Default for Asked {
    fn default() -> Asked {
        Asked {
            margin: crate::MARGIN,
            every_result: true,
        }
    }
}

/// Compares two versions of a set of files.
pub fn review(old: &Snapshot, new: &Snapshot, files: &[FilePair], asked: Asked) -> Review {
    let pairs = Pairs::new(old, new, files);
    let (list, of_pair) = changes(&pairs);
    let mut causes = Causes::new(&pairs, &of_pair);
    let mut review = Review {
        files: file_changes(&pairs),
        concerns: concerns(&pairs, &causes),
        changes: list,
        ..Review::default()
    };
    let used = causes.used_members();
    let mut touched = vec![false; files.len()];
    for (at, pair) in pairs.all.iter().enumerate() {
        if let Some(touched) = touched.get_mut(pair.file) {
            *touched |= causes.is_reached(at);
        }
    }
    let (mut changed, mut found) = (Vec::new(), Vec::new());
    for file in (0..files.len()).filter(|&file| touched.get(file) == Some(&true)) {
        changed.extend(results(&pairs, file, &mut causes));
        found.extend(checks(&pairs, file, &mut causes, asked.margin));
        review.findings.extend(findings(&pairs, file));
    }
    let of_results = changed.iter_mut().map(|result| Target {
        item: result.item.clone(),
        old: result.old.clone(),
        new: result.new.clone(),
        causes: &mut result.causes,
    });
    let still_made = found
        .iter_mut()
        .filter(|check| check.told.verdict != Verdict::Removed);
    let of_checks = still_made.map(|check| Target {
        item: check.item.clone(),
        old: check.old.clone(),
        new: check.new.clone(),
        causes: &mut check.causes,
    });
    let mut targets: Vec<Target> = of_results.chain(of_checks).collect();
    let tried = trials(&pairs, &causes, &of_pair, &used, &mut targets);
    review.balances = tried.balances;
    if tried.untried {
        let touched = (0..files.len()).filter(|&file| touched.get(file) == Some(&true));
        review.untried = touched.map(|file| pairs.path(file)).collect();
    }
    for result in &changed {
        match asked.every_result || result.is_used(&used) {
            true => review.results.extend(result.told(&pairs, &used)),
            false => {
                let file = pairs.get(result.item.at).map(|pair| pairs.path(pair.file));
                *review.counted.entry(file.unwrap_or_default()).or_default() += 1;
            }
        }
    }
    review.checks = found
        .into_iter()
        .map(|check| {
            let mut told = check.told;
            told.causes = check.causes.to_vec();
            only_of_existence(&mut told, &review.changes);
            told
        })
        .collect();
    review.checks.sort_by_key(|check| check.verdict);
    // A limit line that went with its check is said once, by the check.
    let gone: Vec<&Change> = review
        .checks
        .iter()
        .filter(|check| check.verdict == Verdict::Removed)
        .flat_map(|check| &check.causes)
        .filter_map(|cause| review.changes.get(cause.change))
        .filter(|change| {
            let states_it = matches!(change.subject, Subject::Limit | Subject::Check);
            change.action == Action::Removed && states_it
        })
        .collect();
    let is_said = |concern: &Concern| {
        let is_it =
            |written: &Written| written.file == concern.file && written.line == concern.line;
        concern.kind == ConcernKind::Removed
            && gone
                .iter()
                .any(|change| change.old.as_ref().is_some_and(is_it))
    };
    let concerns = std::mem::take(&mut review.concerns);
    review.concerns = concerns
        .into_iter()
        .filter(|concern| !is_said(concern))
        .collect();
    review.recorded_checks = recorded_checks::outdated(&pairs, &review);
    review
}

/// That a check is no longer made has other causes than its numbers: lines that went, limits, and which
/// section or material is used.
fn only_of_existence(check: &mut CheckChange, changes: &[Change]) {
    if check.verdict != Verdict::Removed {
        return;
    }
    let decides = |change: &Change| {
        change.action == Action::Removed
            || matches!(
                change.subject,
                Subject::Limit | Subject::Check | Subject::Material
            )
    };
    let is_one = |cause: &Cause| changes.get(cause.change).is_some_and(decides);
    if check.causes.iter().any(is_one) {
        check.causes.retain(is_one);
    }
}

fn file_changes(pairs: &Pairs<'_>) -> Vec<FileChange> {
    let mut found = Vec::new();
    for pair in pairs.files {
        let old = pair.old.map(|file| pairs.old.path(file).to_owned());
        let new = pair.new.map(|file| pairs.new.path(file).to_owned());
        if old != new {
            found.push(FileChange { old, new });
        }
    }
    found
}

fn findings(pairs: &Pairs<'_>, file: usize) -> Vec<FindingChange> {
    let Some(pair) = pairs.files.get(file) else {
        return Vec::new();
    };
    let of = |snapshot: &Snapshot, file: Option<FileId>| -> Vec<Finding> {
        let all = file.map(|file| snapshot.findings(file)).unwrap_or_default();
        all.into_iter()
            .filter(|finding| !SAID_BY_CHECKS.contains(&finding.code.name))
            .collect()
    };
    let (old, new) = (of(pairs.old, pair.old), of(pairs.new, pair.new));
    let mut before: Vec<(Option<usize>, &str)> = old
        .iter()
        .map(|finding| (pairs.of_old(finding.place.line), finding.code.name))
        .collect();
    let mut changed = Vec::new();
    let change = |came: bool, finding: &Finding| FindingChange {
        came,
        file: pairs.path(file),
        line: line_number(if came { pairs.new } else { pairs.old }, finding.place.line),
        code: finding.code.name.to_owned(),
        severity: severity(finding.severity).to_owned(),
        message: finding.message.clone(),
    };
    for finding in &new {
        let key = (pairs.of_new(finding.place.line), finding.code.name);
        match before.iter().position(|other| *other == key) {
            Some(at) => {
                before.swap_remove(at);
            }
            None => changed.push(change(true, finding)),
        }
    }
    for finding in &old {
        let key = (pairs.of_old(finding.place.line), finding.code.name);
        if let Some(at) = before.iter().position(|other| *other == key) {
            before.swap_remove(at);
            changed.push(change(false, finding));
        }
    }
    changed
}

fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Information => "information",
    }
}
