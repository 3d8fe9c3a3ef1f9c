//! What a finding's code means, from its page.

use haunch_calc::page::{Page, Shows};
use haunch_calc::{Code, FileId, Finding, Severity, Snapshot, findings};
use haunch_text::{Position, Range};

use crate::actions::touching;

/// The page of a code, in Markdown; none where there is no such code.
pub fn explain(code: &str) -> Option<String> {
    let code = findings::code(code)?;
    let page = Page::read(code.page);
    let mut parts = vec![format!("# {}", code.name), page.meaning.to_owned()];
    parts.extend(page.paragraphs);
    for example in &page.examples {
        parts.push(caption(example.shows));
        parts.push(format!("```haunch\n{}```", example.text));
    }
    parts.extend(silencing(code));
    Some(parts.join("\n\n") + "\n")
}

/// What an example shows, as a line above it.
pub fn caption(shows: Shows) -> String {
    match shows {
        Shows::Wrong => "Gives the finding:".to_owned(),
        Shows::Sketch => "Gives the finding, cut short here:".to_owned(),
        Shows::Right => "Does not:".to_owned(),
        Shows::File(path) => format!("Another file, {path}:"),
    }
}

/// How the finding is silenced; an error cannot be.
pub fn silencing(code: &Code) -> Option<String> {
    (code.severity != Severity::Error).then(|| {
        format!(
            "Where it is meant so, a line `allow {0}` silences it in the whole file, and \
             `allow {0} for NAME` where it is about NAME.",
            code.name
        )
    })
}

/// The codes of the findings that touch a range of a file, each once, in the order of the file.
pub fn codes(snapshot: &Snapshot, file: FileId, range: Range) -> Vec<&'static str> {
    let mut codes = Vec::new();
    for finding in touching(snapshot, file, range) {
        if !codes.contains(&finding.code.name) {
            codes.push(finding.code.name);
        }
    }
    codes
}

/// The findings at a position, each with the meaning of its code, and the place of the first.
pub(crate) fn at(snapshot: &Snapshot, file: FileId, position: Position) -> Option<(Range, String)> {
    let here = |finding: &Finding| {
        let range = snapshot.range(finding.place)?;
        (range.start <= position && position <= range.end).then_some((range, finding.code))
    };
    let found: Vec<(Range, &Code)> = snapshot.findings(file).iter().filter_map(here).collect();
    let (range, _) = *found.first()?;
    let mut codes: Vec<&Code> = found.into_iter().map(|(_, code)| code).collect();
    codes.dedup();
    let text: Vec<String> = codes
        .iter()
        .map(|code| format!("`{}`: {}", code.name, Page::read(code.page).meaning))
        .collect();
    Some((range, text.join("\n\n")))
}
