//! Outlines of any shape, from straight lines and circular arcs.

use haunch_quantity::typed::{Length, Ratio, Typed};

use super::edge::{Circle, Curve, Edge};
use super::integrals::Integrals;
use super::meeting::meeting_points;
use super::problem::ShapeProblem;
use super::region::Region;
use super::vector::{Extent, Vector};

/// Two places closer than this share of the size of what they belong to count as one.
pub(super) const RELATIVE_TOLERANCE: f64 = 1e-9;

/// How far from the origin a thing may lie, in its own sizes, for the digits of its coordinates
/// to suffice.
pub(super) const LONGEST_REACH: f64 = 1e5;

/// A place in the plane of the section: x to the right, y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

impl Point {
    /// The place with these coordinates.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }

    pub(super) fn vector(self) -> Vector {
        // Adding 0 turns -0 into 0.
        Vector::new(self.x.si() + 0.0, self.y.si() + 0.0)
    }

    pub(super) fn from_vector(vector: Vector) -> Self {
        Self::new(Length::from_si(vector.x), Length::from_si(vector.y))
    }
}

/// The smallest upright rectangle round a shape or section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The least x.
    pub left: Length,
    /// The greatest x.
    pub right: Length,
    /// The least y.
    pub bottom: Length,
    /// The greatest y.
    pub top: Length,
}

impl Bounds {
    pub(super) fn from_extent(extent: Extent) -> Self {
        Self {
            left: Length::from_si(extent.low.x),
            right: Length::from_si(extent.high.x),
            bottom: Length::from_si(extent.low.y),
            top: Length::from_si(extent.high.y),
        }
    }

    /// From left to right.
    pub fn width(&self) -> Length {
        self.right - self.left
    }

    /// From bottom to top.
    pub fn depth(&self) -> Length {
        self.top - self.bottom
    }
}

/// The way round in which an arc is run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// As the hands of a clock.
    Clockwise,
    /// Against the hands of a clock.
    Anticlockwise,
}

/// A closed outline of straight lines and circular arcs, with or without holes.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    region: Region,
    /// What went wrong when it was drawn or moved.
    problem: Option<ShapeProblem>,
}

/// An outline that is being drawn.
#[derive(Clone, Debug)]
pub struct Path {
    start: Vector,
    here: Vector,
    edges: Vec<Edge>,
    problem: Option<ShapeProblem>,
}

impl Path {
    /// A straight line to a place.
    #[must_use]
    pub fn line_to(mut self, place: Point) -> Self {
        self.straight_to(place.vector());
        self
    }

    /// A circular arc to a place; back to where it starts it is a whole circle.
    #[must_use]
    pub fn arc_to(mut self, place: Point, centre: Point, sense: Sense) -> Self {
        let (to, centre) = (place.vector(), centre.vector());
        let radius = self.here.distance(centre);
        let circle = Circle {
            centre,
            radius,
            anticlockwise: sense == Sense::Anticlockwise,
        };
        let misfit = (to.distance(centre) - radius).abs();
        // A misfit that is no number is no fit either.
        if radius > 0.0 && misfit <= RELATIVE_TOLERANCE * radius {
            self.edges.extend(Edge::arcs(self.here, to, circle));
        } else {
            self.problem = Some(ShapeProblem::ArcDoesNotFit);
        }
        self.here = to;
        self
    }

    /// The outline, closed by a straight line where its end is not its start.
    ///
    /// It may be drawn either way round.
    pub fn close(mut self) -> Outline {
        self.straight_to(self.start);
        Outline {
            region: Region { edges: self.edges },
            problem: self.problem,
        }
        .anticlockwise()
    }

    fn straight_to(&mut self, to: Vector) {
        if to != self.here {
            self.edges.push(Edge::straight(self.here, to));
        }
        self.here = to;
    }
}

impl Outline {
    /// Starts to draw an outline.
    pub fn starting_at(place: Point) -> Path {
        let start = place.vector();
        Path {
            start,
            here: start,
            edges: Vec::new(),
            problem: None,
        }
    }

    /// A whole circle.
    pub fn circle(centre: Point, radius: Length) -> Self {
        let (centre, radius) = (centre.vector(), radius.si());
        let right = centre + Vector::new(radius, 0.0);
        let circle = Circle {
            centre,
            radius,
            anticlockwise: true,
        };
        let edges = Edge::arcs(right, right, circle);
        Self {
            region: Region { edges },
            problem: (radius <= 0.0).then_some(ShapeProblem::NoArea),
        }
    }

    /// The outline with a hole in it, which must lie in its material.
    #[must_use]
    pub fn with_hole(mut self, hole: Self) -> Self {
        // Edges that cross are found later, so one corner tells where all of them lie.
        let start = |own: &Region| own.edges.first().map(|edge| edge.from);
        let is_inside = start(&hole.region).is_some_and(|corner| self.region.surrounds(corner));
        let swallows = |edge: &Edge| hole.region.surrounds(edge.from);
        if !is_inside || self.region.edges.iter().any(swallows) {
            self.problem = Some(ShapeProblem::HoleOutside);
        }
        self.problem = self.problem.or(hole.problem);
        let boundary = hole.region.edges.into_iter().map(Edge::reversed);
        self.region.edges.extend(boundary);
        self
    }

    /// The outline moved to the right and up.
    #[must_use]
    pub fn moved(self, right: Length, up: Length) -> Self {
        let region = self.region.moved(Vector::new(right.si(), up.si()));
        let here = Vector::new(0.0, 0.0);
        Self { region, ..self }.within_reach_of(here)
    }

    /// The outline turned anticlockwise about a place, by an angle in radians.
    #[must_use]
    pub fn turned(self, angle: Ratio, about: Point) -> Self {
        let (sine, cosine) = (libm::sin(angle.si()), libm::cos(angle.si()));
        let about = about.vector();
        self.mapped(about, false, |point| {
            let arm = point - about;
            about + arm * cosine + arm.quarter_turn() * sine
        })
    }

    /// The outline with left and right exchanged about a vertical line.
    #[must_use]
    pub fn mirrored_sideways(self, line: Length) -> Self {
        let about = Vector::new(line.si(), 0.0);
        self.mapped(about, true, |point| {
            Vector::new(2.0 * line.si() - point.x, point.y)
        })
    }

    /// The outline with top and bottom exchanged about a level line.
    #[must_use]
    pub fn mirrored_upside_down(self, line: Length) -> Self {
        let about = Vector::new(0.0, line.si());
        self.mapped(about, true, |point| {
            Vector::new(point.x, 2.0 * line.si() - point.y)
        })
    }

    fn mapped(self, about: Vector, mirrors: bool, place: impl Fn(Vector) -> Vector) -> Self {
        let edges = self.region.edges.into_iter().flat_map(|edge| {
            let (from, to) = (place(edge.from), place(edge.to));
            let mapped = match edge.curve {
                Curve::Straight => vec![Edge::straight(from, to)],
                Curve::Arc(circle) => {
                    let anticlockwise = circle.anticlockwise != mirrors;
                    let centre = place(circle.centre);
                    Edge::arcs(
                        from,
                        to,
                        Circle {
                            centre,
                            anticlockwise,
                            ..circle
                        },
                    )
                }
            };
            // A mirrored outline is run backwards, so that the material stays to the left.
            let keep = |edge: Edge| if mirrors { edge.reversed() } else { edge };
            mapped.into_iter().map(keep).collect::<Vec<_>>()
        });
        Self {
            region: Region {
                edges: edges.collect(),
            },
            ..self
        }
        .within_reach_of(about)
    }

    /// Notes if so few digits of the coordinates are left for the shape that it may be distorted.
    fn within_reach_of(mut self, place: Vector) -> Self {
        let extent = self.region.extent();
        let is_near = |extent: Extent| {
            let corners = [extent.low, extent.high, place];
            let limit = LONGEST_REACH * extent.size();
            corners
                .iter()
                .all(|corner| corner.x.abs() <= limit && corner.y.abs() <= limit)
        };
        if !extent.is_some_and(is_near) {
            self.problem = self.problem.or(Some(ShapeProblem::TooFarAway));
        }
        self
    }

    fn anticlockwise(mut self) -> Self {
        if self.signed_area() < 0.0 {
            self.region.edges = self.region.edges.into_iter().map(Edge::reversed).collect();
        }
        self
    }

    fn signed_area(&self) -> f64 {
        let middle = self
            .region
            .extent()
            .map_or(Vector::new(0.0, 0.0), Extent::middle);
        Integrals::of(self.region.edges.iter().map(|edge| edge.moved(-middle))).area
    }

    /// The region inside, if the outline is sound.
    pub(super) fn checked(self) -> Result<Region, ShapeProblem> {
        let edges = &self.region.edges;
        if edges
            .iter()
            .any(|edge| !edge.from.is_finite() || !edge.to.is_finite())
        {
            return Err(ShapeProblem::NotFinite);
        }
        if let Some(problem) = self.problem {
            return Err(problem);
        }
        let extent = self.region.extent().ok_or(ShapeProblem::NoArea)?;
        if !(1e-12..=1e12).contains(&extent.size()) {
            return Err(ShapeProblem::SizeOutOfRange);
        }
        let flat = |edge: &Edge| match edge.curve {
            Curve::Straight => false,
            Curve::Arc(circle) => circle.radius > 1e3 * extent.size(),
        };
        if edges.iter().any(flat) {
            return Err(ShapeProblem::ArcTooFlat);
        }
        let tolerance = RELATIVE_TOLERANCE * extent.size();
        // No overflow within these sizes, so the area is a number.
        if self.signed_area() <= tolerance * extent.size() {
            return Err(ShapeProblem::NoArea);
        }
        if edges
            .iter()
            .any(|edge| edge.from.distance(edge.to) <= 10.0 * tolerance)
        {
            return Err(ShapeProblem::CornersTooClose);
        }
        if crosses_itself(edges, 2.0 * tolerance) {
            return Err(ShapeProblem::CrossesItself);
        }
        Ok(self.region)
    }
}

/// Whether edges meet anywhere but at the corners where one follows the other.
fn crosses_itself(edges: &[Edge], tolerance: f64) -> bool {
    edges.iter().enumerate().any(|(index, &a)| {
        edges.iter().skip(index + 1).any(|&b| {
            let corner = |point: Vector| {
                let at = |one: Vector, other: Vector| {
                    one.distance(other) <= tolerance && point.distance(one) <= tolerance
                };
                at(a.to, b.from) || at(b.to, a.from)
            };
            meeting_points(a, b, tolerance)
                .into_iter()
                .any(|point| !corner(point))
        })
    })
}
