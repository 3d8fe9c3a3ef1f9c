//! Torsion of a section: its constant, shear centre and warping constant.
//!
//! Worked out when it is asked for first: the numerical solution takes longer than everything else
//! about a section.

use haunch_mechanics::section::Shape;
use haunch_mechanics::torsion::{
    NoTorsion, Rectangle, circle, ellipse, ellipse_warping, saint_venant, tube,
};
use haunch_quantity::typed::{Ratio, SecondMomentOfArea, Typed};
use haunch_quantity::{Dimension, Quantity};

use super::geometry::Geometry;

/// The results, in SI.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Torsion {
    constant: f64,
    centre: (f64, f64),
    /// None where its error would be as large as the value.
    warping: Option<f64>,
    /// How the constant was worked out, and how exact it is.
    constant_method: String,
    /// The same of the other results.
    method: String,
}

/// The names of the results.
pub(super) const MEMBERS: &[&str] = &[
    "torsion_constant",
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

impl Torsion {
    /// Works a section out; else why it cannot be, in words that go on a sentence.
    pub(super) fn of(geometry: &Geometry) -> Result<Torsion, String> {
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
        let centroid = geometry.section.centroid();
        let allowance = found.shear_centre_error.si();
        // What cannot be told from the centroid is in the centroid: a section with an axis of
        // symmetry has its shear centre on it.
        let near = |own: f64, middle: f64| {
            if (own - middle).abs() <= allowance {
                middle
            } else {
                own
            }
        };
        let warping = found.warping_constant.si();
        let warping_error = found.warping_constant_error.si();
        let numerical = format!(
            "Saint-Venant's problem solved by finite elements, to within {:.2} %",
            100.0 * error
        );
        Ok(Torsion {
            constant: exact.map_or(found.torsion_constant, |own| own).si(),
            centre: (
                near(found.shear_centre.x.si(), centroid.x.si()),
                near(found.shear_centre.y.si(), centroid.y.si()),
            ),
            warping: (warping_error <= WARPING_TOO_ROUGH * warping).then_some(warping),
            constant_method: if exact.is_some() {
                "Saint-Venant's series for a rectangle".to_owned()
            } else {
                numerical
            },
            method: format!(
                "Saint-Venant's problem solved by finite elements, the torsion constant to within \
                 {:.2} %",
                100.0 * error
            ),
        })
    }

    /// How a result was worked out, in words.
    pub(super) fn method(&self, member: &str) -> &str {
        match member {
            "torsion_constant" => &self.constant_method,
            _ => &self.method,
        }
    }

    /// A result by its name.
    pub(super) fn get(&self, member: &str) -> Option<Quantity> {
        match member {
            "torsion_constant" => Quantity::new(self.constant, Dimension::SECOND_MOMENT_OF_AREA),
            "warping_constant" => Quantity::new(self.warping?, Dimension::WARPING_CONSTANT),
            "shear_centre_x" => Quantity::new(self.centre.0, Dimension::LENGTH),
            "shear_centre_y" => Quantity::new(self.centre.1, Dimension::LENGTH),
            _ => None,
        }
    }
}

/// A section of one shape with everything in closed form: a circle, a round tube, an ellipse.
fn closed_form(geometry: &Geometry) -> Option<Torsion> {
    let [only] = geometry.parts.as_slice() else {
        return None;
    };
    let round = "a round section twists about its centre and does not warp";
    let round_constant = "π·(D⁴ − d⁴)/32, exact";
    let (constant, warping, constant_method, method) = match &only.shape {
        Shape::Circle { diameter, .. } => (circle(*diameter), 0.0, round_constant, round),
        Shape::Tube {
            diameter,
            thickness,
            ..
        } => (tube(*diameter, *thickness), 0.0, round_constant, round),
        Shape::Ellipse { width, height, .. } => {
            let (a, b) = (*width / 2.0, *height / 2.0);
            (
                ellipse(a, b),
                ellipse_warping(a, b).si(),
                "π·a³·b³/(a² + b²) with the halves a and b of its axes, exact",
                "an ellipse twists about its centre and warps by x·y·(b² − a²)/(a² + b²), exact",
            )
        }
        Shape::Rectangle { .. } | Shape::Polygon(_) | Shape::Outline(_) => return None,
    };
    let centroid = geometry.section.centroid();
    Some(Torsion {
        constant: constant.si(),
        centre: (centroid.x.si(), centroid.y.si()),
        warping: Some(warping),
        constant_method: constant_method.to_owned(),
        method: method.to_owned(),
    })
}

/// The constant of a section that is one rectangle.
fn rectangle(geometry: &Geometry) -> Option<SecondMomentOfArea> {
    match geometry.parts.as_slice() {
        [only] => match &only.shape {
            Shape::Rectangle { width, height, .. } => {
                Some(Rectangle::new(*width, *height).torsion_constant)
            }
            _ => None,
        },
        _ => None,
    }
}

fn reason(problem: NoTorsion) -> String {
    match problem {
        NoTorsion::SeveralMaterials => {
            "the torsion of several materials together is not worked out yet"
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
