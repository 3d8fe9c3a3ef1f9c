//! Where a drawing lies on its paper: one scale, y down, a margin around.

use haunch_mechanics::section::{OutlineEdge, Point, Sense};
use haunch_quantity::format_number;
use haunch_quantity::typed::{Length, Typed};

/// Paper just large enough for what is drawn on it. Places of a section in metres become places in CSS pixels.
pub(crate) struct Paper {
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
    scale: f64,
    margin: f64,
}

impl Paper {
    /// The paper for some edges, whose longer side is `size` pixels long; none for nothing.
    pub(crate) fn around<'a>(
        edges: impl Iterator<Item = &'a OutlineEdge>,
        size: f64,
        margin: f64,
    ) -> Option<Paper> {
        let mut ends = edges.flat_map(|edge| [edge.from, edge.to]);
        let first = ends.next()?;
        let start = (first.x.si(), first.x.si(), first.y.si(), first.y.si());
        let (left, right, bottom, top) = ends.fold(start, |(left, right, bottom, top), point| {
            let (x, y) = (point.x.si(), point.y.si());
            (left.min(x), right.max(x), bottom.min(y), top.max(y))
        });
        let scale = size / (right - left).max(top - bottom);
        scale.is_finite().then_some(Paper {
            left,
            right,
            bottom,
            top,
            scale,
            margin,
        })
    }

    /// From edge to edge, in pixels.
    pub(crate) fn width(&self) -> f64 {
        (self.right - self.left) * self.scale + 2.0 * self.margin
    }

    /// From top to bottom, in pixels.
    pub(crate) fn height(&self) -> f64 {
        (self.top - self.bottom) * self.scale + 2.0 * self.margin
    }

    /// A place on the paper, in pixels from its upper left corner.
    pub(crate) fn place(&self, point: Point) -> (f64, f64) {
        (
            (point.x.si() - self.left) * self.scale + self.margin,
            (self.top - point.y.si()) * self.scale + self.margin,
        )
    }

    /// The data of a path along some edges.
    pub(crate) fn path(&self, edges: &[OutlineEdge]) -> String {
        let edges: Vec<String> = edges.iter().map(|edge| self.edge(edge)).collect();
        edges.join(" ")
    }

    fn edge(&self, edge: &OutlineEdge) -> String {
        let place = |point: Point| {
            let (x, y) = self.place(point);
            format!("{} {}", number(x), number(y))
        };
        let (from, to) = (place(edge.from), place(edge.to));
        match edge.arc {
            None => format!("M{from} L{to}"),
            Some((radius, sense)) => {
                // An arc of an outline stays within a quarter of its circle. With y down, what runs
                // against the clock in the section has the flag 0 on paper (SVG 1.1, 8.3.8).
                let radius = self.length(radius);
                let sweep = match sense {
                    Sense::Anticlockwise => 0,
                    Sense::Clockwise => 1,
                };
                format!("M{from} A{radius} {radius} 0 0 {sweep} {to}")
            }
        }
    }

    fn length(&self, length: Length) -> String {
        number(length.si() * self.scale)
    }
}

/// A number of pixels as it is written in a drawing.
pub(crate) fn number(pixels: f64) -> String {
    format_number(pixels, 5)
}

/// Words as the text of an element.
pub(crate) fn escaped(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
