//! Points and directions in the plane of the section, as plain SI numbers.

use std::ops::{Add, Mul, Neg, Sub};

/// A point or a difference of points: x to the right, y up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Vector {
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Vector {
    pub(super) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Positive when `other` lies anticlockwise of `self`; never -0.
    pub(super) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x + 0.0
    }

    pub(super) fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    pub(super) fn distance(self, other: Self) -> f64 {
        (self - other).length()
    }

    /// Turned by 90° anticlockwise.
    pub(super) fn quarter_turn(self) -> Self {
        Self::new(-self.y, self.x)
    }

    pub(super) fn middle(self, other: Self) -> Self {
        (self + other) * 0.5
    }

    pub(super) fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl Neg for Vector {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor)
    }
}

/// The smallest upright rectangle round something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Extent {
    pub(super) low: Vector,
    pub(super) high: Vector,
}

impl Extent {
    /// The extent of some points; `None` when there are none.
    pub(super) fn of(points: impl IntoIterator<Item = Vector>) -> Option<Self> {
        points.into_iter().fold(None, |extent, point| {
            let own = Self {
                low: point,
                high: point,
            };
            Some(extent.map_or(own, |extent: Self| extent.with(own)))
        })
    }

    pub(super) fn with(self, other: Self) -> Self {
        Self {
            low: Vector::new(self.low.x.min(other.low.x), self.low.y.min(other.low.y)),
            high: Vector::new(self.high.x.max(other.high.x), self.high.y.max(other.high.y)),
        }
    }

    pub(super) fn width(self) -> f64 {
        self.high.x - self.low.x
    }

    pub(super) fn depth(self) -> f64 {
        self.high.y - self.low.y
    }

    /// The longer side.
    pub(super) fn size(self) -> f64 {
        self.width().max(self.depth())
    }

    pub(super) fn middle(self) -> Vector {
        self.low.middle(self.high)
    }

    /// Whether two extents come within `gap` of each other.
    pub(super) fn is_near(self, other: Self, gap: f64) -> bool {
        self.low.x <= other.high.x + gap
            && other.low.x <= self.high.x + gap
            && self.low.y <= other.high.y + gap
            && other.low.y <= self.high.y + gap
    }
}
