//! What a beam is: its length, its spans, supports and hinges.

use haunch_mechanics::beam::{Support, SupportKind};
use haunch_quantity::typed::{ForcePerLength, Length, Typed};
use haunch_quantity::{Dimension, Unit};
use haunch_syntax::{Statement, ValueBody};
use smol_str::SmolStr;

use super::reading::{Extent, Lines, Reading, listed};
use crate::findings;
use crate::line::LineId;
use crate::outcome::Meaning;

/// A support of a beam.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamSupport {
    /// The name that its line gives it.
    pub name: Option<SmolStr>,
    /// Its line; none for one that stands where no support line was written.
    pub line: Option<LineId>,
    /// Place and kind.
    pub support: Support,
}

/// A hinge of a beam.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamHinge {
    /// Its line.
    pub line: LineId,
    /// Distance from the start.
    pub at: Length,
}

/// The geometry of a beam, everything in order from its start.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Geometry {
    pub(super) extent: Extent,
    /// Ends of the spans of the `spans` line, from 0 to the length; none with `length`.
    pub(super) span_ends: Option<Vec<f64>>,
    pub(super) supports: Vec<BeamSupport>,
    /// Supports that hold the beam sideways only.
    pub(super) sideways: Vec<BeamSupport>,
    pub(super) hinges: Vec<BeamHinge>,
    /// Whether all supports and hinges are known.
    pub(super) is_known: bool,
}

/// A stretch of a beam between supports, or past the last one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bay {
    pub(super) from: f64,
    pub(super) to: f64,
    /// What `span` means there: its length, of an overhang twice its length.
    pub(super) span: f64,
}

impl Geometry {
    /// Reads length, supports and hinges. None without the length.
    pub(super) fn read(reading: &mut Reading<'_>, lines: &Lines<'_>) -> Option<Geometry> {
        let (extent, span_ends) = extent(reading, lines)?;
        let supports = reading.part(|reading| supports(reading, lines, &extent));
        let hinges = reading.part(|reading| hinges(reading, lines, &extent));
        let mut geometry = Geometry {
            is_known: supports.is_some() && hinges.is_some() && !lines.unclear_geometry,
            supports: Vec::new(),
            sideways: Vec::new(),
            hinges: hinges.unwrap_or_default(),
            extent,
            span_ends,
        };
        let (across, up): (Vec<_>, Vec<_>) = supports
            .unwrap_or_default()
            .into_iter()
            .partition(|(is_sideways, _)| *is_sideways);
        geometry.supports = up.into_iter().map(|(_, support)| support).collect();
        geometry.sideways = across.into_iter().map(|(_, support)| support).collect();
        let is_sideways = |line: &&super::super::context::BlockLine<'_>| matches!(&line.tree.statement, Statement::Support(own) if own.sideways.is_some());
        if lines.supports.iter().all(is_sideways) {
            geometry.hold_by_default();
        } else if geometry.is_known {
            geometry.hold_where_spans_meet(reading);
        }
        let x = |support: &BeamSupport| support.support.at.si();
        geometry.supports.sort_by(|a, b| x(a).total_cmp(&x(b)));
        let x = |hinge: &BeamHinge| hinge.at.si();
        geometry.hinges.sort_by(|a, b| x(a).total_cmp(&x(b)));
        Some(geometry)
    }

    /// Without a support line: a pin at the start and rollers at the other ends of spans. A support
    /// line that was tried and failed has taken the results already.
    fn hold_by_default(&mut self) {
        let whole = vec![0.0, self.extent.length];
        let ends = self.span_ends.as_ref().unwrap_or(&whole);
        let support = |(index, &at): (usize, &f64)| BeamSupport {
            name: None,
            line: None,
            support: Support {
                at: Length::from_si(at),
                kind: if index == 0 {
                    SupportKind::Pin
                } else {
                    SupportKind::Roller
                },
            },
        };
        self.supports = ends.iter().enumerate().map(support).collect();
    }

    /// With support lines, each place where spans meet has its own.
    fn hold_where_spans_meet(&mut self, reading: &mut Reading<'_>) {
        let ends = self.span_ends.as_deref().unwrap_or(&[]);
        let inner = ends.get(1..ends.len().saturating_sub(1)).unwrap_or(&[]);
        for &end in inner {
            let stands = |s: &BeamSupport| self.extent.is_same(s.support.at.si(), end);
            if !self.supports.iter().any(stands) {
                let context = reading.context;
                let at = reading.place_text(end, &self.extent);
                reading.refuse(findings::mechanism::support_missing(
                    context.name_place(),
                    &context.name(),
                    &at,
                ));
                self.is_known = false;
            }
        }
    }

    /// Where a span begins and ends, by its number from 1; what is wrong where there is none.
    pub(super) fn span(&self, number: &str) -> Result<(f64, f64), String> {
        let Some(ends) = &self.span_ends else {
            return Err(
                "spans have numbers where the beam is given by spans = …. Write throughout, or \
                 from and to."
                    .to_owned(),
            );
        };
        let count = ends.len() - 1;
        let index = number.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
        let found = index.and_then(|index| Some((*ends.get(index)?, *ends.get(index + 1)?)));
        found.ok_or_else(|| {
            let spans = if count == 1 { "span" } else { "spans" };
            format!("there is no span {number}: the beam has {count} {spans}, from 1.")
        })
    }

    /// The stretches between supports and past the outer ones.
    pub(super) fn bays(&self) -> Vec<Bay> {
        let extent = &self.extent;
        let mut bays = Vec::new();
        let places: Vec<f64> = self.supports.iter().map(|s| s.support.at.si()).collect();
        let (Some(&first), Some(&last)) = (places.first(), places.last()) else {
            return bays;
        };
        if !extent.is_same(first, 0.0) {
            bays.push(Bay {
                from: 0.0,
                to: first,
                span: 2.0 * first,
            });
        }
        for pair in places.windows(2) {
            if let [from, to] = *pair {
                bays.push(Bay {
                    from,
                    to,
                    span: to - from,
                });
            }
        }
        if !extent.is_same(last, extent.length) {
            bays.push(Bay {
                from: last,
                to: extent.length,
                span: 2.0 * (extent.length - last),
            });
        }
        bays
    }
}

/// The whole length, and the ends of the spans where they are listed.
fn extent(reading: &mut Reading<'_>, lines: &Lines<'_>) -> Option<(Extent, Option<Vec<f64>>)> {
    let context = reading.context;
    let field = |name: &str| {
        lines.fields.iter().find_map(|line| {
            let Statement::Value(value) = &line.tree.statement else {
                return None;
            };
            (value.name.text == name).then_some((*line, value))
        })
    };
    if let (Some((length, _)), Some((spans, _))) = (field("length"), field("spans")) {
        let finding = findings::missing_length::twice(length.whole(), spans.whole());
        reading.refuse(finding);
        return None;
    }
    let Some((line, value)) = field("length").or(field("spans")) else {
        // A line that was tried and failed is no missing line.
        if !lines.says_length {
            let finding = findings::missing_length::finding(context.name_place(), &context.name());
            reading.refuse(finding);
        }
        reading.is_incomplete();
        return None;
    };
    let Meaning::Value(named) = &line.outcome.meaning else {
        reading.is_incomplete();
        return None;
    };
    let evaluated = &named.evaluated;
    let Some(lengths) = listed(evaluated.kind, evaluated.value.as_ref()) else {
        reading.is_incomplete();
        return None;
    };
    let name = value.name.text.as_str();
    let mut ends = vec![0.0];
    let mut end = 0.0;
    for (index, length) in lengths.iter().enumerate() {
        if length.dimension() != Dimension::LENGTH {
            reading.is_incomplete();
            return None;
        }
        if length.si() <= 0.0 {
            let place = match &value.body {
                ValueBody::List(ids) => ids.get(index).map(|id| line.place(line.span(*id))),
                _ => None,
            };
            reading.refuse(findings::impossible_value::not_positive(
                place.unwrap_or(line.whole()),
                name,
            ));
            return None;
        }
        end += length.si();
        ends.push(end);
    }
    if !(end.is_finite() && end > 0.0) {
        reading.refuse(findings::not_accurate::beam(
            context.name_place(),
            &context.name(),
        ));
        return None;
    }
    let extent = Extent {
        length: end,
        unit: named.unit.clone().or_else(|| first_unit(line, value)),
    };
    Some((extent, (name == "spans").then_some(ends)))
}

/// The unit of the first span as written.
fn first_unit(
    line: &super::super::context::BlockLine<'_>,
    value: &haunch_syntax::Value,
) -> Option<Unit> {
    let ValueBody::List(ids) = &value.body else {
        return None;
    };
    let expression = line.tree.expressions.get(ids.first()?.0 as usize)?;
    match &expression.kind {
        haunch_syntax::ExpressionKind::Literal(literal) => {
            crate::expression::literal::written_unit(literal)
        }
        _ => None,
    }
}

/// The supports of the lines, each with whether it holds the beam sideways only.
fn supports(
    reading: &mut Reading<'_>,
    lines: &Lines<'_>,
    extent: &Extent,
) -> Vec<(bool, BeamSupport)> {
    let mut supports = Vec::new();
    for line in &lines.supports {
        let Statement::Support(support) = &line.tree.statement else {
            continue;
        };
        let kind = match support.kind.text.as_str() {
            "pin" => Some(SupportKind::Pin),
            "roller" => Some(SupportKind::Roller),
            "fixed" => Some(SupportKind::Fixed),
            "spring" => spring(reading, line, support),
            other => {
                let place = line.place(support.kind.span);
                reading.refuse(findings::unknown_support::finding(place, other));
                None
            }
        };
        let at = reading.position(line, &support.at, extent);
        if let (Some(kind), Some(at)) = (kind, at) {
            let own = BeamSupport {
                name: support.name.as_ref().map(|name| name.text.clone()),
                line: Some(line.id),
                support: Support {
                    at: Length::from_si(at),
                    kind,
                },
            };
            supports.push((support.sideways.is_some(), own));
        }
    }
    supports
}

fn spring(
    reading: &mut Reading<'_>,
    line: &super::super::context::BlockLine<'_>,
    support: &haunch_syntax::Support,
) -> Option<SupportKind> {
    let Some(id) = support.stiffness else {
        reading.refuse(findings::missing_property::stiffness(
            line.place(support.kind.span),
        ));
        return None;
    };
    let stiffness = reading.quantity(line, id, Dimension::FORCE_PER_LENGTH)?;
    if stiffness.si() <= 0.0 {
        reading.refuse(findings::impossible_value::not_positive(
            line.place(line.span(id)),
            "the stiffness of a spring",
        ));
        return None;
    }
    Some(SupportKind::Spring(ForcePerLength::from_si(stiffness.si())))
}

fn hinges(reading: &mut Reading<'_>, lines: &Lines<'_>, extent: &Extent) -> Vec<BeamHinge> {
    let mut hinges = Vec::new();
    for line in &lines.hinges {
        if let Statement::Hinge(position) = &line.tree.statement
            && let Some(at) = reading.position(line, position, extent)
        {
            hinges.push(BeamHinge {
                line: line.id,
                at: Length::from_si(at),
            });
        }
    }
    hinges
}
