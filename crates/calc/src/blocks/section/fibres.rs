//! The places of a section at which stresses are looked at.

use haunch_mechanics::section::{
    Forces, LargestShearStress, NoResult, Point, PointStress, Section,
};
use haunch_quantity::typed::{Force, Moment, Typed};
use haunch_quantity::{Preferences, format_quantity};
use smol_str::SmolStr;

use super::geometry::Geometry;
use crate::blocks::fibre::{Fibre, ShearPlace};

/// Stresses below this share of the section's largest under the same force are rounding.
const ROUNDING: f64 = 1e-12;

/// A length below this share of the section's size is none.
const NEAR: f64 = 1e-9;

/// The forces under which the stress of a fibre is one of its three factors.
fn unit_forces() -> [Forces; 3] {
    let (force, moment) = (Force::from_si, Moment::from_si);
    let of = |axial: f64, moment_x: f64, moment_y: f64| Forces {
        axial: force(axial),
        moment_x: moment(moment_x),
        moment_y: moment(moment_y),
    };
    [of(1.0, 0.0, 0.0), of(0.0, 1.0, 0.0), of(0.0, 0.0, 1.0)]
}

/// Moments about both axes, whose ratio decides where stresses are extreme.
pub(super) fn moments(moment: f64, moment_y: f64) -> Forces {
    Forces {
        axial: Force::from_si(0.0),
        moment_x: Moment::from_si(moment),
        moment_y: Moment::from_si(moment_y),
    }
}

/// Makes fibres of places.
pub(super) struct Fibres<'a> {
    geometry: &'a Geometry,
    /// The largest stress under each unit force, by magnitude.
    largest: [f64; 3],
}

impl<'a> Fibres<'a> {
    pub(super) fn new(geometry: &'a Geometry) -> Fibres<'a> {
        let largest = unit_forces().map(|forces| {
            let stresses = geometry.section.edge_stresses(&forces);
            stresses
                .iter()
                .map(|own| own.stress.si().abs())
                .fold(0.0, f64::max)
        });
        Fibres { geometry, largest }
    }

    /// The fibre at a place of a part.
    pub(super) fn at(&self, part: usize, place: Point, name: SmolStr) -> Option<Fibre> {
        let mut factors = [0.0; 3];
        for ((factor, forces), largest) in factors.iter_mut().zip(unit_forces()).zip(self.largest) {
            let stress = self
                .geometry
                .section
                .stress_in_part(&forces, part, place)?
                .si();
            if stress.abs() > ROUNDING * largest {
                *factor = stress;
            }
        }
        let [per_axial, per_moment, per_moment_y] = factors;
        Some(Fibre {
            name,
            point: None,
            per_axial,
            per_moment,
            per_moment_y,
            limits: self.geometry.limits(part),
        })
    }

    /// The named points.
    pub(super) fn points(&self) -> Vec<Fibre> {
        let points = self.geometry.points.iter();
        let fibres = points.filter_map(|point| {
            let fibre = self.at(point.part, point.place, point.name.clone())?;
            Some(Fibre {
                point: Some(point.line),
                ..fibre
            })
        });
        fibres.collect()
    }

    /// For each grade of material the fibres with the greatest and the least stress under these moments.
    /// With any axial force added these stay the extreme ones.
    pub(super) fn extremes(&self, moments: &Forces) -> Vec<Fibre> {
        let stresses = self.geometry.section.edge_stresses(moments);
        let used = self.geometry.grades_used();
        let several_materials = self.geometry.materials_used().len() > 1;
        let mut fibres = Vec::new();
        for &grade in &used {
            let of_grade =
                |own: &&PointStress| self.geometry.grade_of.get(own.part) == Some(&grade);
            let mut own = stresses.iter().filter(of_grade);
            let Some(first) = own.next() else { continue };
            let (mut least, mut greatest) = (first, first);
            for stress in own {
                if stress.stress < least.stress {
                    least = stress;
                }
                if stress.stress > greatest.stress {
                    greatest = stress;
                }
            }
            if least.stress == greatest.stress {
                let name = match self.geometry.material(least.part) {
                    Some(material) if several_materials => format!("all of {}", material.name),
                    _ if used.len() > 1 => format!("all of {}", self.geometry.name(least.part)),
                    _ => "the whole section".to_owned(),
                };
                fibres.extend(self.at(least.part, least.place, name.into()));
                continue;
            }
            for extreme in [greatest, least] {
                let name = self.name(extreme, moments, used.len() > 1);
                fibres.extend(self.at(extreme.part, extreme.place, name));
            }
        }
        fibres
    }

    /// Where an extreme fibre is, in words: `top`, `bottom left`, `top of strap`.
    fn name(&self, extreme: &PointStress, moments: &Forces, of_part: bool) -> SmolStr {
        let section = &self.geometry.section;
        let (mx, my) = (moments.moment_x.si(), moments.moment_y.si());
        let unsymmetrical = section.is_bent_unsymmetrically();
        let (upright, sideways) = (mx != 0.0 || unsymmetrical, my != 0.0 || unsymmetrical);
        let name = self.geometry.name(extreme.part);
        let whole = words(extreme.place, &section.bounds(), upright, sideways);
        if let (Some(words), false) = (&whole, of_part) {
            return words.as_str().into();
        }
        let own = section.part(extreme.part);
        let words = own.and_then(|own| words(extreme.place, &own.bounds, upright, sideways));
        match words {
            Some(words) => format!("{words} of {name}").into(),
            None => format!("edge of {name}").into(),
        }
    }

    /// The fibres on the topmost or the lowest edge of the section.
    pub(super) fn edge(&self, is_top: bool) -> Vec<Fibre> {
        let section = &self.geometry.section;
        let bounds = section.bounds();
        let size = bounds.width().si().max(bounds.depth().si());
        let level = if is_top { bounds.top } else { bounds.bottom };
        let name = if is_top { "top" } else { "bottom" };
        // Corners are the same under any forces; those of no moments have no others among them.
        let corners = section.edge_stresses(&moments(0.0, 0.0));
        corners
            .iter()
            .filter(|own| (own.place.y.si() - level.si()).abs() <= NEAR * size)
            .filter_map(|own| self.at(own.part, own.place, name.into()))
            .collect()
    }
}

fn words(
    place: Point,
    bounds: &haunch_mechanics::section::Bounds,
    upright: bool,
    sideways: bool,
) -> Option<String> {
    let size = bounds.width().si().max(bounds.depth().si());
    let near = |a: f64, b: f64| (a - b).abs() <= NEAR * size;
    let (x, y) = (place.x.si(), place.y.si());
    let vertical = match () {
        () if near(y, bounds.top.si()) => Some("top"),
        () if near(y, bounds.bottom.si()) => Some("bottom"),
        () => None,
    };
    let horizontal = match () {
        () if near(x, bounds.left.si()) => Some("left"),
        () if near(x, bounds.right.si()) => Some("right"),
        () => None,
    };
    match (
        vertical.filter(|_| upright),
        horizontal.filter(|_| sideways),
    ) {
        (Some(vertical), Some(horizontal)) => Some(format!("{vertical} {horizontal}")),
        (Some(vertical), None) if !sideways => Some(vertical.to_owned()),
        (None, Some(horizontal)) if !upright => Some(horizontal.to_owned()),
        _ => None,
    }
}

/// The largest shear stress in the parts of each grade of material; else why there is none.
pub(super) fn shear(geometry: &Geometry) -> Result<Vec<ShearPlace>, String> {
    shear_in(geometry, &geometry.section)
}

/// The largest shear stress from a sideways force in the parts of each grade of material, Pa per N, in the
/// order of [`shear`]; else why there is none.
pub(super) fn shear_sideways(geometry: &Geometry) -> Result<Vec<f64>, String> {
    let exchanged = geometry.section.with_axes_exchanged();
    let places = shear_in(geometry, &exchanged)?;
    Ok(places.iter().map(|place| place.per_shear).collect())
}

fn shear_in(geometry: &Geometry, section: &Section) -> Result<Vec<ShearPlace>, String> {
    let unit = Force::from_si(1.0);
    let used = geometry.grades_used();
    used.iter()
        .map(|&grade| {
            let largest = if used.len() == 1 {
                section.largest_shear_stress(unit)
            } else {
                let parts = geometry.parts_of(grade);
                section.largest_shear_stress_in(&parts, unit)
            };
            let LargestShearStress { stress, y, .. } = largest.map_err(no_shear)?;
            let place = y.to_quantity().zip(geometry.grades.get(grade));
            let (y, grade) = place.ok_or_else(|| no_shear(NoResult::Outside))?;
            Ok(ShearPlace {
                y,
                per_shear: stress.si().abs(),
                per_shear_sideways: 0.0,
                limits: grade.limits.clone(),
            })
        })
        .collect()
}

/// Why there is no shear stress, in words that go on a sentence.
pub(super) fn no_shear(problem: NoResult) -> String {
    let at = |y: haunch_quantity::typed::Length| {
        y.to_quantity().map_or(String::new(), |y| {
            format_quantity(y, None, &Preferences::default())
        })
    };
    match problem {
        NoResult::SeveralMaterialsSideBySide { y } => format!(
            "at y = {} different materials lie side by side, and the shear stress in each is not \
             worked out yet",
            at(y)
        ),
        NoResult::NoWidth { y } => format!(
            "at y = {} nothing joins what lies above to what lies below, so no shear can pass",
            at(y)
        ),
        NoResult::Outside | NoResult::SeveralMaterials => {
            "the section has no material there".to_owned()
        }
    }
}
