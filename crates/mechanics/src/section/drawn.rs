//! The boundary of a section for drawings.

use haunch_quantity::typed::{Length, Typed};

use super::Section;
use super::edge::Curve;
use super::outline::{Point, Sense};

/// A piece of the boundary of a part: a straight line, or an arc within a quarter of its circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutlineEdge {
    /// Where it begins; the material lies to its left.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// Its radius and the way round; none for a straight line.
    pub arc: Option<(Length, Sense)>,
}

impl Section {
    /// The boundaries of the parts with what is deducted taken away, in no order.
    pub fn outline_edges(&self) -> Vec<OutlineEdge> {
        let edges = self.members.iter().flat_map(|own| &own.net.edges);
        edges
            .map(|edge| OutlineEdge {
                from: Point::from_vector(edge.from),
                to: Point::from_vector(edge.to),
                arc: match edge.curve {
                    Curve::Straight => None,
                    Curve::Arc(circle) => Some((
                        Length::from_si(circle.radius),
                        match circle.anticlockwise {
                            true => Sense::Anticlockwise,
                            false => Sense::Clockwise,
                        },
                    )),
                },
            })
            .collect()
    }
}
