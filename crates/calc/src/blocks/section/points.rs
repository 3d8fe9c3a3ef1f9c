//! The points of a section in their places.

use haunch_mechanics::section::{Bounds, Point};
use haunch_quantity::Dimension;
use haunch_quantity::typed::{Length, Typed};
use haunch_syntax::{Edge, PointPlace};
use haunch_text::Span;

use super::geometry::{Geometry, NamedPoint};
use super::reading::{PointLine, Reading};
use crate::findings::points;

/// Finds the place of every point and the part that it is in.
pub(super) fn place(reading: &mut Reading<'_>, geometry: &Geometry) -> Vec<NamedPoint> {
    let lines = std::mem::take(&mut reading.points);
    let found = lines
        .iter()
        .filter_map(|own| one(reading, geometry, own))
        .collect();
    reading.points = lines;
    found
}

/// Names of parts that points refer to, where the section itself has no results.
pub(super) fn check_names(reading: &mut Reading<'_>) {
    let lines = std::mem::take(&mut reading.points);
    for own in &lines {
        if let Some(of) = &own.point.of {
            reading.part_named(&own.line, of);
        }
    }
    reading.points = lines;
}

fn one(reading: &mut Reading<'_>, geometry: &Geometry, own: &PointLine<'_>) -> Option<NamedPoint> {
    let (line, point) = (&own.line, own.point);
    let of = match &point.of {
        Some(name) => Some(reading.part_named(line, name)?),
        None => None,
    };
    let (place, span) = match &point.place {
        PointPlace::At { x, y, span } => {
            let at = |id| line.quantity(id, Dimension::LENGTH).map(|at| at.si());
            let Some((x, y)) = at(*x).zip(at(*y)) else {
                reading.complete = false;
                return None;
            };
            (Point::new(Length::from_si(x), Length::from_si(y)), *span)
        }
        PointPlace::Edges {
            vertical,
            horizontal,
            span,
        } => (edges(geometry, of, *vertical, *horizontal), *span),
    };
    // The edge of a deduction is a place as good as any, in the part that it is taken out of.
    let wanted = of.filter(|&part| geometry.is_material(part));
    let mut parts = geometry.section.parts_at(place);
    if let Some(wanted) = wanted {
        parts.retain(|&part| part == wanted);
    }
    let Some(&part) = parts.first() else {
        let at = format!(
            "({}, {})",
            reading.text(place.x.to_quantity()),
            reading.text(place.y.to_quantity())
        );
        let section = reading.context.name();
        let of = wanted.map_or(section.as_str(), |part| geometry.name(part));
        let finding = points::outside(
            line.place(point.name.span),
            &point.name.text,
            &at,
            of,
            advice(&point.place),
        );
        reading.refuse(finding);
        return None;
    };
    let material = |part: usize| geometry.material_of.get(part);
    if parts.iter().any(|&other| material(other) != material(part)) {
        let names: Vec<&str> = parts.iter().map(|&part| geometry.name(part)).collect();
        // A part that is named after the place decides, where none is named so far.
        let end = line.place(Span::empty(span.end as usize));
        let finding = points::between(line.place(point.name.span), end, &point.name.text, &names);
        reading.refuse(finding);
        return None;
    }
    Some(NamedPoint {
        name: point.name.text.clone(),
        line: line.id,
        place,
        part,
    })
}

/// The place of an edge or corner of a part or of the whole section. A single edge is met on the
/// axis through the centroid.
fn edges(
    geometry: &Geometry,
    of: Option<usize>,
    vertical: Option<Edge>,
    horizontal: Option<Edge>,
) -> Point {
    let section = &geometry.section;
    let part = of.and_then(|part| section.part(part));
    let (bounds, centroid): (Bounds, Point) = part.map_or_else(
        || (section.bounds(), section.centroid()),
        |part| (part.bounds, part.centroid),
    );
    Point::new(
        match horizontal {
            Some(Edge::Left) => bounds.left,
            Some(Edge::Right) => bounds.right,
            _ => centroid.x,
        },
        match vertical {
            Some(Edge::Top) => bounds.top,
            Some(Edge::Bottom) => bounds.bottom,
            _ => centroid.y,
        },
    )
}

fn advice(place: &PointPlace) -> &'static str {
    match place {
        PointPlace::Edges {
            vertical: Some(_),
            horizontal: None,
            ..
        } => {
            " The edge is looked for on the upright axis through the centroid: add left or right, \
             or name a part."
        }
        PointPlace::Edges {
            vertical: None,
            horizontal: Some(_),
            ..
        } => {
            " The edge is looked for on the level axis through the centroid: add top or bottom, or \
             name a part."
        }
        PointPlace::Edges { .. } | PointPlace::At { .. } => "",
    }
}
