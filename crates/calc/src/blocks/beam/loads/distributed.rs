//! Loads per length, and loads per area on a strip.

use haunch_mechanics::beam::Load as Action;
use haunch_quantity::typed::{ForcePerLength, Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, LoadPlace};

use super::line::LoadLine;
use super::place::Reach;
use crate::findings;
use crate::value::Kind;

impl LoadLine<'_, '_> {
    /// A load per length from one intensity to another, or a load per area on a strip.
    pub(super) fn distributed(
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

    pub(super) fn varying(&mut self, from: ExpressionId, to: ExpressionId) -> Option<Action> {
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
}
