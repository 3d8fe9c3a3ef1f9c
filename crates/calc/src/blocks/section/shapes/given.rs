//! The sizes of a part's line by what they are.

use haunch_mechanics::section::Point;
use haunch_mechanics::shapes::SizeName;
use haunch_quantity::Dimension;
use haunch_quantity::typed::{Length, Typed};
use haunch_syntax::{ExpressionId, Part, Tree};
use haunch_text::Span;

use super::Values;
use super::form::{Form, ShapeKind};
use super::mistake::{Mistake, MistakeKind, span_of};
use crate::rolled::{self, RolledSize};

/// Everything that a shape is drawn from.
pub(super) struct Given {
    pub(super) form: &'static Form,
    sizes: Vec<GivenSize>,
    /// The corners of a polygon.
    pub(super) corners: Vec<Point>,
    pub(super) rolled: Option<&'static RolledSize>,
}

struct GivenSize {
    name: SizeName,
    /// In SI.
    value: f64,
    span: Span,
}

impl Given {
    /// Reads the sizes; nothing is said of one that has no value.
    pub(super) fn read(
        tree: &Tree,
        part: &Part,
        values: Values<'_>,
    ) -> Result<Given, Vec<Mistake>> {
        let one = |span, kind| vec![Mistake::new(span, kind)];
        let Some(form) = Form::of(&part.shape.text) else {
            return Err(one(part.shape.span, MistakeKind::NotSupported));
        };
        let mut given = Given {
            form,
            sizes: Vec::new(),
            corners: Vec::new(),
            rolled: None,
        };
        match form.kind {
            ShapeKind::Polygon => {
                given.corners = corners(part, values).ok_or_else(Vec::new)?;
                return Ok(given);
            }
            ShapeKind::Rolled => {
                let designation = part.designation.as_ref().ok_or_else(Vec::new)?;
                let size = rolled::find(&designation.text);
                let size = size.ok_or_else(|| one(designation.span, MistakeKind::Designation))?;
                given.rolled = Some(size);
                return Ok(given);
            }
            _ => {}
        }
        let count = part.sizes.len();
        let Some(names) = form.sizes.iter().find(|names| names.len() == count) else {
            let spans = part.sizes.iter().map(|size| span_of(tree, *size));
            let span = spans.reduce(Span::cover).unwrap_or(part.name.span);
            return Err(one(span, MistakeKind::Count(form)));
        };
        let mut mistakes = Vec::new();
        let mut is_known = true;
        let mut add = |name: SizeName, id: ExpressionId, must_be_positive: bool| {
            let dimension = match name {
                SizeName::Slope => Dimension::RATIO,
                _ => Dimension::LENGTH,
            };
            let Some(size) = values(id, dimension) else {
                is_known = false;
                return;
            };
            let (value, span) = (size.si(), span_of(tree, id));
            if must_be_positive && value <= 0.0 {
                mistakes.push(Mistake::new(span, MistakeKind::NotPositive(form, name)));
            }
            given.sizes.push(GivenSize { name, value, span });
        };
        for (name, id) in names.iter().zip(&part.sizes) {
            add(*name, *id, true);
        }
        let mut wrong_words = Vec::new();
        for (index, detail) in part.details.iter().enumerate() {
            let word = &detail.word;
            let known = form.details.iter().find(|own| own.word == word.text);
            let earlier = part.details.iter().take(index);
            let kind = match known {
                None => MistakeKind::NoSuchDetail(form),
                Some(_) if earlier.clone().any(|own| own.word.text == word.text) => {
                    MistakeKind::Twice
                }
                Some(own) if own.sizes.len() != detail.sizes.len() => {
                    MistakeKind::DetailCount(own.written)
                }
                Some(own) => {
                    for (name, id) in own.sizes.iter().zip(&detail.sizes) {
                        add(*name, *id, false);
                    }
                    continue;
                }
            };
            wrong_words.push(Mistake::new(word.span, kind));
        }
        let is_said = |word: &str| part.details.iter().any(|own| own.word.text == word);
        let missing = form.details.iter().filter(|own| own.is_needed);
        wrong_words.extend(
            missing
                .filter(|own| !is_said(own.word))
                .map(|own| Mistake::new(part.name.span, MistakeKind::DetailMissing(own.written))),
        );
        mistakes.extend(wrong_words);
        if is_known && mistakes.is_empty() {
            Ok(given)
        } else {
            Err(mistakes)
        }
    }

    /// A size; none where it is not given.
    pub(super) fn get(&self, name: SizeName) -> Option<Length> {
        let found = self.sizes.iter().find(|own| own.name == name)?;
        Some(Length::from_si(found.value))
    }

    /// The thickness of each wall, m; none for a shape without walls that are known.
    pub(super) fn walls(&self) -> Option<Vec<f64>> {
        if let Some(rolled) = self.rolled {
            return rolled.walls();
        }
        let size = |name: SizeName| Some(self.get(name)?.si());
        match self.form.kind {
            ShapeKind::Rectangle => Some(vec![size(SizeName::Width)?.min(size(SizeName::Height)?)]),
            ShapeKind::Circle => Some(vec![size(SizeName::Diameter)?]),
            ShapeKind::RoundTube => {
                let (diameter, wall) = (size(SizeName::Diameter)?, size(SizeName::Thickness)?);
                // A wall as thick as the radius makes a full circle.
                let is_full = wall >= diameter / 2.0 * (1.0 - 1e-12);
                Some(vec![if is_full { diameter } else { wall }])
            }
            ShapeKind::Triangle
            | ShapeKind::Trapezium
            | ShapeKind::Ellipse
            | ShapeKind::QuarterFillet
            | ShapeKind::Polygon
            | ShapeKind::Rolled => None,
            _ => {
                let walls: Vec<f64> = [
                    SizeName::Thickness,
                    SizeName::WebThickness,
                    SizeName::FlangeThickness,
                    SizeName::TopThickness,
                    SizeName::BottomThickness,
                ]
                .into_iter()
                .filter_map(size)
                .collect();
                (!walls.is_empty()).then_some(walls)
            }
        }
    }

    /// A size that every line of the shape has.
    pub(super) fn size(&self, name: SizeName) -> Length {
        self.get(name).unwrap_or(Length::from_si(0.0))
    }

    /// The size that is given where one wall thickness stands for both.
    pub(super) fn standing(&self, name: SizeName) -> SizeName {
        match name {
            SizeName::WebThickness | SizeName::FlangeThickness if self.get(name).is_none() => {
                SizeName::Thickness
            }
            other => other,
        }
    }

    /// Where a size stands, or the one that stands for it.
    pub(super) fn span(&self, name: SizeName) -> Option<Span> {
        let place = |name: SizeName| {
            let found = self.sizes.iter().find(|own| own.name == name)?;
            Some(found.span)
        };
        place(name).or_else(|| {
            place(match self.standing(name) {
                SizeName::BottomWidth => SizeName::TopWidth,
                SizeName::BottomThickness => SizeName::TopThickness,
                SizeName::InnerRadius => SizeName::OuterRadius,
                other => other,
            })
        })
    }
}

fn corners(part: &Part, values: Values<'_>) -> Option<Vec<Point>> {
    let length = |id: &ExpressionId| Some(Length::from_si(values(*id, Dimension::LENGTH)?.si()));
    let corners = part.sizes.chunks_exact(2).map(|pair| match pair {
        [x, y] => Some(Point::new(length(x)?, length(y)?)),
        _ => None,
    });
    corners.collect()
}
