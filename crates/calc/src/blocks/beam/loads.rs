//! What acts on a beam: the loads of each case in SI units.

use std::collections::BTreeMap;

use haunch_mechanics::beam::{Load as Action, Sense as Turn};
use haunch_quantity::typed::{Curvature, Force, ForcePerLength, Length, Moment, Typed};
use haunch_quantity::{Dimension, Quantity, STANDARD_ACCELERATION_OF_FREE_FALL};
use haunch_syntax::{ExpressionId, Load, LoadKind, LoadPlace, Sense, Statement};
use haunch_text::Span;
use smol_str::SmolStr;

use super::super::context::BlockLine;
use super::reading::{Lines, Reading};
use super::stretches::Sections;
use super::structure::{Bay, BeamSupport, Geometry};
use crate::finding::Place;
use crate::findings;
use crate::line::LineId;
use crate::value::Kind;

/// The loads of one case.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct CaseLoads {
    pub(super) actions: Vec<Action>,
    /// The line of each action.
    pub(super) lines: Vec<LineId>,
    /// Where the first line names the case.
    pub(super) named: Option<Place>,
    /// What the case's only line says, as it is written; none for several lines, and for self
    /// weight and varying loads.
    pub(super) magnitude: Option<Quantity>,
    /// Lines whose load acts on whichever spans are worst, with the load of each span.
    pub(super) on_any_spans: Vec<(LineId, Vec<Action>)>,
}

/// A load of one intensity parted into those of the spans and overhangs.
fn on_each_span(geometry: &Geometry, actions: &[Action]) -> Option<Vec<Action>> {
    let [
        Action::Distributed {
            down_at_from,
            down_at_to,
            ..
        },
    ] = actions
    else {
        return None;
    };
    if down_at_from != down_at_to {
        return None;
    }
    let on = |bay: Bay| Action::Distributed {
        from: Length::from_si(bay.from),
        to: Length::from_si(bay.to),
        down_at_from: *down_at_from,
        down_at_to: *down_at_to,
    };
    Some(geometry.bays().into_iter().map(on).collect())
}

/// Where a load acts along the beam, in m.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Reach {
    At(f64),
    Along(f64, f64),
}

/// Reads the loads by their case. A load that cannot be told takes the beam's results.
pub(super) fn read<'a>(
    reading: &mut Reading<'a>,
    lines: &Lines<'a>,
    geometry: &Geometry,
    sections: Option<&Sections>,
) -> BTreeMap<SmolStr, CaseLoads> {
    let mut cases: BTreeMap<SmolStr, CaseLoads> = BTreeMap::new();
    for line in &lines.loads {
        let Statement::Load(load) = &line.tree.statement else {
            continue;
        };
        let case = cases.entry(load.case.text.clone()).or_default();
        let is_first = case.named.is_none();
        case.named.get_or_insert(line.place(load.case.span));
        let mut load_line = LoadLine {
            reading: &mut *reading,
            line,
            load,
            geometry,
            sections,
        };
        let Some((actions, magnitude)) = load_line.actions() else {
            reading.is_incomplete();
            continue;
        };
        if let LoadPlace::AnySpans(span) = load.place {
            match on_each_span(geometry, &actions) {
                Some(spans) => case.on_any_spans.push((line.id, spans)),
                None => {
                    let finding = findings::place::not_on_any_spans(line.place(span));
                    reading.refuse(finding);
                }
            }
        } else {
            case.lines.extend(actions.iter().map(|_| line.id));
            case.actions.extend(actions);
        }
        case.magnitude = magnitude.filter(|_| is_first);
    }
    cases
}

struct LoadLine<'r, 'a> {
    reading: &'r mut Reading<'a>,
    line: &'r BlockLine<'a>,
    load: &'r Load,
    geometry: &'r Geometry,
    sections: Option<&'r Sections>,
}

impl LoadLine<'_, '_> {
    /// What the line puts on the beam, and its magnitude as written.
    fn actions(&mut self) -> Option<(Vec<Action>, Option<Quantity>)> {
        match self.load.kind {
            LoadKind::SelfWeight(span) => Some((self.self_weight(span)?, None)),
            LoadKind::Varying(from, to) => Some((vec![self.varying(from, to)?], None)),
            LoadKind::Quantity(id) => {
                let (kind, magnitude) = self.kind_and_value(id)?;
                if kind == Dimension::TEMPERATURE {
                    return Some((self.warmth(id, magnitude)?, Some(magnitude)));
                }
                let action = match kind {
                    Dimension::LENGTH => self.settlement(id, magnitude),
                    Dimension::FORCE => self.force(id, magnitude),
                    Dimension::MOMENT => self.couple(id, magnitude),
                    Dimension::FORCE_PER_LENGTH | Dimension::STRESS => {
                        self.distributed(id, (id, magnitude), (id, magnitude))
                    }
                    other => {
                        self.mismatch(id, other, self.wanted());
                        None
                    }
                }?;
                Some((vec![action], Some(magnitude)))
            }
        }
    }

    /// Dimension and value of a load. The literal 0 is of the kind that its place takes.
    fn kind_and_value(&mut self, id: ExpressionId) -> Option<(Dimension, Quantity)> {
        let evaluated = self.line.evaluated(id);
        let dimension = match evaluated.kind {
            Kind::Quantity(dimension) => dimension,
            Kind::Zero if self.load.sense.is_some() => Dimension::MOMENT,
            Kind::Zero => self.wanted(),
            Kind::Unknown => return None,
            kind => {
                let place = self.line.place(self.line.span(id));
                let source = self.line.source(id);
                self.reading
                    .refuse(findings::not_a_quantity::finding(place, source, kind));
                return None;
            }
        };
        match evaluated.as_dimension(dimension) {
            Some(quantity) => Some((dimension, quantity)),
            // The dimension is checked all the same.
            None => {
                if !matches!(
                    dimension,
                    Dimension::FORCE
                        | Dimension::MOMENT
                        | Dimension::FORCE_PER_LENGTH
                        | Dimension::STRESS
                        | Dimension::LENGTH
                        | Dimension::TEMPERATURE
                ) {
                    self.mismatch(id, dimension, self.wanted());
                }
                None
            }
        }
    }

    /// The dimension that the load's place asks for.
    fn wanted(&self) -> Dimension {
        match self.load.place {
            LoadPlace::At(_) | LoadPlace::Unsaid => Dimension::FORCE,
            _ => Dimension::FORCE_PER_LENGTH,
        }
    }

    fn place_of(&self, id: ExpressionId) -> Place {
        self.line.place(self.line.span(id))
    }

    fn mismatch(&mut self, id: ExpressionId, found: Dimension, wanted: Dimension) {
        let what = match self.load.place {
            LoadPlace::At(_) => "a load at a place",
            LoadPlace::Throughout(_) => "a load throughout",
            LoadPlace::Stretch(..) => "a load along a stretch",
            LoadPlace::Span(_) | LoadPlace::AnySpans(_) => "a load on a span",
            LoadPlace::Unsaid => "a load",
        };
        let finding = findings::unit_mismatch::needed(
            self.place_of(id),
            self.line.source(id),
            found,
            wanted,
            what,
        );
        self.reading.refuse(finding);
    }

    /// Down is positive.
    fn sign(&self) -> f64 {
        if self.load.up.is_some() { -1.0 } else { 1.0 }
    }

    fn without_sense(&mut self, what: &str) -> Option<()> {
        match self.load.sense {
            None => Some(()),
            Some((_, span)) => {
                let place = self.line.place(span);
                self.reading.refuse(findings::sense::not_for(place, what));
                None
            }
        }
    }

    fn without_tributary(&mut self, what: &str) -> Option<()> {
        match self.load.tributary {
            None => Some(()),
            Some(width) => {
                let place = self.place_of(width);
                self.reading.refuse(findings::tributary::wrong(place, what));
                None
            }
        }
    }

    fn without_up(&mut self, message: &str) -> Option<()> {
        match self.load.up {
            None => Some(()),
            Some(span) => {
                let place = self.line.place(span);
                self.reading.refuse(findings::place::wrong(place, message));
                None
            }
        }
    }

    /// Where the load acts; none where that is not said or not known.
    fn reach(&mut self) -> Option<Reach> {
        let extent = &self.geometry.extent;
        match &self.load.place {
            LoadPlace::Unsaid => None,
            LoadPlace::At(position) => self
                .reading
                .position(self.line, position, extent)
                .map(Reach::At),
            LoadPlace::Throughout(_) | LoadPlace::AnySpans(_) => {
                Some(Reach::Along(0.0, extent.length))
            }
            LoadPlace::Stretch(from, to) => {
                let start = self.reading.position(self.line, from, extent);
                let end = self.reading.position(self.line, to, extent);
                let (start, end) = (start?, end?);
                if end <= start || extent.is_same(start, end) {
                    let place = self.line.place(from.span.cover(to.span));
                    self.reading.refuse(findings::place::wrong(
                        place,
                        "a stretch ends after it begins: write the nearer place first.",
                    ));
                    return None;
                }
                Some(Reach::Along(start, end))
            }
            LoadPlace::Span(number) => self.span(&number.text, number.span),
        }
    }

    fn span(&mut self, number: &str, written: Span) -> Option<Reach> {
        match self.geometry.span(number) {
            Ok((from, to)) => Some(Reach::Along(from, to)),
            Err(message) => {
                let place = self.line.place(written);
                self.reading.refuse(findings::place::wrong(place, message));
                None
            }
        }
    }

    fn force(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
        self.without_sense("a force")?;
        self.without_tributary("a force")?;
        if self.load.place == LoadPlace::Unsaid {
            let finding = findings::place::missing_at(self.place_of(id), "a force");
            self.reading.refuse(finding);
            return None;
        }
        match self.reach()? {
            Reach::At(at) => Some(Action::Force {
                at: Length::from_si(at),
                down: Force::from_si(self.sign() * magnitude.si()),
            }),
            Reach::Along(..) => {
                self.mismatch(id, Dimension::FORCE, Dimension::FORCE_PER_LENGTH);
                None
            }
        }
    }

    fn couple(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
        const SENSES: [Sense; 2] = [Sense::Clockwise, Sense::Anticlockwise];
        self.without_tributary("a couple")?;
        self.without_up(
            "up is for loads that act down or up. A couple is clockwise or anticlockwise.",
        )?;
        let place = self.place_of(id);
        let sense = match self.load.sense {
            Some((Sense::Clockwise, _)) => Turn::Clockwise,
            Some((Sense::Anticlockwise, _)) => Turn::Anticlockwise,
            Some((_, span)) => {
                let place = self.line.place(span);
                self.reading
                    .refuse(findings::sense::wrong(place, "a couple", &SENSES));
                return None;
            }
            None => {
                self.reading
                    .refuse(findings::sense::missing(place, "a couple", &SENSES));
                return None;
            }
        };
        if magnitude.si() < 0.0 {
            self.reading
                .refuse(findings::sense::negative(place, self.line.source(id)));
            return None;
        }
        if self.load.place == LoadPlace::Unsaid {
            self.reading
                .refuse(findings::place::missing_at(place, "a couple"));
            return None;
        }
        match self.reach()? {
            Reach::At(at) => Some(Action::Couple {
                at: Length::from_si(at),
                moment: Moment::from_si(magnitude.si()),
                sense,
            }),
            Reach::Along(..) => {
                self.mismatch(id, Dimension::MOMENT, Dimension::FORCE_PER_LENGTH);
                None
            }
        }
    }

    /// How far the ground under a support goes down.
    fn settlement(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
        self.without_sense("a settlement")?;
        self.without_tributary("a settlement")?;
        let place = self.place_of(id);
        let Reach::At(at) = (match self.load.place {
            LoadPlace::At(_) => self.reach()?,
            _ => {
                let finding = findings::place::no_support(place, self.line.source(id));
                self.reading.refuse(finding);
                return None;
            }
        }) else {
            return None;
        };
        if !self.geometry.is_known {
            return None;
        }
        let extent = &self.geometry.extent;
        let stands = |support: &BeamSupport| extent.is_same(support.support.at.si(), at);
        let Some(support) = self.geometry.supports.iter().position(stands) else {
            let finding = findings::place::no_support(place, self.line.source(id));
            self.reading.refuse(finding);
            return None;
        };
        Some(Action::Settlement {
            support,
            down: Length::from_si(self.sign() * magnitude.si()),
        })
    }

    /// A temperature difference over the depth. Nothing holding it, the beam would take up the
    /// curvature α·ΔT/h, sagging where the bottom is warmer (any textbook of strength of
    /// materials).
    fn warmth(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Vec<Action>> {
        const SENSES: [Sense; 2] = [Sense::TopWarmer, Sense::BottomWarmer];
        const WHAT: &str = "a temperature difference";
        self.without_tributary(WHAT)?;
        self.without_up("up is for loads that act down or up, not for a temperature difference.")?;
        let place = self.place_of(id);
        let sign = match self.load.sense {
            Some((Sense::TopWarmer, _)) => -1.0,
            Some((Sense::BottomWarmer, _)) => 1.0,
            Some((_, span)) => {
                let place = self.line.place(span);
                let finding = findings::sense::wrong(place, WHAT, &SENSES);
                self.reading.refuse(finding);
                return None;
            }
            None => {
                let finding = findings::sense::missing(place, WHAT, &SENSES);
                self.reading.refuse(finding);
                return None;
            }
        };
        if magnitude.si() < 0.0 {
            let finding = findings::sense::negative(place, self.line.source(id));
            self.reading.refuse(finding);
            return None;
        }
        if matches!(self.load.place, LoadPlace::At(_) | LoadPlace::Unsaid) {
            let finding = findings::place::missing_stretch_of(place, WHAT);
            self.reading.refuse(finding);
            return None;
        }
        let Reach::Along(start, end) = self.reach()? else {
            return None;
        };
        let sections = self.sections?;
        let mut actions = Vec::new();
        for stretch in &sections.stretches {
            let (from, to) = (start.max(stretch.from.si()), end.min(stretch.to.si()));
            if from >= to || self.geometry.extent.is_same(from, to) {
                continue;
            }
            let bent = sections.all.get(stretch.section)?;
            let Some(expansion) = bent.section.thermal_expansion else {
                let finding = findings::missing_property::thermal_expansion(place, &bent.name);
                self.reading.refuse(finding);
                return None;
            };
            let curvature = expansion.si() * magnitude.si() / bent.section.depth.si();
            actions.push(Action::Curvature {
                from: Length::from_si(from),
                to: Length::from_si(to),
                sagging: Curvature::from_si(sign * curvature),
            });
        }
        Some(actions)
    }

    /// A load per length from one intensity to another, or a load per area on a strip.
    fn distributed(
        &mut self,
        id: ExpressionId,
        from: (ExpressionId, Quantity),
        to: (ExpressionId, Quantity),
    ) -> Option<Action> {
        let on_strip = from.1.dimension() == Dimension::STRESS;
        self.without_sense("a load per length")?;
        if !on_strip {
            self.without_tributary("a load per length")?;
        }
        match self.load.place {
            LoadPlace::Unsaid => {
                let finding = findings::place::missing_stretch(self.place_of(id));
                self.reading.refuse(finding);
                return None;
            }
            LoadPlace::At(_) => {
                self.mismatch(id, from.1.dimension(), Dimension::FORCE);
                return None;
            }
            _ => {}
        }
        let width = if on_strip {
            Some(self.tributary(id)?)
        } else {
            None
        };
        let Reach::Along(start, end) = self.reach()? else {
            return None;
        };
        let down_at_from = self.per_length(from, width)?;
        let down_at_to = self.per_length(to, width)?;
        Some(Action::Distributed {
            from: Length::from_si(start),
            to: Length::from_si(end),
            down_at_from,
            down_at_to,
        })
    }

    fn per_length(
        &mut self,
        (id, intensity): (ExpressionId, Quantity),
        width: Option<Quantity>,
    ) -> Option<ForcePerLength> {
        let per_length = match width {
            None => intensity,
            Some(width) => match intensity.checked_multiply(width) {
                Ok(product) => product,
                Err(error) => {
                    let finding =
                        findings::no_value::finding(self.place_of(id), &error.to_string());
                    self.reading.refuse(finding);
                    return None;
                }
            },
        };
        Some(ForcePerLength::from_si(self.sign() * per_length.si()))
    }

    fn tributary(&mut self, id: ExpressionId) -> Option<Quantity> {
        let Some(width) = self.load.tributary else {
            let finding = findings::tributary::missing(self.place_of(id), self.line.source(id));
            self.reading.refuse(finding);
            return None;
        };
        let quantity = self.reading.quantity(self.line, width, Dimension::LENGTH)?;
        if quantity.si() <= 0.0 {
            let finding =
                findings::impossible_value::not_positive(self.place_of(width), "a tributary width");
            self.reading.refuse(finding);
            return None;
        }
        Some(quantity)
    }

    fn varying(&mut self, from: ExpressionId, to: ExpressionId) -> Option<Action> {
        let kinds = [from, to].map(|id| self.line.evaluated(id).kind);
        let dimension = kinds.iter().find_map(|kind| match kind {
            Kind::Quantity(dimension) => Some(*dimension),
            _ => None,
        });
        let dimension = dimension.unwrap_or(Dimension::FORCE_PER_LENGTH);
        if !matches!(dimension, Dimension::FORCE_PER_LENGTH | Dimension::STRESS) {
            let id = if matches!(kinds[0], Kind::Quantity(_)) {
                from
            } else {
                to
            };
            self.mismatch(id, dimension, Dimension::FORCE_PER_LENGTH);
            return None;
        }
        for (id, kind) in [from, to].into_iter().zip(kinds) {
            if let Kind::Quantity(found) = kind
                && found != dimension
            {
                self.mismatch(id, found, dimension);
                return None;
            }
        }
        let place = self
            .line
            .place(self.line.span(from).cover(self.line.span(to)));
        if matches!(self.load.place, LoadPlace::At(_)) {
            self.reading.refuse(findings::place::wrong(
                place,
                "a load that varies acts along a stretch: write throughout, or from and to.",
            ));
            return None;
        }
        if self.load.place == LoadPlace::Unsaid {
            self.reading.refuse(findings::place::missing_stretch(place));
            return None;
        }
        let first = self.reading.quantity(self.line, from, dimension)?;
        let last = self.reading.quantity(self.line, to, dimension)?;
        self.distributed(from, (from, first), (to, last))
    }

    /// The weight of the sections' own material all along the beam: density·area·g_n.
    fn self_weight(&mut self, span: Span) -> Option<Vec<Action>> {
        self.without_sense("self weight")?;
        self.without_tributary("self weight")?;
        self.without_up("self weight acts down.")?;
        if !matches!(
            self.load.place,
            LoadPlace::Unsaid | LoadPlace::Throughout(_)
        ) {
            let place = self.line.place(span);
            self.reading.refuse(findings::place::wrong(
                place,
                "self weight acts throughout. Leave its place out.",
            ));
            return None;
        }
        // A section without results has a finding of its own.
        let sections = self.sections?;
        let mut weights = Vec::new();
        for stretch in &sections.stretches {
            let bent = sections.all.get(stretch.section)?;
            let Some(mass) = bent.section.mass_per_length else {
                let place = self.line.place(span);
                let finding = findings::missing_property::density(place, &bent.name);
                self.reading.refuse(finding);
                return None;
            };
            let weight = ForcePerLength::from_si(mass.si() * STANDARD_ACCELERATION_OF_FREE_FALL);
            weights.push(Action::Distributed {
                from: stretch.from,
                to: stretch.to,
                down_at_from: weight,
                down_at_to: weight,
            });
        }
        Some(weights)
    }
}
