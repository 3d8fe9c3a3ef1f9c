//! What a block is computed from.

use std::sync::Arc;

use haunch_quantity::{Dimension, Preferences, Quantity};
use haunch_syntax::{ExpressionId, Heading, Path, Statement, Tree};
use haunch_text::Span;

use super::{BlockMeaning, Model};
use crate::expression::{Context, Locals};
use crate::finding::{Finding, Place, Severity};
use crate::line::LineId;
use crate::outcome::{Meaning, Outcome};
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::{Cell, State};
use crate::value::Evaluated;

/// A block's heading and lines with what was worked out for each.
pub(crate) struct BlockContext<'a> {
    pub(crate) state: &'a State,
    pub(crate) line: LineId,
    pub(crate) cell: &'a Cell,
    pub(crate) heading: &'a Heading,
    pub(crate) lines: Vec<BlockLine<'a>>,
    pub(crate) preferences: &'a Preferences,
}

/// One line of a block.
#[derive(Clone, Copy)]
pub(crate) struct BlockLine<'a> {
    pub(crate) id: LineId,
    pub(crate) cell: &'a Cell,
    pub(crate) tree: &'a Tree,
    pub(crate) outcome: &'a Outcome,
}

/// Why a block that another refers to gives nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ReferenceError {
    /// There is no such name; the heading's line has a finding.
    Undefined,
    /// It is there but has no results, or is broken: a finding stands elsewhere.
    Unknown,
    /// It is something else than what is needed.
    WrongKind,
}

impl<'a> BlockContext<'a> {
    /// The block that a line heads.
    pub(crate) fn of(
        state: &'a State,
        line: LineId,
        preferences: &'a Preferences,
    ) -> Option<BlockContext<'a>> {
        let cell = state.cell(line)?;
        let Statement::Heading(heading) = &cell.tree.statement else {
            return None;
        };
        if cell.tree.indented {
            return None;
        }
        let block_line = |id| {
            let cell = state.cell(id)?;
            Some(BlockLine {
                id,
                cell,
                tree: &cell.tree,
                outcome: &cell.outcome,
            })
        };
        let lines = state.lines_under(line).into_iter();
        Some(BlockContext {
            state,
            line,
            cell,
            heading,
            lines: lines.filter_map(block_line).collect(),
            preferences,
        })
    }

    /// The block's name.
    pub(crate) fn name(&self) -> smol_str::SmolStr {
        self.heading
            .name
            .as_ref()
            .map(|name| name.text.clone())
            .unwrap_or_default()
    }

    /// A place on the heading's line.
    pub(crate) fn heading_place(&self, span: Span) -> Place {
        Place {
            line: self.line,
            span,
        }
    }

    /// The place of the heading's name, or of the whole line where it has none.
    pub(crate) fn name_place(&self) -> Place {
        let span = self
            .heading
            .name
            .as_ref()
            .map_or(self.heading.keyword_span, |name| name.span);
        self.heading_place(span)
    }

    /// The block that a path names.
    pub(crate) fn reference(&self, path: &Path) -> Result<Arc<BlockMeaning>, ReferenceError> {
        let target = self.state.resolve(self.cell.file, &names_of(path)).target;
        match target {
            Target::Undefined => Err(ReferenceError::Undefined),
            Target::Block { heading, member } if member.is_empty() => {
                match self.state.cell(heading).map(|cell| &cell.outcome.meaning) {
                    Some(Meaning::Block(block)) => Ok(block.clone()),
                    _ => Err(ReferenceError::Unknown),
                }
            }
            Target::Several(_) | Target::Broken(_) | Target::FileMissing(_) => {
                Err(ReferenceError::Unknown)
            }
            _ => Err(ReferenceError::WrongKind),
        }
    }

    /// Whether a line could not be read, does not belong here, or has an error of its own.
    pub(crate) fn is_broken(&self, line: &BlockLine<'_>) -> bool {
        matches!(line.tree.statement, Statement::Broken { .. })
            || !line.tree.errors.is_empty()
            || line
                .outcome
                .findings
                .iter()
                .any(|finding| finding.severity == Severity::Error)
    }

    /// Whether a name of the block has more than one definition.
    pub(crate) fn is_defined_twice(&self, line: &BlockLine<'_>) -> bool {
        line.cell
            .defines
            .as_ref()
            .is_some_and(|(scope, name)| self.state.graph.definitions(*scope, name).len() > 1)
    }
}

impl BlockLine<'_> {
    /// Kind and value of one of the line's expressions.
    pub(crate) fn evaluated(&self, id: ExpressionId) -> Evaluated {
        self.outcome
            .expressions
            .get(id.0 as usize)
            .cloned()
            .unwrap_or(Evaluated::UNKNOWN)
    }

    /// The value of an expression, if it is a quantity of this dimension.
    pub(crate) fn quantity(&self, id: ExpressionId, dimension: Dimension) -> Option<Quantity> {
        self.evaluated(id).as_dimension(dimension)
    }

    /// The text of an expression as written.
    pub(crate) fn source(&self, id: ExpressionId) -> &str {
        self.span(id).text(&self.cell.text)
    }

    /// Where an expression stands in the line.
    pub(crate) fn span(&self, id: ExpressionId) -> Span {
        self.tree
            .expressions
            .get(id.0 as usize)
            .map_or(Span::default(), |e| e.span)
    }

    /// A place on this line.
    pub(crate) fn place(&self, span: Span) -> Place {
        Place {
            line: self.id,
            span,
        }
    }

    /// The whole line without surrounding white space.
    pub(crate) fn whole(&self) -> Place {
        self.place(super::whole_line(&self.cell.text))
    }

    /// Works the line's expressions out again with names that only the block knows, such as
    /// `span` in a limit or a load case in a combination. Findings are those of this second
    /// reading: only values can be new, since the dimensions were checked with the line.
    pub(crate) fn evaluate_with(
        &self,
        block: &BlockContext<'_>,
        locals: &Locals,
    ) -> (Vec<Evaluated>, Vec<Finding>) {
        let mut context = Context::new(block.state, self.id, self.cell, block.preferences, locals);
        context.evaluate();
        let roots: Vec<ExpressionId> = crate::roots::of(&self.tree.statement);
        context.report_failures(&roots);
        (context.evaluated, context.findings)
    }
}

impl BlockMeaning {
    /// A block without results: kinds only.
    pub(crate) fn unknown(context: &BlockContext<'_>) -> BlockMeaning {
        BlockMeaning::without_results(context.heading.kind, context.name())
    }

    /// The model of a section.
    pub(crate) fn as_section(&self) -> Option<&super::SectionModel> {
        match &self.model {
            Some(Model::Section(section)) => Some(section),
            _ => None,
        }
    }

    /// The model of a material.
    pub(crate) fn as_material(&self) -> Option<&super::MaterialModel> {
        match &self.model {
            Some(Model::Material(material)) => Some(material),
            _ => None,
        }
    }
}
