//! The results of a section by their names.

use haunch_mechanics::section::{Plastic, Point, Section, Side};
use haunch_quantity::typed::{Density, Length, Ratio, Stress, Typed};
use haunch_quantity::{Dimension, Quantity};
use smol_str::{SmolStr, format_smolstr};

use super::SectionModel;
use super::geometry::Geometry;
use super::kern::{self, Kern};
use crate::blocks::part_sizes;
use crate::blocks::{Absent, Argument, BlockMeaning, CallError};
use crate::value::{Evaluated, Kind};

/// Every result of a section or part with its dimension.
const RESULTS: &[(&str, Dimension)] = &[
    ("area", Dimension::AREA),
    ("xbar", Dimension::LENGTH),
    ("ybar", Dimension::LENGTH),
    ("width", Dimension::LENGTH),
    ("depth", Dimension::LENGTH),
    ("to_top", Dimension::LENGTH),
    ("to_bottom", Dimension::LENGTH),
    ("to_left", Dimension::LENGTH),
    ("to_right", Dimension::LENGTH),
    ("Ixx", Dimension::SECOND_MOMENT_OF_AREA),
    ("Iyy", Dimension::SECOND_MOMENT_OF_AREA),
    ("Ixy", Dimension::SECOND_MOMENT_OF_AREA),
    ("I_major", Dimension::SECOND_MOMENT_OF_AREA),
    ("I_minor", Dimension::SECOND_MOMENT_OF_AREA),
    ("principal_angle", Dimension::RATIO),
    ("section_modulus_top", Dimension::FIRST_MOMENT_OF_AREA),
    ("section_modulus_bottom", Dimension::FIRST_MOMENT_OF_AREA),
    ("section_modulus_left", Dimension::FIRST_MOMENT_OF_AREA),
    ("section_modulus_right", Dimension::FIRST_MOMENT_OF_AREA),
    ("plastic_modulus_x", Dimension::FIRST_MOMENT_OF_AREA),
    ("plastic_modulus_y", Dimension::FIRST_MOMENT_OF_AREA),
    ("plastic_centre_x", Dimension::LENGTH),
    ("plastic_centre_y", Dimension::LENGTH),
    ("shape_factor_x", Dimension::RATIO),
    ("shape_factor_y", Dimension::RATIO),
    ("gyration_x", Dimension::LENGTH),
    ("gyration_y", Dimension::LENGTH),
    ("mass_per_length", Dimension::MASS_PER_LENGTH),
    ("EA", Dimension::FORCE),
    ("EI_x", Dimension::FLEXURAL_RIGIDITY),
    ("EI_y", Dimension::FLEXURAL_RIGIDITY),
    ("first_moment", Dimension::FIRST_MOMENT_OF_AREA),
    ("Ixx_about", Dimension::SECOND_MOMENT_OF_AREA),
    ("Iyy_about", Dimension::SECOND_MOMENT_OF_AREA),
    ("Ixy_about", Dimension::SECOND_MOMENT_OF_AREA),
    ("kern_up", Dimension::LENGTH),
    ("kern_down", Dimension::LENGTH),
    ("kern_left", Dimension::LENGTH),
    ("kern_right", Dimension::LENGTH),
    ("torsion_constant", Dimension::SECOND_MOMENT_OF_AREA),
    ("torsion_modulus", Dimension::FIRST_MOMENT_OF_AREA),
    ("warping_constant", Dimension::WARPING_CONSTANT),
    ("shear_centre_x", Dimension::LENGTH),
    ("shear_centre_y", Dimension::LENGTH),
];

/// The dimension of a result of a section or part.
pub(crate) fn member_dimension(member: &str) -> Option<Dimension> {
    let found = RESULTS.iter().find(|(name, _)| *name == member);
    let corner = || kern::corner_of(member).map(|_| Dimension::LENGTH);
    found.map(|(_, dimension)| *dimension).or_else(corner)
}

/// Why a result that a section can have is not among those of this one.
pub(crate) fn absent(model: &SectionModel, member: &str) -> Option<Absent> {
    let dimension = member_dimension(member)?;
    let reason = match member {
        "torsion_constant" | "torsion_modulus" | "warping_constant" | "shear_centre_x"
        | "shear_centre_y" => {
            let message = match model.geometry.torsion() {
                Err(reason) => reason.clone(),
                Ok(_) if member == "torsion_modulus" => {
                    "the greatest shear stress from torsion is worked out for a full circle, a round \
                     tube, an ellipse and a level or upright rectangle by themselves alone: \
                     elsewhere it depends on how corners are rounded"
                        .to_owned()
                }
                Ok(_) => "it comes out so small that its error could be as large".to_owned(),
            };
            return Some(Absent::NoValue { dimension, message });
        }
        _ if kern::corner_of(member).is_some() => {
            return Some(Absent::NoValue {
                dimension,
                message: match model.kern_corners().len() {
                    0 => "the edge of the kern is round, without corners".to_owned(),
                    count => format!("the kern has {count} corners"),
                },
            });
        }
        "mass_per_length" => "the mass needs the density of every material of the section",
        "EA" | "EI_x" | "EI_y" => {
            "the rigidity needs a material with its modulus of elasticity in the section's heading"
        }
        "plastic_modulus_x" | "plastic_modulus_y" | "plastic_centre_x" | "plastic_centre_y"
        | "shape_factor_x" | "shape_factor_y" => {
            "plastic results of several materials depend on their yield stresses, which are not \
             part of a section"
        }
        _ => return None,
    };
    Some(Absent::NoValue {
        dimension,
        message: reason.to_owned(),
    })
}

/// The rigidities and the mass of a section.
pub(super) struct Rigidity {
    pub(super) axial: Option<Quantity>,
    pub(super) about_x: Option<Quantity>,
    pub(super) about_y: Option<Quantity>,
    pub(super) mass_per_length: Option<Quantity>,
}

impl Rigidity {
    pub(super) fn of(geometry: &Geometry) -> Rigidity {
        let section = &geometry.section;
        let reference = geometry.materials.first();
        let modulus = reference
            .and_then(|material| material.elastic_modulus)
            .map(|modulus| Stress::from_si(modulus.si()));
        let density = |part: usize| geometry.material(part)?.density;
        let parts = || (0..geometry.parts.len()).filter(|&part| geometry.is_material(part));
        let is_known = parts().all(|part| density(part).is_some());
        let mass = section
            .mass_per_length(|part| Density::from_si(density(part).map_or(0.0, Quantity::si)));
        Rigidity {
            axial: modulus.and_then(|e| section.axial_rigidity(e).to_quantity()),
            about_x: modulus.and_then(|e| section.flexural_rigidity_x(e).to_quantity()),
            about_y: modulus.and_then(|e| section.flexural_rigidity_y(e).to_quantity()),
            mass_per_length: mass.to_quantity().filter(|_| is_known),
        }
    }
}

/// Every result with a value, those of the parts under their names, sorted by name.
pub(super) fn members(geometry: &Geometry) -> Vec<(SmolStr, Quantity)> {
    let whole = RESULTS.iter().map(|(name, _)| SmolStr::new_static(name));
    let parts = geometry.names.iter();
    let of_parts = parts.flat_map(|name| {
        let members = ["xbar", "ybar"].iter().chain(part_sizes::MEMBERS);
        members.map(move |member| format_smolstr!("{name}.{member}"))
    });
    let corners = 1..=geometry.kern().corners.len();
    let of_kern = corners
        .flat_map(|number| ["x", "y"].map(|axis| format_smolstr!("kern_corner_{number}_{axis}")));
    let mut members: Vec<(SmolStr, Quantity)> = whole
        .chain(of_kern)
        .chain(of_parts)
        .filter_map(|name| {
            let value = member(geometry, &name)?;
            Some((name, value))
        })
        .collect();
    members.sort_by(|(a, _), (b, _)| a.cmp(b));
    members
}

/// A result that is among [`members`].
pub(super) fn member(geometry: &Geometry, name: &str) -> Option<Quantity> {
    let value = match name.rsplit_once('.') {
        Some((part, member)) => of_part(geometry, part, member),
        None => elastic(&geometry.section, name)
            .or_else(|| of_material(geometry, name))
            .or_else(|| geometry.plastic_result(name))
            .or_else(|| geometry.kern_result(name)),
    }?;
    Some(without_dust(geometry, value))
}

fn of_part(geometry: &Geometry, part: &str, member: &str) -> Option<Quantity> {
    let index = geometry.names.iter().position(|own| own == part)?;
    match member {
        "xbar" => geometry.section.part(index)?.centroid.x.to_quantity(),
        "ybar" => geometry.section.part(index)?.centroid.y.to_quantity(),
        member if part_sizes::MEMBERS.contains(&member) => geometry.part_alone(index)?.get(member),
        _ => None,
    }
}

fn of_material(geometry: &Geometry, member: &str) -> Option<Quantity> {
    let known = || Rigidity::of(geometry);
    match member {
        "EA" => known().axial,
        "EI_x" => known().about_x,
        "EI_y" => known().about_y,
        "mass_per_length" => known().mass_per_length,
        _ => None,
    }
}

/// A coordinate that only rounding keeps from 0 is 0: the middle of a symmetric section.
pub(super) fn without_dust(geometry: &Geometry, value: Quantity) -> Quantity {
    let bounds = geometry.section.bounds();
    let size = bounds.width().si().max(bounds.depth().si());
    let is_dust =
        value.dimension() == Dimension::LENGTH && value.si().abs() <= 16.0 * f64::EPSILON * size;
    if is_dust {
        Quantity::zero(Dimension::LENGTH)
    } else {
        value
    }
}

fn elastic(section: &Section, member: &str) -> Option<Quantity> {
    let to = |side: Side| section.distance_to(side).to_quantity();
    let modulus = |side: Side| section.section_modulus(side).to_quantity();
    match member {
        "area" => section.area().to_quantity(),
        "xbar" => section.centroid().x.to_quantity(),
        "ybar" => section.centroid().y.to_quantity(),
        "width" => section.bounds().width().to_quantity(),
        "depth" => section.bounds().depth().to_quantity(),
        "Ixx" => section.second_moments().ixx.to_quantity(),
        "Iyy" => section.second_moments().iyy.to_quantity(),
        "Ixy" => section.second_moments().ixy.to_quantity(),
        "I_major" => section.principal_axes().major.to_quantity(),
        "I_minor" => section.principal_axes().minor.to_quantity(),
        "principal_angle" => section.principal_axes().angle.to_quantity(),
        "gyration_x" => section.gyration_x().to_quantity(),
        "gyration_y" => section.gyration_y().to_quantity(),
        "to_top" => to(Side::Top),
        "to_bottom" => to(Side::Bottom),
        "to_left" => to(Side::Left),
        "to_right" => to(Side::Right),
        "section_modulus_top" => modulus(Side::Top),
        "section_modulus_bottom" => modulus(Side::Bottom),
        "section_modulus_left" => modulus(Side::Left),
        "section_modulus_right" => modulus(Side::Right),
        _ => None,
    }
}

/// Plastic results about the x and the y axis; none of several materials.
#[derive(Debug, Clone)]
pub(super) struct PlasticResults {
    about_x: Option<Plastic>,
    about_y: Option<Plastic>,
}

impl Geometry {
    fn plastic_result(&self, member: &str) -> Option<Quantity> {
        if !member.starts_with("plastic_") && !member.starts_with("shape_factor_") {
            return None;
        }
        let plastic = self.plastic.get_or_init(|| {
            let is_one = self.materials_used().len() == 1;
            let of_one = |result: Result<Plastic, _>| result.ok().filter(|_| is_one);
            PlasticResults {
                about_x: of_one(self.section.plastic_x()),
                about_y: of_one(self.section.plastic_y()),
            }
        });
        let (about_x, about_y) = (plastic.about_x.as_ref(), plastic.about_y.as_ref());
        match member {
            "plastic_modulus_x" => about_x?.modulus.to_quantity(),
            "plastic_modulus_y" => about_y?.modulus.to_quantity(),
            // The neutral axis of bending about x is level, at a height.
            "plastic_centre_y" => about_x?.neutral_axis.to_quantity(),
            "plastic_centre_x" => about_y?.neutral_axis.to_quantity(),
            "shape_factor_x" => about_x?.shape_factor.to_quantity(),
            "shape_factor_y" => about_y?.shape_factor.to_quantity(),
            _ => None,
        }
    }

    fn kern_result(&self, member: &str) -> Option<Quantity> {
        if !member.starts_with("kern_") {
            return None;
        }
        self.kern().get(member)
    }

    /// Its kern.
    pub(super) fn kern(&self) -> &Kern {
        self.kern.get_or_init(|| Kern::of(self))
    }
}

/// `first_moment(y)`, `Ixx_about(y)`, `Iyy_about(x)`, `Ixy_about(x, y)`
pub(crate) fn call(
    block: &BlockMeaning,
    name: &str,
    arguments: &[Argument],
) -> Result<Evaluated, CallError> {
    let dimension = member_dimension(name).filter(|_| super::FUNCTIONS.contains(&name));
    let unknown = Evaluated::dimension_only(dimension.ok_or(CallError::Unknown)?);
    let zero = Length::from_si(0.0);
    let place = match (name, arguments) {
        ("Ixy_about", [x, y]) => {
            let (x, y) = (coordinate(name, 0, x)?, coordinate(name, 1, y)?);
            x.zip(y)
        }
        ("Ixy_about", _) => {
            return Err(CallError::Argument {
                index: arguments.len().min(1),
                message: "Ixy_about takes the x of an upright and the y of a level axis, as \
                          Ixy_about(0 mm, 40 mm)."
                    .to_owned(),
            });
        }
        ("Iyy_about", [x]) => coordinate(name, 0, x)?.map(|x| (x, zero)),
        _ => level(name, arguments)?.map(|y| (zero, y)),
    };
    let (Some((x, y)), Some(model)) = (place, block.as_section()) else {
        return Ok(unknown);
    };
    let section = &model.geometry.section;
    let about = section.second_moments_about(Point::new(x, y), Ratio::from_si(0.0));
    let result = match name {
        "Ixx_about" => about.ixx.to_quantity(),
        "Iyy_about" => about.iyy.to_quantity(),
        "Ixy_about" => about.ixy.to_quantity(),
        _ => section.first_moment_above(y).to_quantity(),
    };
    Ok(result.map_or(unknown, Evaluated::quantity))
}

/// A coordinate of the section's frame; none where it is not known.
fn coordinate(name: &str, index: usize, argument: &Argument) -> Result<Option<Length>, CallError> {
    let length = match argument {
        Argument::Value(value) => match value.kind {
            Kind::Unknown => return Ok(None),
            Kind::Quantity(Dimension::LENGTH) | Kind::Zero => value,
            _ => return Err(not_a_coordinate(name, index)),
        },
        Argument::Point(_) => return Err(not_a_coordinate(name, index)),
    };
    let length = length.as_dimension(Dimension::LENGTH);
    Ok(length.map(|length| Length::from_si(length.si())))
}

fn not_a_coordinate(name: &str, index: usize) -> CallError {
    CallError::Argument {
        index,
        message: format!("{name} takes coordinates of the section, which are lengths."),
    }
}

/// The level that a function of a section is asked for; none where it is not known.
pub(crate) fn level(name: &str, arguments: &[Argument]) -> Result<Option<Length>, CallError> {
    let wrong = |index| CallError::Argument {
        index,
        message: format!(
            "{name} takes a level of the section, a length above y = 0, as {name}(40 mm)."
        ),
    };
    let [argument] = arguments else {
        return Err(wrong(arguments.len().min(1)));
    };
    let Argument::Value(level) = argument else {
        return Err(wrong(0));
    };
    match level.kind {
        Kind::Unknown => return Ok(None),
        Kind::Quantity(Dimension::LENGTH) | Kind::Zero => {}
        _ => return Err(wrong(0)),
    }
    let level = level.as_dimension(Dimension::LENGTH);
    Ok(level.map(|level| Length::from_si(level.si())))
}
