//! The kern of a section: where an axial force causes stress of one sign alone.

use haunch_quantity::typed::Typed;
use haunch_quantity::{Dimension, Quantity};

use super::fibres::{Fibres, moments};
use super::geometry::Geometry;

/// A corner of the kern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KernCorner {
    /// Its coordinate to the right, in the section's frame.
    pub x: Quantity,
    /// Its coordinate upwards.
    pub y: Quantity,
    /// The distance from the centroid to the neutral axis of a force there.
    pub distance: Quantity,
    /// The direction of the normal to that axis, from x anticlockwise.
    pub angle: Quantity,
}

/// The kern of a section.
#[derive(Debug, Clone)]
pub(super) struct Kern {
    /// How far an axial force may act each way, in m.
    reaches: Vec<(&'static str, f64)>,
    pub(super) corners: Vec<KernCorner>,
}

impl Kern {
    pub(super) fn of(geometry: &Geometry) -> Kern {
        Kern {
            reaches: reaches(geometry),
            corners: corners(geometry),
        }
    }

    /// A result by its name.
    pub(super) fn get(&self, member: &str) -> Option<Quantity> {
        if let Some((number, axis)) = corner_of(member) {
            let corner = self.corners.get(number - 1)?;
            return Some(if axis == "x" { corner.x } else { corner.y });
        }
        let (_, distance) = self.reaches.iter().find(|(name, _)| *name == member)?;
        Quantity::new(*distance, Dimension::LENGTH)
    }
}

/// How far from the centroid an axial force may act, up, down, to the left and to the right, before
/// the stress changes its sign somewhere: at each fibre that its moment relieves, the stress of the
/// force alone over that of its moment, and the least of them.
fn reaches(geometry: &Geometry) -> Vec<(&'static str, f64)> {
    let makes = Fibres::new(geometry);
    let mut kern = Vec::new();
    for (moment, moment_y, names) in [
        (1.0, 0.0, ["kern_up", "kern_down"]),
        (0.0, 1.0, ["kern_right", "kern_left"]),
    ] {
        let fibres = makes.extremes(&moments(moment, moment_y));
        // A compressive force above the centroid makes a sagging moment, one to the right of it a
        // moment with the left in tension; tension in the others.
        for (name, sense) in names.into_iter().zip([1.0, -1.0]) {
            let reaches = fibres.iter().filter_map(|fibre| {
                let relief = sense * (moment * fibre.per_moment + moment_y * fibre.per_moment_y);
                (relief > 0.0).then(|| fibre.per_axial / relief)
            });
            kern.extend(reaches.reduce(f64::min).map(|reach| (name, reach)));
        }
    }
    kern
}

/// The corners of the kern, anticlockwise from the direction of x on; none where its edge is round.
fn corners(geometry: &Geometry) -> Vec<KernCorner> {
    let corners = geometry.section.kern_corners().into_iter();
    let known = corners.map(|corner| {
        Some(KernCorner {
            x: corner.place.x.to_quantity()?,
            y: corner.place.y.to_quantity()?,
            distance: corner.distance.to_quantity()?,
            angle: corner.angle.to_quantity()?,
        })
    });
    known.collect::<Option<_>>().unwrap_or_default()
}

/// The number and the axis of `kern_corner_1_x` and the like.
pub(super) fn corner_of(member: &str) -> Option<(usize, &str)> {
    let (number, axis) = member.strip_prefix("kern_corner_")?.split_once('_')?;
    let read: usize = number.parse().ok()?;
    // Spelled as a number is printed.
    let is_known = read > 0 && read.to_string() == number && matches!(axis, "x" | "y");
    is_known.then_some((read, axis))
}
