//! Normal stress from an axial force and bending about both axes.

use haunch_quantity::typed::{Force, Length, Moment, Ratio, Stress, Typed};

use super::outline::Point;
use super::problem::NoResult;
use super::region::Location;
use super::vector::Vector;
use super::{Moments, Section};

/// The forces that cause normal stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forces {
    /// Axial force through the centroid of the transformed section, tension positive.
    pub axial: Force,
    /// Moment about the x axis, positive sagging: it compresses the top.
    pub moment_x: Moment,
    /// Moment about the y axis, positive when it compresses the right and stretches the left.
    pub moment_y: Moment,
}

impl Forces {
    /// Bending about the x axis alone.
    pub fn bending(moment_x: Moment) -> Self {
        Self {
            axial: Force::from_si(0.0),
            moment_x,
            moment_y: Moment::from_si(0.0),
        }
    }
}

/// A normal stress in one part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointStress {
    /// The part.
    pub part: usize,
    /// Where.
    pub place: Point,
    /// In the part's own material, tension positive.
    pub stress: Stress,
}

/// The most tensile and the most compressive stress of a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExtremeStresses {
    /// The greatest; negative when the whole section is compressed.
    pub greatest: PointStress,
    /// The least; positive when the whole section is in tension.
    pub least: PointStress,
}

/// The line along which there is no normal stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NeutralAxis {
    /// The place of the line nearest the centroid.
    pub nearest: Point,
    /// Its distance from the centroid.
    pub distance: Length,
    /// The angle in radians, anticlockwise from the x axis to the line; more than -π/2 and at
    /// most π/2.
    pub angle: Ratio,
}

/// Stress in the reference material: linear over the plane of the section.
#[derive(Clone, Copy, Debug)]
pub(super) struct StressPlane {
    pub(super) at_centroid: f64,
    pub(super) gradient: Vector,
}

impl Section {
    /// The parts that contain a place, ascending; those on whose edge it lies within the
    /// tolerance, 1e-9 of the section's size, too.
    pub fn parts_at(&self, place: Point) -> Vec<usize> {
        let outside = |region: &super::region::Region| {
            region.locate(place.vector(), self.tolerance) == Location::Outside
        };
        let mut parts: Vec<usize> = self
            .members
            .iter()
            .filter(|member| !outside(&member.net))
            .map(|member| member.index)
            .collect();
        parts.sort_unstable();
        parts
    }

    /// Whether a place lies in the material or on its edge.
    pub fn contains(&self, place: Point) -> bool {
        !self.parts_at(place).is_empty()
    }

    /// The normal stress at a place in each part that contains it; several at a joint.
    ///
    /// σ = n·[N/A − (Mx·(Iyy·y − Ixy·x) + My·(Ixx·x − Ixy·y))/(Ixx·Iyy − Ixy²)] with x, y from the
    /// centroid of the transformed section and all its properties. This is the general formula
    /// for elastic bending of an unsymmetrical section (Hibbeler, Mechanics of Materials, 6.5,
    /// in these signs, from memory); with Ixy = 0 it is N/A − Mx·y/Ixx − My·x/Iyy.
    ///
    /// # Errors
    /// [`NoResult::Outside`] where there is no material.
    pub fn stress(&self, forces: &Forces, place: Point) -> Result<Vec<PointStress>, NoResult> {
        let plane = self.stress_plane(forces);
        let parts = self.parts_at(place);
        if parts.is_empty() {
            return Err(NoResult::Outside);
        }
        let at = |part: usize| {
            let member = self.members.iter().find(|member| member.index == part)?;
            Some(self.point_stress(member.index, member.ratio, plane, place.vector()))
        };
        Ok(parts.into_iter().filter_map(at).collect())
    }

    /// The most tensile and the most compressive stress in the section.
    ///
    /// Of places with equal stress the one met first in an order that depends on the geometry
    /// alone.
    pub fn extreme_stresses(&self, forces: &Forces) -> Result<ExtremeStresses, NoResult> {
        let mut extremes: Option<ExtremeStresses> = None;
        for own in self.edge_stresses(forces) {
            let known = extremes.get_or_insert(ExtremeStresses {
                greatest: own,
                least: own,
            });
            if own.stress > known.greatest.stress {
                known.greatest = own;
            }
            if own.stress < known.least.stress {
                known.least = own;
            }
        }
        extremes.ok_or(NoResult::Outside)
    }

    /// The normal stress wherever it can be extreme in a part: at every corner of what deductions
    /// leave of it, at the ends of its arcs, which include their highest, lowest and outermost
    /// places, and where an arc faces the way in which the stress grows or falls.
    ///
    /// In an order that depends on the geometry alone.
    pub fn edge_stresses(&self, forces: &Forces) -> Vec<PointStress> {
        let plane = self.stress_plane(forces);
        let mut stresses = Vec::new();
        for member in &self.members {
            for edge in &member.net.edges {
                let bulges = [plane.gradient, -plane.gradient].map(|way| edge.bulge_towards(way));
                let places = [Some(edge.from)].into_iter().chain(bulges).flatten();
                stresses.extend(
                    places.map(|place| self.point_stress(member.index, member.ratio, plane, place)),
                );
            }
        }
        stresses
    }

    /// The normal stress at a place in one part's own material; `None` when there is no such part.
    /// The place is taken to be in the part.
    pub fn stress_in_part(&self, forces: &Forces, part: usize, place: Point) -> Option<Stress> {
        let member = self.members.iter().find(|member| member.index == part)?;
        let plane = self.stress_plane(forces);
        Some(
            self.point_stress(part, member.ratio, plane, place.vector())
                .stress,
        )
    }

    /// The line of no normal stress; `None` where the stress is the same all over.
    pub fn neutral_axis(&self, forces: &Forces) -> Option<NeutralAxis> {
        let StressPlane {
            at_centroid,
            gradient,
        } = self.stress_plane(forces);
        let square = gradient.dot(gradient);
        if square == 0.0 {
            return None;
        }
        let foot = gradient * (-at_centroid / square);
        let line = gradient.quarter_turn();
        // The line has no sense: of its two directions the one to the right, or up.
        let turned = line.x < 0.0 || (line.x == 0.0 && line.y < 0.0);
        let line = if turned { -line } else { line };
        Some(NeutralAxis {
            nearest: Point::from_vector(self.moments.centroid + foot),
            distance: Length::from_si(foot.length()),
            angle: Ratio::from_si(libm::atan2(line.y + 0.0, line.x)),
        })
    }

    pub(super) fn stress_plane(&self, forces: &Forces) -> StressPlane {
        let Moments {
            area,
            ixx,
            iyy,
            ixy,
            ..
        } = self.moments;
        let (mx, my) = (forces.moment_x.si(), forces.moment_y.si());
        let gradient = if ixy == 0.0 {
            Vector::new(-my / iyy, -mx / ixx)
        } else {
            let determinant = ixx * iyy - ixy * ixy;
            Vector::new(
                (mx * ixy - my * ixx) / determinant,
                (my * ixy - mx * iyy) / determinant,
            )
        };
        StressPlane {
            at_centroid: forces.axial.si() / area,
            gradient,
        }
    }

    fn point_stress(
        &self,
        part: usize,
        ratio: f64,
        plane: StressPlane,
        place: Vector,
    ) -> PointStress {
        let arm = place - self.moments.centroid;
        PointStress {
            part,
            place: Point::from_vector(place),
            stress: Stress::from_si(ratio * (plane.at_centroid + plane.gradient.dot(arm))),
        }
    }
}
