//! Slips of dimensions in every construct of the notation: see `tests/slips/README.md`.

use std::fs;

use haunch_calc::{Change, FileId, Finding, Host, Severity, Snapshot};
use haunch_testkit::{FixtureFile, MAIN, fixture};
use haunch_tests::repository;

/// One slip and what is to be said of it.
#[derive(Debug, Default)]
struct Slip {
    title: String,
    /// The file with the slip in it, as a fixture; other files with it.
    fixture: String,
    code: Vec<String>,
    says: Vec<String>,
    beside: Vec<String>,
    hover: Vec<String>,
}

/// The slips of a page: paragraphs that begin with `file`, `given` or `slip`.
fn slips(page: &str) -> Vec<Slip> {
    let (mut files, mut given) = (String::new(), String::new());
    let mut slips = Vec::new();
    for paragraph in page.split("\n\n") {
        let paragraph = paragraph.trim_start_matches('\n');
        let (head, body) = paragraph.split_once('\n').unwrap_or((paragraph, ""));
        let (kind, title) = head.split_once(' ').unwrap_or((head, ""));
        match kind {
            "file" => files += &format!("=== {title}\n{body}\n"),
            "given" => body.clone_into(&mut given),
            "slip" => slips.push(slip(title, body, &given, &files)),
            other => panic!("a paragraph cannot begin with {other}"),
        }
    }
    slips
}

fn slip(title: &str, body: &str, given: &str, files: &str) -> Slip {
    let mut slip = Slip {
        title: title.to_owned(),
        ..Slip::default()
    };
    let mut lines = String::new();
    for line in body.lines() {
        let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
        let rest = rest.to_owned();
        match word {
            "code" => slip.code.extend(rest.split(' ').map(str::to_owned)),
            "says" => slip.says.push(rest),
            "beside" => slip.beside.push(rest),
            "hover" => slip.hover.push(rest),
            _ => lines += &format!("{line}\n"),
        }
    }
    let place = given.lines().find(|line| line.trim() == "SLIP");
    let text = match place {
        // Lines of a block may stand there, and lines after the block as well.
        Some(line) => given.replace(line, &format!("    {}", lines.replace('\n', "\n    "))),
        None => format!("{given}\n{lines}"),
    };
    slip.fixture = format!("=== {MAIN}\n{text}\n{files}");
    slip
}

fn opened(files: &[FixtureFile]) -> (Snapshot, FileId) {
    let mut host = Host::new();
    for file in files {
        host.apply(Change::SetText {
            path: file.name.clone(),
            text: file.text.clone(),
        });
    }
    let snapshot = host.snapshot();
    let file = snapshot.file(MAIN).expect("it was set");
    (snapshot, file)
}

/// The code and the text at the place of a finding.
fn head(snapshot: &Snapshot, finding: &Finding) -> String {
    let line = snapshot.line(finding.place.line).expect("it is there");
    format!(
        "{} at {}",
        finding.code.name,
        finding.place.span.text(line.text())
    )
}

/// What is not as it should be: the findings, their places, their words.
struct Checked {
    detected: bool,
    placed: bool,
    slips: Vec<String>,
}

fn check(slip: &Slip) -> Checked {
    let files = fixture(&slip.fixture);
    let main = files.iter().find(|file| file.name == MAIN).expect("it is");
    let (snapshot, file) = opened(&files);
    let findings: Vec<Finding> = snapshot
        .findings(file)
        .into_iter()
        .filter(|finding| finding.severity == Severity::Error)
        .collect();
    let code = |index: usize| {
        let own = slip.code.get(index).or(slip.code.last());
        own.map_or("unit-mismatch", String::as_str)
    };
    let marked = main.marked();
    let expected: Vec<String> = (0..marked.len())
        .map(|index| format!("{} at {}", code(index), marked[index]))
        .collect();
    let found: Vec<String> = findings.iter().map(|own| head(&snapshot, own)).collect();
    let mut slips = Vec::new();
    if found != expected {
        slips.push(format!("found {found:?}\n   not {expected:?}"));
    }
    let messages: Vec<&str> = findings.iter().map(|own| own.message.as_str()).collect();
    for words in &slip.says {
        if !messages.iter().any(|message| message.contains(words)) {
            slips.push(format!("no message says {words:?}"));
        }
    }
    let beside: Vec<&str> = findings
        .iter()
        .flat_map(|finding| &finding.related)
        .map(|related| related.message.as_str())
        .collect();
    for words in &slip.beside {
        if !beside.iter().any(|message| message.contains(words)) {
            slips.push(format!("nothing beside says {words:?}, but {beside:?}"));
        }
    }
    let hover = main
        .cursor
        .and_then(|cursor| haunch_ide::hover(&snapshot, file, cursor))
        .map(|hover| hover.markdown)
        .unwrap_or_default();
    for words in &slip.hover {
        if !hover.contains(words) {
            slips.push(format!("the hover says {hover:?}"));
        }
    }
    if !slips.is_empty() {
        slips.extend(messages.iter().map(|message| format!("  {message}")));
    }
    Checked {
        detected: !found.is_empty(),
        placed: found == expected,
        slips,
    }
}

/// Every slip is found at the smallest part at fault, in words that name both sides; no line that depends on
/// it has a finding of its own.
#[test]
fn slips_are_found_where_they_are_and_told_in_words() {
    let folder = repository("tests/slips");
    let mut paths: Vec<_> = fs::read_dir(&folder)
        .expect("the folder can be read")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|own| own == "txt"))
        .collect();
    paths.sort();
    assert!(!paths.is_empty());
    let mut wrong = Vec::new();
    for path in paths {
        let name = path.file_stem().expect("a name").to_string_lossy();
        let page = fs::read_to_string(&path).expect("it can be read");
        let slips = slips(page.trim_end());
        let checked: Vec<Checked> = slips.iter().map(check).collect();
        let count = |holds: fn(&Checked) -> bool| checked.iter().filter(|own| holds(own)).count();
        println!(
            "{name}: {} slips, {} detected, {} in place, {} as they should be",
            slips.len(),
            count(|own| own.detected),
            count(|own| own.placed),
            count(|own| own.slips.is_empty())
        );
        for (slip, checked) in slips.iter().zip(checked) {
            if !checked.slips.is_empty() {
                let list = checked.slips.join("\n   ");
                wrong.push(format!("{name}: {}\n   {list}", slip.title));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
