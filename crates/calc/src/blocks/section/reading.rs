//! The lines of a section: its parts with their sizes, and its points.

use haunch_quantity::{Quantity, format_quantity};
use haunch_syntax::{Name, Part, Point, Statement};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

use super::shapes::{self, SizedShape};
use crate::blocks::context::{BlockContext, BlockLine};
use crate::finding::{Finding, Place};
use crate::findings::part_places;

/// A part as its line says it.
pub(super) struct PartLine<'a> {
    pub(super) line: BlockLine<'a>,
    pub(super) part: &'a Part,
    /// None where a size is not known or not sound.
    pub(super) shape: Option<SizedShape>,
}

/// A point as its line says it.
pub(super) struct PointLine<'a> {
    pub(super) line: BlockLine<'a>,
    pub(super) point: &'a Point,
}

/// What was read of a section so far.
pub(super) struct Reading<'a> {
    pub(super) context: &'a BlockContext<'a>,
    pub(super) findings: Vec<Finding>,
    /// Whether every line is known and sound; otherwise the section has no results.
    pub(super) complete: bool,
    pub(super) parts: Vec<PartLine<'a>>,
    pub(super) points: Vec<PointLine<'a>>,
    by_name: FxHashMap<SmolStr, usize>,
    /// Names of lines that could not be read or are defined twice: nothing more is said of them.
    unclear: Vec<SmolStr>,
    /// A line could not be read so far as to know its name, which may be any.
    nameless: bool,
}

impl PartLine<'_> {
    pub(super) fn name(&self) -> &str {
        &self.part.name.text
    }

    pub(super) fn name_place(&self) -> Place {
        self.line.place(self.part.name.span)
    }
}

impl<'a> Reading<'a> {
    /// Reads every line under the heading.
    pub(super) fn new(context: &'a BlockContext<'a>) -> Reading<'a> {
        let mut reading = Reading {
            context,
            findings: Vec::new(),
            complete: true,
            parts: Vec::new(),
            points: Vec::new(),
            by_name: FxHashMap::default(),
            unclear: Vec::new(),
            nameless: false,
        };
        for &line in &context.lines {
            reading.line(line);
        }
        let numbered = reading.parts.iter().enumerate();
        reading.by_name = numbered
            .map(|(index, part)| (part.part.name.text.clone(), index))
            .collect();
        reading
    }

    /// Enters a finding that leaves the section without results.
    pub(super) fn refuse(&mut self, finding: Finding) {
        self.complete = false;
        self.findings.push(finding);
    }

    /// Whether the section could have lines that were not understood at all.
    pub(super) fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.unclear.is_empty() && !self.nameless
    }

    /// A quantity as findings print it.
    pub(super) fn text(&self, quantity: Option<Quantity>) -> String {
        quantity.map_or(String::new(), |quantity| {
            format_quantity(quantity, None, self.context.preferences)
        })
    }

    fn line(&mut self, line: BlockLine<'a>) {
        let statement = &line.tree.statement;
        if matches!(statement, Statement::Note(_) | Statement::Allow(_)) {
            return;
        }
        let is_twice = self.context.is_defined_twice(&line);
        if self.context.is_broken(&line) || is_twice {
            self.complete = false;
            match &line.cell.defines {
                Some((_, name)) => self.unclear.push(name.clone()),
                None => self.nameless |= matches!(statement, Statement::Broken { .. }),
            }
            return;
        }
        match statement {
            Statement::Part(part) => {
                let shape = self.shape(&line, part);
                self.complete &= shape.is_some();
                self.parts.push(PartLine { line, part, shape });
            }
            Statement::Point(point) => self.points.push(PointLine { line, point }),
            _ => self.complete = false,
        }
    }

    fn shape(&mut self, line: &BlockLine<'_>, part: &Part) -> Option<SizedShape> {
        let value = |id, dimension| line.quantity(id, dimension);
        match SizedShape::read(line.tree, &value) {
            Ok(shape) => Some(shape),
            Err(mistakes) => {
                for mistake in &mistakes {
                    let finding = shapes::told(mistake, line, part, self.context.preferences);
                    self.refuse(finding);
                }
                None
            }
        }
    }

    /// The part of a name; a finding where there is none for certain.
    pub(super) fn part_named(&mut self, line: &BlockLine<'_>, name: &Name) -> Option<usize> {
        if let Some(&index) = self.by_name.get(&name.text) {
            return Some(index);
        }
        if self.nameless || self.unclear.contains(&name.text) {
            self.complete = false;
            return None;
        }
        let place = line.place(name.span);
        let is_point = self
            .points
            .iter()
            .any(|own| own.point.name.text == name.text);
        let finding = if is_point {
            part_places::not_a_part(place, &name.text)
        } else {
            let mut names: Vec<&str> = self.parts.iter().map(PartLine::name).collect();
            names.sort_unstable();
            let section = self.context.name();
            part_places::unknown_part(place, &name.text, &section, names.into_iter())
        };
        self.refuse(finding);
        None
    }
}
