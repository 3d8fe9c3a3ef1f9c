//! Findings as the protocol's diagnostics.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use haunch_calc::{FileId, Finding, Severity};
use tower_lsp::lsp_types::{
    CodeDescription, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag,
    DocumentDiagnosticReport, FullDocumentDiagnosticReport, NumberOrString,
    RelatedFullDocumentDiagnosticReport, RelatedUnchangedDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport, Url, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport,
    WorkspaceDocumentDiagnosticReport, WorkspaceFullDocumentDiagnosticReport,
    WorkspaceUnchangedDocumentDiagnosticReport,
};

use crate::address::path_of;
use crate::greeting::Greeting;
use crate::pages;
use crate::world::View;

/// Most findings of a file that are sent one by one. An editor cannot show more, and sending them would
/// hold up the values; the command line prints all.
const MOST: usize = 500;

/// The findings of a document.
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
            // Most messages say it themselves.
            _ if message.contains(&explanation.message) => {}
            _ => message += &format!("\n{}", explanation.message),
        }
    }
    let is_unused = finding.code.name == "unused-value" && greeting.shows_unused;
    let described = greeting
        .shows_pages
        .then(|| pages::address(finding.code.name))
        .flatten()
        .map(|href| CodeDescription { href });
    Some(Diagnostic {
        range: view.range(file, range),
        severity: Some(match finding.severity {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            Severity::Information => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(finding.code.name.to_owned())),
        code_description: described,
        source: Some("haunch".to_owned()),
        message,
        related_information: (!related.is_empty()).then_some(related),
        tags: is_unused.then(|| vec![DiagnosticTag::UNNECESSARY]),
        ..Diagnostic::default()
    })
}

/// The findings of a document for a client that asks for them; only that they are what they were, if they
/// are.
pub(crate) fn report(
    view: &View,
    greeting: Greeting,
    uri: &Url,
    previous: Option<&str>,
) -> DocumentDiagnosticReport {
    let items = diagnostics(view, greeting, &path_of(uri));
    let id = result_id(&items);
    if previous == Some(id.as_str()) {
        return DocumentDiagnosticReport::Unchanged(RelatedUnchangedDocumentDiagnosticReport {
            related_documents: None,
            unchanged_document_diagnostic_report: UnchangedDocumentDiagnosticReport {
                result_id: id,
            },
        });
    }
    DocumentDiagnosticReport::Full(RelatedFullDocumentDiagnosticReport {
        related_documents: None,
        full_document_diagnostic_report: FullDocumentDiagnosticReport {
            result_id: Some(id),
            items,
        },
    })
}

/// The findings of every file, and that there are none any more in a file that the client knew and that is gone.
/// `stop` is polled; when it says so, what was found is returned.
pub(crate) fn workspace_report(
    view: &View,
    greeting: Greeting,
    params: &WorkspaceDiagnosticParams,
    stop: &dyn Fn() -> bool,
) -> WorkspaceDiagnosticReport {
    let previous: BTreeMap<String, &str> = params
        .previous_result_ids
        .iter()
        .map(|previous| (path_of(&previous.uri), previous.value.as_str()))
        .collect();
    let mut items = Vec::new();
    for file in view.snapshot.files() {
        if stop() {
            break;
        }
        let path = view.snapshot.path(file);
        let Some(uri) = view.uri(file) else { continue };
        let version = view.titles.get(path).map(|title| i64::from(title.version));
        let found = diagnostics(view, greeting, path);
        let id = result_id(&found);
        let is_same = previous.get(path) == Some(&id.as_str());
        items.push(if is_same {
            WorkspaceDocumentDiagnosticReport::Unchanged(
                WorkspaceUnchangedDocumentDiagnosticReport {
                    uri,
                    version,
                    unchanged_document_diagnostic_report: UnchangedDocumentDiagnosticReport {
                        result_id: id,
                    },
                },
            )
        } else {
            WorkspaceDocumentDiagnosticReport::Full(WorkspaceFullDocumentDiagnosticReport {
                uri,
                version,
                full_document_diagnostic_report: FullDocumentDiagnosticReport {
                    result_id: Some(id),
                    items: found,
                },
            })
        });
    }
    for known in &params.previous_result_ids {
        if view.file(&known.uri).is_none() {
            let nothing = WorkspaceFullDocumentDiagnosticReport {
                uri: known.uri.clone(),
                version: None,
                full_document_diagnostic_report: FullDocumentDiagnosticReport::default(),
            };
            items.push(WorkspaceDocumentDiagnosticReport::Full(nothing));
        }
    }
    WorkspaceDiagnosticReport { items }
}

/// A name for exactly these diagnostics, the same in every session.
fn result_id(items: &[Diagnostic]) -> String {
    let mut hasher = DefaultHasher::new();
    serde_json::to_string(items)
        .unwrap_or_default()
        .hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}
