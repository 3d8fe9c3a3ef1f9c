//! `beam`: supports, loads and their combinations, and everything that follows from them.
//!
//! The lines are read into a [`Geometry`](structure), [loads](loads) by case and
//! [combinations](combinations); `haunch_mechanics::beam` solves each case once, exactly;
//! combinations are superposed. [Limits](limits), [results](results) and what the
//! editor shows are taken from those responses, and [searches](scaling) scale one case in them.
//! Cases, combinations and supports are kept in an order of their own (by name or place), so that
//! no result depends on the order of lines.

mod annotations;
mod buckling;
mod combinations;
mod functions;
mod limits;
mod loads;
mod oblique;
mod patterns;
mod reading;
mod refusals;
mod results;
mod scaling;
mod section_functions;
mod sideways;
mod stress;
mod stretches;
mod structure;
mod together;
mod wheels;
mod wheels_working;

use std::collections::BTreeMap;

use haunch_mechanics::beam::{Analysis, Beam, Load, Loading, Response, Train};
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Quantity, Unit};
use smol_str::SmolStr;

use super::context::BlockContext;
use super::{BlockMeaning, BlockOutcome, Model};
use crate::finding::{Finding, Place};
use crate::findings;
use crate::graph::Scope;
use crate::line::LineId;
use crate::lints;
use loads::CaseLoads;
use reading::{Lines, Reading};
use sideways::{BothPlanes, Plane};
use stretches::Sections;
use structure::Geometry;
use wheels::Shown;

pub(super) use annotations::of as annotations;
pub use buckling::{AxisRigidities, Buckling, BucklingLoads};
pub(super) use functions::{FUNCTIONS, call};
pub use limits::BeamLimit;
pub(super) use results::{absent, is_place, member_dimension, members, utilisations};
pub(crate) use scaling::ScaledCase;
pub use stress::StressWorking;
pub use stretches::{BeamStretch, BentSection};
pub use structure::{BeamHinge, BeamSupport};
pub use wheels::{Running, StandingWheels, WorstStanding};
pub use wheels_working::{WheelShare, WheelsWorking};

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
    /// What holds the beam sideways, in order from the start; empty where that is not worked out,
    /// since nothing acts sideways.
    pub sideways_supports: Vec<BeamSupport>,
    /// In order from the start.
    pub hinges: Vec<BeamHinge>,
    /// The load cases, sorted by name. What acts on any spans is one for each span, under the name
    /// of its case.
    pub cases: Vec<LoadCase>,
    /// The combinations, sorted by name; without a name where the file states none: all loads
    /// once. Where loads act on any spans or wheels run along the beam there are several of one
    /// name, one for each pattern and each place of the wheels that can govern.
    pub combinations: Vec<Combination>,
    /// The combinations in which wheels run along the beam.
    pub running: Vec<Running>,
    /// Where wheels are worst for limits on stresses of several moments and shears.
    pub worst: Vec<WorstStanding>,
    /// The sections: the heading's first, then those of stretches, sorted by name.
    pub sections: Vec<BentSection>,
    /// Where each section is, in order from the start, together the whole beam.
    pub stretches: Vec<BeamStretch>,
    /// The buckling loads, where effective lengths are stated.
    pub buckling: Buckling,
    /// The section's principal axes are turned, and how far the beam moves sideways is not worked out.
    pub moves_unknown: bool,
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
    /// The load of each line, wheels left out; of a sideways load leftwards takes the place of down.
    pub loads: Vec<Load>,
    /// What its only line says, as it is written; none for several lines, self weight and loads
    /// that vary.
    pub magnitude: Option<Quantity>,
    /// For a load on any spans the number of its span, from 1.
    pub span: Option<usize>,
    /// Wheels of this case that run along the beam.
    pub train: Option<Train>,
    /// What it does to the beam, downwards, its wheels left out.
    pub response: Response,
    /// What it does sideways, left taking the place of down; none where nothing acts there.
    pub sideways: Option<Response>,
}

/// A combination with what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct Combination {
    /// Its name; none for "all loads once".
    pub name: Option<SmolStr>,
    /// Its line.
    pub line: Option<LineId>,
    /// Which spans are loaded and where wheels stand, in words such as `live on spans 1, 3`; none
    /// without such loads.
    pub pattern: Option<SmolStr>,
    /// Cases, by their index, with their factors.
    pub factors: Vec<(usize, f64)>,
    /// Where wheels stand.
    pub wheels: Option<StandingWheels>,
    /// What it does to the beam, downwards.
    pub response: Response,
    /// What it does sideways, left taking the place of down; none where nothing acts there.
    pub sideways: Option<Response>,
}

impl BeamModel {
    /// Whether every section has a modulus of elasticity, so that slopes and deflections are known.
    pub fn has_deflection(&self) -> bool {
        self.without_modulus().is_none()
    }

    /// A section along the beam without a modulus of elasticity.
    fn without_modulus(&self) -> Option<&BentSection> {
        let sections = self
            .stretches
            .iter()
            .filter_map(|s| self.sections.get(s.section));
        sections.into_iter().find(|bent| bent.rigidity.is_none())
    }

    /// A combination by its name: one, or one for each pattern.
    pub fn combination<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Combination> {
        let named = move |combination: &&Combination| combination.name.as_deref() == Some(name);
        self.combinations.iter().filter(named)
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
    let own = stretches::of_heading(&mut reading);
    let geometry = Geometry::read(&mut reading, &lines);
    let mut sections = match (&geometry, &own) {
        (Some(geometry), Some(own)) => Sections::read(&mut reading, &lines, geometry, own.clone()),
        _ => None,
    };
    let solved = geometry
        .as_ref()
        .and_then(|geometry| solve(&mut reading, &lines, geometry, sections.as_ref()));
    if let (Some(sections), Some(solved)) = (&mut sections, &solved) {
        let mut sideways = solved
            .combinations
            .iter()
            .filter_map(|c| c.sideways.as_ref());
        if sideways.any(oblique::acts) {
            sections.bear_sideways_shear();
        }
    }
    let bent: Vec<&BentSection> = match &sections {
        Some(sections) => sections.used().collect(),
        None => own.iter().collect(),
    };
    let read = limits::read(
        &mut reading,
        &lines,
        geometry.as_ref(),
        &bent,
        solved.as_ref(),
    );
    let buckling = buckling::read(&mut reading, &lines, sections.as_ref());
    let mut meaning = BlockMeaning::unknown(context);
    if let (Some(geometry), Some(sections), Some(solved)) = (geometry, sections, solved) {
        let unlikely = unlikely_span(context, &lines, &geometry, &sections);
        reading.findings.extend(unlikely);
        let mut model = BeamModel {
            name: context.name(),
            length: Length::from_si(geometry.extent.length),
            length_unit: geometry.extent.unit.clone(),
            supports: geometry.supports,
            sideways_supports: solved.sideways_supports,
            hinges: geometry.hinges,
            cases: solved.cases,
            combinations: solved.combinations,
            running: solved.running,
            worst: Vec::new(),
            sections: sections.all,
            stretches: sections.stretches,
            moves_unknown: solved.moves_unknown,
            buckling,
            limits: read.limits,
            limits_known: read.known,
        };
        let running = model.running.iter();
        let worst = running.flat_map(|own| model.worst_of(own, &own.as_stated()));
        model.worst = worst.collect();
        let (checks, mut failed) = limits::checks(context, &model, &read.stated);
        reading.findings.append(&mut failed);
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

/// A span that does not go with the depth of the sections.
fn unlikely_span(
    context: &BlockContext<'_>,
    lines: &Lines<'_>,
    geometry: &Geometry,
    sections: &Sections,
) -> Option<Finding> {
    let given = lines.fields.iter().find(|line| {
        let name = line.tree.statement.given_name();
        name.is_some_and(|name| matches!(name.text.as_str(), "length" | "spans"))
    })?;
    let spans = geometry.bays().into_iter().map(|bay| bay.span);
    let longest = spans.max_by(f64::total_cmp)?;
    let depths = || sections.used().map(|bent| bent.section.depth);
    let by_depth = |a: &Quantity, b: &Quantity| a.si().total_cmp(&b.si());
    let span = lints::unlikely_span::Span {
        place: given.whole(),
        beam: &context.name(),
        longest: Quantity::new(longest, Dimension::LENGTH)?,
        unit: geometry.extent.unit.as_ref(),
        depths: (depths().min_by(by_depth)?, depths().max_by(by_depth)?),
    };
    lints::unlikely_span::finding(&span, context.preferences)
}

/// A load case whose name is another thing's of the block, and names that hide results.
fn names(reading: &mut Reading<'_>, lines: &Lines<'_>) {
    use haunch_syntax::Statement;
    let context = reading.context;
    let scope = Scope::Block(context.line);
    let mut loads_of: BTreeMap<&SmolStr, Vec<Place>> = BTreeMap::new();
    for line in &lines.loads {
        if let Statement::Load(load) = &line.tree.statement {
            let loads = loads_of.entry(&load.case.text).or_default();
            loads.push(line.place(load.case.span));
        }
    }
    for (case, loads) in loads_of {
        let others = match context.state.graph.definitions(scope, case) {
            [] => continue,
            [other] => {
                let span = crate::compute::defined_span(context.state, *other);
                let other = Place { line: *other, span };
                let finding = findings::defined_twice::finding(other, case, true, &loads);
                reading.findings.push(finding);
                vec![other]
            }
            // Each of them says so itself.
            _ => {
                let several = context.state.graph.several(&(scope, case.clone()));
                several.map_or_else(Vec::new, |places| places.to_vec())
            }
        };
        for load in loads {
            let finding = findings::defined_twice::finding(load, case, true, &others);
            reading.refuse(finding);
        }
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
    running: Vec<Running>,
    sideways_supports: Vec<BeamSupport>,
    has_deflection: bool,
    /// How far the beam moves sideways is not worked out.
    moves_unknown: bool,
}

fn solve<'a>(
    reading: &mut Reading<'a>,
    lines: &Lines<'a>,
    geometry: &Geometry,
    sections: Option<&Sections>,
) -> Option<Solved> {
    let loads = loads::read(reading, lines, geometry, sections);
    let stated = combinations::read(reading, lines, &loads);
    if !geometry.is_known {
        return None;
    }
    let sections = sections?;
    let beam = Beam {
        length: Length::from_si(geometry.extent.length),
        supports: geometry.supports.iter().map(|s| s.support).collect(),
        hinges: geometry.hinges.iter().map(|hinge| hinge.at).collect(),
        stiffness: sections.stiffness(),
    };
    let analysis = match Analysis::new(&beam) {
        Ok(analysis) => analysis,
        Err(error) => {
            let finding = refusals::finding(reading, geometry, &[], &error);
            reading.refuse(finding);
            return None;
        }
    };
    let acts = loads.values().any(|case| !case.sideways.is_empty());
    let wheels = loads.values().find_map(|case| case.wheels.as_ref());
    let plane = sideways::plane(
        reading,
        lines,
        geometry,
        sections,
        acts,
        wheels.map(|wheels| wheels.line),
        analysis.redundants(),
    );
    if !reading.complete {
        return None;
    }
    let plane = plane?;
    let response = |reading: &mut Reading<'_>, case: &CaseLoads| match &plane {
        Plane::Known(level) => level.responses(reading, &analysis, geometry, case),
        Plane::Idle | Plane::NotWorkedOut => Some(BothPlanes {
            upright: response(reading, geometry, &analysis, case)?,
            sideways: None,
        }),
    };
    let mut cases = Vec::new();
    for (name, mut case) in loads {
        let base = response(reading, &case)?;
        let train = match &case.wheels {
            None => None,
            Some(own) => match Train::new(&analysis, &own.wheels, own.both_ways) {
                Ok(train) => Some(train),
                Err(error) => {
                    let finding = refusals::finding(reading, geometry, &[own.line], &error);
                    reading.refuse(finding);
                    return None;
                }
            },
        };
        for (span, loads) in patterns::by_span(&case) {
            let response = response(reading, &loads)?;
            cases.push(LoadCase {
                name: name.clone(),
                lines: loads.lines,
                loads: loads.actions,
                magnitude: case.magnitude,
                span: Some(span),
                train: None,
                response: response.upright,
                sideways: response.sideways,
            });
        }
        case.lines.append(&mut case.sideways_lines);
        case.actions.append(&mut case.sideways);
        let mut lines = case.lines;
        lines.extend(case.wheels.as_ref().map(|own| own.line));
        cases.push(LoadCase {
            name,
            lines,
            loads: case.actions,
            magnitude: case.magnitude,
            span: None,
            train,
            response: base.upright,
            sideways: base.sideways,
        });
    }
    let unloaded = response(reading, &CaseLoads::default())?;
    let context = reading.context;
    let borders = borders(geometry, sections);
    let shown = Shown {
        unit: geometry.extent.unit.clone(),
        preferences: context.preferences.clone(),
    };
    let mut combinations = Vec::new();
    let mut running = Vec::new();
    for combination in stated {
        let not_accurate = || findings::not_accurate::beam(context.name_place(), &context.name());
        let Some(all) = patterns::combinations(&combination, &cases, &unloaded) else {
            reading.refuse(not_accurate());
            return None;
        };
        let mut trains = wheels::cases_with_wheels(&combination, &cases);
        let Some(train) = trains.next() else {
            combinations.extend(all);
            continue;
        };
        if trains.next().is_some() {
            let what = "wheels of two load cases in one combination";
            let place = match combination.line {
                Some(line) => reading.line_place(line),
                None => context.name_place(),
            };
            reading.refuse(findings::not_supported::two_trains(place, what));
            return None;
        }
        for others in all {
            let own = Running::new(others, train, &cases, &borders, &shown);
            match own.combinations() {
                Ok(all) => combinations.extend(all),
                Err(_) => {
                    reading.refuse(not_accurate());
                    return None;
                }
            }
            running.push(own);
        }
    }
    let (place, name) = (context.name_place(), context.name());
    let without_modulus = sections.used().find(|section| section.rigidity.is_none());
    if let Some(section) = without_modulus {
        let finding = findings::missing_property::no_deflection(place, &name, &section.name);
        reading.findings.push(finding);
    }
    let unknown = matches!(plane, Plane::NotWorkedOut);
    let turned = |section: &&BentSection| unknown && section.moves_sideways;
    if let Some(section) = sections.used().find(turned) {
        let finding = findings::bends_sideways::finding(place, &name, &section.name);
        reading.findings.push(finding);
    }
    Some(Solved {
        cases,
        combinations,
        running,
        sideways_supports: match &plane {
            Plane::Known(level) => level.supports().to_vec(),
            Plane::Idle | Plane::NotWorkedOut => Vec::new(),
        },
        moves_unknown: unknown,
        has_deflection: without_modulus.is_none(),
    })
}

/// The ends of spans and of stretches of one section.
fn borders(geometry: &Geometry, sections: &Sections) -> Vec<Length> {
    let bays = geometry.bays();
    let of_spans = bays.iter().map(|bay| Length::from_si(bay.from));
    let of_stretches = sections.stretches.iter().map(|stretch| stretch.from);
    let ends = bays.last().map(|bay| Length::from_si(bay.to));
    of_spans.chain(of_stretches).chain(ends).collect()
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
