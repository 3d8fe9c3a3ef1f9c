//! Findings as the protocol's diagnostics.

use haunch_calc::{FileId, Finding, Severity};
use tower_lsp::lsp_types::{
    Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, NumberOrString,
};

use crate::greeting::Greeting;
use crate::world::View;

/// Most findings of a file that are sent one by one. An editor cannot show more, and sending them would
/// hold up the values; the command line prints all.
const MOST: usize = 500;

/// The findings of an open document.
pub(crate) fn diagnostics(view: &View, greeting: Greeting, path: &str) -> Vec<Diagnostic> {
    let Some(file) = view.snapshot.file(path) else {
        return Vec::new();
    };
    let mut findings = view.snapshot.findings(file);
    let unsent = findings.len().saturating_sub(MOST);
    if unsent > 0 {
        // Errors are never left out in favour of a warning; the order of the file stays.
        findings.sort_by_key(|finding| finding.severity);
        findings.truncate(MOST);
    }
    let mut sent: Vec<Diagnostic> = findings
        .iter()
        .filter_map(|finding| diagnostic(view, greeting, file, finding))
        .collect();
    if unsent > 0 {
        sent.push(Diagnostic {
            severity: Some(DiagnosticSeverity::ERROR),
            source: Some("haunch".to_owned()),
            message: format!(
                "{unsent} more findings are not shown here; `haunch check` lists all."
            ),
            ..Diagnostic::default()
        });
    }
    sent
}

/// One finding.
pub(crate) fn diagnostic(
    view: &View,
    greeting: Greeting,
    file: FileId,
    finding: &Finding,
) -> Option<Diagnostic> {
    let range = view.snapshot.range(finding.place)?;
    let mut message = finding.message.clone();
    let mut related = Vec::new();
    for explanation in &finding.related {
        match view.location(explanation.place) {
            Some(location) if greeting.shows_related => {
                let message = explanation.message.clone();
                related.push(DiagnosticRelatedInformation { location, message });
            }
            _ => message += &format!("\n{}", explanation.message),
        }
    }
    Some(Diagnostic {
        range: view.range(file, range),
        severity: Some(match finding.severity {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            Severity::Information => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(finding.code.name.to_owned())),
        source: Some("haunch".to_owned()),
        message,
        related_information: (!related.is_empty()).then_some(related),
        ..Diagnostic::default()
    })
}
