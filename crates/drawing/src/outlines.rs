//! Outlines of sections.

use std::fmt::Write;

use haunch_mechanics::section::{OutlineEdge, Sense};
use haunch_quantity::format_number;
use haunch_quantity::typed::{Length, Typed};

/// The longer side of a drawing, in CSS pixels.
const SIZE: f64 = 260.0;
/// Empty space on each side, in CSS pixels.
const MARGIN: f64 = 8.0;

/// A section as it was, in dashes, and as it is, in full lines, to one scale and in one place. Both may be
/// empty; `title` is read out for those who do not see the drawing.
pub fn before_and_after(old: &[OutlineEdge], new: &[OutlineEdge], title: &str) -> String {
    let ends = || old.iter().chain(new).flat_map(|edge| [edge.from, edge.to]);
    let range = |values: &mut dyn Iterator<Item = Length>| {
        values.fold(None, |range: Option<(f64, f64)>, value| {
            let value = value.si();
            let (low, high) = range.unwrap_or((value, value));
            Some((low.min(value), high.max(value)))
        })
    };
    let (Some((left, right)), Some((bottom, top))) = (
        range(&mut ends().map(|point| point.x)),
        range(&mut ends().map(|point| point.y)),
    ) else {
        return String::new();
    };
    let (width, depth) = (right - left, top - bottom);
    let scale = SIZE / width.max(depth);
    if !scale.is_finite() {
        return String::new();
    }
    let place = Place { left, top, scale };
    let number = |value: f64| format_number(value, 5);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\" fill=\"none\" stroke=\"currentColor\"><title>{2}</title>",
        number(width * scale + 2.0 * MARGIN),
        number(depth * scale + 2.0 * MARGIN),
        escaped(title),
    );
    for (edges, style) in [
        (old, " stroke-width=\"1\" stroke-dasharray=\"5 4\""),
        (new, " stroke-width=\"1.6\""),
    ] {
        if !edges.is_empty() {
            let path: String = edges.iter().map(|edge| place.edge(edge)).collect();
            let _ = write!(svg, "<path{style} d=\"{}\"/>", path.trim_start());
        }
    }
    svg.push_str("</svg>");
    svg
}

/// Where the drawing lies on the paper: y down, the margin around.
struct Place {
    left: f64,
    top: f64,
    scale: f64,
}

impl Place {
    fn edge(&self, edge: &OutlineEdge) -> String {
        let x = |length: Length| format_number((length.si() - self.left) * self.scale + MARGIN, 5);
        let y = |length: Length| format_number((self.top - length.si()) * self.scale + MARGIN, 5);
        let from = format!(" M{} {}", x(edge.from.x), y(edge.from.y));
        let to = format!("{} {}", x(edge.to.x), y(edge.to.y));
        match edge.arc {
            None => format!("{from} L{to}"),
            Some((radius, sense)) => {
                // An arc of an outline stays within a quarter of its circle. With y down, what runs
                // against the clock in the section has the flag 0 on paper (SVG 1.1, 8.3.8).
                let radius = format_number(radius.si() * self.scale, 5);
                let sweep = match sense {
                    Sense::Anticlockwise => 0,
                    Sense::Clockwise => 1,
                };
                format!("{from} A{radius} {radius} 0 0 {sweep} {to}")
            }
        }
    }
}

fn escaped(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use haunch_mechanics::section::Point;

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
