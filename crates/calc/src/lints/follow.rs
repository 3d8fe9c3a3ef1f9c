//! Has the findings of lints that look at lines together follow a change.

use std::sync::Arc;

use rustc_hash::FxHashSet;
use smol_str::SmolStr;

use super::Line;
use super::among_lines::{answers_yes, concerns, look};
use super::together::{Looked, Name};
use crate::graph::Scope;
use crate::line::{FileId, LineId};
use crate::outcome::{Outcome, Read};
use crate::state::{Cell, enter};
use crate::update::Update;

impl Update<'_> {
    /// A line comes, goes or changes: what lints asked about the lines in which its names stand is asked
    /// of it again at the end.
    pub(crate) fn answers_again(&mut self, line: LineId, reads: &[Read]) {
        let together = &self.state.together;
        if together.is_nothing_asked() {
            return;
        }
        let names = reads.iter().flat_map(Read::keys);
        let asked = names.filter(|name| together.is_asked_about(name));
        self.answering.extend(asked.map(|name| (name, line)));
    }

    /// Asks the lints again that look at lines together, about each line that was computed and each that
    /// hangs on what it gives or on how it uses its names.
    pub(crate) fn look_at_together(&mut self) {
        let computed = std::mem::take(&mut self.computed);
        let mut given: FxHashSet<Name> = FxHashSet::default();
        let defines = |&line: &LineId| self.state.cell(line).and_then(|cell| cell.defines.as_ref());
        for key @ (scope, name) in computed.iter().filter_map(defines).chain(&self.touched) {
            if let Scope::File(file) = scope
                && self.is_any_looked_at(*file)
                && !self.stays_several(key)
            {
                given.insert((*file, name.clone()));
            }
        }
        for name in &given {
            self.state.together.forget_questions(name);
        }
        for (name, line) in std::mem::take(&mut self.answering) {
            let questions = self.state.together.questions(&name);
            let answers: Vec<bool> = questions
                .map(|question| answers_yes(self.state, &name, question, line))
                .collect();
            if self.state.together.answers(&name, line, &answers) {
                given.insert(name);
            }
        }
        let mut lines = computed;
        for (file, name) in &given {
            let hanging = [
                self.state.graph.definitions(Scope::File(*file), name),
                self.state.graph.readers(*file, name),
                self.state.together.hanging_on(&(*file, name.clone())),
            ];
            let is_looked_at = |line: &LineId| {
                let cell = self.state.cell(*line);
                cell.is_some_and(|cell| cell.file == *file && cell.looked.is_some())
            };
            lines.extend(hanging.into_iter().flatten().copied().filter(is_looked_at));
        }
        if !given.is_empty() {
            lines.sort_unstable();
            lines.dedup();
        }
        for line in lines {
            self.look_at(line);
        }
    }

    fn is_any_looked_at(&self, file: FileId) -> bool {
        let file = self.state.file(file);
        file.is_some_and(|file| file.looked_at_together > 0)
    }

    /// Asks the lints about a line.
    fn look_at(&mut self, line: LineId) {
        let Some(cell) = self.state.cell(line).cloned() else {
            return;
        };
        let looked = concerns(Line::of(line, &cell)).then(|| {
            let (findings, hangs_on) = look(self.state, line);
            for (name, question, yes) in hangs_on.asked {
                self.state.together.keep((cell.file, name), question, yes);
            }
            let mut beyond = hangs_on.names;
            beyond.retain(|name| !gives_or_uses(&cell, name));
            Looked { findings, beyond }
        });
        drop(cell);
        self.set_looked(line, looked);
    }

    /// Enters what the lints say of a line, and the line in the list of those with findings.
    pub(crate) fn set_looked(&mut self, line: LineId, looked: Option<Looked>) {
        let Some(cell) = self.state.cell(line).cloned() else {
            return;
        };
        let before = cell.looked.as_deref();
        if before == looked.as_ref() {
            return;
        }
        let together = &mut self.state.together;
        if let Some(looked) = before {
            together.take_out(cell.file, line, looked);
        }
        if let Some(looked) = &looked {
            together.enter(cell.file, line, looked);
        }
        let found = looked.as_ref().map_or(&[][..], |looked| &looked.findings);
        if found != before.map_or(&[][..], |looked| &looked.findings) {
            self.files.insert(cell.file);
        }
        if let Some(file) = self.state.file_mut(cell.file) {
            file.looked_at_together += usize::from(looked.is_some());
            file.looked_at_together -= usize::from(before.is_some());
            let has_findings = has_findings(&cell.outcome, looked.as_ref());
            enter(&mut file.with_findings, line, has_findings);
        }
        drop(cell);
        self.set_cell(line, |cell| cell.looked = looked.map(Arc::new));
    }
}

/// Whether a line has findings of its own or of lints that look at it together with others.
pub(crate) fn has_findings(outcome: &Outcome, looked: Option<&Looked>) -> bool {
    !outcome.findings.is_empty() || looked.is_some_and(|looked| !looked.findings.is_empty())
}

/// Whether a line gives a name of its file or uses it.
fn gives_or_uses(cell: &Cell, name: &SmolStr) -> bool {
    let is_own = |(file, own): (FileId, SmolStr)| file == cell.file && own == *name;
    let gives = matches!(&cell.defines, Some((Scope::File(_), own)) if own == name);
    gives || cell.reads.iter().flat_map(Read::keys).any(is_own)
}
