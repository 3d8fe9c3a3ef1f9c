//! `forces`: moments, shear and axial force on a section, without a beam.
//!
//! Stress is that of general bending, linear over the section about any axes, principal or not;
//! each place of the section knows what a unit of each force gives there ([`Fibre`]).

mod annotations;
mod limits;
mod results;
mod scaling;

use std::sync::Arc;

use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::Statement;
use smol_str::SmolStr;

use super::context::BlockContext;
use super::fibre::Fibre;
use super::limits::Action;
use super::{BlockMeaning, BlockOutcome, Model, SectionModel};
use crate::findings;
use crate::outcome::Meaning;

pub(super) use annotations::of as annotations;
pub use limits::ForcesLimit;
pub(super) use results::members;
pub(crate) use results::{absent, call, member_dimension};
pub(crate) use scaling::ScaledForce;

/// Forces on a section, each with its sign.
#[derive(Debug, Clone, PartialEq)]
pub struct ForcesModel {
    /// Its name.
    pub name: SmolStr,
    /// Moment about the x axis, positive sagging; zero where none is given.
    pub moment: Quantity,
    /// Moment about the y axis, positive with the left in tension.
    pub moment_y: Quantity,
    /// Upright shear force.
    pub shear: Quantity,
    /// Axial force through the centroid, positive in tension.
    pub axial: Quantity,
    /// The section; its fibres are those that are extreme under these moments.
    pub section: Arc<SectionModel>,
    /// The section's name as the heading writes it, e.g. `tee` or `shop.tee`.
    pub section_name: SmolStr,
    /// The limits that apply: those of its own lines in the order of the file, then its
    /// materials'.
    pub limits: Vec<ForcesLimit>,
    /// Whether every limit that is stated is known: otherwise nothing can be said of the whole.
    pub limits_known: bool,
}

impl ForcesModel {
    /// The forces as they act at every fibre.
    pub(crate) fn action(&self) -> Action {
        Action {
            axial: self.axial.si(),
            moment: self.moment.si(),
            moment_y: self.moment_y.si(),
            shear: self.shear.si(),
            shear_sideways: 0.0,
            at: None,
            combination: None,
            pattern: None,
        }
    }

    /// The stress at a fibre, Pa, positive in tension.
    pub(crate) fn stress_at(&self, fibre: &Fibre) -> f64 {
        self.action().stress_at(fibre)
    }
}

/// The functions that give a result at a place.
pub(super) const FUNCTIONS: &[&str] = &[
    "stress",
    "shear_stress",
    "von_mises",
    "principal_stress_1",
    "principal_stress_2",
    "shear_flow",
    "shear_flow_at",
];

/// Whether a function takes the name of a point or part.
pub(super) fn takes_name(function: &str) -> bool {
    matches!(
        function,
        "stress" | "von_mises" | "principal_stress_1" | "principal_stress_2" | "shear_flow"
    )
}

/// The forces of the lines; none where one of them is not known.
struct Fields {
    moment: Option<Quantity>,
    moment_y: Option<Quantity>,
    shear: Option<Quantity>,
    axial: Option<Quantity>,
}

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    let mut findings = Vec::new();
    let section = section(context, &mut findings);
    let fields = fields(context);
    let read = limits::read(context, section.as_ref(), &mut findings);
    let mut meaning = BlockMeaning::unknown(context);
    meaning.checks = read.unknown_checks();
    if let (Some(section), Some(fields)) = (section, fields) {
        let given = |field: Option<Quantity>, dimension| field.unwrap_or(Quantity::zero(dimension));
        let moment = given(fields.moment, Dimension::MOMENT);
        let moment_y = given(fields.moment_y, Dimension::MOMENT);
        let names = context.heading.of.as_ref().map(crate::reads::names_of);
        let section = section.under(moment.si(), moment_y.si());
        let model = ForcesModel {
            name: context.name(),
            moment,
            moment_y,
            shear: given(fields.shear, Dimension::FORCE),
            axial: given(fields.axial, Dimension::FORCE),
            section_name: names.unwrap_or_default().join(".").into(),
            limits_known: read.known && !limits::is_unknown(&section, &read),
            section: Arc::new(section),
            limits: read.limits(),
        };
        let (checks, mut failed) = limits::checks(context, &model, &read);
        findings.append(&mut failed);
        meaning.checks = checks;
        meaning.model = Some(Model::Forces(model));
    }
    BlockOutcome { meaning, findings }
}

/// The section's model; none if it has none, for a reason that is told at its own place.
fn section(
    context: &BlockContext<'_>,
    findings: &mut Vec<crate::finding::Finding>,
) -> Option<SectionModel> {
    let Some(path) = &context.heading.of else {
        findings.push(findings::section_materials::section_of_forces(
            context.name_place(),
            &context.name(),
        ));
        return None;
    };
    context.reference(path).ok()?.as_section().cloned()
}

/// The forces; none where a line that may be one is broken or has no value. A limit that cannot
/// be read leaves only its own check unknown.
fn fields(context: &BlockContext<'_>) -> Option<Fields> {
    let mut fields = Fields {
        moment: None,
        moment_y: None,
        shear: None,
        axial: None,
    };
    for line in &context.lines {
        let value = match &line.tree.statement {
            Statement::Note(_) | Statement::Allow(_) | Statement::Limit(_) => continue,
            Statement::Value(value) => value,
            _ => return None,
        };
        if context.is_broken(line) || context.is_defined_twice(line) {
            return None;
        }
        let Meaning::Value(named) = &line.outcome.meaning else {
            return None;
        };
        let (field, dimension) = match value.name.text.as_str() {
            "M" => (&mut fields.moment, Dimension::MOMENT),
            "My" => (&mut fields.moment_y, Dimension::MOMENT),
            "V" => (&mut fields.shear, Dimension::FORCE),
            "N" => (&mut fields.axial, Dimension::FORCE),
            _ => return None,
        };
        *field = Some(named.evaluated.as_dimension(dimension)?);
    }
    Some(fields)
}
