//! What follows from the sections along the beam: self weight, and temperature differences.

use haunch_mechanics::beam::Load as Action;
use haunch_quantity::typed::{Curvature, ForcePerLength, Length, Typed};
use haunch_quantity::{Quantity, STANDARD_ACCELERATION_OF_FREE_FALL};
use haunch_syntax::{ExpressionId, LoadPlace, Sense};
use haunch_text::Span;

use super::line::LoadLine;
use super::place::Reach;
use crate::findings;

impl LoadLine<'_, '_> {
    /// The weight of the sections' own material all along the beam: density·area·g_n.
    pub(super) fn self_weight(&mut self, span: Span) -> Option<Vec<Action>> {
        self.without_sense("self weight")?;
        self.without_tributary("self weight")?;
        self.without_sideways("self weight")?;
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

    /// A temperature difference over the depth. Nothing holding it, the beam would take up the
    /// curvature α·ΔT/h, sagging where the bottom is warmer (any textbook of strength of
    /// materials).
    pub(super) fn warmth(&mut self, id: ExpressionId, magnitude: Quantity) -> Option<Vec<Action>> {
        const SENSES: [Sense; 2] = [Sense::TopWarmer, Sense::BottomWarmer];
        const WHAT: &str = "a temperature difference";
        self.without_tributary(WHAT)?;
        self.without_sideways(WHAT)?;
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
}
