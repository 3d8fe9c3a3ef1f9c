//! One section with its centroid and its overall sizes.

use haunch_mechanics::section::{OutlineEdge, Point};

use crate::paper::{Paper, escaped, number};

/// The longer side of the section, in CSS pixels: small enough to stand beside a line of text.
const SIZE: f64 = 140.0;
/// Space around the section for its sizes, in CSS pixels.
const MARGIN: f64 = 24.0;
/// The axes run past the section by so many pixels.
const OVERRUN: f64 = 8.0;
/// The width of a letter of a size, of the 11 pixels that it is high, in pixels; on the large side.
const LETTER: f64 = 6.5;

/// What is written and marked on the drawing of a section.
#[derive(Debug, Clone, Copy)]
pub struct Marks<'a> {
    /// Where the axes of the centroid cross.
    pub centroid: Point,
    /// The overall width, with its unit.
    pub width: &'a str,
    /// The overall depth, with its unit.
    pub depth: &'a str,
    /// What the drawing shows, read out for those who do not see it.
    pub title: &'a str,
}

/// The outline of a section in full lines, the axes through its centroid as chain lines, the overall width
/// under it and the overall depth beside it. The drawing brings its own white paper: it is shown as a
/// picture, which does not know the colours of the page around it. Empty for an outline without extent.
pub fn section(edges: &[OutlineEdge], marks: Marks<'_>) -> String {
    let Some(paper) = Paper::around(edges.iter(), SIZE, MARGIN) else {
        return String::new();
    };
    let letters = |words: &str| words.chars().count() as f64 * LETTER;
    // A slender section leaves less room than its width needs; the depth stands to the right.
    let width = paper.width().max(letters(marks.width) + 4.0);
    let right = paper.width() - MARGIN + OVERRUN + 4.0;
    let full = width.max(right + letters(marks.depth) + 4.0);
    let (x, y) = paper.place(marks.centroid);
    let (low, high) = (MARGIN - OVERRUN, paper.height() - MARGIN + OVERRUN);
    let end = paper.width() - MARGIN + OVERRUN;
    let [full, height, x, y, low, high, end, right] =
        [full, paper.height(), x, y, low, high, end, right].map(number);
    let middle = number(paper.height() / 2.0 - 4.0);
    let under = number(paper.height() - 4.0);
    let centre = number(width.min(paper.width()) / 2.0);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{full}\" height=\"{height}\" \
         viewBox=\"0 0 {full} {height}\" fill=\"none\" stroke=\"#222222\"><title>{title}</title>\
         <rect width=\"{full}\" height=\"{height}\" fill=\"#ffffff\" stroke=\"none\"/>\
         <path stroke-width=\"1.6\" d=\"{outline}\"/>\
         <path stroke-width=\"0.8\" stroke-dasharray=\"9 3 2 3\" d=\"M{low} {y} L{end} {y} M{x} {low} L{x} {high}\"/>\
         <g font-family=\"sans-serif\" font-size=\"11\" fill=\"#222222\" stroke=\"none\">\
         <text x=\"{centre}\" y=\"{under}\" text-anchor=\"middle\">{wide}</text>\
         <text x=\"{right}\" y=\"{middle}\">{deep}</text></g></svg>",
        title = escaped(marks.title),
        outline = paper.path(edges),
        wide = escaped(marks.width),
        deep = escaped(marks.depth),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use haunch_quantity::typed::{Length, Typed};

    fn point(x: f64, y: f64) -> Point {
        Point::new(Length::from_si(x), Length::from_si(y))
    }

    fn edge(from: Point, to: Point) -> OutlineEdge {
        OutlineEdge {
            from,
            to,
            arc: None,
        }
    }

    fn marks(centroid: Point) -> Marks<'static> {
        Marks {
            centroid,
            width: "100 mm",
            depth: "200 mm",
            title: "a < b",
        }
    }

    #[test]
    fn the_axes_cross_at_the_centroid_and_the_sizes_are_written() {
        // A triangle of 0.1 m by 0.2 m; its centroid is a third up and a third from the upright side.
        let corners = [point(0.0, 0.0), point(0.1, 0.0), point(0.0, 0.2)];
        let edges = [
            edge(corners[0], corners[1]),
            edge(corners[1], corners[2]),
            edge(corners[2], corners[0]),
        ];
        let drawing = section(&edges, marks(point(0.1 / 3.0, 0.2 / 3.0)));
        // 0.2 m are 140 pixels: x = 24 + 70/3 = 47.333, y = 24 + 140*2/3 = 117.33.
        assert!(
            drawing.contains("M16.000 117.33 L102.00 117.33 M47.333 16.000 L47.333 172.00"),
            "{drawing}"
        );
        assert!(drawing.contains(">100 mm</text>") && drawing.contains(">200 mm</text>"));
        assert!(drawing.contains("<title>a &lt; b</title>"));
    }

    #[test]
    fn nothing_is_drawn_of_nothing() {
        let place = point(0.0, 0.0);
        assert_eq!(section(&[], marks(place)), "");
        assert_eq!(section(&[edge(place, place)], marks(place)), "");
    }
}
