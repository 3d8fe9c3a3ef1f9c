//! Outlines from corner to corner, each corner sharp or rounded.

use haunch_quantity::typed::{Length, Typed};

use crate::section::{Outline, Path, Point, Sense};

/// A corner of an outline; with a radius of 0 it is sharp.
#[derive(Clone, Copy, Debug)]
pub(super) struct Corner {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) radius: f64,
}

/// A sharp corner.
pub(super) fn sharp(x: f64, y: f64) -> Corner {
    rounded(x, y, 0.0)
}

/// A rounded corner.
pub(super) fn rounded(x: f64, y: f64, radius: f64) -> Corner {
    Corner { x, y, radius }
}

/// A rounded corner: where the arc starts and ends.
#[derive(Clone, Copy)]
struct Bend {
    start: (f64, f64),
    end: (f64, f64),
    /// The centre and the way round; `None` for a sharp corner.
    arc: Option<((f64, f64), Sense)>,
}

/// The outline through corners given anticlockwise. The caller has seen to it that the arcs leave
/// each other room.
pub(super) fn outline(corners: &[Corner]) -> Outline {
    let count = corners.len();
    let mut bends: Vec<Bend> = (0..count)
        .map(|index| {
            let before = corners[(index + count - 1) % count];
            let after = corners[(index + 1) % count];
            bend(before, corners[index], after)
        })
        .collect();
    let reach = |corner: &Corner| corner.x.abs().max(corner.y.abs());
    let size = corners.iter().map(reach).fold(0.0, f64::max);
    // Arcs that use up a side end in one point with what follows, not in two that differ by
    // rounding.
    for index in 0..count {
        let following = (index + 1) % count;
        let (end, next) = (bends[index].end, bends[following]);
        let gap = (next.start.0 - end.0).abs();
        if gap.max((next.start.1 - end.1).abs()) > 1e-13 * size {
            continue;
        }
        if next.arc.is_some() {
            bends[following].start = end;
        } else {
            bends[index].end = next.start;
        }
    }
    let Some(first) = bends.first().copied() else {
        return Outline::starting_at(point((0.0, 0.0))).close();
    };
    let rest = bends.iter().skip(1).chain([&first]);
    rest.fold(Outline::starting_at(point(first.end)), to_bend)
        .close()
}

fn to_bend(path: Path, bend: &Bend) -> Path {
    let path = path.line_to(point(bend.start));
    match bend.arc {
        Some((centre, sense)) => path.arc_to(point(bend.end), point(centre), sense),
        None => path,
    }
}

/// The arc that touches both sides of a corner: it starts r·tan(θ/2) before the corner, with θ
/// the angle by which the outline turns, and tan(θ/2) = sin θ/(1 + cos θ).
fn bend(before: Corner, corner: Corner, after: Corner) -> Bend {
    let at = (corner.x, corner.y);
    if corner.radius == 0.0 {
        return Bend {
            start: at,
            end: at,
            arc: None,
        };
    }
    let along = direction(before, corner);
    let onward = direction(corner, after);
    let sine = along.0 * onward.1 - along.1 * onward.0;
    let cosine = along.0 * onward.0 + along.1 * onward.1;
    let set_back = corner.radius * sine.abs() / (1.0 + cosine);
    let start = (at.0 - along.0 * set_back, at.1 - along.1 * set_back);
    let end = (at.0 + onward.0 * set_back, at.1 + onward.1 * set_back);
    let (side, sense) = if sine > 0.0 {
        (corner.radius, Sense::Anticlockwise)
    } else {
        (-corner.radius, Sense::Clockwise)
    };
    let centre = (start.0 - along.1 * side, start.1 + along.0 * side);
    Bend {
        start,
        end,
        arc: Some((centre, sense)),
    }
}

fn direction(from: Corner, to: Corner) -> (f64, f64) {
    let (x, y) = (to.x - from.x, to.y - from.y);
    let length = (x * x + y * y).sqrt();
    (x / length, y / length)
}

pub(super) fn point((x, y): (f64, f64)) -> Point {
    Point::new(Length::from_si(x), Length::from_si(y))
}
