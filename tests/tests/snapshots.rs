//! What an editor shows of whole files: the lines with their live values between ⟨ and ⟩, the
//! findings under them with the stretch marked, and the hovers of the marked names. To accept a change after
//! reading it: `INSTA_UPDATE=always cargo test -p haunch-tests --test snapshots`.

use std::fs;

use haunch_calc::{Change, FileId, Finding, Host, Snapshot};
use haunch_tests::repository;

fn shown(name: &str) -> String {
    let text = fs::read_to_string(repository(&format!("tests/fixtures/{name}.haunch")))
        .expect("the fixture is there");
    let fixture = haunch_testkit::fixture(&text);
    let [main] = fixture.as_slice() else {
        panic!("one file a fixture");
    };
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: main.name.clone(),
        text: main.text.clone(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file(&main.name).expect("it was given");
    let count = snapshot.line_count(file);
    let hints = haunch_ide::hints(&snapshot, file, 0..count, &|| false);
    let findings = snapshot.findings(file);
    let mut shown = String::new();
    for number in 0..count {
        let source = haunch_text::content(snapshot.physical_line(file, number));
        let mut line = source.to_owned();
        let here = hints.iter().filter(|hint| hint.at.line as usize == number);
        for hint in here.collect::<Vec<_>>().into_iter().rev() {
            line.insert_str(hint.at.column as usize, &format!("⟨{}⟩", hint.label));
        }
        shown += &format!("{line}\n");
        for finding in &findings {
            shown += &finding_at(&snapshot, file, finding, number);
        }
    }
    for mark in &main.marks {
        let hover = haunch_ide::hover(&snapshot, file, mark.start);
        let line = snapshot.physical_line(file, mark.start.line as usize);
        let word = &line[mark.start.column as usize..mark.end.column as usize];
        let text = hover.map_or("nothing".to_owned(), |hover| hover.markdown);
        shown += &format!("\n---- hover at {word}\n{text}\n");
    }
    shown
}

/// A finding under its line: the stretch marked, the words, what is related, the repairs.
fn finding_at(snapshot: &Snapshot, file: FileId, finding: &Finding, number: usize) -> String {
    let Some(range) = snapshot.range(finding.place) else {
        return String::new();
    };
    if range.start.line as usize != number {
        return String::new();
    }
    let source = haunch_text::content(snapshot.physical_line(file, number));
    let before = source[..range.start.column as usize].chars().count();
    let end = if range.end.line == range.start.line {
        range.end.column as usize
    } else {
        source.len()
    };
    let marked = source[range.start.column as usize..end].chars().count();
    let mut text = format!(
        "{}{} {}: {}\n",
        " ".repeat(before),
        "‾".repeat(marked.max(1)),
        finding.code.name,
        finding.message
    );
    for related in &finding.related {
        let line = snapshot
            .range(related.place)
            .map_or(0, |r| r.start.line + 1);
        text += &format!("        line {line}: {}\n", related.message);
    }
    for repair in snapshot.repairs(finding) {
        text += &format!("        repair: {}\n", repair.title);
    }
    text
}

#[test]
fn unit_mistakes() {
    insta::assert_snapshot!(shown("unit-mistakes"));
}

#[test]
fn names() {
    insta::assert_snapshot!(shown("names"));
}

#[test]
fn section() {
    insta::assert_snapshot!(shown("section"));
}

#[test]
fn beam() {
    insta::assert_snapshot!(shown("beam"));
}
