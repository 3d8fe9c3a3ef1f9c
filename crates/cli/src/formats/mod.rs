//! Reports for other programs: SARIF, JUnit, and the annotations of GitHub's runners.

pub(crate) mod github;
pub(crate) mod junit;
pub(crate) mod sarif;

use haunch_quantity::format_utilisation;

use crate::report::CheckReport;

/// A check in one sentence: `runway.tension does not hold: 104 %, 156.1 MPa <= 150 MPa, crown, at 1.4 m`.
fn check_words(check: &CheckReport) -> String {
    let verdict = match check.holds {
        Some(true) => "holds",
        Some(false) => "does not hold",
        None => "could not be computed",
    };
    let used = check
        .utilisation
        .map(|used| format_utilisation(used, 3).to_string());
    let parts = [used, Some(check.text.clone()), check.place.clone()];
    let parts: Vec<String> = parts
        .into_iter()
        .flatten()
        .filter(|part| !part.is_empty() && *part != check.name)
        .collect();
    match parts.is_empty() {
        true => format!("{} {verdict}", check.name),
        false => format!("{} {verdict}: {}", check.name, parts.join(", ")),
    }
}

/// Whether a check that does not hold or was not computed is said by no finding of its line.
fn is_unsaid(check: &CheckReport, findings: &[crate::report::FindingReport]) -> bool {
    check.holds != Some(true)
        && findings
            .iter()
            .all(|finding| finding.range.line != check.line || finding.severity != "error")
}
