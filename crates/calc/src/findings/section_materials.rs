//! Materials of the parts of a section, and the section of a set of forces.

use super::missing_property::CODE;
use crate::finding::{Finding, Place};

/// Parts with materials of their own in a section without one.
pub(crate) fn reference(place: Place, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "a part of {section} has a material of its own, so the heading names the material that \
             the section is referred to: section {section} of MATERIAL."
        ),
    )
    .about(section)
}

/// A material without E in a section of several.
pub(crate) fn modulus(place: Place, material: &str, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{section} is made of several materials and needs the modulus of elasticity of \
             {material}, for example E = 205 GPa under its heading."
        ),
    )
    .about(material)
}

/// Forces without the section that they act on.
pub(crate) fn section_of_forces(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} needs its section: write forces {name} on SECTION."),
    )
    .about(name)
}
