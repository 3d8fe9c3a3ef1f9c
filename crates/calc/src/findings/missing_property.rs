//! Something that a result needs and that no line states: a density, a modulus, a stiffness.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "missing-property",
    severity: Severity::Error,
    summary: "something that a result needs is not stated",
    page: include_str!("pages/missing-property.md"),
};

/// The code.
pub(crate) static NO_DEFLECTION: Code = Code {
    name: "no-deflection",
    severity: Severity::Information,
    summary: "without a modulus of elasticity a beam has no slopes and deflections",
    page: include_str!("pages/no-deflection.md"),
};

/// A beam without its section.
pub(crate) fn section(place: Place, name: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} needs its section: write beam {name} of SECTION."),
    )
    .about(name)
}

/// Self weight of a section whose materials do not all state a density.
pub(crate) fn density(place: Place, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "self weight needs the density of every material of {section}, for example \
             density = 7850 kg/m^3 under the material's heading."
        ),
    )
}

/// A deflection is needed and the section has no E.
pub(crate) fn modulus(place: Place, what: &str, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{what} needs the modulus of elasticity E of every material of {section}, for example \
             E = 205 GPa under the material's heading."
        ),
    )
}

/// A temperature difference, and no coefficient of thermal expansion that holds for the section.
pub(crate) fn thermal_expansion(place: Place, section: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "a temperature difference needs the coefficient of thermal expansion of {section}, one \
             for all its materials, for example thermal_expansion = 1.2e-5/(1 K) under the \
             material's heading."
        ),
    )
}

/// The section has no E: the beam has forces and stresses, but no deflections.
pub(crate) fn no_deflection(place: Place, name: &str, section: &str) -> Finding {
    Finding::new(
        &NO_DEFLECTION,
        place,
        format!(
            "{name} has no slopes and deflections, since no modulus of elasticity E is stated for \
             {section}."
        ),
    )
    .about(name)
}

/// A spring without its stiffness.
pub(crate) fn stiffness(place: Place) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a spring needs its stiffness, a force per length: support spring 900 kN/m at 2 m.",
    )
}
