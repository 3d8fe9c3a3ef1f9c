//! Torsion of a section: its constant and modulus, shear centre and warping constant.
//!
//! Worked out when it is asked for first: the numerical solution takes longer than everything else
//! about a section.

use haunch_mechanics::section::Shape;
use haunch_mechanics::torsion::{
    NoTorsion, Rectangle, circle, ellipse, ellipse_warping, saint_venant, tube,
};
use haunch_quantity::Quantity;
use haunch_quantity::typed::{Ratio, Typed};

use super::geometry::Geometry;
use super::results::member_dimension;

/// A result in SI, how far it may be off, and how it was worked out.
#[derive(Debug, Clone, PartialEq)]
struct Known {
    value: f64,
    /// None where it is exact.
    error: Option<f64>,
    method: &'static str,
}

/// The results, in SI.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Torsion {
    constant: Known,
    centre_x: Known,
    centre_y: Known,
    /// None where its error would be as large as the value.
    warping: Option<Known>,
    /// None where the greatest shear stress is not known.
    modulus: Option<Known>,
}

/// The names of the results.
pub(super) const MEMBERS: &[&str] = &[
    "torsion_constant",
    "torsion_modulus",
    "warping_constant",
    "shear_centre_x",
    "shear_centre_y",
];

/// How exact the torsion constant has to be.
const ACCURACY: f64 = 1e-3;

/// Above this relative error there is no result: it would be shown with digits that it does not have.
const TOO_ROUGH: f64 = 5e-3;

/// The same for the warping constant, an integral of a function that is less exact.
const WARPING_TOO_ROUGH: f64 = 5e-2;

const BY_ELEMENTS: &str = "Saint-Venant's problem solved by finite elements";
const AT_THE_CENTROID: &str =
    "Saint-Venant's problem solved by finite elements, which cannot tell it from the centroid";

impl Torsion {
    /// Works a section out; else why it cannot be, in words that go on a sentence.
    pub(super) fn of(geometry: &Geometry) -> Result<Torsion, String> {
        if has_several_stiffnesses(geometry) {
            return Err(reason(NoTorsion::SeveralMaterials));
        }
        if let Some(exact) = closed_form(geometry) {
            return Ok(exact);
        }
        let exact = rectangle(geometry);
        let found = saint_venant(&geometry.section, Ratio::from_si(ACCURACY)).map_err(reason)?;
        let error = found.relative_error().si();
        let is_too_rough = |error: f64| error.is_nan() || error > TOO_ROUGH;
        if exact.is_none() && is_too_rough(error) {
            return Err(format!(
                "the torsion of this section can be worked out to {:.1} % only, which is too rough",
                100.0 * error
            ));
        }
        let by_elements = |value: f64, error: f64| Known {
            value,
            error: Some(error),
            method: BY_ELEMENTS,
        };
        let by_series = |value: f64| Known {
            value,
            error: None,
            method: "Saint-Venant's series for a rectangle",
        };
        let allowance = found.shear_centre_error.si();
        // What cannot be told from the centroid is in the centroid: a section with an axis of
        // symmetry has its shear centre on it.
        let near = |own: f64, middle: f64| {
            if (own - middle).abs() <= allowance {
                Known {
                    method: AT_THE_CENTROID,
                    ..by_elements(middle, allowance)
                }
            } else {
                by_elements(own, allowance)
            }
        };
        let centroid = geometry.section.centroid();
        let constant = found.torsion_constant.si();
        let warping = found.warping_constant.si();
        let warping_error = found.warping_constant_error.si();
        Ok(Torsion {
            constant: match &exact {
                Some(own) => by_series(own.torsion_constant.si()),
                None => by_elements(constant, error * constant),
            },
            centre_x: near(found.shear_centre.x.si(), centroid.x.si()),
            centre_y: near(found.shear_centre.y.si(), centroid.y.si()),
            warping: (warping_error <= WARPING_TOO_ROUGH * warping)
                .then(|| by_elements(warping, warping_error)),
            modulus: exact.map(|own| by_series(own.torsion_modulus.si())),
        })
    }

    /// How a result was worked out, in words, and how far it may be off; no error where it is exact.
    pub(super) fn method(&self, member: &str) -> Option<(&'static str, Option<Quantity>)> {
        let known = self.known(member)?;
        let error = known.error.map(|error| quantity(member, error));
        Some((known.method, error.flatten()))
    }

    /// A result by its name.
    pub(super) fn get(&self, member: &str) -> Option<Quantity> {
        quantity(member, self.known(member)?.value)
    }

    fn known(&self, member: &str) -> Option<&Known> {
        match member {
            "torsion_constant" => Some(&self.constant),
            "torsion_modulus" => self.modulus.as_ref(),
            "warping_constant" => self.warping.as_ref(),
            "shear_centre_x" => Some(&self.centre_x),
            "shear_centre_y" => Some(&self.centre_y),
            _ => None,
        }
    }
}

fn quantity(member: &str, value: f64) -> Option<Quantity> {
    Quantity::new(value, member_dimension(member)?)
}

/// Whether parts differ in their moduli: they would share a torque by them.
fn has_several_stiffnesses(geometry: &Geometry) -> bool {
    let used = geometry.materials_used();
    let mut moduli = used.iter().map(|&index| {
        let material = geometry.materials.get(index)?;
        Some((material.elastic_modulus, material.shear_modulus))
    });
    let first = moduli.next();
    moduli.any(|own| Some(own) != first)
}

/// A section of one shape with everything in closed form: a circle, a round tube, an ellipse. The
/// greatest shear stress is T over the torsion modulus (Gere & Goodno, 7th edition, section 3.3;
/// Timoshenko & Goodier, Theory of Elasticity, 3rd edition, article 102; from memory).
fn closed_form(geometry: &Geometry) -> Option<Torsion> {
    let [only] = geometry.parts.as_slice() else {
        return None;
    };
    let exact = |value: f64, method: &'static str| Known {
        value,
        error: None,
        method,
    };
    let centroid = geometry.section.centroid();
    let round = |constant: f64, diameter: f64| {
        let middle = "a round section twists about its centre, exact";
        Torsion {
            constant: exact(constant, "π·(D⁴ − d⁴)/32, exact"),
            centre_x: exact(centroid.x.si(), middle),
            centre_y: exact(centroid.y.si(), middle),
            warping: Some(exact(0.0, "a round section does not warp, exact")),
            modulus: Some(exact(
                constant / (diameter / 2.0),
                "the torsion constant over D/2, exact",
            )),
        }
    };
    Some(match &only.shape {
        Shape::Circle { diameter, .. } => round(circle(*diameter).si(), diameter.si()),
        Shape::Tube {
            diameter,
            thickness,
            ..
        } => round(tube(*diameter, *thickness).si(), diameter.si()),
        Shape::Ellipse { width, height, .. } => {
            let (a, b) = (*width / 2.0, *height / 2.0);
            let (longer, shorter) = (a.si().max(b.si()), a.si().min(b.si()));
            let middle = "an ellipse twists about its centre, exact";
            Torsion {
                constant: exact(
                    ellipse(a, b).si(),
                    "π·a³·b³/(a² + b²) with the halves a and b of its axes, exact",
                ),
                centre_x: exact(centroid.x.si(), middle),
                centre_y: exact(centroid.y.si(), middle),
                warping: Some(exact(
                    ellipse_warping(a, b).si(),
                    "((a² − b²)/(a² + b²))²·π·a³·b³/24 with the halves a and b of its axes, exact",
                )),
                modulus: Some(exact(
                    std::f64::consts::PI * longer * shorter * shorter / 2.0,
                    "π·a·b²/2 with the halves a ≥ b of its axes, exact",
                )),
            }
        }
        Shape::Rectangle { .. } | Shape::Polygon(_) | Shape::Outline(_) => return None,
    })
}

/// The closed form of a section that is one rectangle.
fn rectangle(geometry: &Geometry) -> Option<Rectangle> {
    match geometry.parts.as_slice() {
        [only] => match &only.shape {
            Shape::Rectangle { width, height, .. } => Some(Rectangle::new(*width, *height)),
            _ => None,
        },
        _ => None,
    }
}

fn reason(problem: NoTorsion) -> String {
    match problem {
        NoTorsion::SeveralMaterials => {
            "torsion and shear centre are worked out for a section of one material alone: parts of \
             different stiffness share a torque by their shear moduli"
        }
        NoTorsion::InPieces => {
            "the section is in pieces that do not touch along an edge, and each of them twists by \
             itself"
        }
        NoTorsion::TouchesInAPoint => {
            "parts of the section touch in a point alone, across which no shear flows"
        }
        NoTorsion::TooSlender => {
            "its walls are so thin for their length that the torsion cannot be worked out"
        }
        NoTorsion::NoMesh => {
            "parts of its boundary run so close to each other that the torsion cannot be worked out"
        }
    }
    .to_owned()
}
