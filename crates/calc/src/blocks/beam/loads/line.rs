//! One line of a load: what it puts on the beam.

use haunch_mechanics::beam::Load as Action;
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, Load, LoadKind, LoadPlace, Sideways};

use super::super::super::context::BlockLine;
use super::super::reading::Reading;
use super::super::stretches::Sections;
use super::super::structure::Geometry;
use crate::finding::Place;
use crate::findings;
use crate::statements::expected::of_sense;
use crate::value::Kind;

pub(super) struct LoadLine<'r, 'a> {
    pub(super) reading: &'r mut Reading<'a>,
    pub(super) line: &'r BlockLine<'a>,
    pub(super) load: &'r Load,
    pub(super) geometry: &'r Geometry,
    pub(super) sections: Option<&'r Sections>,
}

impl LoadLine<'_, '_> {
    /// What the line puts on the beam, and its magnitude as written.
    pub(super) fn actions(&mut self) -> Option<(Vec<Action>, Option<Quantity>)> {
        match self.load.kind {
            LoadKind::SelfWeight(span) => Some((self.self_weight(span)?, None)),
            // Wheels are read by themselves.
            LoadKind::Wheels(_) => None,
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
    pub(super) fn kind_and_value(&mut self, id: ExpressionId) -> Option<(Dimension, Quantity)> {
        let evaluated = self.line.evaluated(id);
        let dimension = match evaluated.kind {
            Kind::Quantity(dimension) => {
                self.fits_its_sense(id, dimension)?;
                dimension
            }
            Kind::Zero => match self.load.sense {
                Some((sense, _)) => of_sense(sense).unwrap_or(Dimension::MOMENT),
                None => self.wanted(),
            },
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
            LoadPlace::At(_) | LoadPlace::Moving { .. } | LoadPlace::Unsaid => Dimension::FORCE,
            _ => Dimension::FORCE_PER_LENGTH,
        }
    }

    pub(super) fn place_of(&self, id: ExpressionId) -> Place {
        self.line.place(self.line.span(id))
    }

    /// A word for a turn is for moments, and one for warmth for temperatures.
    fn fits_its_sense(&mut self, id: ExpressionId, found: Dimension) -> Option<()> {
        let Some((sense, _)) = self.load.sense else {
            return Some(());
        };
        let Some(wanted) = of_sense(sense).filter(|wanted| *wanted != found) else {
            return Some(());
        };
        let what = format!("a load with the word {}", findings::sense::word(sense));
        self.needed(id, found, wanted, &what);
        None
    }

    pub(super) fn mismatch(&mut self, id: ExpressionId, found: Dimension, wanted: Dimension) {
        let what = match self.load.place {
            LoadPlace::At(_) => "a load at a place",
            LoadPlace::Throughout(_) => "a load throughout",
            LoadPlace::Stretch(..) => "a load along a stretch",
            LoadPlace::Span(_) | LoadPlace::AnySpans(_) => "a load on a span",
            LoadPlace::Moving { .. } => "a wheel",
            LoadPlace::Unsaid => "a load",
        };
        self.needed(id, found, wanted, what);
    }

    fn needed(&mut self, id: ExpressionId, found: Dimension, wanted: Dimension, what: &str) {
        let finding = findings::unit_mismatch::needed(
            self.place_of(id),
            self.line.source(id),
            found,
            wanted,
            what,
        );
        self.reading.refuse(finding);
    }

    /// Down is positive, and so is left.
    pub(super) fn sign(&self) -> f64 {
        let is_right = matches!(self.load.sideways, Some((Sideways::Right, _)));
        if self.load.up.is_some() || is_right {
            -1.0
        } else {
            1.0
        }
    }

    /// Forces, loads per length, pressures and settlements act sideways, and nothing else.
    pub(super) fn without_sideways(&mut self, what: &str) -> Option<()> {
        match self.load.sideways {
            None => Some(()),
            Some((_, span)) => {
                let place = self.line.place(span);
                let message = format!(
                    "leftwards and rightwards are for forces, loads per length, pressures and \
                     settlements, not for {what}."
                );
                self.reading.refuse(findings::place::wrong(place, message));
                None
            }
        }
    }

    pub(super) fn without_sense(&mut self, what: &str) -> Option<()> {
        match self.load.sense {
            None => Some(()),
            Some((_, span)) => {
                let place = self.line.place(span);
                self.reading.refuse(findings::sense::not_for(place, what));
                None
            }
        }
    }

    pub(super) fn without_tributary(&mut self, what: &str) -> Option<()> {
        match self.load.tributary {
            None => Some(()),
            Some(width) => {
                let place = self.place_of(width);
                self.reading.refuse(findings::tributary::wrong(place, what));
                None
            }
        }
    }

    pub(super) fn without_up(&mut self, message: &str) -> Option<()> {
        match self.load.up {
            None => Some(()),
            Some(span) => {
                let place = self.line.place(span);
                self.reading.refuse(findings::place::wrong(place, message));
                None
            }
        }
    }
}
