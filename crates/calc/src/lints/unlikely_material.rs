//! Constants of a material far from what the trade meets.

use haunch_quantity::Quantity;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unlikely-material",
    severity: Severity::Warning,
    summary: "a constant of a material is far from what the trade meets",
    page: include_str!("../findings/pages/unlikely-material.md"),
};

/// kg/m³, from foams to the heaviest metals; common practice, no source.
const DENSITY: std::ops::RangeInclusive<f64> = 5.0..=25_000.0;
/// A metal is heavier than this, in kg/m³, and stiffer than [`METAL_MODULUS`].
const METAL_DENSITY: f64 = 4_000.0;
/// Pa. Lead, the least stiff of the common heavy metals, has about 16 GPa; common practice, no source.
const METAL_MODULUS: f64 = 5e9;
/// Lighter than this, in kg/m³, are timber, plastics and foams …
const LIGHT_DENSITY: f64 = 1_200.0;
/// … none of which reaches this modulus, in Pa; common practice, no source.
const LIGHT_MODULUS: f64 = 1e11;
/// The stiffest materials stay below this modulus, in Pa; common practice, no source.
const LARGEST_MODULUS: f64 = 1.3e12;
/// Modulus over density, in m²/s²: beryllium and boron carbide, the stiffest for their weight that are
/// built with, stay below; common practice, no source.
const LARGEST_SPECIFIC_MODULUS: f64 = 2e8;
/// From this modulus on, in Pa, as of timber and plastics …
const SOLID_MODULUS: f64 = 1e9;
/// … a strength is less than this part of it; common practice, no source.
const LARGEST_STRENGTH: f64 = 0.1;
/// Words in a material's name, with the moduli, in Pa, outside which a unit or a digit has slipped: wide
/// enough for heat, creep and, of timber, the direction across the grain; common practice, no source.
const BY_NAME: [(&[&str], std::ops::RangeInclusive<f64>); 4] = [
    (&["steel", "s235", "s275", "s355"], 3e10..=4e11),
    (&["aluminium", "aluminum"], 1e10..=1.5e11),
    (&["concrete"], 1e9..=1e11),
    (
        &[
            "timber", "wood", "spruce", "pine", "larch", "fir", "oak", "beech", "glulam",
        ],
        1e8..=4e10,
    ),
];
/// From this modulus on, in Pa, no stress comes near E/50; common practice, no source.
const STIFF_MODULUS: f64 = 1e11;
/// … and a strength is more than this part of it, near 0.4 MPa for steel; common practice, no source.
const LEAST_STRENGTH: f64 = 1.0 / 500_000.0;

/// A constant with the place that gives it and its value as shown.
pub(crate) struct Given {
    pub(crate) place: Place,
    pub(crate) value: Quantity,
    pub(crate) shown: String,
}

/// Density and modulus of elasticity, each by itself, beside the other and beside the material's name.
pub(crate) fn constants(
    name: &str,
    modulus: Option<&Given>,
    density: Option<&Given>,
) -> Option<Finding> {
    let likely = |given: &Given, expected: &str| {
        let message = format!(
            "{} is far from what the trade meets: {expected}. Check the number and its unit.",
            given.shown
        );
        Some(Finding::new(&CODE, given.place, message))
    };
    if let Some(density) = density
        && !DENSITY.contains(&density.value.si())
    {
        return likely(density, "densities are 5 kg/m³ to 25 000 kg/m³");
    }
    let modulus = modulus?;
    let stiffness = modulus.value.si();
    if stiffness > LARGEST_MODULUS {
        return likely(modulus, "moduli of elasticity stay below 1300 GPa");
    }
    if let Some((word, range)) = named(name)
        && !range.contains(&stiffness)
    {
        let (least, most) = (range.start() / 1e9, range.end() / 1e9);
        return likely(
            modulus,
            &format!("for {word} it is between {least} GPa and {most} GPa"),
        );
    }
    let density = density?.value.si();
    if stiffness > LARGEST_SPECIFIC_MODULUS * density {
        return likely(
            modulus,
            "no material that is built with is so stiff for its density",
        );
    }
    if density >= METAL_DENSITY && stiffness < METAL_MODULUS {
        return likely(
            modulus,
            "a material as heavy as a metal has a modulus of elasticity of more than 5 GPa",
        );
    }
    if density <= LIGHT_DENSITY && stiffness > LIGHT_MODULUS {
        return likely(
            modulus,
            "a material as light as timber has a modulus of elasticity of less than 100 GPa",
        );
    }
    None
}

/// The word in a name that says what the material is, with its range of moduli; none where two words
/// disagree, as in `timber_concrete`.
fn named(name: &str) -> Option<(&'static str, &'static std::ops::RangeInclusive<f64>)> {
    let name = name.to_lowercase();
    let mut found = BY_NAME.iter().filter_map(|(words, range)| {
        let word = words
            .iter()
            .find(|word| name.split('_').any(|own| own == **word))?;
        Some((*word, range))
    });
    match (found.next(), found.next()) {
        (Some(one), None) => Some(one),
        _ => None,
    }
}

/// A limit on a stress beside the modulus.
pub(crate) fn limit(modulus: Quantity, limit: &Given) -> Option<Finding> {
    let stiffness = modulus.si();
    let bound = limit.value.si();
    let problem = if stiffness >= SOLID_MODULUS && bound > stiffness * LARGEST_STRENGTH {
        "more than a tenth of the modulus of elasticity, which no common material can bear"
    } else if stiffness < STIFF_MODULUS {
        return None;
    } else if bound > stiffness / 50.0 {
        "more than a fiftieth of the modulus of elasticity, which no common stiff material can bear"
    } else if bound < stiffness * LEAST_STRENGTH {
        "less than a 500 000th of the modulus of elasticity, far below what a stiff material bears"
    } else {
        return None;
    };
    let shown = &limit.shown;
    let message = format!("{shown} is {problem}. Check the number and its unit.");
    Some(Finding::new(&CODE, limit.place, message))
}
