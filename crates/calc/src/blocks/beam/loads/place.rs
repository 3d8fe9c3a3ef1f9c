//! Where a load acts along the beam.

use haunch_syntax::LoadPlace;
use haunch_text::Span;

use super::line::LoadLine;
use crate::findings;

/// Where a load acts along the beam, in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Reach {
    At(f64),
    Along(f64, f64),
}

impl LoadLine<'_, '_> {
    /// Where the load acts; none where that is not said or not known.
    pub(super) fn reach(&mut self) -> Option<Reach> {
        let extent = &self.geometry.extent;
        match &self.load.place {
            // Wheels have no place of their own.
            LoadPlace::Unsaid | LoadPlace::Moving { .. } => None,
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
}
