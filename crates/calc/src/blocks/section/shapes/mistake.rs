//! What can be wrong with the words and sizes of a part's line.

use haunch_mechanics::section::ShapeProblem;
use haunch_mechanics::shapes::{SizeName, SizeProblem};
use haunch_syntax::{ExpressionId, Part, Tree};
use haunch_text::Span;

use super::form::Form;

/// Something wrong, and where on the line.
#[derive(Debug, Clone)]
pub(in crate::blocks::section) struct Mistake {
    pub(super) span: Span,
    pub(super) kind: MistakeKind,
}

#[derive(Debug, Clone)]
pub(super) enum MistakeKind {
    /// A shape that cannot be worked out.
    NotSupported,
    /// Another number of sizes than the shape has.
    Count(&'static Form),
    /// Another number of sizes than a word takes, and how it is written.
    DetailCount(&'static str),
    /// A word that the shape does not have.
    NoSuchDetail(&'static Form),
    /// A word that stands twice.
    Twice,
    /// A word that the shape needs, and how it is written.
    DetailMissing(&'static str),
    /// A size of zero or less.
    NotPositive(&'static Form, SizeName),
    /// The wall of a round tube is thicker than this radius, in m.
    Wall(f64),
    /// A size that is impossible with the others, and what it is called.
    Impossible(&'static str, SizeProblem),
    /// An outline that encloses nothing, or crosses itself.
    Outline(ShapeProblem),
    /// No rolled size has this designation.
    Designation,
    /// An angle without a unit: the number as written.
    AngleWithoutUnit,
    /// More than a full turn.
    MoreThanATurn,
    /// A polygon where its corners are, turned.
    TurnedInPlace,
}

impl Mistake {
    pub(super) fn new(span: Span, kind: MistakeKind) -> Mistake {
        Mistake { span, kind }
    }

    pub(super) fn outline(part: &Part, problem: ShapeProblem) -> Mistake {
        Mistake::new(part.name.span, MistakeKind::Outline(problem))
    }
}

/// Where an expression stands in its line.
pub(super) fn span_of(tree: &Tree, id: ExpressionId) -> Span {
    let expression = tree.expressions.get(id.0 as usize);
    expression.map_or(Span::default(), |own| own.span)
}
