//! Which findings the `allow` lines of a file silence.

use haunch_quantity::is_unit_word;
use haunch_syntax::{Limit, Statement, on_one_row, read_line};
use smol_str::SmolStr;

use crate::finding::{Finding, Severity};
use crate::line::{FileId, LineId};
use crate::outcome::Meaning;
use crate::state::State;

/// The `allow` lines of a file: a code, and the name that it is allowed for.
pub(crate) struct Allowances<'a> {
    state: &'a State,
    lines: Vec<(&'a str, Option<&'a str>)>,
}

impl<'a> Allowances<'a> {
    pub(crate) fn of(state: &'a State, file: FileId) -> Allowances<'a> {
        let allows = state.file(file).map(|file| &file.allows);
        let lines = allows.into_iter().flatten();
        let lines = lines.filter_map(|&line| match &state.cell(line)?.tree.statement {
            Statement::Allow(allow) => Some((
                allow.code.text.as_str(),
                allow.target.as_ref().map(|name| name.text.as_str()),
            )),
            _ => None,
        });
        Allowances {
            state,
            lines: lines.collect(),
        }
    }

    /// A finding is silenced by the name that it is about, by that of the check that its line states,
    /// and on a line without a name by that of its load case or block. An error never is.
    pub(crate) fn silence(&self, finding: &Finding) -> bool {
        let line = finding.place.line;
        let is_about = |target: &str| {
            finding.name.as_deref() == Some(target)
                || check_of(self.state, line).is_some_and(|check| is_named(&check, target))
                || (finding.name.is_none()
                    && without_name(self.state, line).as_deref() == Some(target))
        };
        finding.severity != Severity::Error
            && self
                .lines
                .iter()
                .any(|(code, target)| *code == finding.code.name && target.is_none_or(is_about))
    }
}

/// Whether these are the words that name a check. Those of a condition may be written with any white space.
fn is_named(check: &str, words: &str) -> bool {
    let without_space = |text: &str| text.split_whitespace().collect::<String>();
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

/// The name of the check that a line states, as results list it.
fn check_of(state: &State, line: LineId) -> Option<String> {
    let cell = state.cell(line)?;
    if let Meaning::Check(check) = &cell.outcome.meaning {
        return Some(check.name.clone());
    }
    let Statement::Limit(limit) = &cell.tree.statement else {
        return None;
    };
    let heading = cell.owner?;
    let name = format!("{}.{}", state.heading_name(heading)?, subject(limit));
    let is_same = |&other: &LineId| {
        let statement = state.cell(other).map(|cell| &cell.tree.statement);
        matches!(statement, Some(Statement::Limit(own)) if subject(own) == subject(limit))
    };
    let lines = state.lines_under(heading).into_iter();
    let before = lines.take_while(|&other| other != line).filter(is_same);
    match before.count() {
        0 => Some(name),
        before => Some(format!("{name}.{}", before + 1)),
    }
}

/// What a line of a block is called that gives no name: a load by its case, others by the block.
fn without_name(state: &State, line: LineId) -> Option<String> {
    let cell = state.cell(line)?;
    let heading = state.heading_name(cell.owner.filter(|_| cell.tree.indented)?)?;
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
