//! Ellipses, as outlines of circular arcs.

use haunch_quantity::typed::{Length, Typed};

use super::outline::{Outline, Point, Sense};
use super::problem::ShapeProblem;

/// How often the longer axis of an ellipse may hold the shorter one.
pub const LONGEST_ELLIPSE: f64 = 20.0;

/// Arcs in a quarter of an ellipse, for each unit of the square root of its proportion.
const ARCS: f64 = 14.0;

impl Outline {
    /// A whole ellipse whose axes are level and upright, by circular arcs each of which meets the
    /// ellipse at its ends and at a place between them.
    ///
    /// Width and height are exact. The arcs leave the ellipse by no more than 1e-5 of the longer
    /// axis, inwards and outwards by turns, so that the area and the second moments are off by
    /// no more than 2e-6 of their value.
    pub(super) fn ellipse(
        centre: Point,
        width: Length,
        height: Length,
    ) -> Result<Self, ShapeProblem> {
        let (a, b) = (width.si() / 2.0, height.si() / 2.0);
        let proportion = (a / b).max(b / a);
        if proportion.is_nan() || proportion > LONGEST_ELLIPSE * (1.0 + 1e-12) {
            return Err(ShapeProblem::SizeOutOfRange);
        }
        let quarter = libm::ceil(ARCS * proportion.sqrt()) as u32;
        let step = std::f64::consts::FRAC_PI_2 / f64::from(quarter);
        // Steps of θ with tan t = √(b/a)·tan θ, t the eccentric angle, lie closer where the
        // ellipse bends more, halfway between even steps of t and even turns of the tangent.
        let place = |half_steps: f64| {
            let angle = step * half_steps / 2.0;
            let (up, right) = (b.sqrt() * libm::sin(angle), a.sqrt() * libm::cos(angle));
            let length = (up * up + right * right).sqrt();
            (a * right / length, b * up / length)
        };
        let point = |(x, y): (f64, f64)| {
            Point::new(centre.x + Length::from_si(x), centre.y + Length::from_si(y))
        };
        // An arc has its middle at each end of an axis, where it has the ellipse's tangent.
        let start = point(place(-1.0));
        let count = 4 * quarter;
        let drawn = (0..count).fold(Self::starting_at(start), |path, arc| {
            let middle = 2.0 * f64::from(arc);
            let [from, between, to] = [middle - 1.0, middle, middle + 1.0].map(place);
            let end = if arc + 1 == count { start } else { point(to) };
            path.arc_to(
                end,
                point(centre_of(from, between, to)),
                Sense::Anticlockwise,
            )
        });
        Ok(drawn.close())
    }
}

/// The centre of the circle through three places.
fn centre_of(from: (f64, f64), between: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let arm = |place: (f64, f64)| (place.0 - between.0, place.1 - between.1);
    let (one, other) = (arm(from), arm(to));
    let square = |arm: (f64, f64)| arm.0 * arm.0 + arm.1 * arm.1;
    let twice = 2.0 * (one.0 * other.1 - one.1 * other.0);
    (
        between.0 + (other.1 * square(one) - one.1 * square(other)) / twice,
        between.1 + (one.0 * square(other) - other.0 * square(one)) / twice,
    )
}
