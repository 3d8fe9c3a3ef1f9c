//! `beam`: supports, loads and their combinations, and everything that follows from them.
//!
//! The lines are read into a [`Geometry`](structure), [loads](loads) by case and
//! [combinations](combinations); `haunch_mechanics::beam` solves each case once, exactly;
//! combinations are superposed. [Limits](limits), [results](results) and what the
//! editor shows are taken from those responses, and [searches](scaling) scale one case in them.
//! Cases, combinations and supports are kept in an order of their own (by name or place), so that
//! no result depends on the order of lines.

mod annotations;
mod combinations;
mod functions;
mod limits;
mod loads;
mod reading;
mod refusals;
mod results;
mod scaling;
mod structure;

use std::collections::BTreeMap;

use haunch_mechanics::beam::{Analysis, Beam, Load, Loading, Response, Stiffness, SupportKind};
use haunch_quantity::typed::{FlexuralRigidity, Length, Typed};
use haunch_quantity::{Quantity, Unit};
use smol_str::SmolStr;

use super::context::BlockContext;
use super::{BlockMeaning, BlockOutcome, Model, SectionModel};
use crate::findings;
use crate::graph::Scope;
use crate::line::LineId;
use loads::CaseLoads;
use reading::{Lines, Reading};
use structure::Geometry;

pub(super) use functions::{FUNCTIONS, call};
pub use limits::BeamLimit;
pub(super) use results::member_dimension;
pub(crate) use scaling::ScaledCase;
pub use structure::{BeamHinge, BeamSupport};

/// A beam that was worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamModel {
    /// The beam's name.
    pub name: SmolStr,
    /// The whole length.
    pub length: Length,
    /// The unit in which the length was written: places along the beam are shown in it.
    pub length_unit: Option<Unit>,
    /// In order from the start; results number them in this order.
    pub supports: Vec<BeamSupport>,
    /// In order from the start.
    pub hinges: Vec<BeamHinge>,
    /// The load cases, sorted by name.
    pub cases: Vec<LoadCase>,
    /// The combinations, sorted by name; exactly one without a name where the file states none:
    /// all loads once.
    pub combinations: Vec<Combination>,
    /// The section.
    pub section: SectionModel,
    /// Flexural rigidity against bending downward; none without a modulus of elasticity.
    pub rigidity: Option<FlexuralRigidity>,
    /// The section's name as the heading writes it, e.g. `rail` or `shop.rail`.
    pub section_name: SmolStr,
    /// The limits that apply: those of its own lines in the order of the file, then its
    /// materials'.
    pub limits: Vec<BeamLimit>,
    /// Whether every limit that is stated is known: otherwise nothing can be said of the whole.
    pub limits_known: bool,
}

/// A load case with what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCase {
    /// Its name.
    pub name: SmolStr,
    /// The lines that add to it.
    pub lines: Vec<LineId>,
    /// The load of each line.
    pub loads: Vec<Load>,
    /// What its only line says, as it is written; none for several lines, self weight and loads
    /// that vary.
    pub magnitude: Option<Quantity>,
    /// What it does to the beam.
    pub response: Response,
}

/// A combination with what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct Combination {
    /// Its name; none for "all loads once".
    pub name: Option<SmolStr>,
    /// Its line.
    pub line: Option<LineId>,
    /// Cases, by their index, with their factors.
    pub factors: Vec<(usize, f64)>,
    /// What it does to the beam.
    pub response: Response,
}

impl BeamModel {
    /// A combination by its name.
    pub fn combination(&self, name: &str) -> Option<&Combination> {
        let named = |combination: &&Combination| combination.name.as_deref() == Some(name);
        self.combinations.iter().find(named)
    }
}

/// The section's name as the heading writes it.
fn section_name(context: &BlockContext<'_>) -> SmolStr {
    let names = context.heading.of.as_ref().map(crate::reads::names_of);
    names.unwrap_or_default().join(".").into()
}

pub(super) fn compute(context: &BlockContext<'_>) -> BlockOutcome {
    let mut reading = Reading::new(context);
    let lines = reading.lines();
    names(&mut reading, &lines);
    let bent = section(&mut reading);
    let section = bent.as_ref().map(|bent| &bent.section);
    let geometry = Geometry::read(&mut reading, &lines);
    let solved = geometry
        .as_ref()
        .and_then(|geometry| solve(&mut reading, &lines, geometry, bent.as_ref()));
    let read = limits::read(
        &mut reading,
        &lines,
        geometry.as_ref(),
        section,
        solved.as_ref(),
    );
    let mut meaning = BlockMeaning::unknown(context);
    if let (Some(geometry), Some(bent), Some(solved)) = (geometry, bent, solved) {
        let model = BeamModel {
            name: context.name(),
            length: Length::from_si(geometry.extent.length),
            length_unit: geometry.extent.unit.clone(),
            supports: geometry.supports,
            hinges: geometry.hinges,
            cases: solved.cases,
            combinations: solved.combinations,
            section: bent.section,
            rigidity: bent.rigidity,
            section_name: section_name(context),
            limits: read.limits,
            limits_known: read.known,
        };
        let (checks, mut failed) = limits::checks(context, &model, &read.stated);
        reading.findings.append(&mut failed);
        meaning.members = results::members(&model);
        meaning.annotations = annotations::of(context, &model, &checks);
        meaning.checks = checks;
        meaning.model = Some(Model::Beam(Box::new(model)));
    } else {
        meaning.checks = read.unknown_checks;
    }
    BlockOutcome {
        meaning,
        findings: reading.findings,
    }
}

/// A section as a beam bends it.
struct Bent {
    section: SectionModel,
    /// Against bending downward.
    rigidity: Option<FlexuralRigidity>,
    /// The principal axes are turned: loads straight down move the beam sideways, too.
    moves_sideways: bool,
}

/// Shares below this are rounding.
const TURNED: f64 = 1e-12;

impl Bent {
    /// A beam that nothing holds sideways has no moment about y. Its curvature downward is then
    /// M/(E·(Ixx − Ixy²/Iyy)) (unsymmetrical bending; any textbook of strength of materials).
    /// `block` gives the second moments of area; without them there is no rigidity.
    fn new(block: &BlockMeaning, section: SectionModel) -> Bent {
        let second_moment = |name: &str| block.member(name)?.as_quantity();
        let share = || {
            let [x, y, xy] = ["Ixx", "Iyy", "Ixy"].map(second_moment);
            Some((xy?.si() / x?.si()) * (xy?.si() / y?.si()))
        };
        let share = share().filter(|share| (0.0..1.0).contains(share));
        let upright = section.flexural_rigidity.map(|rigidity| rigidity.si());
        let rigidity = upright.zip(share).map(|(rigidity, share)| {
            let share = if share < TURNED { 0.0 } else { share };
            FlexuralRigidity::from_si(rigidity * (1.0 - share))
        });
        Bent {
            section,
            rigidity,
            moves_sideways: share.is_some_and(|share| share >= TURNED),
        }
    }
}

/// The section; none if it has no results, for a reason that is told at its own place.
fn section(reading: &mut Reading<'_>) -> Option<Bent> {
    let context = reading.context;
    let Some(path) = &context.heading.of else {
        let finding = findings::missing_property::section(context.name_place(), &context.name());
        reading.refuse(finding);
        return None;
    };
    let block = context.reference(path).ok();
    let bent = block.as_ref().and_then(|block| {
        let section = block.as_section()?.clone();
        Some(Bent::new(block, section))
    });
    if bent.is_none() {
        reading.is_incomplete();
    }
    bent
}

/// A load case whose name is another thing's of the block, and names that hide results.
fn names(reading: &mut Reading<'_>, lines: &Lines<'_>) {
    use haunch_syntax::Statement;
    let context = reading.context;
    let scope = Scope::Block(context.line);
    for line in &lines.loads {
        let Statement::Load(load) = &line.tree.statement else {
            continue;
        };
        let others = context.state.graph.definitions(scope, &load.case.text);
        if others.is_empty() {
            continue;
        }
        let others: Vec<_> = others
            .iter()
            .map(|&other| {
                context
                    .state
                    .place(other, crate::compute::defined_span(context.state, other))
            })
            .collect();
        let place = line.place(load.case.span);
        for &other in &others {
            let finding = findings::defined_twice::finding(other, &load.case.text, true, &[place]);
            if !reading.findings.contains(&finding) {
                reading.findings.push(finding);
            }
        }
        let finding = findings::defined_twice::finding(place, &load.case.text, true, &others);
        reading.refuse(finding);
    }
    for line in lines.supports.iter().chain(&lines.combinations) {
        let name = match &line.tree.statement {
            Statement::Support(support) => support.name.as_ref(),
            Statement::Combination(combination) => Some(&combination.name),
            _ => None,
        };
        if let Some(name) = name
            && (member_dimension(&name.text).is_some() || FUNCTIONS.contains(&name.text.as_str()))
        {
            let place = line.place(name.span);
            let block = context.name();
            reading
                .findings
                .push(findings::hides_result::finding(place, &name.text, &block));
        }
    }
}

/// Cases and combinations with their responses.
struct Solved {
    cases: Vec<LoadCase>,
    combinations: Vec<Combination>,
    has_deflection: bool,
}

fn solve<'a>(
    reading: &mut Reading<'a>,
    lines: &Lines<'a>,
    geometry: &Geometry,
    bent: Option<&Bent>,
) -> Option<Solved> {
    let section = bent.map(|bent| &bent.section);
    let loads = loads::read(reading, lines, geometry, section);
    let stated = combinations::read(reading, lines, &loads);
    if !geometry.is_known {
        return None;
    }
    let Bent {
        rigidity,
        moves_sideways,
        ..
    } = *bent?;
    let beam = Beam {
        length: Length::from_si(geometry.extent.length),
        supports: geometry.supports.iter().map(|s| s.support).collect(),
        hinges: geometry.hinges.iter().map(|hinge| hinge.at).collect(),
        stiffness: rigidity.map_or(Stiffness::UnknownUniform, Stiffness::Uniform),
    };
    let analysis = match Analysis::new(&beam) {
        Ok(analysis) => analysis,
        Err(error) => {
            let finding = refusals::finding(reading, geometry, &[], &error);
            reading.refuse(finding);
            return None;
        }
    };
    let on_springs = |s: &BeamSupport| matches!(s.support.kind, SupportKind::Spring(_));
    if moves_sideways && analysis.redundants() > 0 && geometry.supports.iter().any(on_springs) {
        // How far a spring gives way sideways is not said.
        let what = "an unsymmetrical section on springs, with more supports than statics needs,";
        let place = reading.context.name_place();
        reading.refuse(findings::not_supported::finding(place, what));
    }
    if !reading.complete {
        return None;
    }
    let mut cases = Vec::new();
    for (name, case) in loads {
        let response = response(reading, geometry, &analysis, &case)?;
        cases.push(LoadCase {
            name,
            lines: case.lines,
            loads: case.actions,
            magnitude: case.magnitude,
            response,
        });
    }
    let unloaded = response(reading, geometry, &analysis, &CaseLoads::default())?;
    let index: BTreeMap<&SmolStr, usize> = cases
        .iter()
        .enumerate()
        .map(|(index, case)| (&case.name, index))
        .collect();
    let mut combinations = Vec::new();
    for combination in stated {
        let factors: Vec<(usize, f64)> = combination
            .factors
            .iter()
            .filter_map(|(case, factor)| Some((*index.get(case)?, *factor)))
            .collect();
        let response = superposed(&cases, &factors, &unloaded);
        let Some(response) = response else {
            let context = reading.context;
            let finding = findings::not_accurate::beam(context.name_place(), &context.name());
            reading.refuse(finding);
            return None;
        };
        combinations.push(Combination {
            name: combination.name,
            line: combination.line,
            factors,
            response,
        });
    }
    let context = reading.context;
    let (place, name, of) = (context.name_place(), context.name(), section_name(context));
    if rigidity.is_none() {
        let finding = findings::missing_property::no_deflection(place, &name, &of);
        reading.findings.push(finding);
    }
    if moves_sideways {
        let finding = findings::bends_sideways::finding(place, &name, &of);
        reading.findings.push(finding);
    }
    Some(Solved {
        cases,
        combinations,
        has_deflection: rigidity.is_some(),
    })
}

fn response(
    reading: &mut Reading<'_>,
    geometry: &Geometry,
    analysis: &Analysis,
    case: &CaseLoads,
) -> Option<Response> {
    let loading = Loading {
        loads: case.actions.clone(),
    };
    match analysis.response(0, &loading) {
        Ok(response) => Some(response),
        Err(error) => {
            let finding = refusals::finding(reading, geometry, &case.lines, &error);
            reading.refuse(finding);
            None
        }
    }
}

/// The sum of cases times factors; a beam without any case is unloaded.
fn superposed(
    cases: &[LoadCase],
    factors: &[(usize, f64)],
    unloaded: &Response,
) -> Option<Response> {
    let terms: Vec<(f64, &Response)> = factors
        .iter()
        .filter_map(|(case, factor)| Some((*factor, &cases.get(*case)?.response)))
        .collect();
    if terms.is_empty() {
        return Some(unloaded.clone());
    }
    Response::combine(&terms)
}
