//! Lints that look at a line together with others: at what stands behind its names, and at other
//! lines with the same names. What they say of a line is kept with it, along with what it hangs on:
//! what gives each name that was looked behind, and the answer to each question about the lines in
//! which a name stands ([`Together`](super::together::Together)).

use std::cell::RefCell;

use haunch_quantity::Preferences;
use haunch_syntax::{Path, Statement};
use imbl::OrdSet;
use smol_str::SmolStr;

use super::together::{Name, Question};
use super::{Line, degrees, near_fibre, stress_sum};
use crate::finding::Finding;
use crate::graph::Scope;
use crate::line::{FileId, LineId};
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::{Cell, State};
use crate::value::Evaluated;

/// A file, for a lint that looks at more than one of its lines. Names of other files stand for
/// nothing here: a change in another file touches no findings of this one.
#[derive(Clone, Copy)]
pub(super) struct Among<'a> {
    state: &'a State,
    file: FileId,
    hangs_on: &'a RefCell<HangsOn>,
}

/// What it hangs on what the lints say of a line.
#[derive(Debug, Default)]
pub(crate) struct HangsOn {
    /// Names of the file that were looked behind.
    pub(crate) names: Vec<SmolStr>,
    /// Questions that nobody had asked before, with the lines that answer yes.
    pub(crate) asked: Vec<(SmolStr, Question, OrdSet<LineId>)>,
}

/// Whether a line is to be looked at together with others, by itself.
pub(crate) fn concerns(line: Line<'_>) -> bool {
    near_fibre::concerns(line) || stress_sum::concerns(line) || degrees::concerns(line)
}

/// What the lints say of a line, and what that hangs on.
pub(crate) fn look(state: &State, id: LineId) -> (Vec<Finding>, HangsOn) {
    let hangs_on = RefCell::default();
    let mut findings = Vec::new();
    if let Some(file) = state.cell(id).map(|cell| cell.file) {
        let among = Among {
            state,
            file,
            hangs_on: &hangs_on,
        };
        if let Some(line) = among.line(id) {
            findings.extend(near_fibre::findings(among, line));
            findings.extend(stress_sum::across(among, line));
            findings.extend(degrees::across(among, line));
            for finding in &mut findings {
                finding.name = line.name().map(str::to_owned);
            }
        }
    }
    (findings, hangs_on.into_inner())
}

/// Whether a line is among those in which a name stands and answers yes.
pub(crate) fn answers_yes(state: &State, name: &Name, question: &Question, id: LineId) -> bool {
    let (file, first) = name;
    state.graph.readers(*file, first).binary_search(&id).is_ok()
        && readable(state, *file, id).is_some_and(|line| question.is_so(first, line))
}

/// A line of a file that could be read.
fn readable(state: &State, file: FileId, id: LineId) -> Option<Line<'_>> {
    let cell = state.cell(id)?;
    let is_read = cell.file == file && cell.tree.errors.is_empty();
    is_read.then(|| Line::of(id, cell))
}

impl<'a> Among<'a> {
    fn line(self, id: LineId) -> Option<Line<'a>> {
        readable(self.state, self.file, id)
    }

    fn look_behind(self, name: &SmolStr) {
        let names = &mut self.hangs_on.borrow_mut().names;
        if !names.contains(name) {
            names.push(name.clone());
        }
    }

    /// Whether any of the lines in which a name stands as the first one answers yes.
    pub(super) fn any_reader(self, name: &SmolStr, question: Question) -> bool {
        self.look_behind(name);
        let key = (self.file, name.clone());
        if let Some(known) = self.state.together.answer(&key, &question) {
            return known;
        }
        let asked = &mut self.hangs_on.borrow_mut().asked;
        let same = |own: &&(SmolStr, Question, _)| own.0 == *name && own.1 == question;
        if let Some((.., yes)) = asked.iter().find(same) {
            return !yes.is_empty();
        }
        let readers = self.state.graph.readers(self.file, name).iter().copied();
        let yes: OrdSet<LineId> = readers
            .filter(|&id| self.line(id).is_some_and(|line| question.is_so(name, line)))
            .collect();
        let is_any = !yes.is_empty();
        asked.push((name.clone(), question, yes));
        is_any
    }

    /// The only line that gives a name of the file.
    pub(super) fn defining(self, name: &SmolStr) -> Option<Line<'a>> {
        self.look_behind(name);
        match self.state.graph.definitions(Scope::File(self.file), name) {
            [line] => self.line(*line),
            _ => None,
        }
    }

    /// What a value of the file comes to.
    pub(super) fn value(self, name: &str) -> Option<&'a Evaluated> {
        let line = self.defining(&name.into())?;
        match &self.state.cell(line.id)?.outcome.meaning {
            Meaning::Value(value) => Some(&value.evaluated),
            _ => None,
        }
    }

    /// What a path stands for, in this file.
    pub(super) fn resolve(self, path: &Path) -> Target {
        if let Some(first) = path.names.first() {
            self.look_behind(&first.text);
        }
        let found = self.state.resolve(self.file, &names_of(path));
        if found.read.through.is_some() {
            return Target::Undefined;
        }
        found.target
    }

    /// A result of a block, which was found by its name.
    pub(super) fn member(self, heading: LineId, member: &str) -> Evaluated {
        let block = match self.state.cell(heading).map(|cell| &cell.outcome.meaning) {
            Some(Meaning::Block(block)) => block,
            _ => return Evaluated::UNKNOWN,
        };
        block.member(member).unwrap_or(Evaluated::UNKNOWN)
    }

    /// The names of the parts and points of a block.
    pub(super) fn names_in(self, heading: LineId) -> Vec<SmolStr> {
        let lines = self.state.lines_under(heading).into_iter();
        let name = |id| match &self.state.cell(id)?.tree.statement {
            Statement::Part(part) => Some(part.name.text.clone()),
            Statement::Point(point) => Some(point.name.text.clone()),
            _ => None,
        };
        lines.filter_map(name).collect()
    }

    /// Whether no part of a section has a material of its own, so that stresses are those of one.
    pub(super) fn is_of_one_material(self, heading: LineId) -> bool {
        let mut lines = self.state.lines_under(heading).into_iter();
        !lines.any(|id| {
            let statement = self.state.cell(id).map(|cell| &cell.tree.statement);
            matches!(statement, Some(Statement::Part(part)) if part.of.is_some())
        })
    }

    pub(super) fn preferences(self) -> &'a Preferences {
        static USUAL: std::sync::LazyLock<Preferences> =
            std::sync::LazyLock::new(Preferences::default);
        let file = self.state.file(self.file);
        file.map_or(&USUAL, |file| &file.preferences)
    }
}

impl<'a> Line<'a> {
    pub(crate) fn of(id: LineId, cell: &'a Cell) -> Line<'a> {
        Line {
            id,
            tree: &cell.tree,
            text: &cell.text,
            evaluated: &cell.outcome.expressions,
        }
    }
}
