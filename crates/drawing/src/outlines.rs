//! Outlines of sections.

use std::fmt::Write;

use haunch_mechanics::section::OutlineEdge;

use crate::paper::{Paper, escaped, number};

/// The longer side of a drawing, in CSS pixels.
const SIZE: f64 = 260.0;
/// Empty space on each side, in CSS pixels.
const MARGIN: f64 = 8.0;

/// A section as it was, in dashes, and as it is, in full lines, to one scale and in one place. Both may be
/// empty; `title` is read out for those who do not see the drawing.
pub fn before_and_after(old: &[OutlineEdge], new: &[OutlineEdge], title: &str) -> String {
    let Some(paper) = Paper::around(old.iter().chain(new), SIZE, MARGIN) else {
        return String::new();
    };
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\" fill=\"none\" stroke=\"currentColor\"><title>{2}</title>",
        number(paper.width()),
        number(paper.height()),
        escaped(title),
    );
    for (edges, style) in [
        (old, " stroke-width=\"1\" stroke-dasharray=\"5 4\""),
        (new, " stroke-width=\"1.6\""),
    ] {
        if !edges.is_empty() {
            let _ = write!(svg, "<path{style} d=\"{}\"/>", paper.path(edges));
        }
    }
    svg.push_str("</svg>");
    svg
}

#[cfg(test)]
mod tests {
    use super::*;
    use haunch_mechanics::section::{Point, Sense};
    use haunch_quantity::typed::{Length, Typed};

    fn edge(from: (f64, f64), to: (f64, f64)) -> OutlineEdge {
        let point = |(x, y): (f64, f64)| Point::new(Length::from_si(x), Length::from_si(y));
        OutlineEdge {
            from: point(from),
            to: point(to),
            arc: None,
        }
    }

    #[test]
    fn the_larger_of_both_fills_the_paper_and_y_points_up() {
        let old = [edge((0.0, 0.0), (0.1, 0.0))];
        let new = [edge((0.0, 0.0), (0.0, 0.2))];
        let svg = before_and_after(&old, &new, "a < b");
        // 0.2 m are 260 pixels; the lower end stands at the bottom.
        assert!(svg.contains("d=\"M8.0000 268.00 L138.00 268.00\""), "{svg}");
        assert!(svg.contains("d=\"M8.0000 268.00 L8.0000 8.0000\""), "{svg}");
        assert!(svg.contains("<title>a &lt; b</title>") && svg.contains("stroke-dasharray"));
        assert_eq!(before_and_after(&[], &[], ""), "");
    }

    #[test]
    fn an_arc_against_the_clock() {
        let mut quarter = edge((0.1, 0.0), (0.0, 0.1));
        quarter.arc = Some((Length::from_si(0.1), Sense::Anticlockwise));
        let svg = before_and_after(&[], &[quarter], "");
        assert!(
            svg.contains("M268.00 268.00 A260.00 260.00 0 0 0 8.0000 8.0000"),
            "{svg}"
        );
    }
}
