//! First moments above a level, cut widths, shear flow and shear stress over the depth.

use haunch_quantity::typed::{FirstMomentOfArea, Force, ForcePerLength, Length, Stress, Typed};

use super::Section;
use super::build::Member;
use super::combine::intersection;
use super::integrals::{Integrals, Moments};
use super::levels::{Cut, Strip};
use super::problem::{NoResult, Problem};
use super::shape::Shape;

/// A quantity at a level on both sides of a jump; the same twice where nothing jumps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtLevel<T> {
    /// Just below the level.
    pub below: T,
    /// Just above the level.
    pub above: T,
}

/// The shear stress that is the largest over the depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LargestShearStress {
    /// The stress, with the sign of V.
    pub stress: Stress,
    /// The level of the cut.
    pub y: Length,
    /// The width of material that is cut there; where the width jumps, the smaller one counts.
    pub width: Length,
}

/// A width below this share of the section's size is a contact in a point, widened by rounding.
/// Every part is thicker.
const LEAST_WIDTH: f64 = 1e-6;

impl Section {
    /// The first moment Q of the transformed area above a level, about the level centroidal axis.
    ///
    /// Zero at and beyond the top and the bottom.
    pub fn first_moment_above(&self, y: Length) -> FirstMomentOfArea {
        FirstMomentOfArea::from_si(self.integrals_above(y).y)
    }

    /// The first moment of the transformed area of some parts, what deductions leave of them,
    /// about the level centroidal axis; above it positive.
    ///
    /// Q for the joint that holds these parts. Numbers that name no part of material are ignored.
    pub fn first_moment_of_parts(&self, parts: &[usize]) -> FirstMomentOfArea {
        let chosen = self.members.iter().filter(|own| parts.contains(&own.index));
        let moment = |own: &Member| {
            let arm = own.net_moments.centroid.y - self.moments.centroid.y;
            own.ratio * own.net_moments.area * arm
        };
        FirstMomentOfArea::from_si(chosen.map(moment).sum())
    }

    /// The first moment of the transformed area that lies inside a shape, about the level
    /// centroidal axis; above it positive.
    ///
    /// # Errors
    /// What is wrong with the shape; `part` of the problem has no meaning.
    pub fn first_moment_inside(&self, shape: &Shape) -> Result<FirstMomentOfArea, Problem> {
        let region = shape
            .region()
            .map_err(|problem| Problem::Shape { part: 0, problem })?;
        let moment = |(ratio, own): (f64, Moments)| {
            ratio * own.area * (own.centroid.y - self.moments.centroid.y)
        };
        let common = self.members.iter().filter_map(|member| {
            let common = intersection(&member.net, &region, self.tolerance);
            Some((member.ratio, common.moments(0.0)?))
        });
        Ok(FirstMomentOfArea::from_si(common.map(moment).sum()))
    }

    /// The width b of material that a level cuts, gaps left out.
    pub fn width_at(&self, y: Length) -> AtLevel<Length> {
        let sides = self.levels.at(self.ordinate(y));
        AtLevel {
            below: Length::from_si(sides.below.width),
            above: Length::from_si(sides.above.width),
        }
    }

    /// The shear flow across a level under an upright shear force: force per length of the beam
    /// between what lies above the level and what lies below.
    ///
    /// q = V·(Iyy·Qx − Ixy·Qy)/(Ixx·Iyy − Ixy²) from the equilibrium of the part above with the
    /// general bending stress; V·Q/Ixx where Ixy = 0 (common practice). The force acts through
    /// the shear centre: torsion is not included.
    pub fn shear_flow(&self, y: Length, shear: Force) -> ForcePerLength {
        ForcePerLength::from_si(shear.si() * self.flow(self.integrals_above(y)))
    }

    /// The mean shear stress over the width cut at a level, τ = q/b, with the sign of V.
    ///
    /// The stress is taken as even over the width. In a wide flange or near the top of a circle
    /// this is the usual approximation, and the true stress varies over the width.
    ///
    /// # Errors
    /// [`NoResult::Outside`] where the level misses the section,
    /// [`NoResult::SeveralMaterialsSideBySide`], and [`NoResult::NoWidth`].
    pub fn shear_stress(&self, y: Length, shear: Force) -> Result<AtLevel<Stress>, NoResult> {
        let level = self.ordinate(y);
        let (bottom, top) = (self.ordinate_bottom(), self.ordinate_top());
        if level < bottom - self.tolerance || level > top + self.tolerance {
            return Err(NoResult::Outside);
        }
        if self.is_at_free_edge(level) {
            let free = Stress::from_si(0.0);
            return Ok(AtLevel {
                below: free,
                above: free,
            });
        }
        let sides = self.levels.at(level);
        let stress = |cut: &Cut| -> Result<Stress, NoResult> {
            if cut.ratio.is_none() && cut.width > LEAST_WIDTH * self.extent.size() {
                return Err(NoResult::SeveralMaterialsSideBySide { y });
            }
            Ok(Stress::from_si(
                shear.si() * self.stress_factor(cut).ok_or(NoResult::NoWidth { y })?,
            ))
        };
        Ok(AtLevel {
            below: stress(&sides.below)?,
            above: stress(&sides.above)?,
        })
    }

    /// The largest shear stress over the depth under an upright shear force, and where it is.
    ///
    /// # Errors
    /// As [`Section::shear_stress`], if any level of the section has no shear stress.
    pub fn largest_shear_stress(&self, shear: Force) -> Result<LargestShearStress, NoResult> {
        self.largest_shear_stress_among(self.levels.strips(), shear)
    }

    /// The largest shear stress over the levels that cut some of the parts, what deductions leave
    /// of them; where they meet others above or below, on their own side.
    ///
    /// # Errors
    /// As [`Section::shear_stress`], if any of these levels has no shear stress;
    /// [`NoResult::Outside`] where no part is meant.
    pub fn largest_shear_stress_in(
        &self,
        parts: &[usize],
        shear: Force,
    ) -> Result<LargestShearStress, NoResult> {
        let chosen = self.members.iter().filter(|own| parts.contains(&own.index));
        let reaches: Vec<(f64, f64)> = chosen
            .flat_map(|own| &own.net.edges)
            .map(|edge| {
                let ends = [edge.from.y, edge.to.y].map(|y| y - self.moments.centroid.y);
                (ends[0].min(ends[1]), ends[0].max(ends[1]))
            })
            .collect();
        let crossed = |strip: &&Strip| {
            let middle = (strip.bottom + strip.top) / 2.0;
            reaches
                .iter()
                .any(|&(low, high)| low < middle && middle < high)
        };
        let strips: Vec<Strip> = self
            .levels
            .strips()
            .iter()
            .filter(crossed)
            .cloned()
            .collect();
        self.largest_shear_stress_among(&strips, shear)
    }

    fn largest_shear_stress_among(
        &self,
        strips: &[Strip],
        shear: Force,
    ) -> Result<LargestShearStress, NoResult> {
        let mut largest: Option<(f64, f64, f64)> = None;
        let mut consider = |strip: &Strip, y: f64| -> Result<(), NoResult> {
            let at = Length::from_si(self.moments.centroid.y + y);
            let cut = strip.cut(y);
            let factor = if self.is_at_free_edge(y) {
                0.0
            } else {
                self.stress_factor(&cut)
                    .ok_or(NoResult::NoWidth { y: at })?
            };
            // Of places that differ by rounding alone the first stays, the centroid before others.
            let beats = |(known, ..): (f64, f64, f64)| factor.abs() > known.abs() * (1.0 + 1e-12);
            if largest.is_none_or(beats) {
                largest = Some((factor, y, cut.width));
            }
            Ok(())
        };
        for strip in strips {
            if strip.cuts_several_ratios() {
                let y = Length::from_si(self.moments.centroid.y + (strip.top + strip.bottom) / 2.0);
                return Err(NoResult::SeveralMaterialsSideBySide { y });
            }
        }
        for strip in strips
            .iter()
            .filter(|strip| strip.bottom <= 0.0 && strip.top >= 0.0)
        {
            consider(strip, 0.0)?;
        }
        for strip in strips {
            consider(strip, strip.top)?;
            consider(strip, strip.bottom)?;
            for y in self.level_stationary(strip) {
                consider(strip, y)?;
            }
        }
        let (factor, y, width) = largest.ok_or(NoResult::Outside)?;
        Ok(LargestShearStress {
            stress: Stress::from_si(shear.si() * factor),
            y: Length::from_si(self.moments.centroid.y + y),
            width: Length::from_si(width),
        })
    }

    /// The levels inside a strip where the shear stress does not change with the level.
    pub(super) fn level_stationary(&self, strip: &Strip) -> Vec<f64> {
        // Between upright edges the flow alone counts, which is stationary at the centroid.
        if strip.is_empty() || (self.moments.ixy == 0.0 && strip.is_upright()) {
            return Vec::new();
        }
        // Of (q/b)' = (q'·b − q·b')/b² the numerator, which stays finite.
        let slope = |y: f64| {
            let cut = strip.cut(y);
            let lost = Integrals {
                y: -cut.weighted_width * y,
                x: -cut.weighted_first_moment,
                ..Integrals::default()
            };
            self.flow(lost) * cut.width - self.flow(cut.above) * cut.width_slope
        };
        // Samples lie closer towards the ends, where arcs make the width change abruptly.
        const SAMPLES: u32 = 16;
        let (middle, half) = (
            (strip.top + strip.bottom) / 2.0,
            (strip.top - strip.bottom) / 2.0,
        );
        let sample = |number: u32| {
            let share = (f64::from(number) + 0.5) / f64::from(SAMPLES);
            middle - half * libm::cos(std::f64::consts::PI * share)
        };
        let samples: Vec<(f64, f64)> = (0..SAMPLES).map(sample).map(|y| (y, slope(y))).collect();
        samples
            .windows(2)
            .filter_map(|pair| {
                let [(low, at_low), (high, at_high)] = pair else {
                    return None;
                };
                let changes = (*at_low < 0.0) != (*at_high < 0.0);
                changes.then(|| bisect(*low, *high, *at_low < 0.0, &slope))
            })
            .collect()
    }

    /// Shear stress over shear force at a cut; `None` where a flow has no width to cross.
    pub(super) fn stress_factor(&self, cut: &Cut) -> Option<f64> {
        let flow = self.flow(cut.above);
        if cut.width > LEAST_WIDTH * self.extent.size() {
            return Some(flow / cut.width);
        }
        // The flow over the force is of the order of 1/depth; what is far less than that is
        // rounding, as at the apex of a triangle.
        (flow.abs() <= 1e-9 / self.extent.depth()).then_some(0.0)
    }

    /// Shear flow over shear force, from the integrals of what lies on one side.
    fn flow(&self, above: Integrals) -> f64 {
        let Moments { ixx, iyy, ixy, .. } = self.moments;
        if ixy == 0.0 {
            above.y / ixx
        } else {
            (iyy * above.y - ixy * above.x) / (ixx * iyy - ixy * ixy)
        }
    }

    fn integrals_above(&self, y: Length) -> Integrals {
        let level = self.ordinate(y);
        if self.is_at_free_edge(level) {
            Integrals::default()
        } else {
            self.levels.at(level).above.above
        }
    }

    /// Whether a level is at or beyond the top or the bottom.
    pub(super) fn is_at_free_edge(&self, level: f64) -> bool {
        level >= self.ordinate_top() - self.tolerance
            || level <= self.ordinate_bottom() + self.tolerance
    }

    fn ordinate(&self, y: Length) -> f64 {
        y.si() - self.moments.centroid.y
    }

    fn ordinate_top(&self) -> f64 {
        self.extent.high.y - self.moments.centroid.y
    }

    fn ordinate_bottom(&self) -> f64 {
        self.extent.low.y - self.moments.centroid.y
    }
}

/// The zero of a function that changes sign between two places.
fn bisect(mut low: f64, mut high: f64, rises: bool, f: &impl Fn(f64) -> f64) -> f64 {
    // Halving a bracket 60 times uses up the digits of a number.
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (f(middle) < 0.0) == rises {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}
