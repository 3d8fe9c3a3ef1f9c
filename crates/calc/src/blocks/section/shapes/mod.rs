//! Shapes by their words and sizes: what a part's line draws, before it has its place.

mod draw;
mod form;
mod given;
mod mistake;
mod told;

use haunch_mechanics::section::{Bounds, Part, PartProperties, Section, Shape};
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, Statement, Tree};

use given::Given;
pub(super) use mistake::Mistake;
pub(super) use told::told;

/// The value of an expression of a part's line, if it is a quantity of a dimension.
pub(super) type Values<'a> = &'a dyn Fn(ExpressionId, Dimension) -> Option<Quantity>;

/// A shape with its sizes, turned and mirrored, not yet in its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SizedShape {
    /// As it was drawn.
    shape: Shape,
    bounds: Bounds,
    /// The standard of a rolled size.
    standard: Option<&'static str>,
    /// The thickness of each wall, m; none where the shape has no walls that are known.
    walls: Option<Vec<f64>>,
}

impl SizedShape {
    /// The shape of the part on a line.
    ///
    /// # Errors
    /// What is wrong; nothing where a size is not known for a reason that is told elsewhere.
    pub(super) fn read(tree: &Tree, values: Values<'_>) -> Result<SizedShape, Vec<Mistake>> {
        let Statement::Part(part) = &tree.statement else {
            return Err(Vec::new());
        };
        let given = Given::read(tree, part, values)?;
        let standard = given.rolled.map(|size| size.standard);
        let shape = draw::drawn(part, &given).map_err(|mistake| vec![mistake])?;
        let turned = draw::turned(shape, tree, part, values)?;
        let bounds = turned
            .bounds()
            .map_err(|problem| vec![Mistake::outline(part, problem)])?;
        Ok(SizedShape {
            shape: turned,
            bounds,
            standard,
            walls: given.walls(),
        })
    }

    /// Breadth over all.
    pub(super) fn width(&self) -> Length {
        self.bounds.width()
    }

    /// Height over all.
    pub(super) fn depth(&self) -> Length {
        self.bounds.depth()
    }

    /// x of the left edge as drawn: for a polygon where its corners are.
    pub(super) fn left(&self) -> Length {
        self.bounds.left
    }

    /// y of the lower edge as drawn.
    pub(super) fn bottom(&self) -> Length {
        self.bounds.bottom
    }

    /// The standard of a rolled size.
    pub(super) fn standard(&self) -> Option<&'static str> {
        self.standard
    }

    /// The thickness of each wall, m: of web and flanges, legs, or the wall of a tube; the smaller
    /// side of a rectangle, the diameter of a full circle. None for other shapes.
    pub(super) fn walls(&self) -> Option<&[f64]> {
        self.walls.as_deref()
    }

    /// The shape with the lower left corner of the rectangle round it at a place.
    pub(super) fn at(&self, left: Length, bottom: Length) -> Shape {
        let (right, up) = (left - self.bounds.left, bottom - self.bounds.bottom);
        if right.si() == 0.0 && up.si() == 0.0 {
            self.shape.clone()
        } else {
            self.shape.clone().moved(right, up)
        }
    }

    /// Area, size and second moments about its own centroid, wherever it is; none where its sizes
    /// are not sound.
    pub(super) fn own(&self) -> Option<OwnProperties> {
        let alone = Section::new(&[Part::material(self.shape.clone())]).ok()?;
        Some(OwnProperties {
            properties: alone.part(0)?,
        })
    }
}

/// What is known of a shape from its sizes alone.
#[derive(Debug, Clone)]
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

/// What is known of the part on a line by itself.
pub(crate) fn own_properties(
    tree: &Tree,
    values: &dyn Fn(ExpressionId, Dimension) -> Option<Quantity>,
) -> Option<OwnProperties> {
    SizedShape::read(tree, values).ok()?.own()
}
