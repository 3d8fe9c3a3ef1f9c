//! Wheels at fixed distances that run along the beam.

use haunch_mechanics::beam::Wheel;
use haunch_quantity::typed::{Force, Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, LoadKind, LoadPlace, Position, PositionKind};

use super::line::LoadLine;
use crate::findings;
use crate::line::LineId;

/// More wheels than this would make every result slow.
const MOST_WHEELS: usize = 24;

/// A train of wheels as its line states it.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::blocks::beam) struct Wheels {
    pub(in crate::blocks::beam) line: LineId,
    pub(in crate::blocks::beam) wheels: Vec<Wheel>,
    /// It may run either way round.
    pub(in crate::blocks::beam) both_ways: bool,
}

impl LoadLine<'_, '_> {
    /// The wheels of the line; for a single one its load as written.
    pub(super) fn wheels(&mut self) -> Option<(Wheels, Option<Quantity>)> {
        let loads: Vec<ExpressionId> = match &self.load.kind {
            LoadKind::Wheels(loads) => loads.clone(),
            LoadKind::Quantity(load) => vec![*load],
            LoadKind::Varying(from, to) => {
                let place = self
                    .line
                    .place(self.line.span(*from).cover(self.line.span(*to)));
                return self.refused(place, "a load that moves is a force for each wheel.");
            }
            LoadKind::SelfWeight(span) => {
                let place = self.line.place(*span);
                return self.refused(place, "self weight does not move.");
            }
        };
        let LoadPlace::Moving {
            distances, one_way, ..
        } = &self.load.place
        else {
            let (first, last) = (loads.first()?, loads.last()?);
            let place = self
                .line
                .place(self.line.span(*first).cover(self.line.span(*last)));
            return self.refused(
                place,
                "several loads on one line are wheels: write the distance of each from the first \
                 one, and moving, as at 0 m, 1.8 m moving. Loads that stay are a line each.",
            );
        };
        self.without_sense("a wheel")?;
        self.without_tributary("a wheel")?;
        self.without_up("a wheel presses down.")?;
        self.without_sideways("a wheel")?;
        if loads.len() > MOST_WHEELS {
            let what = format!("more than {MOST_WHEELS} wheels");
            let finding = findings::not_supported::finding(self.line.whole(), &what);
            self.reading.refuse(finding);
            return None;
        }
        let mut magnitudes = Vec::new();
        for id in &loads {
            let (dimension, magnitude) = self.kind_and_value(*id)?;
            if dimension != Dimension::FORCE {
                self.mismatch(*id, dimension, Dimension::FORCE);
                return None;
            }
            if magnitude.si() <= 0.0 {
                let place = self.place_of(*id);
                let finding =
                    findings::impossible_value::not_positive(place, "the load of a wheel");
                self.reading.refuse(finding);
                return None;
            }
            magnitudes.push(magnitude);
        }
        let distances = self.distances(distances, loads.len())?;
        let wheel = |(magnitude, distance): (&Quantity, &f64)| Wheel {
            after_first: Length::from_si(*distance),
            down: Force::from_si(magnitude.si()),
        };
        let wheels = Wheels {
            line: self.line.id,
            wheels: magnitudes.iter().zip(&distances).map(wheel).collect(),
            both_ways: one_way.is_none(),
        };
        let magnitude = match magnitudes.as_slice() {
            [only] => Some(*only),
            _ => None,
        };
        Some((wheels, magnitude))
    }

    /// How far each wheel is from the first one, in m.
    fn distances(&mut self, written: &[Position], wheels: usize) -> Option<Vec<f64>> {
        let place = match (written.first(), written.last(), &self.load.place) {
            (Some(first), Some(last), _) => self.line.place(first.span.cover(last.span)),
            (_, _, LoadPlace::Moving { span, .. }) => self.line.place(*span),
            _ => self.line.whole(),
        };
        if wheels != written.len() && !(wheels == 1 && written.is_empty()) {
            let words = format!(
                "{wheels} wheels need the distance of each from the first one, as at 0 m, 1.8 m; \
                 there are {}.",
                written.len()
            );
            return self.refused(place, &words);
        }
        let mut distances = Vec::new();
        for position in written {
            let PositionKind::Distance(id) = position.kind else {
                let place = self.line.place(position.span);
                return self.refused(
                    place,
                    "wheels stand anywhere along the beam: give the distance of each from the first \
                     one, as at 0 m, 1.8 m.",
                );
            };
            let distance = self
                .reading
                .quantity(self.line, id, Dimension::LENGTH)?
                .si();
            let fits = match distances.last() {
                None => distance == 0.0,
                Some(before) => distance > *before,
            };
            if !fits {
                let place = self.line.place(position.span);
                return self.refused(
                    place,
                    "the distances are from the first wheel: the first is 0 m, and each is more than \
                     the one before.",
                );
            }
            distances.push(distance);
        }
        if distances.is_empty() {
            distances.push(0.0);
        }
        Some(distances)
    }

    fn refused<T>(&mut self, place: crate::finding::Place, words: &str) -> Option<T> {
        self.reading.refuse(findings::place::wrong(place, words));
        None
    }
}
