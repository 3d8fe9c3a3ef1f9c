//! Shear flow at joints between parts: welds, glue lines and fasteners.

use haunch_quantity::typed::{Force, ForcePerLength, Length, Typed};

use super::{Moments, Section};

/// Shear forces in both directions, through the shear centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShearForces {
    /// Along the x axis.
    pub sideways: Force,
    /// Along the y axis.
    pub upright: Force,
}

impl ShearForces {
    /// An upright shear force alone.
    pub fn upright(force: Force) -> Self {
        Self {
            sideways: Force::from_si(0.0),
            upright: force,
        }
    }
}

impl Section {
    /// The shear flow between some parts, what deductions leave of them, and the rest: force per
    /// length of the beam that all joints round these parts carry together. Numbers that name no
    /// part of material are ignored.
    ///
    /// q = V_y·(Iyy·Q_x − Ixy·Q_y)/D + V_x·(Ixx·Q_y − Ixy·Q_x)/D with Q_x = ∫y dA and Q_y = ∫x dA
    /// over the parts, from the centroid, and D = Ixx·Iyy − Ixy²: from the equilibrium of the parts
    /// with the general bending stress; V·Q/I for upright shear where Ixy = 0 (common practice).
    /// Its sign is that of the force for parts above the centroid, or to the right of it; a joint
    /// is judged by its magnitude.
    pub fn joint_shear_flow(&self, parts: &[usize], shear: ShearForces) -> ForcePerLength {
        let chosen = self.members.iter().filter(|own| parts.contains(&own.index));
        let (mut of_y, mut of_x) = (0.0, 0.0);
        for own in chosen {
            let arm = own.net_moments.centroid - self.moments.centroid;
            of_y += own.ratio * own.net_moments.area * arm.y;
            of_x += own.ratio * own.net_moments.area * arm.x;
        }
        let Moments { ixx, iyy, ixy, .. } = self.moments;
        let (upright, sideways) = (shear.upright.si(), shear.sideways.si());
        ForcePerLength::from_si(if ixy == 0.0 {
            upright * of_y / ixx + sideways * of_x / iyy
        } else {
            let determinant = ixx * iyy - ixy * ixy;
            (upright * (iyy * of_y - ixy * of_x) + sideways * (ixx * of_x - ixy * of_y))
                / determinant
        })
    }
}

/// The flow that each of some equal lines of weld or glue carries.
///
/// `None` without lines.
pub fn flow_per_line(flow: ForcePerLength, lines: u32) -> Option<ForcePerLength> {
    (lines > 0).then(|| flow / f64::from(lines))
}

/// The greatest spacing of fasteners along the beam, capacity over flow; the capacity is that of
/// all fasteners in one place together.
///
/// `None` where nothing flows, so that any spacing will do, and where a value is no number or the
/// capacity is not positive.
pub fn fastener_spacing(capacity: Force, flow: ForcePerLength) -> Option<Length> {
    let (capacity, flow) = (capacity.si(), flow.si().abs());
    let spacing = capacity / flow;
    (capacity > 0.0 && flow > 0.0 && spacing.is_finite()).then(|| Length::from_si(spacing))
}
