//! A section cut at any level: what lies above the cut, and the cut itself.

use super::edge::{Curve, Edge};
use super::integrals::Integrals;

/// One edge of a section in axes through its centroid.
#[derive(Clone, Copy, Debug)]
pub(super) struct WeightedEdge {
    pub(super) edge: Edge,
    /// Modular ratio of the part that it bounds.
    pub(super) ratio: f64,
}

/// A section sliced where its edges begin and end, so that between two slices it changes smoothly.
///
/// Ordinates are about the centroid; integrals are multiplied by the modular ratios.
#[derive(Clone, Debug)]
pub(super) struct Levels {
    /// From the top to the bottom; none when the section is empty.
    strips: Vec<Strip>,
    tolerance: f64,
}

/// The part of a section between two neighbouring levels.
#[derive(Clone, Debug)]
pub(super) struct Strip {
    pub(super) bottom: f64,
    pub(super) top: f64,
    /// The edges that run from its top to its bottom or beyond.
    crossing: Vec<WeightedEdge>,
    /// Of everything above its top.
    above: Integrals,
}

/// The section just at one level, on one side of a jump.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut {
    /// The length of material that is cut.
    pub(super) width: f64,
    /// dwidth/dy
    pub(super) width_slope: f64,
    /// ∫ n dx along the cut.
    pub(super) weighted_width: f64,
    /// ∫ n·x dx along the cut.
    pub(super) weighted_first_moment: f64,
    /// The modular ratio of all that is cut; `None` when several are.
    pub(super) ratio: Option<f64>,
    /// Of everything above the level.
    pub(super) above: Integrals,
}

impl Levels {
    /// Slices the section; levels within the tolerance of each other are one.
    pub(super) fn new(edges: &[WeightedEdge], tolerance: f64) -> Self {
        let mut ordinates: Vec<f64> = edges
            .iter()
            .flat_map(|own| [own.edge.from.y, own.edge.to.y])
            .collect();
        ordinates.sort_by(|a, b| b.total_cmp(a));
        // Each level as the highest and the lowest of the ordinates that it unites.
        let mut levels: Vec<(f64, f64)> = Vec::new();
        for y in ordinates {
            match levels.last_mut() {
                Some((_, low)) if *low - y <= tolerance => *low = y,
                _ => levels.push((y, y)),
            }
        }
        let mut above = Integrals::default();
        let mut strips = Vec::new();
        for (&(high, top), &(bottom, _)) in levels.iter().zip(levels.iter().skip(1)) {
            if high > top {
                above = above.plus(1.0, between(edges, top, high));
            }
            let crossing: Vec<WeightedEdge> = edges
                .iter()
                .filter(|own| {
                    let (from, to) = (own.edge.from.y, own.edge.to.y);
                    from.min(to) <= bottom && from.max(to) >= top
                })
                .copied()
                .collect();
            let strip = Strip {
                bottom,
                top,
                crossing,
                above,
            };
            above = above.plus(1.0, strip.between(bottom, top));
            strips.push(strip);
        }
        Self { strips, tolerance }
    }

    pub(super) fn strips(&self) -> &[Strip] {
        &self.strips
    }

    /// The section just below and just above a level. They differ only at a level where the
    /// section changes abruptly; outside the section both are empty.
    pub(super) fn at(&self, y: f64) -> Sides {
        let within =
            |strip: &&Strip| y >= strip.bottom - self.tolerance && y <= strip.top + self.tolerance;
        let mut found = self.strips.iter().filter(within);
        let (first, second) = (found.next(), found.next());
        match (first, second) {
            // Within the tolerance of a level, the strips on both its sides are meant.
            (Some(upper), Some(lower)) => Sides {
                above: upper.cut(y),
                below: lower.cut(y),
            },
            (Some(strip), None) => self.beside(strip, y),
            (None, _) => self.outside(y),
        }
    }

    fn beside(&self, strip: &Strip, y: f64) -> Sides {
        let cut = strip.cut(y);
        let is_first = self
            .strips
            .first()
            .is_some_and(|first| std::ptr::eq(first, strip));
        let is_last = self
            .strips
            .last()
            .is_some_and(|last| std::ptr::eq(last, strip));
        if is_first && y >= strip.top - self.tolerance {
            Sides {
                above: Cut::empty(Integrals::default()),
                below: cut,
            }
        } else if is_last && y <= strip.bottom + self.tolerance {
            Sides {
                above: cut,
                below: Cut::empty(cut.above),
            }
        } else {
            Sides {
                above: cut,
                below: cut,
            }
        }
    }

    fn outside(&self, y: f64) -> Sides {
        let over = self.strips.first().is_some_and(|first| y > first.top);
        let above = match self.strips.last() {
            Some(last) if !over => last.cut(last.bottom).above,
            _ => Integrals::default(),
        };
        Sides {
            above: Cut::empty(above),
            below: Cut::empty(above),
        }
    }
}

/// The section at a level, seen from both sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sides {
    pub(super) below: Cut,
    pub(super) above: Cut,
}

impl Cut {
    fn empty(above: Integrals) -> Self {
        Self {
            width: 0.0,
            width_slope: 0.0,
            weighted_width: 0.0,
            weighted_first_moment: 0.0,
            ratio: None,
            above,
        }
    }
}

impl Strip {
    /// The section at a level of the strip, which is pulled into it where it lies outside.
    pub(super) fn cut(&self, y: f64) -> Cut {
        let y = y.clamp(self.bottom, self.top);
        let mut cut = Cut::empty(self.above.plus(1.0, self.between(y, self.top)));
        let mut single = true;
        for own in &self.crossing {
            let x = own.edge.x_at(y);
            // A rising edge is the right end of a stretch of material, a falling one the left.
            let sense = if own.edge.is_upward() { 1.0 } else { -1.0 };
            cut.width += sense * x;
            cut.width_slope += sense * own.edge.slope_at(y);
            cut.weighted_width += sense * own.ratio * x;
            cut.weighted_first_moment += sense * own.ratio * x * x / 2.0;
            single &= cut.ratio.is_none_or(|known| known == own.ratio);
            cut.ratio = Some(own.ratio);
        }
        if !single {
            cut.ratio = None;
        }
        cut
    }

    /// Whether material lies in the strip.
    pub(super) fn is_empty(&self) -> bool {
        self.crossing.is_empty()
    }

    /// Whether all its edges are upright lines.
    pub(super) fn is_upright(&self) -> bool {
        self.crossing
            .iter()
            .all(|own| own.edge.curve == Curve::Straight && own.edge.from.x == own.edge.to.x)
    }

    pub(super) fn cuts_several_ratios(&self) -> bool {
        self.crossing
            .windows(2)
            .any(|pair| pair[0].ratio != pair[1].ratio)
    }

    fn between(&self, low: f64, high: f64) -> Integrals {
        between(&self.crossing, low, high)
    }
}

fn between(edges: &[WeightedEdge], low: f64, high: f64) -> Integrals {
    edges.iter().fold(Integrals::default(), |sum, own| {
        match own.edge.between(low, high) {
            Some(piece) => sum.plus(own.ratio, Integrals::of_edge(piece)),
            None => sum,
        }
    })
}
