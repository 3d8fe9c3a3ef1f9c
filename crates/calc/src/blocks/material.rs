//! `material`: elastic constants, density, and limits that apply wherever it is used.

use std::sync::Arc;

use haunch_mechanics::section::Equivalent;
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{Relation, Statement};
use smol_str::SmolStr;

use super::context::{BlockContext, BlockLine};
use super::{BlockMeaning, BlockOutcome, Model};
use crate::finding::Finding;
use crate::findings;
use crate::line::LineId;
use crate::lints::unlikely_material::{self, Given};
use crate::outcome::Meaning;

/// A material.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialModel {
    /// Modulus of elasticity.
    pub elastic_modulus: Option<Quantity>,
    /// Shear modulus.
    pub shear_modulus: Option<Quantity>,
    /// Mass per volume.
    pub density: Option<Quantity>,
    /// Coefficient of linear thermal expansion.
    pub thermal_expansion: Option<Quantity>,
    /// Limits on stress, in the order of their lines.
    pub limits: Arc<[MaterialLimit]>,
}

/// A limit on a stress wherever the material is used.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialLimit {
    /// What is limited.
    pub subject: StressLimit,
    /// The magnitude that may be reached.
    pub bound: Quantity,
    /// The thickness of a wall up to which it is meant; none for any.
    pub up_to: Option<Quantity>,
    /// Whether the bound itself is still allowed (`<=`) or not (`<`).
    pub inclusive: bool,
    /// The line that states it.
    pub line: LineId,
}

/// The stresses that a material limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StressLimit {
    /// Tensile stress.
    Tension,
    /// Compressive stress, as a magnitude.
    Compression,
    /// Shear stress, as a magnitude.
    Shear,
    /// Normal and shear stress together, √(σ² + 3·τ²).
    VonMises,
    /// The greater principal stress.
    PrincipalStress1,
    /// The lesser principal stress, as a magnitude.
    PrincipalStress2,
}

impl StressLimit {
    /// The limit of a word.
    pub(crate) fn from_word(word: &str) -> Option<StressLimit> {
        match word {
            "tension" => Some(StressLimit::Tension),
            "compression" => Some(StressLimit::Compression),
            "shear" => Some(StressLimit::Shear),
            "von_mises" => Some(StressLimit::VonMises),
            "principal_stress_1" => Some(StressLimit::PrincipalStress1),
            "principal_stress_2" => Some(StressLimit::PrincipalStress2),
            _ => None,
        }
    }

    /// Whether it needs the shear stress of the section.
    pub(crate) fn needs_shear(self) -> bool {
        self == StressLimit::Shear || self.together().is_some()
    }

    /// What it is of normal and shear stress together; none where one of them alone counts.
    pub(crate) fn together(self) -> Option<Equivalent> {
        match self {
            StressLimit::Tension | StressLimit::Compression | StressLimit::Shear => None,
            StressLimit::VonMises => Some(Equivalent::VonMises),
            StressLimit::PrincipalStress1 => Some(Equivalent::Greatest),
            StressLimit::PrincipalStress2 => Some(Equivalent::Least),
        }
    }

    /// Its word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            StressLimit::Tension => "tension",
            StressLimit::Compression => "compression",
            StressLimit::Shear => "shear",
            StressLimit::VonMises => "von_mises",
            StressLimit::PrincipalStress1 => "principal_stress_1",
            StressLimit::PrincipalStress2 => "principal_stress_2",
        }
    }
}

impl MaterialModel {
    /// The results with values, sorted by name.
    pub(super) fn members(&self) -> impl Iterator<Item = (SmolStr, Quantity)> {
        let all = [
            ("E", self.elastic_modulus),
            ("G", self.shear_modulus),
            ("density", self.density),
            ("thermal_expansion", self.thermal_expansion),
        ];
        let known = all.into_iter();
        known.filter_map(|(name, value)| Some((SmolStr::new_static(name), value?)))
    }
}

pub(super) fn member_dimension(member: &str) -> Option<Dimension> {
    super::fields::find(haunch_syntax::BlockKind::Material, member).and_then(|field| {
        match field.kind {
            super::fields::FieldKind::Quantity(dimension) => Some(dimension),
            _ => None,
        }
    })
}

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    let mut findings = Vec::new();
    let mut model = MaterialModel {
        elastic_modulus: None,
        shear_modulus: None,
        density: None,
        thermal_expansion: None,
        limits: Arc::default(),
    };
    let mut limits = Vec::new();
    let mut complete = true;
    for line in &context.lines {
        if context.is_broken(line) || context.is_defined_twice(line) {
            complete = false;
            continue;
        }
        match &line.tree.statement {
            Statement::Value(value) => {
                let Meaning::Value(named) = &line.outcome.meaning else {
                    complete = false;
                    continue;
                };
                let Some(quantity) = named.evaluated.as_quantity() else {
                    complete = false;
                    continue;
                };
                if quantity.si() <= 0.0 {
                    findings.push(findings::impossible_value::not_positive(
                        line.whole(),
                        &value.name.text,
                    ));
                    complete = false;
                    continue;
                }
                match value.name.text.as_str() {
                    "E" => model.elastic_modulus = Some(quantity),
                    "G" => model.shear_modulus = Some(quantity),
                    "density" => model.density = Some(quantity),
                    "thermal_expansion" => model.thermal_expansion = Some(quantity),
                    _ => complete = false,
                }
            }
            Statement::Limit(limit) => {
                let Some(subject) = StressLimit::from_word(&limit.subject.text) else {
                    complete = false;
                    continue;
                };
                if let Some(span) = limit.sideways {
                    findings.push(findings::place::wrong(
                        line.place(span),
                        findings::place::SIDEWAYS,
                    ));
                    complete = false;
                    continue;
                }
                let thickness = limit
                    .up_to
                    .map(|up_to| (up_to, line.quantity(up_to, Dimension::LENGTH)));
                let up_to = match thickness {
                    None => None,
                    Some((_, Some(up_to))) if up_to.si() > 0.0 => Some(up_to),
                    Some((id, known)) => {
                        if known.is_some() {
                            findings.push(findings::impossible_value::not_positive(
                                line.place(line.span(id)),
                                "a thickness",
                            ));
                        }
                        complete = false;
                        continue;
                    }
                };
                match line.quantity(limit.bound, Dimension::STRESS) {
                    Some(bound) if bound.si() > 0.0 => limits.push(MaterialLimit {
                        subject,
                        bound,
                        up_to,
                        inclusive: limit.relation != Relation::Less,
                        line: line.id,
                    }),
                    Some(_) => {
                        findings.push(findings::impossible_value::not_positive(
                            line.place(line.span(limit.bound)),
                            "a limit",
                        ));
                        complete = false;
                    }
                    None => complete = false,
                }
            }
            _ => {}
        }
    }
    model.limits = limits.into();
    if complete {
        findings.extend(unlikely(context, &model));
    }
    BlockOutcome {
        meaning: BlockMeaning {
            model: complete.then_some(Model::Material(model)),
            limited: context.limited_here(),
            ..BlockMeaning::unknown(context)
        },
        findings,
    }
}

/// Constants and limits far from what the trade meets.
fn unlikely(context: &BlockContext<'_>, model: &MaterialModel) -> Vec<Finding> {
    let given = |value: Quantity, is_it: &dyn Fn(&BlockLine<'_>) -> bool| {
        let line = context.lines.iter().find(|line| is_it(line))?;
        let place = line.whole();
        Some(Given {
            place,
            value,
            shown: place.span.text(&line.cell.text).to_owned(),
        })
    };
    let field = |name: &str, value: Option<Quantity>| {
        given(
            value?,
            &|line| matches!(&line.tree.statement, Statement::Value(value) if value.name.text == name),
        )
    };
    let modulus = field("E", model.elastic_modulus);
    let density = field("density", model.density);
    let mut findings: Vec<Finding> =
        unlikely_material::constants(&context.name(), modulus.as_ref(), density.as_ref())
            .into_iter()
            .collect();
    if let Some(stiffness) = model.elastic_modulus {
        let limits = model
            .limits
            .iter()
            .filter_map(|limit| given(limit.bound, &|line| line.id == limit.line));
        findings.extend(limits.filter_map(|limit| unlikely_material::limit(stiffness, &limit)));
    }
    for finding in &mut findings {
        finding.name = Some(context.name().to_string());
    }
    findings
}
