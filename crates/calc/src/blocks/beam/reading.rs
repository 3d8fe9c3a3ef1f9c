//! The lines of a beam by what they say, and what is found wrong while they are read.

use haunch_quantity::{Dimension, Quantity, Unit};
use haunch_syntax::{ExpressionId, Position, PositionKind, Statement};

use super::super::context::{BlockContext, BlockLine};
use super::super::limits::place_text;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::line::LineId;
use crate::value::{Kind, Value};

/// Reads the lines of one beam.
pub(super) struct Reading<'a> {
    pub(super) context: &'a BlockContext<'a>,
    pub(super) findings: Vec<Finding>,
    /// Every line among geometry, material, supports and loads is understood so far: otherwise the
    /// beam has no results.
    pub(super) complete: bool,
}

/// The lines of a beam by their kind, in the order of the file.
#[derive(Default)]
pub(super) struct Lines<'a> {
    pub(super) fields: Vec<&'a BlockLine<'a>>,
    pub(super) supports: Vec<&'a BlockLine<'a>>,
    pub(super) hinges: Vec<&'a BlockLine<'a>>,
    pub(super) stretches: Vec<&'a BlockLine<'a>>,
    pub(super) loads: Vec<&'a BlockLine<'a>>,
    pub(super) combinations: Vec<&'a BlockLine<'a>>,
    pub(super) limits: Vec<&'a BlockLine<'a>>,
    /// A line that is, or could have been meant as, a support, a hinge or the length is not
    /// understood: then nothing is said of how the beam is held.
    pub(super) unclear_geometry: bool,
    /// A line that begins with `limit` could not be read.
    pub(super) unreadable_limit: bool,
    /// A line gives the length or the spans, or was meant to.
    pub(super) says_length: bool,
    /// A line that is a combination, or was meant as one, is there. Then the default "all loads
    /// once" is off.
    pub(super) says_combination: bool,
}

/// The length of a beam, and the unit in which places along it are shown.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Extent {
    pub(super) length: f64,
    pub(super) unit: Option<Unit>,
}

/// Places closer than this share of the length are one place: they differ by rounding only.
const SAME_PLACE: f64 = 1e-12;

impl Extent {
    /// Whether two places are one.
    pub(super) fn is_same(&self, a: f64, b: f64) -> bool {
        (a - b).abs() <= SAME_PLACE * self.length
    }

    /// Whether a place is on the beam.
    pub(super) fn contains(&self, x: f64) -> bool {
        (-SAME_PLACE * self.length..=self.length * (1.0 + SAME_PLACE)).contains(&x)
    }
}

impl<'a> Reading<'a> {
    pub(super) fn new(context: &'a BlockContext<'a>) -> Reading<'a> {
        Reading {
            context,
            findings: Vec::new(),
            complete: true,
        }
    }

    /// The whole of a line.
    pub(super) fn line_place(&self, line: LineId) -> Place {
        let text = self.context.state.cell(line).map(|cell| &*cell.text);
        Place {
            line,
            span: super::super::whole_line(text.unwrap_or_default()),
        }
    }

    /// Something is wrong: the beam has no results.
    pub(super) fn refuse(&mut self, finding: Finding) {
        self.findings.push(finding);
        self.complete = false;
    }

    /// Something is not known for a reason that is told elsewhere: the beam has no results.
    pub(super) fn is_incomplete(&mut self) {
        self.complete = false;
    }

    /// Reads one part of the beam: what it gives, if everything in that part is known.
    pub(super) fn part<T>(&mut self, read: impl FnOnce(&mut Self) -> T) -> Option<T> {
        let before = std::mem::replace(&mut self.complete, true);
        let part = read(self);
        let known = self.complete;
        self.complete = before && known;
        known.then_some(part)
    }

    /// Sorts the lines. What is broken, or has no business in a beam, takes the results.
    pub(super) fn lines(&mut self) -> Lines<'a> {
        let context = self.context;
        let mut lines = Lines::default();
        for line in &context.lines {
            let statement = &line.tree.statement;
            match statement {
                Statement::Empty | Statement::Note(_) | Statement::Allow(_) => continue,
                Statement::Limit(_) => {
                    lines.limits.push(line);
                    continue;
                }
                Statement::Broken { keyword, name, .. } => {
                    let is = |word: &str| keyword.as_ref().is_some_and(|k| k.text == word);
                    let of_length = name.as_ref().or(keyword.as_ref());
                    lines.says_length |= of_length.is_some_and(|name| gives_length(&name.text));
                    lines.unreadable_limit |= is("limit");
                    lines.says_combination |= is("combination");
                    lines.unclear_geometry |= !["limit", "load", "combination"].into_iter().any(is);
                    self.complete &= is("limit");
                    continue;
                }
                Statement::Value(value) => lines.says_length |= gives_length(&value.name.text),
                Statement::Combination(_) => lines.says_combination = true,
                _ => {}
            }
            if context.is_broken(line) || context.is_defined_twice(line) {
                self.complete = false;
                lines.unclear_geometry |=
                    !matches!(statement, Statement::Load(_) | Statement::Combination(_));
                continue;
            }
            match statement {
                Statement::Value(_) => lines.fields.push(line),
                Statement::Support(_) => lines.supports.push(line),
                Statement::Hinge(_) => lines.hinges.push(line),
                Statement::SectionStretch(_) => lines.stretches.push(line),
                Statement::Load(_) => lines.loads.push(line),
                Statement::Combination(_) => lines.combinations.push(line),
                _ => self.complete = false,
            }
        }
        lines
    }

    /// An expression as a quantity of this dimension. Without one the beam has no results.
    pub(super) fn quantity(
        &mut self,
        line: &BlockLine<'_>,
        id: ExpressionId,
        dimension: Dimension,
    ) -> Option<Quantity> {
        let quantity = line.quantity(id, dimension);
        if quantity.is_none() {
            self.complete = false;
        }
        quantity
    }

    /// A place along the beam, in m from its start.
    pub(super) fn position(
        &mut self,
        line: &BlockLine<'_>,
        position: &Position,
        extent: &Extent,
    ) -> Option<f64> {
        let x = match position.kind {
            PositionKind::Start => 0.0,
            PositionKind::Middle => 0.5 * extent.length,
            PositionKind::End => extent.length,
            PositionKind::Distance(id) => self.quantity(line, id, Dimension::LENGTH)?.si(),
        };
        if !extent.contains(x) {
            let written = position.span.text(&line.cell.text);
            self.refuse(findings::place::outside(
                line.place(position.span),
                written,
                &self.place_text(extent.length, extent),
            ));
            return None;
        }
        Some(x)
    }

    /// A place along the beam in words.
    pub(super) fn place_text(&self, x: f64, extent: &Extent) -> String {
        place_text(x, extent.unit.as_ref(), self.context.preferences)
    }
}

/// Whether a field gives the length of a beam.
fn gives_length(field: &str) -> bool {
    matches!(field, "length" | "spans")
}

/// The quantities of a field that takes one or more.
pub(super) fn listed(kind: Kind, value: Option<&Value>) -> Option<Vec<Quantity>> {
    match (kind, value?) {
        (_, Value::List(quantities)) => Some(quantities.clone()),
        (Kind::Quantity(_), Value::Quantity(quantity)) => Some(vec![*quantity]),
        _ => None,
    }
}
