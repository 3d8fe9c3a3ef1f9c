//! Where normal and shear stress together are worst: over the whole section and along a beam.
//!
//! σ varies over the section as a plane and τ = q/b with the level, so that σ² + 3·τ² may be
//! largest between the corners. The search never samples: it divides levels (and the beam) into
//! cells, bounds the stress in each from above by the largest |σ| and the largest |τ| that it can
//! have there, and divides the cell with the highest bound until that bound is reached by a real
//! place but for [`CLOSE`], or [`MOST_CELLS`] are looked at. What is given is the bound: never too
//! small, too large by no more than `excess`.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use haunch_quantity::typed::{Force, Length, Moment, Stress, Typed};

use super::Section;
use super::combined::CombinedStress;
use super::edge::Edge;
use super::levels::Strip;
use super::outline::Point;
use super::problem::NoResult;
use super::stress::{Forces, StressPlane};
use super::vector::Vector;

/// How near the bound has to come to the stress at a place, as a share of it.
const CLOSE: f64 = 1e-9;

/// After so many cells the search ends.
const MOST_CELLS: usize = 2000;

/// The shortest stretch of a beam, as a share of it.
const SHORTEST: f64 = 1e-9;

/// What normal and shear stress at a place come to together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Equivalent {
    /// √(σ² + 3·τ²)
    VonMises,
    /// The greatest principal stress, σ/2 + √((σ/2)² + τ²).
    Greatest,
    /// The least principal stress by its magnitude, √((σ/2)² + τ²) − σ/2.
    Least,
}

impl Equivalent {
    /// Grows with the magnitude of τ, and with σ, −σ or |σ|.
    pub(super) fn of(self, normal: f64, shear: f64) -> f64 {
        let stress = CombinedStress {
            normal: Stress::from_si(normal),
            shear: Stress::from_si(shear),
        };
        match self {
            Self::VonMises => stress.von_mises().si(),
            Self::Greatest => stress.principal().greatest.si(),
            Self::Least => -stress.principal().least.si(),
        }
    }
}

/// The forces on the section at a place along a beam, or over a stretch of it: the least and the
/// greatest of each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceRange {
    /// Axial force, tension positive.
    pub axial: (Force, Force),
    /// Moment about the x axis, sagging positive.
    pub moment_x: (Moment, Moment),
    /// Moment about the y axis, positive when it stretches the left.
    pub moment_y: (Moment, Moment),
    /// Upright shear force.
    pub shear: (Force, Force),
    /// Sideways shear force. Its stress is taken at its largest over the breadth, wherever that is, and
    /// added to that of the upright force: at no place less than the resultant of both there.
    pub shear_sideways: (Force, Force),
}

impl ForceRange {
    /// The same forces all over, without a sideways shear force.
    pub fn constant(forces: &Forces, shear: Force) -> Self {
        let none = Force::from_si(0.0);
        Self {
            axial: (forces.axial, forces.axial),
            moment_x: (forces.moment_x, forces.moment_x),
            moment_y: (forces.moment_y, forces.moment_y),
            shear: (shear, shear),
            shear_sideways: (none, none),
        }
    }

    /// The larger magnitude of the upright shear force.
    fn largest_upright(&self) -> f64 {
        let (least, greatest) = self.shear;
        least.si().abs().max(greatest.si().abs())
    }

    /// The larger magnitude of the sideways shear force.
    fn largest_sideways(&self) -> f64 {
        let (least, greatest) = self.shear_sideways;
        least.si().abs().max(greatest.si().abs())
    }
}

/// Forces along a beam.
pub trait ForcesAlong {
    /// Forces whose convex hull holds those all over a stretch that is not of no length, between two
    /// stops.
    fn over(&self, from: Length, to: Length) -> Option<Vec<ForceRange>>;

    /// The forces at a place; where they jump, just before it or just after it.
    fn at(&self, place: Length, before: bool) -> Option<ForceRange>;
}

/// The same forces all over.
impl ForcesAlong for ForceRange {
    fn over(&self, _: Length, _: Length) -> Option<Vec<ForceRange>> {
        Some(vec![*self])
    }

    fn at(&self, _: Length, _: bool) -> Option<ForceRange> {
        Some(*self)
    }
}

/// The worst place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CriticalStress {
    /// At least the stress of the worst place; above it by no more than `excess`.
    pub stress: Stress,
    /// The difference between the stress and that of the place.
    pub excess: Stress,
    /// The place found: the part, where in the section, and where along the beam.
    pub part: usize,
    /// In the section.
    pub place: Point,
    /// Along the beam.
    pub at: Length,
}

/// What σ at a corner of a cell is for each force.
struct Corner {
    part: usize,
    place: Vector,
    factors: [f64; 3],
}

/// Levels between which the section changes smoothly, and a stretch of the beam.
struct Cell<'a> {
    strip: &'a Strip,
    /// About the centroid.
    low: f64,
    high: f64,
    from: f64,
    to: f64,
    bound: f64,
}

impl PartialEq for Cell<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Cell<'_> {}

impl PartialOrd for Cell<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Cell<'_> {
    /// The highest bound first; of equal ones what is nearer to the start, then what is higher.
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound
            .total_cmp(&other.bound)
            .then(other.from.total_cmp(&self.from))
            .then(self.low.total_cmp(&other.low))
    }
}

/// Two intervals: of levels about the centroid, and along the beam.
type Extent = ((f64, f64), (f64, f64));

/// An edge of a part that counts, about the centroid.
struct PartEdge {
    part: usize,
    ratio: f64,
    edge: Edge,
}

/// Everything that a search looks at.
struct Search<'a> {
    section: &'a Section,
    edges: Vec<PartEdge>,
    equivalent: Equivalent,
    forces: &'a dyn ForcesAlong,
    /// σ in the reference material under a unit of each force.
    planes: [StressPlane; 3],
    /// The levels where τ may be stationary.
    stationary: Vec<f64>,
    /// The largest |τ| of a unit of sideways shear force in these parts.
    per_sideways: f64,
    /// Stretches of the beam are not divided below this length.
    shortest: f64,
    /// How near the bound has to come to the stress at a place, as a share of it.
    close: f64,
}

impl Section {
    /// The worst place of some parts under forces that vary along a beam. `stops` are the places
    /// along it between which they vary smoothly; for forces that do not vary, any two.
    ///
    /// # Errors
    /// As [`Section::shear_stress`], if any level of these parts has no shear stress; of a sideways
    /// shear force as [`Section::shear_stress_sideways`];
    /// [`NoResult::Outside`] where no part is meant or a force is not known.
    pub fn critical_stress(
        &self,
        parts: &[usize],
        equivalent: Equivalent,
        stops: &[Length],
        forces: &dyn ForcesAlong,
    ) -> Result<CriticalStress, NoResult> {
        self.critical_stress_within(parts, equivalent, stops, forces, CLOSE)
    }

    /// The same, with a bound that comes only so near to the stress at a place, as a share of it.
    pub(super) fn critical_stress_within(
        &self,
        parts: &[usize],
        equivalent: Equivalent,
        stops: &[Length],
        forces: &dyn ForcesAlong,
        close: f64,
    ) -> Result<CriticalStress, NoResult> {
        let members = self.members.iter().filter(|own| parts.contains(&own.index));
        let edges: Vec<PartEdge> = members
            .flat_map(|own| {
                let moved = own.net.moved(-self.moments.centroid).edges;
                moved.into_iter().map(|edge| PartEdge {
                    part: own.index,
                    ratio: own.ratio,
                    edge,
                })
            })
            .collect();
        let is_crossed =
            |strip: &&Strip| edges.iter().any(|own| own.crosses(strip, self.tolerance));
        let strips: Vec<&Strip> = self.levels.strips().iter().filter(is_crossed).collect();
        let mut stationary = vec![0.0];
        for strip in &strips {
            if strip.cuts_several_ratios() {
                let y = Length::from_si(self.moments.centroid.y + (strip.top + strip.bottom) / 2.0);
                return Err(NoResult::SeveralMaterialsSideBySide { y });
            }
            stationary.extend(self.level_stationary(strip));
        }
        let unit = |axial: f64, moment_x: f64, moment_y: f64| {
            self.stress_plane(&Forces {
                axial: Force::from_si(axial),
                moment_x: Moment::from_si(moment_x),
                moment_y: Moment::from_si(moment_y),
            })
        };
        let length = match stops {
            [first, .., last] => (*last - *first).si(),
            _ => 0.0,
        };
        let mut is_sheared_sideways = false;
        for pair in stops.windows(2) {
            let hull = forces_over(forces, pair[0], pair[1])?;
            is_sheared_sideways |= hull.iter().any(|own| own.largest_sideways() > 0.0);
        }
        let per_sideways = match is_sheared_sideways {
            true => {
                let exchanged = self.with_axes_exchanged();
                let largest = exchanged.largest_shear_stress_in(parts, Force::from_si(1.0))?;
                largest.stress.si().abs()
            }
            false => 0.0,
        };
        let search = Search {
            section: self,
            edges,
            equivalent,
            forces,
            planes: [
                unit(1.0, 0.0, 0.0),
                unit(0.0, 1.0, 0.0),
                unit(0.0, 0.0, 1.0),
            ],
            stationary,
            per_sideways,
            shortest: SHORTEST * length,
            close,
        };
        search.run(&strips, stops)
    }
}

impl PartEdge {
    /// Whether the edge bounds material in a strip.
    fn crosses(&self, strip: &Strip, tolerance: f64) -> bool {
        let (from, to) = (self.edge.from.y, self.edge.to.y);
        from.min(to) <= strip.bottom + tolerance
            && from.max(to) >= strip.top - tolerance
            && from.max(to) - from.min(to) > tolerance
    }
}

impl<'a> Search<'a> {
    fn run(&self, strips: &[&'a Strip], stops: &[Length]) -> Result<CriticalStress, NoResult> {
        let mut cells: BinaryHeap<Cell<'a>> = BinaryHeap::new();
        let mut best: Option<CriticalStress> = None;
        for pair in stops.windows(2) {
            let &[from, to] = pair else { continue };
            for &strip in strips {
                let extent = ((strip.bottom, strip.top), (from.si(), to.si()));
                cells.push(self.cell(strip, extent)?);
                self.look_into(strip, extent, &mut best)?;
            }
        }
        let mut looked_at = cells.len();
        while let Some(cell) = cells.pop() {
            let reached = best.map_or(f64::NEG_INFINITY, |own| own.stress.si());
            let is_close = cell.bound <= reached * (1.0 + self.close);
            let halves = match is_close || looked_at >= MOST_CELLS {
                true => None,
                false => self.halves(&cell)?,
            };
            let Some(halves) = halves else {
                return best
                    .map(|own| CriticalStress {
                        stress: Stress::from_si(cell.bound.max(reached)),
                        excess: Stress::from_si((cell.bound - reached).max(0.0)),
                        ..own
                    })
                    .ok_or(NoResult::Outside);
            };
            for half in halves {
                looked_at += 1;
                self.look_into(half.strip, half.extent(), &mut best)?;
                // A half is not worse than the whole, but for rounding.
                let bound = half.bound.min(cell.bound);
                cells.push(Cell { bound, ..half });
            }
        }
        Err(NoResult::Outside)
    }

    fn cell(&self, strip: &'a Strip, extent: Extent) -> Result<Cell<'a>, NoResult> {
        let ((low, high), (from, to)) = extent;
        let forces = forces_over(self.forces, Length::from_si(from), Length::from_si(to))?;
        let per_shear = self.largest_shear(strip, low, high)?;
        let corners = self.corners(strip, low, high);
        let mut bound = 0.0_f64;
        // The stress is convex in the forces: it is nowhere larger than at the ends of their hull.
        for forces in forces {
            let shear = per_shear * forces.largest_upright()
                + self.per_sideways * forces.largest_sideways();
            for corner in &corners {
                let (least, greatest) = normal(corner, &forces);
                let ends = [least, greatest].map(|own| self.equivalent.of(own, shear));
                bound = bound.max(ends[0]).max(ends[1]);
            }
        }
        Ok(Cell {
            strip,
            low,
            high,
            from,
            to,
            bound,
        })
    }

    /// The stress at the ends and in the middle of a cell may be the best so far.
    fn look_into(
        &self,
        strip: &Strip,
        ((low, high), (from, to)): Extent,
        best: &mut Option<CriticalStress>,
    ) -> Result<(), NoResult> {
        let middle = (low + high) / 2.0;
        let places = [(from, false), ((from + to) / 2.0, false), (to, true)];
        // Without a length all three are one place.
        let count = if from < to { places.len() } else { 1 };
        for &(at, before) in places.iter().take(count) {
            let at = Length::from_si(at);
            let forces = self.forces.at(at, before).ok_or(NoResult::Outside)?;
            for level in [low, middle, high] {
                let shear = self.shear_factor(strip, level)? * forces.shear.0.si().abs()
                    + self.per_sideways * forces.largest_sideways();
                for corner in self.corners(strip, level, level) {
                    let value = self.equivalent.of(normal(&corner, &forces).0, shear);
                    let beats = |own: &CriticalStress| value > own.stress.si() * (1.0 + 1e-12);
                    if best.as_ref().is_none_or(beats) {
                        let place = corner.place + self.section.moments.centroid;
                        *best = Some(CriticalStress {
                            stress: Stress::from_si(value),
                            excess: Stress::from_si(0.0),
                            part: corner.part,
                            place: Point::from_vector(place),
                            at,
                        });
                    }
                }
            }
        }
        Ok(())
    }

    /// The halves of a cell; none where it is as small as it may be. It is divided across the
    /// direction along which the stress varies more: the one whose middle has the lower bound.
    fn halves(&self, cell: &Cell<'a>) -> Result<Option<[Cell<'a>; 2]>, NoResult> {
        let (levels, stretch) = cell.extent();
        let middle = |(low, high): (f64, f64)| (low + high) / 2.0;
        let (level, place) = (middle(levels), middle(stretch));
        let is_deep = levels.1 - levels.0 > self.section.tolerance;
        let is_long = stretch.1 - stretch.0 > self.shortest;
        let by_level = match (is_deep, is_long) {
            (false, false) => return Ok(None),
            (true, true) => {
                let at_level = self.cell(cell.strip, ((level, level), stretch))?;
                let at_place = self.cell(cell.strip, (levels, (place, place)))?;
                at_level.bound <= at_place.bound
            }
            (is_deep, _) => is_deep,
        };
        let halves: [Extent; 2] = match by_level {
            true => [((levels.0, level), stretch), ((level, levels.1), stretch)],
            false => [(levels, (stretch.0, place)), (levels, (place, stretch.1))],
        };
        let [one, two] = halves.map(|half| self.cell(cell.strip, half));
        Ok(Some([one?, two?]))
    }

    /// The corners of the rectangles round each edge of a strip between two levels: σ is extreme
    /// at one of them, or less.
    fn corners(&self, strip: &Strip, low: f64, high: f64) -> Vec<Corner> {
        let mut corners = Vec::new();
        for own in &self.edges {
            if !own.crosses(strip, self.section.tolerance) {
                continue;
            }
            let (from, to) = (own.edge.from.y, own.edge.to.y);
            let (bottom, top) = (from.min(to), from.max(to));
            let (low, high) = (low.clamp(bottom, top), high.clamp(bottom, top));
            let mut add = |x: f64, y: f64| {
                let place = Vector::new(x, y);
                let factor = |plane: StressPlane| {
                    own.ratio * (plane.at_centroid + plane.gradient.dot(place))
                };
                corners.push(Corner {
                    part: own.part,
                    place,
                    factors: self.planes.map(factor),
                });
            };
            add(own.edge.x_at(low), low);
            if low < high {
                add(own.edge.x_at(high), low);
                add(own.edge.x_at(low), high);
                add(own.edge.x_at(high), high);
            }
        }
        corners
    }

    /// |τ| over V is nowhere larger between two levels of a strip.
    fn largest_shear(&self, strip: &Strip, low: f64, high: f64) -> Result<f64, NoResult> {
        let inside = self.stationary.iter().copied();
        let inside = inside.filter(|&level| low < level && level < high);
        let mut largest = 0.0_f64;
        for level in inside.chain([low, high]) {
            largest = largest.max(self.shear_factor(strip, level)?);
        }
        Ok(largest)
    }

    fn shear_factor(&self, strip: &Strip, level: f64) -> Result<f64, NoResult> {
        if self.section.is_at_free_edge(level) {
            return Ok(0.0);
        }
        let y = Length::from_si(self.section.moments.centroid.y + level);
        let factor = self.section.stress_factor(&strip.cut(level));
        factor.map(f64::abs).ok_or(NoResult::NoWidth { y })
    }
}

impl Cell<'_> {
    fn extent(&self) -> Extent {
        ((self.low, self.high), (self.from, self.to))
    }
}

/// The hull of the forces over a stretch, or the forces at a place.
fn forces_over(
    forces: &dyn ForcesAlong,
    from: Length,
    to: Length,
) -> Result<Vec<ForceRange>, NoResult> {
    let hull = match from.si() < to.si() {
        true => forces.over(from, to),
        false => forces.at(from, false).map(|own| vec![own]),
    };
    hull.ok_or(NoResult::Outside)
}

/// The least and the greatest σ at a corner under forces within their ranges.
fn normal(corner: &Corner, forces: &ForceRange) -> (f64, f64) {
    let ranges = [
        (forces.axial.0.si(), forces.axial.1.si()),
        (forces.moment_x.0.si(), forces.moment_x.1.si()),
        (forces.moment_y.0.si(), forces.moment_y.1.si()),
    ];
    let ends = corner.factors.iter().zip(ranges);
    ends.fold((0.0, 0.0), |(least, greatest), (factor, (low, high))| {
        let (a, b) = (factor * low, factor * high);
        (least + a.min(b), greatest + a.max(b))
    })
}
