//! Shear flow: force per length of the member between parts, for welds, glue lines and fasteners.

use haunch_mechanics::section::ShearForces;
use haunch_quantity::typed::{Force, Length, Typed};

use super::{NoShearStress, SectionModel};

impl SectionModel {
    /// The force per length that passes into a part from the others, over all of its joints
    /// together, under an upright shear force in N; N/m, a magnitude.
    pub(crate) fn shear_flow_into(&self, part: &str, shear: f64) -> Result<f64, NoShearFlow> {
        let geometry = &self.geometry;
        let found = geometry.names.iter().position(|name| name == part);
        let index = found.ok_or(NoShearFlow::NoPart)?;
        if !geometry.is_material(index) {
            return Err(NoShearFlow::Reason(format!("{part} is a deduction")));
        }
        let section = &geometry.section;
        let own = section.part(index).ok_or(NoShearFlow::NoPart)?;
        let (bounds, level) = (own.bounds, section.centroid().y.si());
        let near = 1e-9 * bounds.depth().si();
        if bounds.bottom.si() < level - near && bounds.top.si() > level + near {
            return Err(NoShearFlow::Reason(format!(
                "{part} crosses the level of the centroid, so that the flows at its joints partly \
                 cancel: ask for the part on the other side of a joint, or for a level"
            )));
        }
        let forces = ShearForces::upright(Force::from_si(shear));
        Ok(section.joint_shear_flow(&[index], forces).si().abs())
    }

    /// The force per length across a level, N/m, a magnitude.
    pub(crate) fn shear_flow_at(&self, y: Length, shear: f64) -> Result<f64, NoShearStress> {
        let section = &self.geometry.section;
        let bounds = section.bounds();
        if y.si() < bounds.bottom.si() || y.si() > bounds.top.si() {
            return Err(NoShearStress::Outside);
        }
        Ok(section.shear_flow(y, Force::from_si(shear)).si().abs())
    }
}

/// Why there is no shear flow into a part.
pub(crate) enum NoShearFlow {
    /// The section has no such part.
    NoPart,
    /// Another reason, in words that go on a sentence.
    Reason(String),
}
