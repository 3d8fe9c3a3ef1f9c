//! What the lints that look at lines together have asked, so that a change asks only those again that
//! it concerns.

use std::sync::Arc;

use haunch_syntax::Statement;
use imbl::OrdSet;
use smol_str::SmolStr;

use super::{Line, near_fibre, stress_sum};
use crate::finding::Finding;
use crate::graph::{Lines, insert, lines_of, remove};
use crate::line::{FileId, LineId};
use crate::state::Map;
use crate::value::Evaluated;

/// A name of a file.
pub(crate) type Name = (FileId, SmolStr);

/// What lints ask about the lines in which a name stands, each line by itself.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Question {
    /// Is the value that it uses compared with one at a fibre that has a name?
    SaysFibre,
    /// Does it take the difference of two stresses?
    TakesDifference,
    /// Does it do anything else than give this other name?
    UsesElsewhere { than: SmolStr },
    /// Does it look at a fibre of the section with the name?
    LooksAt {
        members: [&'static str; 2],
        distance: Evaluated,
    },
}

impl Question {
    /// The answer of one line in which the name stands.
    pub(super) fn is_so(&self, name: &SmolStr, line: Line<'_>) -> bool {
        match self {
            Question::SaysFibre => near_fibre::says_fibre(line),
            Question::TakesDifference => stress_sum::has_difference(line),
            Question::UsesElsewhere { than } => !matches!(&line.tree.statement,
                Statement::Value(value) if value.name.text == *than),
            Question::LooksAt { members, distance } => {
                near_fibre::looks_at(name, members, distance, line)
            }
        }
    }
}

/// What lints say of a line that they looked at together with others.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Looked {
    pub(crate) findings: Vec<Finding>,
    /// Names of its file that were looked behind and that the line neither gives nor uses.
    pub(crate) beyond: Vec<SmolStr>,
}

/// A question with the lines that answer yes.
#[derive(Debug, Clone)]
struct Asked {
    question: Question,
    yes: OrdSet<LineId>,
}

/// Everything that was asked, by the name that it is about.
#[derive(Debug, Clone, Default)]
pub(crate) struct Together {
    /// Lines that hang on a name that they neither give nor use.
    beyond: Map<Name, Lines>,
    asked: Map<Name, Arc<Vec<Asked>>>,
}

impl Together {
    /// Whether any line answers yes, if that was asked before.
    pub(super) fn answer(&self, name: &Name, question: &Question) -> Option<bool> {
        let mut asked = self.asked.get(name)?.iter();
        let known = asked.find(|asked| asked.question == *question)?;
        Some(!known.yes.is_empty())
    }

    /// Keeps a question with the lines that answer yes.
    pub(crate) fn keep(&mut self, name: Name, question: Question, yes: OrdSet<LineId>) {
        let asked = self.asked.entry(name).or_default();
        Arc::make_mut(asked).push(Asked { question, yes });
    }

    /// Forgets what was asked about the lines in which a name stands: the questions come from what the
    /// name stands for.
    pub(crate) fn forget_questions(&mut self, name: &Name) {
        if self.asked.contains_key(name) {
            self.asked.remove(name);
        }
    }

    pub(crate) fn is_nothing_asked(&self) -> bool {
        self.asked.is_empty()
    }

    /// Whether anything was asked about the lines in which a name stands.
    pub(crate) fn is_asked_about(&self, name: &Name) -> bool {
        self.asked.contains_key(name)
    }

    pub(crate) fn questions(&self, name: &Name) -> impl Iterator<Item = &Question> {
        let asked = self.asked.get(name).into_iter();
        asked.flat_map(|asked| asked.iter().map(|asked| &asked.question))
    }

    /// Enters the answers of a line to these questions; whether that changes what any line answers.
    pub(crate) fn answers(&mut self, name: &Name, line: LineId, answers: &[bool]) -> bool {
        let differs = |asked: &Arc<Vec<Asked>>| {
            let mut both = asked.iter().zip(answers);
            both.any(|(asked, is_so)| asked.yes.contains(&line) != *is_so)
        };
        if !self.asked.get(name).is_some_and(differs) {
            return false;
        }
        let Some(asked) = self.asked.get_mut(name) else {
            return false;
        };
        let mut is_other = false;
        for (asked, is_so) in Arc::make_mut(asked).iter_mut().zip(answers) {
            let was_empty = asked.yes.is_empty();
            if *is_so {
                asked.yes.insert(line);
            } else {
                asked.yes.remove(&line);
            }
            is_other |= was_empty != asked.yes.is_empty();
        }
        is_other
    }

    /// The lines that hang on a name that they neither give nor use.
    pub(crate) fn hanging_on(&self, name: &Name) -> &[LineId] {
        lines_of(&self.beyond, name)
    }

    pub(crate) fn enter(&mut self, file: FileId, line: LineId, looked: &Looked) {
        for name in &looked.beyond {
            insert(&mut self.beyond, (file, name.clone()), line);
        }
    }

    pub(crate) fn take_out(&mut self, file: FileId, line: LineId, looked: &Looked) {
        for name in &looked.beyond {
            remove(&mut self.beyond, &(file, name.clone()), line);
        }
    }
}
