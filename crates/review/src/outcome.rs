//! What a review says, as data. The views of the outer rooms and `diff --format json` write this.
//!
//! Line numbers count from 1. A field never changes its type or meaning and is never removed under
//! one version of the shape; `tests/schema/diff.schema.json` says the same as a JSON Schema.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::subject::Subject;

/// Everything that changed.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Review {
    /// Files that came, went or have another path.
    pub files: Vec<FileChange>,
    /// Checks that were removed or loosened, and findings newly allowed.
    pub concerns: Vec<Concern>,
    /// Checks whose verdict or utilisation changed, the gravest first.
    pub checks: Vec<CheckChange>,
    /// What was changed by hand, in the order of files and lines.
    pub changes: Vec<Change>,
    /// Results that changed, in the order of files and lines.
    pub results: Vec<ResultChange>,
    /// How many results of each file changed beside those that are told; see [`crate::Asked`].
    #[serde(skip)]
    pub counted: BTreeMap<String, usize>,
    /// Findings that came or went.
    pub findings: Vec<FindingChange>,
    /// Recorded checks of a sheet that do not cover the results as they are, in words.
    pub recorded_checks: Vec<String>,
    /// Changes that hold results in balance with others.
    pub balances: Vec<Balance>,
    /// Files in which so many changes meet that none was undone to see what it moves: all that a result
    /// can depend on are its causes there, and no balance is told.
    pub untried: Vec<String>,
}

/// Changes that, undone alone, would move results which they are no causes of, or would not bring back
/// all whose causes they are: other changes hold these in balance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Balance {
    /// Which of [`Review::changes`]: the causes of some result.
    pub changes: Vec<usize>,
    /// What would be otherwise than the lists of causes say.
    pub results: Vec<Balanced>,
}

/// A result or check that is held in balance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Balanced {
    /// The file.
    pub file: String,
    /// The line that gives it.
    pub line: u32,
    /// Its full name.
    pub name: String,
    /// Whether a line uses it, or it is a check or utilisation.
    pub used: bool,
    /// What it comes to in the new version.
    pub new: Option<String>,
    /// What it would come to with these changes undone.
    pub undone: Option<String>,
}

/// A file that came, went or has another path.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FileChange {
    /// Its path before; none where it came.
    pub old: Option<String>,
    /// Its path after; none where it went.
    pub new: Option<String>,
}

/// A line as it is written in one version.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Written {
    /// The file.
    pub file: String,
    /// The line's number.
    pub line: u32,
    /// What it says, on one line and without its comment.
    pub text: String,
}

/// What was done to a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// It was added.
    Added,
    /// It was removed.
    Removed,
    /// It says something else.
    Changed,
    /// It gives another name, and says the same; the uses were renamed alike.
    Renamed,
}

/// A line that was changed by hand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Change {
    /// What was done.
    pub action: Action,
    /// What the line is about.
    pub subject: Subject,
    /// The block that it stands in, by its name.
    pub block: Option<String>,
    /// How it was written; none where it was added.
    pub old: Option<Written>,
    /// How it is written; none where it was removed.
    pub new: Option<Written>,
}

/// Why a result changed: a line changed by hand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cause {
    /// Which of [`Review::changes`], from 0.
    pub change: usize,
    /// The names between that line and the result, in the order in which they follow.
    pub through: Vec<String>,
}

/// A result that changed, came or went.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ResultChange {
    /// The file.
    pub file: String,
    /// The line that gives it: of the new version, or of the old one where it went.
    pub line: u32,
    /// Its full name.
    pub name: String,
    /// Its full name before, where it was another one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub old_name: Option<String>,
    /// Its value before with its unit; none where it had none.
    pub old: Option<String>,
    /// Its value after with its unit; none where it has none.
    pub new: Option<String>,
    /// The value before in SI units.
    pub old_si: Option<f64>,
    /// The value after in SI units.
    pub new_si: Option<f64>,
    /// The change in per cent of the value before; none from zero, through zero, or without both.
    pub percent: Option<f64>,
    /// Whether the line was in only one version: a result that came or went with its line.
    pub one_sided: bool,
    /// Whether a formula, an answer or a check uses it, or it is a utilisation. Other results of
    /// sections and beams follow along.
    pub used: bool,
    /// The changed lines that caused it: with exactly these undone, it is as it was. None: no input
    /// changed, and the program is another one.
    pub causes: Vec<Cause>,
}

/// A check in one version.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckState {
    /// Whether it holds; null where it could not be computed.
    pub holds: Option<bool>,
    /// Demand over bound.
    pub utilisation: Option<f64>,
    /// The utilisation as it is shown.
    pub used: Option<String>,
    /// What was compared, with units.
    pub text: String,
    /// The governing point, place and combination.
    #[serde(rename = "where")]
    pub place: Option<String>,
}

/// What became of a check. The order is that of gravity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// It is no longer made.
    Removed,
    /// It held, or was not known, and does not hold.
    NoLongerHolds,
    /// A new check does not hold.
    NewAndDoesNotHold,
    /// It was computed and cannot be computed.
    NoLongerComputed,
    /// A new check could not be computed.
    NewAndNotComputed,
    /// It did not hold and goes farther beyond its bound, or less far.
    StillDoesNotHold,
    /// It holds, moved towards its bound and is within the margin.
    NearItsBound,
    /// It did not hold, or was not known, and holds.
    NowHolds,
    /// A new check that holds.
    New,
    /// It holds as before, with another utilisation.
    Holds,
}

/// A check that changed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckChange {
    /// What became of it.
    pub verdict: Verdict,
    /// The file.
    pub file: String,
    /// Its line.
    pub line: u32,
    /// Its name.
    pub name: String,
    /// `tension`, `deflection`, `verify`, `expect` and so on.
    pub kind: String,
    /// Before.
    pub old: Option<CheckState>,
    /// After.
    pub new: Option<CheckState>,
    /// The changed lines that caused it.
    pub causes: Vec<Cause>,
}

/// Why a change of what is checked needs eyes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ConcernKind {
    /// A check or limit was removed.
    Removed,
    /// A check allows more, or looks at less.
    Loosened,
    /// A finding is newly allowed.
    Allowed,
    /// A check was put in other words, and which of both asks more cannot be told.
    Restated,
}

/// A check that was removed or loosened, or a finding newly allowed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Concern {
    /// Which of these.
    pub kind: ConcernKind,
    /// The file.
    pub file: String,
    /// The line: of the new version, or of the old one where it was removed.
    pub line: u32,
    /// What happened, in one sentence.
    pub words: String,
    /// How the line was written.
    pub old: Option<String>,
    /// How it is written.
    pub new: Option<String>,
}

/// A finding that came or went.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingChange {
    /// Whether it came; otherwise it went.
    pub came: bool,
    /// The file.
    pub file: String,
    /// The line, of the version that has it.
    pub line: u32,
    /// Its code.
    pub code: String,
    /// `error`, `warning` or `information`.
    pub severity: String,
    /// What it says.
    pub message: String,
}

impl Review {
    /// How many results changed, those too that are only counted.
    pub fn result_count(&self) -> usize {
        self.results.len() + self.counted.values().sum::<usize>()
    }

    /// Whether any result, check or finding is other than before.
    pub fn results_changed(&self) -> bool {
        !(self.result_count() == 0
            && self.checks.is_empty()
            && self.findings.is_empty()
            && self.concerns.is_empty())
    }

    /// Whether a check went, was loosened, does not hold that did, or is not known that was.
    pub fn checks_suffer(&self) -> bool {
        !self.concerns.is_empty()
            || self
                .checks
                .iter()
                .any(|check| check.verdict <= Verdict::StillDoesNotHold)
    }
}
