//! Shear under a sideways force: everything of upright shear with x and y exchanged.

use haunch_quantity::typed::{FirstMomentOfArea, Force, ForcePerLength, Length, Stress};

use super::build::{Member, Removal};
use super::integrals::Moments;
use super::problem::NoResult;
use super::region::Region;
use super::vector::{Extent, Vector};
use super::{Section, shear};

/// A quantity at an upright cut on both sides of a jump; the same twice where nothing jumps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtUpright<T> {
    /// Just left of the cut.
    pub left: T,
    /// Just right of the cut.
    pub right: T,
}

/// The shear stress that is the largest over the breadth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LargestSidewaysShearStress {
    /// The stress, with the sign of the force.
    pub stress: Stress,
    /// Where the upright cut is.
    pub x: Length,
    /// The depth of material that is cut there; where the depth jumps, the smaller one counts.
    pub depth: Length,
}

impl<T> From<shear::AtLevel<T>> for AtUpright<T> {
    fn from(exchanged: shear::AtLevel<T>) -> Self {
        Self {
            left: exchanged.below,
            right: exchanged.above,
        }
    }
}

impl Section {
    /// The section with x and y exchanged: mirrored about the line x = y. What holds of levels and
    /// upright forces there holds of upright cuts and sideways forces here.
    #[must_use]
    pub fn with_axes_exchanged(&self) -> Self {
        let member = |own: &Member| Member {
            gross: transposed_region(&own.gross),
            gross_moments: transposed_moments(own.gross_moments),
            net: transposed_region(&own.net),
            net_moments: transposed_moments(own.net_moments),
            ..*own
        };
        let removal = |own: &Removal| Removal {
            index: own.index,
            region: transposed_region(&own.region),
            moments: transposed_moments(own.moments),
            taken: own
                .taken
                .iter()
                .map(|&(from, moments)| (from, transposed_moments(moments)))
                .collect(),
        };
        Self {
            members: self.members.iter().map(member).collect(),
            removals: self.removals.iter().map(removal).collect(),
            warnings: self.warnings.clone(),
            moments: transposed_moments(self.moments),
            extent: Extent {
                low: transposed(self.extent.low),
                high: transposed(self.extent.high),
            },
            levels: self.levels_sideways.clone(),
            levels_sideways: self.levels.clone(),
            ..*self
        }
    }

    /// The first moment Q of the transformed area to the right of an upright cut, about the upright
    /// centroidal axis.
    pub fn first_moment_right_of(&self, x: Length) -> FirstMomentOfArea {
        self.with_axes_exchanged().first_moment_above(x)
    }

    /// The depth of material that an upright line cuts, gaps left out.
    pub fn depth_at(&self, x: Length) -> AtUpright<Length> {
        self.with_axes_exchanged().width_at(x).into()
    }

    /// The shear flow across an upright cut under a sideways shear force, as
    /// [`Section::shear_flow`] with the axes exchanged.
    pub fn shear_flow_sideways(&self, x: Length, shear: Force) -> ForcePerLength {
        self.with_axes_exchanged().shear_flow(x, shear)
    }

    /// The mean shear stress over the depth cut at an upright line under a sideways shear force, as
    /// [`Section::shear_stress`] with the axes exchanged.
    ///
    /// # Errors
    /// As [`Section::shear_stress`]; what it names y is the x of the cut.
    pub fn shear_stress_sideways(
        &self,
        x: Length,
        shear: Force,
    ) -> Result<AtUpright<Stress>, NoResult> {
        let exchanged = self.with_axes_exchanged().shear_stress(x, shear)?;
        Ok(exchanged.into())
    }

    /// The largest shear stress over the breadth under a sideways shear force, and where it is.
    ///
    /// # Errors
    /// As [`Section::shear_stress_sideways`], if any upright cut has no shear stress.
    pub fn largest_shear_stress_sideways(
        &self,
        shear: Force,
    ) -> Result<LargestSidewaysShearStress, NoResult> {
        let exchanged = self.with_axes_exchanged().largest_shear_stress(shear)?;
        Ok(LargestSidewaysShearStress {
            stress: exchanged.stress,
            x: exchanged.y,
            depth: exchanged.width,
        })
    }
}

fn transposed(point: Vector) -> Vector {
    Vector::new(point.y, point.x)
}

fn transposed_region(region: &Region) -> Region {
    Region {
        edges: region.edges.iter().map(|edge| edge.transposed()).collect(),
    }
}

fn transposed_moments(moments: Moments) -> Moments {
    Moments {
        centroid: transposed(moments.centroid),
        ixx: moments.iyy,
        iyy: moments.ixx,
        ..moments
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Part, Point, Shape};
    use super::*;
    use haunch_quantity::typed::{Ratio, Typed};

    /// The exchanged section is that of the exchanged parts.
    #[test]
    fn exchanged_as_built() {
        let part = |x: f64, y: f64, ratio: f64| {
            let corners = [(0.0, 0.0), (2.0, 0.5), (3.0, 2.0), (0.5, 1.5)];
            let corner = |&(a, b): &(f64, f64)| {
                let (a, b) = (a + x, b + y);
                Point::new(Length::from_si(a), Length::from_si(b))
            };
            let shape = Shape::Polygon(corners.iter().map(corner).collect());
            Part::with_modular_ratio(shape, Ratio::from_si(ratio))
        };
        let exchange = |part: &Part| {
            let Shape::Polygon(corners) = &part.shape else {
                unreachable!("made above")
            };
            let corners = corners.iter().map(|own| Point::new(own.y, own.x));
            Part {
                shape: Shape::Polygon(corners.collect()),
                ..*part
            }
        };
        let parts = [part(0.0, 0.0, 1.0), part(0.0, 5.0, 1.5)];
        let section = Section::new(&parts).unwrap();
        let exchanged = section.with_axes_exchanged();
        let built = Section::new(&parts.each_ref().map(exchange)).unwrap();
        let close = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * a.abs(), "{a} {b}");
        close(exchanged.centroid().x.si(), built.centroid().x.si());
        close(exchanged.centroid().y.si(), built.centroid().y.si());
        let [one, other] = [&exchanged, &built].map(|own| own.second_moments());
        close(one.ixx.si(), other.ixx.si());
        close(one.iyy.si(), other.iyy.si());
        close(one.ixy.si(), other.ixy.si());
        for step in 0..7 {
            let place = Length::from_si(0.1 + 0.4 * f64::from(step));
            let [one, other] = [&exchanged, &built].map(|own| own.first_moment_above(place).si());
            close(one, other);
        }
    }
}
