//! How well mistaken lines are caught: see `tests/mistakes/README.md`.

use std::collections::BTreeMap;
use std::fs;

use haunch_calc::{FileId, Finding, Repair, Severity, Snapshot, Weighed};
use haunch_tests::{open, repository};
use haunch_text::Span;
use serde::Deserialize;

#[derive(Deserialize)]
struct Cases {
    case: Vec<Case>,
}

/// One mistaken line in a file that is right otherwise.
#[derive(Deserialize)]
struct Case {
    id: String,
    /// `dimensional`, `lint` or `undetectable`.
    kind: String,
    /// The kind of slip.
    slip: String,
    /// The right file, where it stands in a file of its own.
    file: Option<String>,
    /// The right file, where it is written here.
    text: Option<String>,
    right: String,
    /// The mistaken line, the part at fault between « and ».
    wrong: String,
    /// Other lines that are as right.
    #[serde(default)]
    also_right: Vec<String>,
    /// The finding that sees it, where it is not `unit-mismatch`.
    code: Option<String>,
    /// The line on which the finding stands, where that is not the mistaken one.
    at: Option<String>,
}

#[derive(Deserialize)]
struct References {
    case: Vec<Reference>,
}

#[derive(Deserialize)]
struct Reference {
    id: String,
    dimension_sees_it: bool,
    wrong: String,
    right: String,
}

impl Case {
    fn right_text(&self) -> String {
        match (&self.file, &self.text) {
            (Some(file), _) => fs::read_to_string(repository("tests/mistakes").join(file))
                .expect("the right file can be read"),
            (None, text) => text.clone().expect("a case has a text"),
        }
    }

    fn wrong_line(&self) -> String {
        self.wrong.replace(['«', '»'], "")
    }

    /// The marked bytes of the mistaken line.
    fn mark(&self) -> Span {
        let start = self.wrong.find('«').expect("a case has a mark");
        let end = self.wrong.find('»').expect("a mark ends") - '«'.len_utf8();
        Span::new(start, end)
    }
}

fn cases(name: &str) -> Vec<Case> {
    let path = repository("tests/mistakes").join(name);
    let text = fs::read_to_string(path).expect("the cases can be read");
    let cases: Cases = toml::from_str(&text).expect("the cases are well formed");
    cases.case
}

/// The published mistakes, each in a file in which everything that the right line needs is in scope.
fn references() -> Vec<Case> {
    let path = repository("tests/reference/mistakes.toml");
    let text = fs::read_to_string(path).expect("the cases can be read");
    let references: References = toml::from_str(&text).expect("the cases are well formed");
    let last = |text: &str| text.trim_end().lines().last().unwrap_or("").to_owned();
    let case = |reference: Reference| {
        let (wrong, right) = (last(&reference.wrong), last(&reference.right));
        let mut text = reference.right.clone();
        for line in reference.wrong.trim_end().lines().rev().skip(1) {
            if !text.lines().any(|known| known == line) {
                text = format!("{line}\n{text}");
            }
        }
        let kind = if reference.dimension_sees_it {
            "dimensional"
        } else {
            "undetectable"
        };
        Case {
            id: reference.id,
            kind: kind.to_owned(),
            slip: "published".to_owned(),
            file: None,
            text: Some(text),
            wrong: marked(&wrong, &right),
            right,
            also_right: Vec::new(),
            code: None,
            at: None,
        }
    };
    references.case.into_iter().map(case).collect()
}

/// The mistaken line with marks round what differs from the right one, widened to whole words.
fn marked(wrong: &str, right: &str) -> String {
    let same = |a: &mut dyn Iterator<Item = char>, b: &mut dyn Iterator<Item = char>| {
        a.zip(b).take_while(|(a, b)| a == b).count()
    };
    let (w, r): (Vec<char>, Vec<char>) = (wrong.chars().collect(), right.chars().collect());
    let mut start = same(&mut w.iter().copied(), &mut r.iter().copied());
    let most = w.len().min(r.len()) - start;
    let tail = same(&mut w.iter().rev().copied(), &mut r.iter().rev().copied()).min(most);
    let mut end = w.len() - tail;
    let word = |c: char| c.is_alphanumeric() || c == '_' || c == '^';
    while start > 0 && (word(w[start - 1]) || start == end) {
        start -= 1;
    }
    while end < w.len() && end > 0 && word(w[end - 1]) && word(w[end]) {
        end += 1;
    }
    let part = |range: &[char]| range.iter().collect::<String>();
    format!(
        "{}«{}»{}",
        part(&w[..start]),
        part(&w[start..end]),
        part(&w[end..])
    )
}

struct Read {
    snapshot: Snapshot,
    file: FileId,
    findings: Vec<Finding>,
}

fn read(text: &str) -> Read {
    let (snapshot, file) = open(text);
    let findings = snapshot.findings(file);
    Read {
        snapshot,
        file,
        findings,
    }
}

impl Read {
    /// The findings of one line.
    fn of_line(&self, line: &str) -> Vec<&Finding> {
        let at = |finding: &Finding| {
            let view = self.snapshot.line(finding.place.line)?;
            Some(view.text().trim() == line.trim())
        };
        self.findings
            .iter()
            .filter(|f| at(f) == Some(true))
            .collect()
    }

    /// Every value of the file in SI units.
    fn values(&self) -> BTreeMap<String, f64> {
        let values = self.snapshot.values(self.file).into_iter();
        values
            .filter_map(|value| Some((value.name, value.evaluated.as_quantity()?.si())))
            .collect()
    }
}

fn with_line(text: &str, right: &str, new: &str) -> String {
    let mut replaced = 0;
    let lines: Vec<String> = text
        .lines()
        .map(|line| {
            if line.trim() == right.trim() {
                replaced += 1;
                let indent = &line[..line.len() - line.trim_start().len()];
                format!("{indent}{}", new.trim())
            } else {
                line.to_owned()
            }
        })
        .collect();
    assert_eq!(replaced, 1, "`{right}` is a line of its file once");
    lines.join("\n") + "\n"
}

fn applied(line: &str, repair: &Repair) -> Option<String> {
    let mut edits = repair.edits.clone();
    edits.sort_by_key(|(place, _)| (place.span.start, place.span.end));
    let mut text = line.to_owned();
    for (place, new) in edits.iter().rev() {
        let range = place.span.start as usize..place.span.end as usize;
        text.get(range.clone())?;
        text.replace_range(range, new);
    }
    Some(text)
}

/// What became of one mistake.
#[derive(Default)]
struct Outcome {
    detected: bool,
    right_place: bool,
    /// The place of the right repair among those offered.
    rank: Option<usize>,
    false_alarms: Vec<String>,
    told: String,
}

/// Whether the mistaken line is the right one with a factor left out at one place.
fn has_lost(right: &str, wrong: &str) -> bool {
    let signs = |line: &str| {
        let kept = |c: &char| !c.is_whitespace() && !matches!(c, '(' | ')' | '*' | '/');
        line.chars().filter(kept).collect::<Vec<_>>()
    };
    let (right, wrong) = (signs(right), signs(wrong));
    let alike =
        |pairs: &mut dyn Iterator<Item = (&char, &char)>| pairs.take_while(|(a, b)| a == b).count();
    let start = alike(&mut right.iter().zip(&wrong));
    let end = alike(&mut right.iter().rev().zip(wrong.iter().rev()));
    let is_power = right.get(start) == Some(&'^');
    wrong.len() < right.len() && start + end >= wrong.len() && !is_power
}

fn outcome(case: &Case) -> Outcome {
    let right_text = case.right_text();
    let right = read(&right_text);
    let mut outcome = Outcome {
        false_alarms: right
            .findings
            .iter()
            .filter(|finding| finding.code.name != "unused-value" || finding.name.is_none())
            .map(|finding| finding.message.clone())
            .collect(),
        ..Outcome::default()
    };
    let wrong_line = case.wrong_line();
    let wrong = read(&with_line(&right_text, &case.right, &wrong_line));
    let code = case.code.as_deref().unwrap_or("unit-mismatch");
    let of_line = wrong.of_line(case.at.as_deref().unwrap_or(&wrong_line));
    let Some(finding) = of_line.iter().find(|finding| finding.code.name == code) else {
        outcome.told = format!("{wrong_line}: not seen");
        return outcome;
    };
    outcome.detected = true;
    if let Some(at) = &case.at {
        // The mistaken line alone is as good as another; the one that is told shows what it leads to.
        outcome.right_place = true;
        outcome.told = format!("{}: told at {at}", case.wrong);
        return outcome;
    }
    let Some(view) = wrong.snapshot.line(finding.place.line) else {
        return outcome;
    };
    let indent = (view.text().len() - view.text().trim_start().len()) as u32;
    let mark = case.mark();
    let (start, end) = (
        finding.place.span.start - indent,
        finding.place.span.end - indent,
    );
    let touches = start <= mark.end && mark.start <= end;
    // The right side, between `=` and the brackets.
    let check = wrong_line.strip_prefix("verify ").map(|_| "verify ".len());
    let from = check.unwrap_or_else(|| wrong_line.find("= ").map_or(0, |at| at + 2));
    let to = wrong_line.rfind('[').unwrap_or(wrong_line.len());
    let whole = wrong_line[from..to].trim().len() as u32;
    let is_whole = end - start >= whole && whole > 0;
    let wide = (mark.end - mark.start) * 2 >= whole;
    let is_product = !wrong_line[from..to].contains(['+', '-', '<', '>']);
    outcome.right_place = match case.slip.as_str() {
        // The brackets disagree with the whole formula.
        "wrong unit" => is_whole || touches,
        // What lost a factor is the product, on both sides of the stroke.
        _ if is_product && has_lost(&case.right, &wrong_line) => touches,
        _ => touches && (!is_whole || wide),
    };
    let wanted = right.values();
    let normal = |line: &str| line.split_whitespace().collect::<String>();
    let repairs = wrong.snapshot.repairs(finding);
    let titles: Vec<String> = repairs.iter().map(|r| r.title.clone()).collect();
    let is_right = |repair: &Repair| {
        let Some(mended) = applied(view.text().trim_end(), repair) else {
            return false;
        };
        if [&case.right]
            .into_iter()
            .chain(&case.also_right)
            .any(|r| normal(r) == normal(&mended))
        {
            return true;
        }
        // Another way to write it gives the same values, the brackets left as they are.
        let brackets = |line: &str| line.rfind('[').map(|at| line[at..].to_owned());
        // A formula with arguments has no value of its own.
        let name = case.right.split('=').next().unwrap_or_default();
        if name.contains('(') || brackets(&mended) != brackets(&case.right) {
            return false;
        }
        let again = read(&with_line(&right_text, &case.right, &mended));
        let values = again.values();
        let same = wanted.len() == values.len()
            && wanted.iter().all(|(name, value)| {
                values
                    .get(name)
                    .is_some_and(|v| (v - value).abs() <= 1e-9 * value.abs())
            });
        let is_value = case.right.contains(" = ") && !case.right.starts_with("verify");
        same && is_value && !again.findings.iter().any(|f| f.severity == Severity::Error)
    };
    outcome.rank = repairs.iter().position(is_right);
    let is_blind = case
        .file
        .as_ref()
        .is_some_and(|file| file.starts_with("blind/"));
    if let Some(folder) = std::env::var_os("WEIGHED_REPAIRS").filter(|_| !is_blind) {
        let path = std::path::Path::new(&folder).join(&case.id);
        let weighed = wrong.snapshot.weighed_repairs(finding, 80);
        let rows: String = weighed
            .iter()
            .map(|one| row(one, is_right(&one.repair)))
            .collect();
        fs::write(path, rows).expect("the folder can be written");
    }
    outcome.told = format!(
        "{} (right: {}): {} {} {:?}",
        case.wrong,
        case.right,
        finding.place.span.text(view.text()),
        outcome.rank.map_or("-".to_owned(), |rank| rank.to_string()),
        titles
    );
    outcome
}

/// A repair with what speaks for and against it, as `tests/mistakes/fit.py` reads it.
fn row(weighed: &Weighed, is_right: bool) -> String {
    let reasons = weighed
        .reasons
        .iter()
        .map(|(reason, much)| format!("\t{reason:?} {much}"));
    let mark = if is_right { "right" } else { "other" };
    format!(
        "{mark}\t{}{}\n",
        weighed.repair.title,
        reasons.collect::<String>()
    )
}

/// Counts over cases.
#[derive(Default)]
struct Count {
    cases: usize,
    detected: usize,
    right_place: usize,
    first: usize,
    among_three: usize,
}

impl Count {
    fn add(&mut self, outcome: &Outcome) {
        self.cases += 1;
        self.detected += usize::from(outcome.detected);
        self.right_place += usize::from(outcome.right_place);
        self.first += usize::from(outcome.rank == Some(0));
        self.among_three += usize::from(outcome.rank.is_some_and(|rank| rank < 3));
    }

    fn percent(&self, count: usize) -> f64 {
        100.0 * count as f64 / self.cases.max(1) as f64
    }

    fn print(&self, name: &str) {
        println!(
            "{name:40} {:4} cases: detected {:5.1} %, place {:5.1} %, first {:5.1} %, among three {:5.1} %",
            self.cases,
            self.percent(self.detected),
            self.percent(self.right_place),
            self.percent(self.first),
            self.percent(self.among_three)
        );
    }
}

/// What a part of the corpus must come to at least, in percent.
struct Floor {
    detected: f64,
    right_place: f64,
    first: f64,
    among_three: f64,
}

/// Prints what became of the cases and holds the floors for those that dimensions can see and for those
/// that lints can see, without repairs. Cases are told one by one only where they may be looked at.
fn hold(name: &str, cases: &[Case], told: bool, floor: &Floor, of_lints: (f64, f64)) {
    let mut of_kind: BTreeMap<String, Count> = BTreeMap::new();
    let mut false_alarms = Vec::new();
    let mut dimensional = Count::default();
    let mut lints = Count::default();
    for case in cases {
        let outcome = outcome(case);
        false_alarms.extend(
            outcome
                .false_alarms
                .iter()
                .map(|a| format!("{}: {a}", case.id)),
        );
        let key = if case.kind == "dimensional" {
            dimensional.add(&outcome);
            if told && (outcome.rank != Some(0) || !outcome.right_place) {
                let place = if outcome.right_place { "" } else { "place! " };
                println!("{} {place}{}", case.id, outcome.told);
            }
            format!("  {}", case.slip)
        } else if case.kind == "lint" {
            lints.add(&outcome);
            if told && !outcome.right_place {
                println!("{} {}", case.id, outcome.told);
            }
            format!("  (lint) {}", case.slip)
        } else {
            format!("  ({})", case.kind)
        };
        of_kind.entry(key).or_default().add(&outcome);
    }
    for (slip, count) in &of_kind {
        count.print(slip);
    }
    dimensional.print(name);
    if lints.cases > 0 {
        lints.print(&format!("{name}, lints"));
    }
    assert_eq!(false_alarms, [""; 0], "findings in right files");
    let of = |count: &Count, part: usize| count.percent(part);
    let mut came_to = vec![
        (
            "detected",
            of(&dimensional, dimensional.detected),
            floor.detected,
        ),
        (
            "right place",
            of(&dimensional, dimensional.right_place),
            floor.right_place,
        ),
        (
            "right repair first",
            of(&dimensional, dimensional.first),
            floor.first,
        ),
        (
            "right repair among three",
            of(&dimensional, dimensional.among_three),
            floor.among_three,
        ),
    ];
    if lints.cases > 0 {
        came_to.push(("detected by lints", of(&lints, lints.detected), of_lints.0));
        came_to.push((
            "right place by lints",
            of(&lints, lints.right_place),
            of_lints.1,
        ));
    }
    for (what, percent, least) in came_to {
        assert!(
            percent >= least,
            "{name}: {what} {percent:.1} %, not {least} %"
        );
    }
}

const fn floor(detected: f64, right_place: f64, first: f64, among_three: f64) -> Floor {
    Floor {
        detected,
        right_place,
        first,
        among_three,
    }
}

#[test]
fn published() {
    let floor = floor(100.0, 96.0, 96.0, 96.0);
    hold("published", &references(), true, &floor, (0.0, 0.0));
}

#[test]
fn by_hand() {
    let floor = floor(100.0, 100.0, 92.0, 96.0);
    hold(
        "by hand",
        &cases("by_hand.toml"),
        true,
        &floor,
        (97.0, 92.0),
    );
}

#[test]
fn beyond_units() {
    // All of them are for lints.
    hold(
        "beyond units",
        &cases("beyond_units.toml"),
        true,
        &floor(0.0, 0.0, 0.0, 0.0),
        (71.0, 67.0),
    );
}

#[test]
fn mutants() {
    let floor = floor(100.0, 97.0, 87.0, 94.0);
    hold(
        "mutants, seen",
        &cases("seen.toml"),
        true,
        &floor,
        (0.0, 0.0),
    );
}

#[test]
fn mutants_opened() {
    let floor = floor(100.0, 92.0, 85.0, 94.0);
    hold(
        "mutants, opened",
        &cases("opened.toml"),
        true,
        &floor,
        (0.0, 0.0),
    );
}

#[test]
fn mutants_opened_later() {
    let floor = floor(100.0, 93.0, 76.0, 89.0);
    hold(
        "mutants, opened later",
        &cases("opened_later.toml"),
        true,
        &floor,
        (0.0, 0.0),
    );
}

#[test]
fn practice() {
    let floor = floor(100.0, 85.0, 81.0, 97.0);
    hold(
        "practice",
        &cases("practice.toml"),
        true,
        &floor,
        (0.0, 0.0),
    );
}

#[test]
fn blind() {
    let floor = floor(100.0, 90.0, 73.0, 87.0);
    hold("blind", &cases("blind.toml"), false, &floor, (0.0, 0.0));
}

/// A repair that is offered for a formula leaves nothing to say about its line; after the first one there is less
/// to say about the file, but where it changes what the line is asked for.
#[test]
fn offered_repairs_mend() {
    let sets = [
        "by_hand.toml",
        "seen.toml",
        "opened.toml",
        "practice.toml",
        "opened_later.toml",
    ];
    let mut offered = 0;
    for case in sets.into_iter().flat_map(cases) {
        if case.kind != "dimensional" {
            continue;
        }
        let right_text = case.right_text();
        let wrong_line = case.wrong_line();
        let wrong = read(&with_line(&right_text, &case.right, &wrong_line));
        let findings = wrong.of_line(&wrong_line);
        let Some(finding) = findings.iter().find(|f| f.code.name == "unit-mismatch") else {
            continue;
        };
        let Some(view) = wrong.snapshot.line(finding.place.line) else {
            continue;
        };
        // With other brackets the lines that use it have their say.
        let keeps_unit = |repair: &Repair| {
            !repair.title.starts_with("Show ") && !repair.title.starts_with("Leave the unit")
        };
        for (rank, repair) in wrong.snapshot.repairs(finding).into_iter().enumerate() {
            let Some(mended) = applied(view.text().trim_end(), &repair) else {
                panic!("{}: {} cannot be applied", case.id, repair.title);
            };
            offered += 1;
            let after = read(&with_line(&right_text, &case.right, mended.trim()));
            let left = after.of_line(mended.trim());
            let errors: Vec<&str> = left
                .iter()
                .filter(|f| f.severity == Severity::Error && f.code.name != "verify-fails")
                .map(|f| f.message.as_str())
                .collect();
            assert_eq!(errors, [""; 0], "{}: {}", case.id, repair.title);
            if rank == 0 && keeps_unit(&repair) {
                let mismatches = |of: &Read| {
                    let all = of.findings.iter();
                    all.filter(|f| f.code.name == "unit-mismatch").count()
                };
                assert!(
                    mismatches(&after) < mismatches(&wrong),
                    "{}: {} breaks another line",
                    case.id,
                    repair.title
                );
            }
        }
    }
    assert!(offered > 1000, "{offered}");
}
