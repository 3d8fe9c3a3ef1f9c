//! What acts at one place: forces, couples and settlements.

use haunch_mechanics::beam::{Load as Action, Sense as Turn};
use haunch_quantity::typed::{Force, Length, Moment, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, LoadPlace, Sense};

use super::super::sideways::held_sideways;
use super::super::structure::BeamSupport;
use super::line::LoadLine;
use super::place::Reach;
use crate::findings;

impl LoadLine<'_, '_> {
    pub(super) fn force(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
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

    pub(super) fn couple(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
        const SENSES: [Sense; 2] = [Sense::Clockwise, Sense::Anticlockwise];
        self.without_tributary("a couple")?;
        self.without_sideways("a couple")?;
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

    /// How far the ground under a support goes down, or what holds it sideways gives way to the left.
    pub(super) fn settlement(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Action> {
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
        let level;
        let supports = match self.load.sideways {
            Some(_) => {
                level = held_sideways(self.geometry);
                &level.supports
            }
            None => &self.geometry.supports,
        };
        let Some(support) = supports.iter().position(stands) else {
            let finding = findings::place::no_support(place, self.line.source(id));
            self.reading.refuse(finding);
            return None;
        };
        Some(Action::Settlement {
            support,
            down: Length::from_si(self.sign() * magnitude.si()),
        })
    }
}
