//! What a line is about, in a reviewer's words.

use haunch_syntax::{BlockKind, ExpressionKind, Statement, Tree, ValueBody};
use serde::Serialize;

/// What a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// A number, a text or a list that is given.
    Given,
    /// A part, point, support, hinge or length; which section a beam has.
    Geometry,
    /// A property of a material; which material a section has.
    Material,
    /// A load, or a force on a section.
    Load,
    /// A combination of load cases.
    Combination,
    /// A limit.
    Limit,
    /// A `verify` or `expect` line.
    Check,
    /// A formula.
    Formula,
    /// A search for the largest or smallest.
    Search,
    /// A result to be shown.
    Answer,
    /// A file that is used.
    File,
    /// Units and digits of results.
    Units,
    /// A finding that is allowed.
    Allowance,
    /// The head of the sheet, or a note: words that nothing is computed from.
    Words,
    /// A line that could not be read.
    Unread,
}

impl Subject {
    /// The subject of a line in a block of this kind.
    pub(crate) fn of(tree: &Tree, block: Option<BlockKind>) -> Subject {
        match &tree.statement {
            Statement::Value(value) => match (block, &value.body) {
                (Some(BlockKind::Sheet), _) => Subject::Words,
                (_, ValueBody::Search(_) | ValueBody::Sizing(_)) => Subject::Search,
                (Some(BlockKind::Forces), _) => Subject::Load,
                (Some(BlockKind::Material), _) => Subject::Material,
                (Some(BlockKind::Section | BlockKind::Beam), _) => Subject::Geometry,
                (None, ValueBody::Expression(id)) if !is_number(tree, id.0) => Subject::Formula,
                (None, _) => Subject::Given,
            },
            Statement::Formula(_) => Subject::Formula,
            Statement::Heading(heading) => match heading.kind {
                BlockKind::Sheet => Subject::Words,
                BlockKind::Material | BlockKind::Section => Subject::Material,
                BlockKind::Forces | BlockKind::Beam => Subject::Geometry,
            },
            Statement::Part(_)
            | Statement::Point(_)
            | Statement::Support(_)
            | Statement::Hinge(_)
            | Statement::SectionStretch(_) => Subject::Geometry,
            Statement::Load(_) => Subject::Load,
            Statement::Combination(_) => Subject::Combination,
            Statement::Limit(_) => Subject::Limit,
            Statement::Verify(_) | Statement::Expect(_) => Subject::Check,
            Statement::Answer(_) => Subject::Answer,
            Statement::ResultsIn(_) => Subject::Units,
            Statement::Use(_) => Subject::File,
            Statement::Allow(_) => Subject::Allowance,
            Statement::Note(_) | Statement::Empty => Subject::Words,
            Statement::Broken { .. } => Subject::Unread,
        }
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Subject::Given => "given",
            Subject::Geometry => "geometry",
            Subject::Material => "material",
            Subject::Load => "load",
            Subject::Combination => "combination",
            Subject::Limit => "limit",
            Subject::Check => "check",
            Subject::Formula => "formula",
            Subject::Search => "search",
            Subject::Answer => "answer",
            Subject::File => "file used",
            Subject::Units => "units shown",
            Subject::Allowance => "allowance",
            Subject::Words => "words",
            Subject::Unread => "not readable",
        }
    }
}

/// Whether an expression is one number as it is given, with or without a sign.
fn is_number(tree: &Tree, id: u32) -> bool {
    match tree.expressions.get(id as usize).map(|e| &e.kind) {
        Some(ExpressionKind::Literal(_)) => true,
        Some(ExpressionKind::Negate(inner)) => matches!(
            tree.expressions.get(inner.0 as usize).map(|e| &e.kind),
            Some(ExpressionKind::Literal(_))
        ),
        _ => false,
    }
}
