//! `section`: parts, points and the properties of the whole.
//!
//! The lines are read ([`reading`]), every part is put in its place ([`places`]) with its material
//! ([`materials`]), the mechanics puts the section together ([`geometry`]), and the points are
//! found in it ([`points`]). What is wrong is told once, where it stands; with anything wrong among
//! geometry or material the section has no results.

mod annotations;
mod critical;
mod fibres;
mod geometry;
mod kern;
mod materials;
mod places;
mod points;
mod reading;
mod results;
mod shapes;
mod shear_flow;
mod strength;
mod table;
mod torsion;

use std::sync::Arc;

use haunch_mechanics::section::{Equivalent, Forces, ForcesAlong, NoResult, StressGauge};
use haunch_quantity::typed::{Force, Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{PartPlace, Side};
use haunch_text::Span;
use smol_str::SmolStr;

use super::context::BlockContext;
use super::fibre::{Fibre, ShearPlace};
use super::material::StressLimit;
use super::{Absent, BlockMeaning, BlockOutcome, Model};
use crate::findings;
use crate::lints;
use crate::lints::unlikely_sizes::Sizes;
use geometry::Geometry;
use reading::Reading;
use results::Rigidity;

pub(super) use annotations::of as annotations;
pub(crate) use critical::CriticalPlace;
pub use kern::KernCorner;
pub(crate) use results::{absent, call, level, member_dimension};
pub(crate) use shapes::own_properties;
pub(crate) use shear_flow::NoShearFlow;
pub use table::TableRow;

/// A cross section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionModel {
    /// Its name.
    pub name: SmolStr,
    /// The places at which normal stress is looked at: for each material the fibres with the
    /// greatest and the least stress under a moment about the x axis, which stay so with any axial
    /// force; then the named points. Under moments about both axes see
    /// [`SectionModel::fibres_under`].
    pub fibres: Vec<Fibre>,
    /// Where shear stress is largest, for each material. Empty where it is not known.
    pub shear: Vec<ShearPlace>,
    /// Why the shear stress is not known, in words that go on a sentence.
    pub no_shear: Option<String>,
    /// Flexural rigidity about the x axis, E·Ixx (transformed for several materials); none without E.
    pub flexural_rigidity: Option<Quantity>,
    /// Mass per length; none where a material has no density.
    pub mass_per_length: Option<Quantity>,
    /// Depth over all.
    pub depth: Quantity,
    /// Coefficient of thermal expansion; none where a material states none, or materials differ.
    pub thermal_expansion: Option<Quantity>,
    geometry: Arc<Geometry>,
}

/// The functions that give a result at a place.
pub(super) const FUNCTIONS: &[&str] = &["first_moment", "Ixx_about", "Iyy_about", "Ixy_about"];

impl SectionModel {
    fn new(name: SmolStr, geometry: Geometry, rigidity: &Rigidity) -> Option<SectionModel> {
        let depth = geometry.section.bounds().depth().to_quantity()?;
        let (shear, no_shear) = match fibres::shear(&geometry) {
            Ok(shear) => (shear, None),
            Err(reason) => (Vec::new(), Some(reason)),
        };
        let mut model = SectionModel {
            name,
            fibres: Vec::new(),
            shear,
            no_shear,
            flexural_rigidity: rigidity.about_x,
            mass_per_length: rigidity.mass_per_length,
            depth,
            thermal_expansion: geometry.thermal_expansion(),
            geometry: Arc::new(geometry),
        };
        model.fibres = model.fibres_under(1.0, 0.0);
        Some(model)
    }

    /// The places at which normal stress is extreme under moments about both axes, in N·m (about x
    /// positive sagging, about y positive with the left in tension), and the named points. Only
    /// the ratio of the moments matters; with any axial force these stay the extreme places.
    pub fn fibres_under(&self, moment: f64, moment_y: f64) -> Vec<Fibre> {
        let makes = fibres::Fibres::new(&self.geometry);
        let mut all = makes.extremes(&fibres::moments(moment, moment_y));
        all.extend(makes.points());
        all
    }

    /// Why a stress that a material limits by thickness has no limit in a part, in words that go
    /// on a sentence.
    pub(crate) fn no_strength(&self, subject: StressLimit) -> Option<&str> {
        let mut lacking = self.geometry.no_strength.iter();
        let found = lacking.find(|own| own.subject == subject)?;
        Some(&found.reason)
    }

    /// Where normal and shear stress together are worst, for each grade of material, under forces
    /// along a beam; `stops` are where these jump or have a kink.
    pub(crate) fn critical(
        &self,
        equivalent: Equivalent,
        stops: &[Length],
        forces: &dyn ForcesAlong,
    ) -> Vec<CriticalPlace> {
        critical::places(&self.geometry, equivalent, stops, forces)
    }

    /// The stress of an upright moment and shear together in the parts of each grade of material, in
    /// the order of its places of shear; none where it is not known.
    pub(crate) fn gauges(&self, equivalent: Equivalent) -> Option<&[StressGauge]> {
        self.geometry.gauges(equivalent)
    }

    /// The section with the fibres that are extreme under these moments.
    pub(crate) fn under(self, moment: f64, moment_y: f64) -> SectionModel {
        SectionModel {
            fibres: self.fibres_under(moment, moment_y),
            ..self
        }
    }

    /// Its centroid, for drawings.
    pub fn centroid(&self) -> haunch_mechanics::section::Point {
        self.geometry.section.centroid()
    }

    /// The table of parts of a hand calculation, in the order of the lines.
    pub fn table(&self) -> Vec<TableRow> {
        table::rows(&self.geometry)
    }

    /// Every result with a value, those of the parts under their names, sorted by name.
    pub(super) fn members(&self) -> Vec<(SmolStr, Quantity)> {
        results::members(&self.geometry)
    }

    /// A result that is among [`SectionModel::members`].
    pub(super) fn member(&self, name: &str) -> Option<Quantity> {
        results::member(&self.geometry, name)
    }

    /// The boundaries of its parts, for drawings.
    pub fn outline_edges(&self) -> Vec<haunch_mechanics::section::OutlineEdge> {
        self.geometry.section.outline_edges()
    }

    /// The section with the shear stress of a sideways force at its places of shear, or why that is
    /// not known.
    pub(crate) fn with_sideways_shear(mut self) -> SectionModel {
        if self.no_shear.is_some() {
            return self;
        }
        match fibres::shear_sideways(&self.geometry) {
            Ok(factors) => {
                for (place, factor) in self.shear.iter_mut().zip(factors) {
                    place.per_shear_sideways = factor;
                }
            }
            Err(_) => {
                self.shear.clear();
                self.no_shear = Some(
                    "the shear stress from the sideways force is not known in this section"
                        .to_owned(),
                );
            }
        }
        self
    }

    /// The greatest stress (`sense` 1) or the least with its sign changed (`sense` −1) in the parts of
    /// each grade of material under these moments, in an order of their own, Pa.
    pub(crate) fn greatest_stresses(&self, moment: f64, moment_y: f64, sense: f64) -> Vec<f64> {
        let geometry = &self.geometry;
        let mut greatest = vec![f64::NEG_INFINITY; geometry.grades.len()];
        for own in geometry
            .section
            .edge_stresses(&fibres::moments(moment, moment_y))
        {
            let grade = geometry.grade_of.get(own.part);
            if let Some(known) = grade.and_then(|&grade| greatest.get_mut(grade)) {
                *known = known.max(sense * own.stress.si());
            }
        }
        greatest.retain(|stress| *stress > f64::NEG_INFINITY);
        greatest
    }

    /// The limits of each grade of material, in the order of [`greatest_stresses`](Self::greatest_stresses).
    pub(crate) fn limits_of_grades(&self) -> Vec<Arc<[super::material::MaterialLimit]>> {
        let geometry = &self.geometry;
        let used = geometry.grades_used();
        let grades = used.iter().filter_map(|&grade| geometry.grades.get(grade));
        grades.map(|grade| grade.limits.clone()).collect()
    }

    /// A result that is worked out only when it is asked for: one of [`SectionModel::ON_REQUEST`].
    pub(crate) fn on_request(&self, member: &str) -> Option<Quantity> {
        if !torsion::MEMBERS.contains(&member) {
            return None;
        }
        let value = self.geometry.torsion().as_ref().ok()?.get(member)?;
        Some(results::without_dust(&self.geometry, value))
    }

    /// The results that are worked out only when they are asked for, since they take longer than
    /// everything else about a section.
    pub const ON_REQUEST: &[&str] = torsion::MEMBERS;

    /// How a result was worked out, in words, and how far it may be off (nothing where it is
    /// exact), where that is not its formula in the language reference alone: the results of
    /// [`SectionModel::ON_REQUEST`].
    pub fn method(&self, member: &str) -> Option<(&'static str, Option<Quantity>)> {
        if !torsion::MEMBERS.contains(&member) {
            return None;
        }
        self.geometry.torsion().as_ref().ok()?.method(member)
    }

    /// Why a result that a section can have is not among those of this one, in words that go on a
    /// sentence. Nothing where it has a value or no section has it.
    pub fn no_result(&self, member: &str) -> Option<String> {
        let is_known = torsion::MEMBERS.contains(&member) && self.on_request(member).is_some();
        let Absent::NoValue { message, .. } = absent(self, member).filter(|_| !is_known)?;
        Some(message)
    }

    /// The corners of the kern, anticlockwise from the direction of x on, as in
    /// `kern_corner_1_x` and so on.
    pub fn kern_corners(&self) -> &[KernCorner] {
        &self.geometry.kern().corners
    }

    /// The line of no normal stress under forces in N and N·m: its level on the upright axis
    /// through the centroid, in m, and its angle from the x axis, anticlockwise. No level where the
    /// line is upright; nothing where the stress is the same all over.
    pub(crate) fn neutral_axis(
        &self,
        axial: f64,
        moment: f64,
        moment_y: f64,
    ) -> Option<(Option<f64>, f64)> {
        let forces = Forces {
            axial: Force::from_si(axial),
            ..fibres::moments(moment, moment_y)
        };
        let section = &self.geometry.section;
        let axis = section.neutral_axis(&forces)?;
        let angle = axis.angle.si();
        let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
        let sideways = section.centroid().x.si() - axis.nearest.x.si();
        let level = axis.nearest.y.si() + sideways * sine / cosine;
        Some(((cosine.abs() > 1e-9).then_some(level), angle))
    }

    /// The magnitude of the shear stress at a named point under an upright shear force in N.
    pub(crate) fn shear_stress_at(&self, point: &str, shear: f64) -> Result<f64, NoShearStress> {
        let found = self.geometry.points.iter().find(|own| own.name == point);
        let y = found.ok_or(NoShearStress::Outside)?.place.y;
        let bounds = self.geometry.section.bounds();
        let near = |edge: Length| (edge - y).si().abs() <= 1e-9 * bounds.depth().si();
        // No shear stress crosses the topmost and the lowest edge.
        if near(bounds.top) || near(bounds.bottom) {
            return Ok(0.0);
        }
        self.shear_stress(y, shear)
    }

    /// The magnitude of the shear stress at a named point under a sideways shear force in N: the
    /// mean over the upright cut, where its depth jumps on the shallower side.
    pub(crate) fn shear_stress_sideways_at(
        &self,
        point: &str,
        shear: f64,
    ) -> Result<f64, NoShearStress> {
        let found = self.geometry.points.iter().find(|own| own.name == point);
        let x = found.ok_or(NoShearStress::Outside)?.place.x;
        let section = &self.geometry.section;
        let bounds = section.bounds();
        let near = |edge: Length| (edge - x).si().abs() <= 1e-9 * bounds.width().si();
        if near(bounds.left) || near(bounds.right) {
            return Ok(0.0);
        }
        match section.shear_stress_sideways(x, Force::from_si(shear)) {
            Ok(sides) => Ok(sides.left.si().abs().max(sides.right.si().abs())),
            Err(NoResult::Outside) => Err(NoShearStress::Outside),
            Err(problem) => Err(NoShearStress::Reason(fibres::no_shear(problem))),
        }
    }

    /// The corners on the topmost edge, or on the lowest one.
    pub(crate) fn edge_fibres(&self, is_top: bool) -> Vec<Fibre> {
        fibres::Fibres::new(&self.geometry).edge(is_top)
    }

    /// The magnitude of the shear stress at a level under a shear force in N: where the width of
    /// the section jumps, on the narrower side.
    pub(crate) fn shear_stress(&self, y: Length, shear: f64) -> Result<f64, NoShearStress> {
        let section = &self.geometry.section;
        match section.shear_stress(y, Force::from_si(shear)) {
            Ok(sides) => Ok(sides.below.si().abs().max(sides.above.si().abs())),
            Err(NoResult::Outside) => Err(NoShearStress::Outside),
            Err(problem) => Err(NoShearStress::Reason(fibres::no_shear(problem))),
        }
    }
}

/// Why there is no shear stress at a level.
pub(crate) enum NoShearStress {
    /// The level misses the section.
    Outside,
    /// Another reason, in words that go on a sentence.
    Reason(String),
}

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    let mut reading = Reading::new(context);
    hidden_results(&mut reading);
    unlikely_sizes(&mut reading);
    let mut meaning = BlockMeaning::unknown(context);
    if let Some(geometry) = geometry(&mut reading) {
        let rigidity = Rigidity::of(&geometry);
        let over_all = geometry.section.bounds();
        let size = over_all.width().to_quantity();
        if let Some(size) = size.zip(over_all.depth().to_quantity()) {
            let (place, name) = (context.name_place(), context.name());
            let finding = lints::unlikely_sizes::over_all(place, &name, size, context.preferences);
            reading.findings.extend(finding);
        }
        if let Some(model) = SectionModel::new(context.name(), geometry, &rigidity) {
            meaning.model = Some(Model::Section(model));
        }
    }
    if meaning.model.is_none() {
        meaning.limited = context.limited_by_materials();
    }
    BlockOutcome {
        meaning,
        findings: reading.findings,
    }
}

/// The section put together, if all of it is known and sound.
fn geometry(reading: &mut Reading<'_>) -> Option<Geometry> {
    let context = reading.context;
    if reading.is_empty() {
        let finding = findings::parts::none(context.name_place(), &context.name());
        reading.refuse(finding);
        return None;
    }
    let frames = places::place(reading);
    let materials = materials::find(reading);
    let built = match (frames, materials) {
        (Some(frames), Some(materials)) if reading.complete => {
            geometry::build(reading, &frames, materials)
        }
        _ => None,
    };
    let Some(mut geometry) = built else {
        points::check_names(reading);
        return None;
    };
    geometry.points = points::place(reading, &geometry);
    reading.complete.then_some(geometry)
}

/// Parts and points that are named like a result.
fn hidden_results(reading: &mut Reading<'_>) {
    let block = reading.context.name();
    let parts = reading.parts.iter().map(|own| (&own.line, &own.part.name));
    let points = reading
        .points
        .iter()
        .map(|own| (&own.line, &own.point.name));
    let hidden: Vec<_> = parts
        .chain(points)
        .filter(|(_, name)| member_dimension(&name.text).is_some())
        .map(|(line, name)| {
            findings::hides_result::finding(line.place(name.span), &name.text, &block)
        })
        .collect();
    reading.findings.extend(hidden);
}

/// Sizes that can be drawn but are hardly meant.
fn unlikely_sizes(reading: &mut Reading<'_>) {
    let drawn = reading.parts.iter();
    let drawn = drawn.filter(|own| own.shape.is_some() && own.part.deduct.is_none());
    let sizes: Vec<Sizes<'_>> = drawn
        .filter_map(|own| {
            let part = own.part;
            let spans = part.sizes.iter().map(|&id| own.line.span(id));
            let values = part.sizes.iter();
            Some(Sizes {
                place: own.line.place(spans.reduce(Span::cover)?),
                name: own.name(),
                shape: &part.shape.text,
                sizes: values
                    .filter_map(|&id| own.line.quantity(id, Dimension::LENGTH))
                    .collect(),
                is_stacked: matches!(
                    part.place,
                    PartPlace::Relative {
                        relation: Side::Above | Side::Below,
                        ..
                    }
                ),
            })
        })
        .collect();
    let mut findings: Vec<_> = sizes
        .iter()
        .filter_map(lints::unlikely_sizes::of_part)
        .collect();
    findings.extend(lints::unlikely_sizes::of_plates(&sizes));
    if let ([only], 1) = (sizes.as_slice(), reading.parts.len()) {
        let section = reading.context.name();
        findings.extend(lints::unlikely_sizes::of_only_part(&section, only));
    }
    reading.findings.append(&mut findings);
}
