//! The lines of a section: its parts with their sizes, and its points.

use haunch_quantity::{Dimension, Quantity, format_quantity};
use haunch_syntax::{Name, Part, Point, Statement};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

use super::shapes::{ShapeKind, SizedShape};
use crate::blocks::context::{BlockContext, BlockLine};
use crate::finding::{Finding, Place};
use crate::findings::{not_supported, part_places, shape_sizes};

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
        let name = &part.name.text;
        let Some(kind) = ShapeKind::from_words(&part.shape.text) else {
            let place = line.place(part.shape.span);
            let what = format!("the shape {}", part.shape.text);
            self.refuse(not_supported::finding(place, &what));
            return None;
        };
        let names = kind.size_names();
        if part.sizes.len() != names.len() {
            let spans = part.sizes.iter().map(|size| line.span(*size));
            let span = spans.reduce(haunch_text::Span::cover);
            let place = line.place(span.unwrap_or(part.name.span));
            self.refuse(shape_sizes::count(place, name, &kind.written(name)));
            return None;
        }
        let mut sizes = Vec::with_capacity(names.len());
        for (id, what) in part.sizes.iter().zip(names) {
            let Some(size) = line.quantity(*id, Dimension::LENGTH) else {
                continue;
            };
            if size.si() <= 0.0 {
                let place = line.place(line.span(*id));
                self.refuse(shape_sizes::not_positive(place, what, name));
            } else {
                sizes.push(size);
            }
        }
        let shape = SizedShape::new(kind, &sizes)?;
        if kind == ShapeKind::RoundTube
            && let [diameter, wall] = sizes.as_slice()
            && wall.si() > diameter.si() / 2.0 * (1.0 + 1e-12)
        {
            let radius = Quantity::new(diameter.si() / 2.0, Dimension::LENGTH);
            let span = part
                .sizes
                .get(1)
                .map_or(part.name.span, |id| line.span(*id));
            let radius = self.text(radius);
            self.refuse(shape_sizes::wall(line.place(span), name, &radius));
            return None;
        }
        Some(shape)
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
