//! Area, centroid, second moments and what follows from them.

use haunch_quantity::typed::{
    Area, AxialRigidity, Density, FirstMomentOfArea, FlexuralRigidity, Length, MassPerLength,
    Ratio, SecondMomentOfArea, Stress, Typed,
};

use super::Section;
use super::build::Member;
use super::integrals::Moments;
use super::outline::{Bounds, Point};

/// A side of the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The highest fibre.
    Top,
    /// The lowest fibre.
    Bottom,
    /// The fibre farthest left.
    Left,
    /// The fibre farthest right.
    Right,
}

/// Second moments of area about a pair of axes at right angles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondMoments {
    /// About the first axis (level, if not turned): ∫ y² dA.
    pub ixx: SecondMomentOfArea,
    /// About the second axis (upright, if not turned): ∫ x² dA.
    pub iyy: SecondMomentOfArea,
    /// The product moment: ∫ x·y dA.
    pub ixy: SecondMomentOfArea,
}

/// The principal second moments of area about the centroid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrincipalAxes {
    /// The greatest second moment about any axis through the centroid.
    pub major: SecondMomentOfArea,
    /// The least.
    pub minor: SecondMomentOfArea,
    /// The angle in radians, anticlockwise from the x axis to the axis about which the second
    /// moment is the greatest; more than -π/2 and at most π/2. 0 where every axis is principal.
    pub angle: Ratio,
    /// Both are equal to within 1e-12, so that every axis through the centroid is principal.
    pub every_axis: bool,
}

/// Area, centroid and second moments of one part's own shape, deductions and modular ratio left
/// aside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartProperties {
    /// Area of the shape.
    pub area: Area,
    /// Its centroid.
    pub centroid: Point,
    /// Its smallest upright rectangle.
    pub bounds: Bounds,
    /// Its second moments about its own centroid.
    pub second_moments: SecondMoments,
}

impl Section {
    /// The area of material, deductions taken off; modular ratios left aside.
    pub fn area(&self) -> Area {
        Area::from_si(self.area)
    }

    /// The area of the transformed section, Σ n·A; the same as the area for one material.
    pub fn transformed_area(&self) -> Area {
        Area::from_si(self.moments.area)
    }

    /// The centroid of the transformed section, where N acts without bending.
    pub fn centroid(&self) -> Point {
        Point::from_vector(self.moments.centroid)
    }

    /// The smallest upright rectangle round the material.
    pub fn bounds(&self) -> Bounds {
        Bounds::from_extent(self.extent)
    }

    /// The distance from the centroid to a side, positive.
    pub fn distance_to(&self, side: Side) -> Length {
        let (centroid, extent) = (self.moments.centroid, self.extent);
        Length::from_si(match side {
            Side::Top => extent.high.y - centroid.y,
            Side::Bottom => centroid.y - extent.low.y,
            Side::Left => centroid.x - extent.low.x,
            Side::Right => extent.high.x - centroid.x,
        })
    }

    /// The second moments of the transformed section about level and upright axes through its
    /// centroid.
    ///
    /// A product moment below 1e-13 of Ixx + Iyy is rounding and is given as 0.
    pub fn second_moments(&self) -> SecondMoments {
        second_moments(&self.moments)
    }

    /// The second moments about axes through any place, turned anticlockwise by an angle in
    /// radians.
    ///
    /// By the parallel-axis theorem and Iuu = ½(Ixx + Iyy) + ½(Ixx − Iyy) cos 2θ − Ixy sin 2θ,
    /// Iuv = ½(Ixx − Iyy) sin 2θ + Ixy cos 2θ (common practice).
    pub fn second_moments_about(&self, place: Point, angle: Ratio) -> SecondMoments {
        let arm = self.moments.centroid - place.vector();
        let area = self.moments.area;
        let ixx = self.moments.ixx + area * arm.y * arm.y;
        let iyy = self.moments.iyy + area * arm.x * arm.x;
        let ixy = self.moments.ixy + area * arm.x * arm.y;
        let (sine, cosine) = (libm::sin(2.0 * angle.si()), libm::cos(2.0 * angle.si()));
        let (mean, half) = ((ixx + iyy) / 2.0, (ixx - iyy) / 2.0);
        let turned = half * cosine - ixy * sine;
        SecondMoments {
            ixx: SecondMomentOfArea::from_si(mean + turned),
            iyy: SecondMomentOfArea::from_si(mean - turned),
            ixy: SecondMomentOfArea::from_si(half * sine + ixy * cosine),
        }
    }

    /// The principal second moments of area and the direction of the major axis.
    ///
    /// I = ½(Ixx + Iyy) ± √((½(Ixx − Iyy))² + Ixy²), tan 2θ = −2 Ixy/(Ixx − Iyy) (common
    /// practice).
    pub fn principal_axes(&self) -> PrincipalAxes {
        let Moments { ixx, iyy, ixy, .. } = self.moments;
        let (major, minor) = self.moments.principal();
        let every_axis = major - minor <= 2e-12 * major;
        let angle = libm::atan2(-2.0 * ixy + 0.0, ixx - iyy) / 2.0;
        PrincipalAxes {
            major: SecondMomentOfArea::from_si(major),
            minor: SecondMomentOfArea::from_si(minor),
            angle: Ratio::from_si(if every_axis { 0.0 } else { angle }),
            every_axis,
        }
    }

    /// The elastic section modulus of a side: I about the centroidal axis parallel to it, over
    /// its distance.
    ///
    /// M over this is the stress only where the axes are principal, Ixy = 0: see
    /// [`Section::is_bent_unsymmetrically`].
    pub fn section_modulus(&self, side: Side) -> FirstMomentOfArea {
        let second = match side {
            Side::Top | Side::Bottom => self.second_moments().ixx,
            Side::Left | Side::Right => self.second_moments().iyy,
        };
        second / self.distance_to(side)
    }

    /// Whether a moment about the x axis alone also bends the section sideways, because the level
    /// and upright axes are not principal: |Ixy| is more than 1e-9 of the larger second moment.
    ///
    /// Then M·y/Ixx is not the stress; [`Section::stress`] uses the general formula.
    pub fn is_bent_unsymmetrically(&self) -> bool {
        self.moments.ixy.abs() > 1e-9 * self.moments.ixx.max(self.moments.iyy)
    }

    /// The radius of gyration about the level centroidal axis, √(Ixx/A) of the transformed section.
    pub fn gyration_x(&self) -> Length {
        Length::from_si((self.moments.ixx / self.moments.area).sqrt())
    }

    /// The radius of gyration about the upright centroidal axis, √(Iyy/A).
    pub fn gyration_y(&self) -> Length {
        Length::from_si((self.moments.iyy / self.moments.area).sqrt())
    }

    /// The axial rigidity E·ΣnA, given the modulus of elasticity of the reference material.
    pub fn axial_rigidity(&self, reference_modulus: Stress) -> AxialRigidity {
        reference_modulus * self.transformed_area()
    }

    /// The flexural rigidity E·Ixx of the transformed section for bending about the x axis.
    pub fn flexural_rigidity_x(&self, reference_modulus: Stress) -> FlexuralRigidity {
        reference_modulus * self.second_moments().ixx
    }

    /// The flexural rigidity E·Iyy of the transformed section for bending about the y axis.
    pub fn flexural_rigidity_y(&self, reference_modulus: Stress) -> FlexuralRigidity {
        reference_modulus * self.second_moments().iyy
    }

    /// The mass per length, Σ density·net area; the density is asked for each part by its place
    /// in the list.
    pub fn mass_per_length(&self, density: impl Fn(usize) -> Density) -> MassPerLength {
        let mass = |own: &Member| density(own.index).si() * own.net_moments.area;
        MassPerLength::from_si(self.members.iter().map(mass).sum())
    }

    /// The properties of one part's own shape; `None` when there is no such part.
    pub fn part(&self, part: usize) -> Option<PartProperties> {
        let material = self
            .members
            .iter()
            .map(|own| (own.index, &own.gross, &own.gross_moments));
        let removed = self
            .removals
            .iter()
            .map(|own| (own.index, &own.region, &own.moments));
        let (_, region, moments) = material.chain(removed).find(|(index, ..)| *index == part)?;
        Some(PartProperties {
            area: Area::from_si(moments.area),
            centroid: Point::from_vector(moments.centroid),
            bounds: Bounds::from_extent(region.extent()?),
            second_moments: second_moments(moments),
        })
    }

    /// What deductions leave of a part's area; `None` for a deduction.
    pub fn net_area(&self, part: usize) -> Option<Area> {
        let member = self.members.iter().find(|own| own.index == part)?;
        Some(Area::from_si(member.net_moments.area))
    }
}

fn second_moments(moments: &Moments) -> SecondMoments {
    SecondMoments {
        ixx: SecondMomentOfArea::from_si(moments.ixx),
        iyy: SecondMomentOfArea::from_si(moments.iyy),
        ixy: SecondMomentOfArea::from_si(moments.ixy),
    }
}
