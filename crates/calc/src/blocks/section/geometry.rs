//! The section as the mechanics sees it, with the names that the mechanics does not know.

use std::sync::{Arc, OnceLock};

use haunch_mechanics::section::{Part, Point, Problem, Role, Section, ShapeProblem};
use haunch_quantity::typed::{Length, Typed};
use smol_str::SmolStr;

use super::critical::Gauges;
use super::kern::Kern;
use super::materials::{Material, Materials};
use super::places::{Frame, by_itself};
use super::reading::{PartLine, Reading};
use super::results::PlasticResults;
use super::shapes::{OwnProperties, SizedShape};
use super::strength::{self, Grade, NoStrength};
use super::torsion::Torsion;
use crate::blocks::material::MaterialLimit;
use crate::finding::{Finding, Place};
use crate::findings::{deductions, parts};
use crate::line::LineId;

/// A point of a section in its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NamedPoint {
    pub(super) name: SmolStr,
    pub(super) line: LineId,
    pub(super) place: Point,
    /// The part whose material it is in.
    pub(super) part: usize,
}

/// Everything that the results of a section follow from.
#[derive(Debug, Clone)]
pub(crate) struct Geometry {
    /// In the order of the lines.
    pub(super) parts: Vec<Part>,
    pub(super) names: Vec<SmolStr>,
    /// The parts' shapes as their lines say them.
    pub(super) shapes: Vec<SizedShape>,
    pub(super) materials: Vec<Material>,
    /// For each part the index of its material.
    pub(super) material_of: Vec<usize>,
    /// Parts of one material with the same limits.
    pub(super) grades: Vec<Grade>,
    /// For each part the index of its grade.
    pub(super) grade_of: Vec<usize>,
    /// Stresses that a material limits by thickness, but not for a part of it.
    pub(super) no_strength: Vec<NoStrength>,
    pub(super) points: Vec<NamedPoint>,
    /// Made from the parts.
    pub(super) section: Section,
    /// What follows from the section and takes long, kept once it was asked for.
    pub(super) torsion: OnceLock<Result<Torsion, String>>,
    pub(super) plastic: OnceLock<PlasticResults>,
    pub(super) kern: OnceLock<Kern>,
    pub(super) parts_alone: OnceLock<Vec<Option<OwnProperties>>>,
    pub(super) gauges: Gauges,
}

impl PartialEq for Geometry {
    fn eq(&self, other: &Geometry) -> bool {
        self.parts == other.parts
            && self.names == other.names
            && self.shapes == other.shapes
            && self.materials == other.materials
            && self.material_of == other.material_of
            && self.grades == other.grades
            && self.grade_of == other.grade_of
            && self.no_strength == other.no_strength
            && self.points == other.points
    }
}

impl Geometry {
    /// The torsion of the section; else why it is not known.
    pub(super) fn torsion(&self) -> &Result<Torsion, String> {
        self.torsion.get_or_init(|| Torsion::of(self))
    }

    /// What is known of a part from its sizes alone.
    pub(super) fn part_alone(&self, part: usize) -> Option<&OwnProperties> {
        let all = self
            .parts_alone
            .get_or_init(|| self.shapes.iter().map(SizedShape::own).collect());
        all.get(part)?.as_ref()
    }

    /// The name of a part.
    pub(super) fn name(&self, part: usize) -> &str {
        self.names.get(part).map_or("", SmolStr::as_str)
    }

    /// The material of a part.
    pub(super) fn material(&self, part: usize) -> Option<&Material> {
        self.materials.get(*self.material_of.get(part)?)
    }

    /// The limits of a part.
    pub(super) fn limits(&self, part: usize) -> Arc<[MaterialLimit]> {
        let grade = self
            .grade_of
            .get(part)
            .and_then(|&own| self.grades.get(own));
        grade.map(|grade| grade.limits.clone()).unwrap_or_default()
    }

    /// The indices of the materials that parts are made of, in the order of their names.
    pub(super) fn materials_used(&self) -> Vec<usize> {
        let mut used: Vec<usize> = (0..self.parts.len())
            .filter(|&part| self.is_material(part))
            .filter_map(|part| self.material_of.get(part).copied())
            .collect();
        let name = |index: usize| self.materials.get(index).map(|own| own.name.clone());
        used.sort_by_key(|&index| (name(index), index));
        used.dedup();
        used
    }

    /// The coefficient of thermal expansion that all materials have in common.
    pub(super) fn thermal_expansion(&self) -> Option<haunch_quantity::Quantity> {
        let used = self.materials_used();
        let mut all = used
            .iter()
            .map(|&index| self.materials.get(index)?.thermal_expansion);
        let first = all.next()??;
        all.all(|other| other == Some(first)).then_some(first)
    }

    /// Whether a part is material and no deduction.
    pub(super) fn is_material(&self, part: usize) -> bool {
        self.parts
            .get(part)
            .is_some_and(|own| matches!(own.role, haunch_mechanics::section::Role::Material { .. }))
    }

    /// The indices of the grades that parts are made of, by their materials' names and thickness.
    pub(super) fn grades_used(&self) -> Vec<usize> {
        let mut used: Vec<usize> = (0..self.parts.len())
            .filter(|&part| self.is_material(part))
            .filter_map(|part| self.grade_of.get(part).copied())
            .collect();
        used.sort_unstable();
        used.dedup();
        used
    }

    /// The parts of a grade.
    pub(super) fn parts_of(&self, grade: usize) -> Vec<usize> {
        (0..self.parts.len())
            .filter(|&part| self.is_material(part) && self.grade_of.get(part) == Some(&grade))
            .collect()
    }
}

/// Puts the section together; none, with findings, where its geometry is not sound.
pub(super) fn build(
    reading: &mut Reading<'_>,
    frames: &[Frame],
    materials: Materials,
) -> Option<Geometry> {
    let place = reading.context.name_place();
    let name = reading.context.name();
    if reading.parts.iter().all(|own| own.part.deduct.is_some()) {
        reading.refuse(parts::nothing_but_deductions(place, &name));
        return None;
    }
    let mut pieces = Vec::with_capacity(frames.len());
    for (index, (own, frame)) in reading.parts.iter().zip(frames).enumerate() {
        let shape = own
            .shape
            .as_ref()?
            .at(Length::from_si(frame.left), Length::from_si(frame.bottom));
        pieces.push(if own.part.deduct.is_some() {
            Part::deduction(shape)
        } else {
            let material = materials.all.get(*materials.of_parts.get(index)?)?;
            Part::with_modular_ratio(shape, material.modular_ratio)
        });
    }
    let section = match Section::new(&pieces) {
        Ok(section) => section,
        Err(problems) => {
            for problem in problems {
                let findings = findings(reading, &problem);
                reading.complete = false;
                for finding in findings {
                    if !reading.findings.contains(&finding) {
                        reading.findings.push(finding);
                    }
                }
            }
            return None;
        }
    };
    let (grades, grade_of, no_strength) = grades(reading, &pieces, &materials);
    let overlapping = section
        .warnings()
        .iter()
        .filter(|warning| !matches!(warning, Problem::NotConnected { .. }));
    for warning in overlapping {
        let findings = findings(reading, warning);
        reading.findings.extend(findings);
    }
    let apart = apart_before_deductions(reading, &pieces, &section);
    reading.findings.extend(apart);
    Some(Geometry {
        names: reading
            .parts
            .iter()
            .map(|own| own.part.name.text.clone())
            .collect(),
        shapes: reading
            .parts
            .iter()
            .filter_map(|own| own.shape.clone())
            .collect(),
        parts: pieces,
        materials: materials.all,
        material_of: materials.of_parts,
        grades,
        grade_of,
        no_strength,
        points: Vec::new(),
        section,
        torsion: OnceLock::new(),
        plastic: OnceLock::new(),
        kern: OnceLock::new(),
        parts_alone: OnceLock::new(),
        gauges: Gauges::default(),
    })
}

/// The grades, for each part the index of its own, and the stresses without a strength. Grades come
/// in the order of their materials' names, those of one material by their limits' thicknesses.
fn grades(
    reading: &Reading<'_>,
    pieces: &[Part],
    materials: &Materials,
) -> (Vec<Grade>, Vec<usize>, Vec<NoStrength>) {
    let mut lacking: Vec<NoStrength> = Vec::new();
    let mut of_parts = Vec::new();
    for (index, own) in reading.parts.iter().enumerate() {
        let material = materials.of_parts.get(index).copied().unwrap_or(0);
        let is_material = pieces
            .get(index)
            .is_some_and(|piece| matches!(piece.role, Role::Material { .. }));
        let limits = match materials.all.get(material) {
            Some(found) if is_material => {
                let walls = own.shape.as_ref().and_then(SizedShape::walls);
                let (limits, without) = strength::of_part(found, own.name(), walls);
                lacking.extend(without);
                limits
            }
            _ => Arc::default(),
        };
        of_parts.push(Grade { material, limits });
    }
    let name = |grade: &Grade| materials.all.get(grade.material).map(|own| &own.name);
    let thicknesses = |grade: &Grade| -> Vec<u64> {
        let limits = grade.limits.iter();
        // Positive numbers are in the order of their bits.
        limits
            .map(|limit| limit.up_to.map_or(0, |up_to| up_to.si().to_bits()))
            .collect()
    };
    let mut grades = of_parts.clone();
    grades.sort_by(|a, b| {
        let by_name = name(a).cmp(&name(b)).then(a.material.cmp(&b.material));
        by_name.then_with(|| thicknesses(a).cmp(&thicknesses(b)))
    });
    grades.dedup();
    let index = |own: &Grade| grades.iter().position(|grade| grade == own).unwrap_or(0);
    let grade_of = of_parts.iter().map(index).collect();
    lacking.sort_by(|a, b| a.reason.cmp(&b.reason));
    (grades, grade_of, lacking)
}

/// What is wrong with the geometry, at the parts concerned.
fn findings(reading: &Reading<'_>, problem: &Problem) -> Vec<Finding> {
    let whole = || (reading.context.name_place(), reading.context.name());
    let own = |index: usize| -> (Place, String) {
        reading.parts.get(index).map_or_else(
            || (whole().0, String::new()),
            |part: &PartLine<'_>| (part.name_place(), part.name().to_owned()),
        )
    };
    let (place, name) = match problem {
        Problem::Overlap { second, .. } | Problem::DeductionsOverlap { second, .. } => own(*second),
        Problem::DeductionOutside { deduction, .. } => own(*deduction),
        Problem::Shape { part, .. }
        | Problem::ModularRatio { part }
        | Problem::NothingLeft { part }
        | Problem::TooThin { part } => own(*part),
        Problem::NoMaterial | Problem::TooFarAway | Problem::NotConnected { .. } => {
            (whole().0, whole().1.to_string())
        }
    };
    vec![match problem {
        Problem::Overlap { first, area, .. } => {
            let (first_place, first) = own(*first);
            let area = reading.text(area.to_quantity());
            parts::overlap(place, &name, (&first, first_place), &area)
        }
        Problem::DeductionsOverlap { first, .. } => {
            let (first_place, first) = own(*first);
            deductions::overlap(place, &name, (&first, first_place))
        }
        Problem::DeductionOutside { area, wholly, .. } => {
            let area = (!wholly).then(|| reading.text(area.to_quantity()));
            deductions::outside(place, &name, area.as_deref())
        }
        Problem::NothingLeft { .. } => deductions::nothing_left(place, &name),
        Problem::TooThin { .. } => parts::too_thin(place, &name),
        Problem::TooFarAway => parts::too_far_away(place, &name),
        Problem::NoMaterial => parts::none(place, &name),
        Problem::Shape {
            problem: ShapeProblem::WallThickerThanRadius,
            ..
        }
        | Problem::Shape { .. }
        | Problem::ModularRatio { .. } => parts::beyond_proportion(place, &name),
        Problem::NotConnected { .. } => return Vec::new(),
    }]
}

/// Parts that do not touch the rest. Deductions do not count: a bolt hole right through a web parts
/// the net section, and is meant to.
fn apart_before_deductions(
    reading: &Reading<'_>,
    pieces: &[Part],
    section: &Section,
) -> Vec<Finding> {
    let (indices, gross): (Vec<usize>, Vec<Part>) = pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| !matches!(piece.role, Role::Deduction))
        .map(|(index, piece)| (index, piece.clone()))
        .unzip();
    // Putting a section together is half of what it costs: not again where nothing is deducted.
    let without_deductions;
    let section = match gross.len() == pieces.len() {
        true => section,
        false => match Section::new(&gross) {
            Ok(section) => {
                without_deductions = section;
                &without_deductions
            }
            Err(_) => return Vec::new(),
        },
    };
    let islands = section.warnings().iter().find_map(|warning| match warning {
        Problem::NotConnected { pieces } => Some(pieces),
        _ => None,
    });
    let Some(islands) = islands else {
        return Vec::new();
    };
    let islands: Vec<Vec<usize>> = islands
        .iter()
        .map(|island| {
            let parts = island.iter();
            parts
                .filter_map(|&part| indices.get(part).copied())
                .collect()
        })
        .collect();
    let origin = by_itself(&reading.parts);
    let has_origin = |island: &Vec<usize>| origin.is_some_and(|part| island.contains(&part));
    let main = islands.iter().position(has_origin).unwrap_or(0);
    let others = islands
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != main);
    others
        .filter_map(|(_, island)| {
            let own: Vec<&PartLine<'_>> = island
                .iter()
                .filter_map(|&part| reading.parts.get(part))
                .collect();
            let names: Vec<&str> = own.iter().map(|part| part.name()).collect();
            Some(parts::apart(own.first()?.name_place(), &names))
        })
        .collect()
}
