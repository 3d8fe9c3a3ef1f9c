//! The words that all forms of a review share.

use haunch_review::{
    Action, Cause, Change, CheckChange, CheckState, ResultChange, Review, Verdict, percentage,
};

/// What became of a check, for its row.
pub(super) fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Removed => "REMOVED",
        Verdict::NoLongerHolds | Verdict::NewAndDoesNotHold => "DOES NOT HOLD",
        Verdict::StillDoesNotHold => "still DOES NOT HOLD",
        Verdict::NoLongerComputed | Verdict::NewAndNotComputed => "NOT COMPUTED",
        Verdict::NearItsBound => "holds, near its bound",
        Verdict::NowHolds => "holds now",
        Verdict::New => "new, holds",
        Verdict::Holds => "holds",
    }
}

/// The findings that came or went, a line each.
pub(super) fn findings(review: &Review) -> Vec<String> {
    let told = |finding: &haunch_review::FindingChange| {
        let came = if finding.came { "new" } else { "gone" };
        format!(
            "{came}: {} line {}, {}: {}",
            finding.file, finding.line, finding.code, finding.message
        )
    };
    review.findings.iter().map(told).collect()
}

/// The name of a check as its line begins.
pub(super) fn check_name(check: &CheckChange) -> String {
    match check.kind.as_str() {
        "verify" | "expect" => format!("{} {}", check.kind, check.name),
        _ => check.name.clone(),
    }
}

/// `69.8 %`, or the verdict alone where there is no share. Of two values that are compared no share is
/// told: by how many tolerances they differ says nothing.
pub(super) fn used(check: &CheckChange, state: Option<&CheckState>) -> String {
    match state {
        None => "none".to_owned(),
        Some(state) if check.kind == "expect" => match state.holds {
            Some(true) => "agrees",
            Some(false) => "differs",
            None => "not computed",
        }
        .to_owned(),
        Some(state) => state.used.clone().unwrap_or_else(|| {
            match state.holds {
                Some(true) => "holds",
                Some(false) => "does not hold",
                None => "not computed",
            }
            .to_owned()
        }),
    }
}

/// What was compared in the new version, or in the old one where there is no new one.
pub(super) fn compared(check: &CheckChange) -> String {
    let Some(state) = check.new.as_ref().or(check.old.as_ref()) else {
        return String::new();
    };
    let parts = [Some(state.text.clone()), state.place.clone()];
    let mut parts: Vec<String> = parts
        .into_iter()
        .flatten()
        .filter(|p| !p.is_empty())
        .collect();
    if check.new.is_none() && !parts.is_empty() {
        parts.insert(0, "was".to_owned());
        return format!("was {}", parts[1..].join(", "));
    }
    parts.join(", ")
}

/// Whether a file is in one version only: it is told of as a whole.
pub(super) fn is_whole(review: &Review, file: &str) -> bool {
    let one_sided = review
        .files
        .iter()
        .filter(|f| f.old.is_none() || f.new.is_none());
    let mut paths = one_sided.flat_map(|f| [&f.old, &f.new]).flatten();
    paths.any(|path| path == file)
}

/// The changes that are told line by line: not those of files that came or went as a whole.
pub(super) fn told_by_line(review: &Review) -> Vec<&Change> {
    let place = |change: &Change| change.new.clone().or(change.old.clone());
    let changes = review.changes.iter();
    changes
        .filter(|change| place(change).is_some_and(|place| !is_whole(review, &place.file)))
        .collect()
}

/// The files that came, went or have another name, in words.
pub(super) fn files(review: &Review) -> Vec<String> {
    let lines = |file: &str| {
        let places = review
            .changes
            .iter()
            .filter_map(|c| c.new.as_ref().or(c.old.as_ref()));
        let count = places.filter(|place| place.file == file).count();
        format!("{count} {}", if count == 1 { "line" } else { "lines" })
    };
    let files = review.files.iter();
    files
        .filter_map(|file| match (&file.old, &file.new) {
            (None, Some(new)) => Some(format!("{new} is a new file of {}", lines(new))),
            (Some(old), None) => Some(format!("{old} was removed, {}", lines(old))),
            (Some(old), Some(new)) => Some(format!("{old} has the name {new}")),
            (None, None) => None,
        })
        .collect()
}

/// Where the causes stand: `line 12`, `shop.haunch line 3 (through rail)`.
pub(super) fn causes(review: &Review, causes: &[Cause], file: &str) -> String {
    const MOST: usize = 4;
    let own = review
        .files
        .iter()
        .find(|own| own.old.as_deref().or(own.new.as_deref()) == Some(file));
    match own.map(|own| (&own.old, &own.new)) {
        Some((None, Some(_))) => return "the new file".to_owned(),
        Some((Some(_), None)) => return "the removal of the file".to_owned(),
        _ => {}
    }
    let mut said: Vec<String> = causes
        .iter()
        .take(MOST)
        .filter_map(|cause| {
            let change = review.changes.get(cause.change)?;
            let place = place(change, file);
            Some(match cause.through.as_slice() {
                [] => place,
                through => format!("{place} (through {})", through.join(", ")),
            })
        })
        .collect();
    if causes.len() > MOST {
        said.push(format!("{} more", causes.len() - MOST));
    }
    match said.is_empty() {
        true => "another version of the program: no line changed".to_owned(),
        false => said.join("; "),
    }
}

/// The title of what [`balances`] tells.
pub(super) const BALANCES: &str = "Changes that hold each other in balance";

/// Changes that hold others in balance, and files in which that was not looked for, a line each.
pub(super) fn balances(review: &Review) -> Vec<String> {
    const MOST: usize = 4;
    let mut said = Vec::new();
    for balance in &review.balances {
        let held: Vec<_> = balance.results.iter().filter(|held| held.used).collect();
        let Some(first) = held.first() else { continue };
        let changes = balance
            .changes
            .iter()
            .filter_map(|&at| review.changes.get(at));
        let places: Vec<String> = changes.map(|change| place(change, &first.file)).collect();
        let told = |held: &&haunch_review::Balanced| {
            let text =
                |text: &Option<String>| text.clone().unwrap_or_else(|| "no value".to_owned());
            format!(
                "{} would be {}, not {}",
                held.name,
                text(&held.undone),
                text(&held.new)
            )
        };
        let mut results: Vec<String> = held.iter().take(MOST).map(told).collect();
        if held.len() > MOST {
            results.push(format!("{} more would move", held.len() - MOST));
        }
        said.push(format!(
            "{}: with {} undone alone, {}",
            first.file,
            places.join(" and "),
            results.join("; ")
        ));
    }
    said.extend(review.untried.iter().map(|file| {
        format!("{file}: so many changes meet here that no single one was undone; causes are all changes that a result can depend on")
    }));
    said
}

/// Where a change stands, as seen from a file.
fn place(change: &Change, file: &str) -> String {
    let (written, was) = match (&change.new, &change.old) {
        (Some(written), _) => (written, ""),
        (None, Some(written)) => (written, "removed "),
        (None, None) => return String::new(),
    };
    match written.file == file {
        true => format!("{was}line {}", written.line),
        false => format!("{was}{} line {}", written.file, written.line),
    }
}

pub(super) fn action(action: Action) -> &'static str {
    match action {
        Action::Added => "added",
        Action::Removed => "removed",
        Action::Changed => "changed",
        Action::Renamed => "renamed",
    }
}

/// Old, new and the change in per cent of a result.
pub(super) fn values(result: &ResultChange) -> (String, String, String) {
    let none = if result.one_sided { "none" } else { "no value" };
    let text = |text: &Option<String>| text.clone().unwrap_or_else(|| none.to_owned());
    let percent = match (result.percent, result.old_si, result.new_si) {
        (Some(percent), ..) => percentage(percent),
        (None, Some(old), Some(new)) if old * new < 0.0 => "changes sign".to_owned(),
        _ => String::new(),
    };
    (text(&result.old), text(&result.new), percent)
}

/// The name of a result; the one before where it was another.
pub(super) fn name(result: &ResultChange) -> String {
    match &result.old_name {
        Some(old) => format!("{} (was {old})", result.name),
        None => result.name.clone(),
    }
}

/// The counts in one line.
pub(super) fn counts(review: &Review, unrecorded: usize) -> String {
    let of = |wanted: &[Verdict]| {
        let checks = review.checks.iter();
        checks
            .filter(|check| wanted.contains(&check.verdict))
            .count()
    };
    let removed = of(&[Verdict::Removed]) + review.concerns.len();
    let parts = [
        (
            removed,
            "check removed or loosened",
            "checks removed or loosened",
        ),
        (
            of(&[
                Verdict::NoLongerHolds,
                Verdict::NewAndDoesNotHold,
                Verdict::StillDoesNotHold,
            ]),
            "check does not hold",
            "checks do not hold",
        ),
        (
            of(&[Verdict::NoLongerComputed, Verdict::NewAndNotComputed]),
            "check could not be computed",
            "checks could not be computed",
        ),
        (
            of(&[Verdict::NearItsBound]),
            "check came near its bound",
            "checks came near their bound",
        ),
        (
            review.changes.len(),
            "line changed by hand",
            "lines changed by hand",
        ),
        (review.result_count(), "result changed", "results changed"),
        (
            unrecorded,
            "result is not that on record",
            "results are not those on record",
        ),
    ];
    let said: Vec<String> = parts
        .iter()
        .filter(|(number, ..)| *number > 0)
        .map(|(number, one, many)| format!("{number} {}", if *number == 1 { one } else { many }))
        .collect();
    match said.is_empty() {
        true => "Nothing changed in meaning.".to_owned(),
        false => said.join("; "),
    }
}

/// How many results are not told one by one, in words; none where all are.
pub(super) fn rest(review: &Review, shown: usize) -> Option<String> {
    let rest = review.result_count().saturating_sub(shown);
    let more = match (shown, rest) {
        (0, 1) => "1 result".to_owned(),
        (0, rest) => format!("{rest} results"),
        (_, rest) => format!("and {rest} more"),
    };
    (rest > 0).then(|| format!("{more}, which no line uses or whose file came or went"))
}

/// The results that are told: those that a line uses, in files that are in both versions; or all.
pub(super) fn told(review: &Review, all: bool) -> Vec<&ResultChange> {
    let results = review.results.iter();
    results
        .filter(|result| all || (result.used && !is_whole(review, &result.file)))
        .collect()
}
