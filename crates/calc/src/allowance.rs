//! Which findings the `allow` lines of a file silence.

use std::cell::RefCell;

use haunch_quantity::is_unit_word;
use haunch_syntax::{Limit, Statement, on_one_row, read_line};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

use crate::finding::{Finding, Severity};
use crate::line::{FileId, LineId};
use crate::outcome::Meaning;
use crate::state::State;

/// The `allow` lines of a file, by their code.
pub(crate) struct Allowances<'a> {
    state: &'a State,
    codes: FxHashMap<&'a str, Allowed<'a>>,
    /// The names of the limits of blocks by their lines, of each block that was asked about.
    limits: RefCell<FxHashMap<LineId, FxHashMap<LineId, String>>>,
}

/// For what a code is allowed.
#[derive(Default)]
struct Allowed<'a> {
    everywhere: bool,
    targets: FxHashSet<&'a str>,
    /// The same without white space, which matters in none of them.
    spaced: FxHashMap<String, Vec<&'a str>>,
}

impl<'a> Allowances<'a> {
    pub(crate) fn of(state: &'a State, file: FileId) -> Allowances<'a> {
        let mut codes: FxHashMap<&str, Allowed<'_>> = FxHashMap::default();
        let allows = state.file(file).map(|file| &file.allows);
        for &line in allows.into_iter().flatten() {
            let Some(cell) = state.cell(line) else {
                continue;
            };
            let Statement::Allow(allow) = &cell.tree.statement else {
                continue;
            };
            let allowed = codes.entry(&allow.code.text).or_default();
            match &allow.target {
                None => allowed.everywhere = true,
                Some(target) => {
                    if allowed.targets.insert(&target.text) {
                        let spaced = allowed.spaced.entry(without_space(&target.text));
                        spaced.or_default().push(&target.text);
                    }
                }
            }
        }
        Allowances {
            state,
            codes,
            limits: RefCell::default(),
        }
    }

    /// A finding is silenced by the name that it is about, by that of the check that its line states,
    /// and on a line without a name by that of its load case or block. An error never is.
    pub(crate) fn silence(&self, finding: &Finding) -> bool {
        if finding.severity == Severity::Error {
            return false;
        }
        let Some(allowed) = self.codes.get(finding.code.name) else {
            return false;
        };
        if allowed.everywhere {
            return true;
        }
        let line = finding.place.line;
        let is_target = |name: &str| allowed.targets.contains(name);
        match finding.name.as_deref() {
            Some(name) if is_target(name) => return true,
            None if without_name(self.state, line).is_some_and(|name| is_target(&name)) => {
                return true;
            }
            _ => {}
        }
        self.check_of(line).is_some_and(|check| {
            let words = allowed.spaced.get(&without_space(&check));
            words.is_some_and(|words| words.iter().any(|words| is_named(&check, words)))
        })
    }

    /// The name of the check that a line states, as results list it.
    fn check_of(&self, line: LineId) -> Option<String> {
        let cell = self.state.cell(line)?;
        if let Meaning::Check(check) = &cell.outcome.meaning {
            return Some(check.name.clone());
        }
        if !matches!(cell.tree.statement, Statement::Limit(_)) {
            return None;
        }
        let heading = cell.owner?;
        let mut limits = self.limits.borrow_mut();
        let names = limits
            .entry(heading)
            .or_insert_with(|| names_of_limits(self.state, heading));
        names.get(&line).cloned()
    }
}

fn without_space(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Whether these are the words that name a check. Those of a condition may be written with any white space.
fn is_named(check: &str, words: &str) -> bool {
    if check == words || without_space(check) != without_space(words) {
        return check == words;
    }
    let line = format!("verify {words}");
    let tree = read_line(&line, is_unit_word);
    match tree.statement {
        Statement::Verify(id) => {
            let written = tree.expressions.get(id.0 as usize);
            written.is_some_and(|written| on_one_row(&line, &tree, written.span) == check)
        }
        _ => false,
    }
}

/// The names of a block's limits, as results list them, by their lines.
fn names_of_limits(state: &State, heading: LineId) -> FxHashMap<LineId, String> {
    let mut names = FxHashMap::default();
    let Some(block) = state.heading_name(heading) else {
        return names;
    };
    let mut counts: FxHashMap<SmolStr, usize> = FxHashMap::default();
    for line in state.lines_under(heading) {
        let statement = state.cell(line).map(|cell| &cell.tree.statement);
        let Some(Statement::Limit(limit)) = statement else {
            continue;
        };
        let subject = subject(limit);
        let count = counts.entry(subject.clone()).or_default();
        *count += 1;
        let name = match count {
            1 => format!("{block}.{subject}"),
            count => format!("{block}.{subject}.{count}"),
        };
        names.insert(line, name);
    }
    names
}

/// What a line of a block is called that gives no name: a load by its case, others by the block.
fn without_name(state: &State, line: LineId) -> Option<String> {
    let cell = state.cell(line)?;
    let heading = state.heading_name(cell.owner.filter(|_| cell.tree.belongs_to_block())?)?;
    match &cell.tree.statement {
        Statement::Limit(_) => None,
        Statement::Load(load) => Some(format!("{heading}.{}", load.case.text)),
        _ => Some(heading.to_string()),
    }
}

/// What a limit is on, in the name of its check.
fn subject(limit: &Limit) -> SmolStr {
    match limit.sideways {
        Some(_) => format!("{}_sideways", limit.subject.text).into(),
        None => limit.subject.text.clone(),
    }
}
