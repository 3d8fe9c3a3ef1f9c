//! Lints that look at a line together with others: at what stands behind its names, and at other
//! lines with the same names. Worked out on request, since a finding that is kept with its line may
//! depend on nothing but what the line came to.

use std::cell::RefCell;

use haunch_quantity::Preferences;
use haunch_syntax::{Path, Statement};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

use super::{Line, degrees, near_fibre, stress_sum};
use crate::finding::Finding;
use crate::graph::Scope;
use crate::line::{FileId, LineId};
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::{Cell, FileState, State};
use crate::value::Evaluated;

/// A file, for a lint that looks at more than one of its lines. Names of other files stand for
/// nothing here: a change in another file touches no findings of this one.
#[derive(Clone, Copy)]
pub(super) struct Among<'a> {
    state: &'a State,
    file: FileId,
    answers: &'a RefCell<FxHashMap<String, bool>>,
}

/// Whether a line is to be looked at together with others, by itself.
pub(crate) fn concerns(line: Line<'_>) -> bool {
    near_fibre::concerns(line) || stress_sum::concerns(line) || degrees::concerns(line)
}

/// The findings of the lines that are to be looked at.
pub(crate) fn findings(state: &State, file: FileId, lines: &FileState) -> Vec<Finding> {
    let answers = RefCell::default();
    let among = Among {
        state,
        file,
        answers: &answers,
    };
    let mut findings = Vec::new();
    for &id in &lines.looked_at_together {
        let Some(line) = among.line(id) else {
            continue;
        };
        let mut own = near_fibre::findings(among, line);
        own.extend(stress_sum::across(among, line));
        own.extend(degrees::across(among, line));
        for finding in &mut own {
            finding.name = line.name().map(str::to_owned);
        }
        findings.append(&mut own);
    }
    findings
}

impl<'a> Among<'a> {
    /// A line that could be read.
    fn line(self, id: LineId) -> Option<Line<'a>> {
        let cell = self.state.cell(id)?;
        let is_read = cell.file == self.file && cell.tree.errors.is_empty();
        is_read.then(|| Line::of(id, cell))
    }

    /// The lines of the file in which a name stands as the first one.
    pub(super) fn readers(self, name: &SmolStr) -> impl Iterator<Item = Line<'a>> {
        let readers = self.state.graph.readers(self.file, name).iter();
        readers.filter_map(move |&id| self.line(id))
    }

    /// Whether any of the lines in which a name stands is as asked, found out once for each question:
    /// as many lines may ask it as there are lines to look at.
    pub(super) fn any_reader(
        self,
        name: &SmolStr,
        question: &str,
        asked: impl Fn(Line<'a>) -> bool,
    ) -> bool {
        let question = format!("{question} {name}");
        if let Some(known) = self.answers.borrow().get(&question) {
            return *known;
        }
        let answer = self.readers(name).any(asked);
        self.answers.borrow_mut().insert(question, answer);
        answer
    }

    /// The only line that gives a name of the file.
    pub(super) fn defining(self, name: &SmolStr) -> Option<Line<'a>> {
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
        let found = self.state.resolve(self.file, &names_of(path));
        if found.read.through.is_some() {
            return Target::Undefined;
        }
        found.target
    }

    /// A result of a block.
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
    fn of(id: LineId, cell: &'a Cell) -> Line<'a> {
        Line {
            id,
            tree: &cell.tree,
            text: &cell.text,
            evaluated: &cell.outcome.expressions,
        }
    }
}
