//! Shapes by their words and sizes: what each size is, and what the shape is by itself.

use haunch_mechanics::section::{Part, PartProperties, Point, Section, Shape};
use haunch_quantity::Quantity;
use haunch_quantity::typed::{Length, Typed};

/// A shape that can be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ShapeKind {
    Rectangle,
    Circle,
    RoundTube,
}

impl ShapeKind {
    /// The shape of its words.
    pub(super) fn from_words(words: &str) -> Option<ShapeKind> {
        match words {
            "rect" => Some(ShapeKind::Rectangle),
            "circle" => Some(ShapeKind::Circle),
            "round tube" => Some(ShapeKind::RoundTube),
            _ => None,
        }
    }

    /// What each of its sizes is.
    pub(super) fn size_names(self) -> &'static [&'static str] {
        match self {
            ShapeKind::Rectangle => &["breadth", "height"],
            ShapeKind::Circle => &["diameter"],
            ShapeKind::RoundTube => &["outer diameter", "wall"],
        }
    }

    /// How it is written.
    pub(super) fn written(self, name: &str) -> String {
        match self {
            ShapeKind::Rectangle => format!("rect {name} B x H, its breadth and height"),
            ShapeKind::Circle => format!("circle {name} D, its diameter"),
            ShapeKind::RoundTube => {
                format!("round tube {name} D x T, its outer diameter and wall")
            }
        }
    }
}

/// A shape with its sizes, not yet in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SizedShape {
    kind: ShapeKind,
    first: Length,
    second: Length,
}

impl SizedShape {
    /// The shape of these sizes; none if there is another number of them.
    pub(super) fn new(kind: ShapeKind, sizes: &[Quantity]) -> Option<SizedShape> {
        if sizes.len() != kind.size_names().len() {
            return None;
        }
        let size = |index: usize| sizes.get(index).map(|size| Length::from_si(size.si()));
        let first = size(0)?;
        Some(SizedShape {
            kind,
            first,
            second: size(1).unwrap_or(first),
        })
    }

    /// Breadth over all.
    pub(super) fn width(self) -> Length {
        self.first
    }

    /// Height over all.
    pub(super) fn depth(self) -> Length {
        match self.kind {
            ShapeKind::Rectangle => self.second,
            ShapeKind::Circle | ShapeKind::RoundTube => self.first,
        }
    }

    /// The shape with the lower left corner of the rectangle round it at a place.
    pub(super) fn at(self, left: Length, bottom: Length) -> Shape {
        let half = self.first / 2.0;
        let centre = Point::new(left + half, bottom + half);
        match self.kind {
            ShapeKind::Rectangle => Shape::Rectangle {
                left,
                bottom,
                width: self.first,
                height: self.second,
            },
            ShapeKind::Circle => Shape::Circle {
                centre,
                diameter: self.first,
            },
            ShapeKind::RoundTube => Shape::Tube {
                centre,
                diameter: self.first,
                thickness: self.second,
            },
        }
    }

    /// Area, size and second moments about its own centroid, wherever it is; none where its sizes
    /// are not sound.
    pub(super) fn own(self) -> Option<OwnProperties> {
        let origin = Length::from_si(0.0);
        let alone = Section::new(&[Part::material(self.at(origin, origin))]).ok()?;
        Some(OwnProperties {
            properties: alone.part(0)?,
        })
    }
}

/// What is known of a shape from its sizes alone.
pub(crate) struct OwnProperties {
    properties: PartProperties,
}

impl OwnProperties {
    pub(crate) fn get(&self, member: &str) -> Option<Quantity> {
        let own = &self.properties;
        match member {
            "width" => own.bounds.width().to_quantity(),
            "depth" => own.bounds.depth().to_quantity(),
            "area" => own.area.to_quantity(),
            "Ixx" => own.second_moments.ixx.to_quantity(),
            "Iyy" => own.second_moments.iyy.to_quantity(),
            _ => None,
        }
    }
}

/// What is known of a part from the words of its shape and its sizes.
pub(crate) fn own_properties(shape: &str, sizes: &[Quantity]) -> Option<OwnProperties> {
    SizedShape::new(ShapeKind::from_words(shape)?, sizes)?.own()
}
