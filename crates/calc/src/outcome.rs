//! What was computed from one line.

use std::sync::{Arc, LazyLock};

use haunch_quantity::Unit;
use smol_str::SmolStr;

use crate::blocks::BlockMeaning;
use crate::finding::Finding;
use crate::line::{FileId, LineId};
use crate::value::Evaluated;

/// One use of a name.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Read {
    /// The file whose name it is.
    pub(crate) file: FileId,
    /// The names from that file's name on.
    pub(crate) names: Vec<SmolStr>,
    /// The file and name of the `use` line that leads there.
    pub(crate) through: Option<(FileId, SmolStr)>,
    /// The line whose result it is; none where the name has no single definition.
    pub(crate) provider: Option<LineId>,
}

impl Read {
    /// The names whose definitions decide what this is.
    pub(crate) fn keys(&self) -> impl Iterator<Item = (FileId, SmolStr)> {
        let first = self.names.first().map(|name| (self.file, name.clone()));
        first.into_iter().chain(self.through.clone())
    }

    /// A block and its member, where what is used may be one line of a block.
    pub(crate) fn member_key(&self) -> Option<(FileId, SmolStr, SmolStr)> {
        match self.names.as_slice() {
            [block, member, ..] => Some((self.file, block.clone(), member.clone())),
            _ => None,
        }
    }
}

/// What a line means to the lines that use it.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    /// Nothing: a blank line, a note, or a line that could not be read.
    Nothing,
    /// A value or a field of a block.
    Value(Box<NamedValue>),
    /// A formula with arguments: equal when its text is.
    Formula(Arc<str>),
    /// A line of a block: the values of its expressions, from which the block is computed.
    Line(Arc<[Evaluated]>),
    /// A whole block.
    Block(Arc<BlockMeaning>),
    /// A file that a `use` line names: whether its text is known.
    File(FileId, bool),
    /// A condition that must hold.
    Check(Check),
}

/// The value of a value line or field.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedValue {
    /// Kind and value.
    pub evaluated: Evaluated,
    /// The unit in which the line asks to show it, or in which it was written.
    pub unit: Option<Unit>,
    /// The unit was asked for with brackets.
    pub unit_asked: bool,
    /// The capacity search behind it.
    pub capacity: Option<Arc<Capacity>>,
}

/// The result of a `largest` or `smallest` line: what governs.
#[derive(Debug, Clone, PartialEq)]
pub struct Capacity {
    /// The check that limits it, e.g. `hoist.tension`.
    pub governing: String,
    /// The place and point, in words.
    pub place: Option<String>,
    /// The combination.
    pub combination: Option<String>,
}

/// A condition that must hold: a limit, a `verify` or an `expect`.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// `tension`, `compression`, `shear`, `deflection`, `verify`, `expect`.
    pub kind: &'static str,
    /// The full name, e.g. `hoist.tension` or `hoist.tension.2`.
    pub name: String,
    /// Demand over limit; none where it could not be computed or has no sense.
    pub utilisation: Option<f64>,
    /// Whether it holds; none where it could not be computed.
    pub holds: Option<bool>,
    /// The governing point and place, in words.
    pub place: Option<String>,
    /// What was compared, as text with units, e.g. `41.2 MPa <= 165 MPa`.
    pub text: String,
    /// The line that states it.
    pub line: LineId,
}

/// What was computed from one line: everything that readers need.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Findings of the line; of a whole block for a heading (their places say which line).
    pub findings: Vec<Finding>,
    /// Kind and value of each expression of the line's tree, by its id.
    pub expressions: Arc<[Evaluated]>,
    /// What it means to others.
    pub meaning: Meaning,
}

impl Outcome {
    /// An outcome of a line that says nothing.
    pub(crate) fn unknown() -> Arc<Outcome> {
        static UNKNOWN: LazyLock<Arc<Outcome>> = LazyLock::new(|| {
            Arc::new(Outcome {
                findings: Vec::new(),
                expressions: Arc::default(),
                meaning: Meaning::Nothing,
            })
        });
        UNKNOWN.clone()
    }
}
