//! The limits of a beam: those of its own lines and those of its section's materials.

use haunch_mechanics::beam::Response;
use haunch_mechanics::section::Equivalent;
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Quantity, Unit};
use haunch_syntax::{ExpressionKind, Limit, LimitPlace, Relation, Statement};
use smol_str::SmolStr;

use super::super::SectionModel;
use super::super::context::{BlockContext, BlockLine};
use super::super::limits::{
    Action, Demand, Judgement, LimitDemands, LimitSubject, StatedLimit, judge, unknown_check,
};
use super::super::section::CriticalPlace;
use super::reading::{Lines, Reading};
use super::sideways::held_sideways;
use super::structure::{Bay, BeamSupport, Geometry};
use super::together::along;
use super::{BeamModel, BeamStretch, BentSection, Combination, Solved, oblique};
use crate::blocks::material::StressLimit;
use crate::expression::Locals;
use crate::expression::literal::written_unit;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::lints::loose_deflection;
use crate::outcome::Check;
use crate::value::Evaluated;

/// A limit that applies to a beam.
#[derive(Debug, Clone, PartialEq)]
pub struct BeamLimit {
    /// The name of its check, e.g. `shelf.tension.2`.
    pub name: String,
    /// What is limited, and the bound of a stress.
    pub stated: StatedLimit,
    /// The only combination that it applies to.
    pub under: Option<SmolStr>,
    /// For a deflection, the bound of each stretch between supports or past the last one.
    pub deflections: Vec<DeflectionBound>,
    /// For a reaction, the supports by their index.
    pub supports: Vec<usize>,
    /// For a stress, where along the beam.
    pub within: (Length, Length),
}

/// What the deflection of one stretch of a beam may reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeflectionBound {
    /// Where the stretch begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The magnitude that may be reached.
    pub bound: Length,
    /// Whether the bound itself is allowed.
    pub inclusive: bool,
}

/// What was read of the limits.
pub(super) struct Read {
    /// The limits that are known.
    pub(super) limits: Vec<BeamLimit>,
    /// One for each check, in the same order as the checks.
    pub(super) stated: Vec<Stated>,
    /// Whether every limit is known.
    pub(super) known: bool,
    /// The checks of a beam without results.
    pub(super) unknown_checks: Vec<Check>,
}

/// How one check is to be shown.
pub(super) struct Stated {
    /// Index in the known limits; none for a limit that is not known.
    limit: Option<usize>,
    unknown: Check,
    place: Place,
    unit: Option<Unit>,
}

/// Reads the limits. One that is not known leaves its own check unknown, and nothing else.
pub(super) fn read(
    reading: &mut Reading<'_>,
    lines: &Lines<'_>,
    geometry: Option<&Geometry>,
    sections: &[&BentSection],
    solved: Option<&Solved>,
) -> Read {
    let context = reading.context;
    let mut read = Read {
        limits: Vec::new(),
        stated: Vec::new(),
        known: !lines.unreadable_limit,
        unknown_checks: Vec::new(),
    };
    let known_geometry = geometry.filter(|geometry| geometry.is_known);
    for line in &lines.limits {
        let Statement::Limit(limit) = &line.tree.statement else {
            continue;
        };
        let Some(subject) = subject(reading, line, limit) else {
            read.known = false;
            continue;
        };
        let mut unknown = unknown_check(&context.name(), subject, line.id);
        unknown.text = format!("<= {}", line.source(limit.bound));
        let known = known_geometry
            .and_then(|geometry| own(reading, line, limit, subject, geometry, sections, solved));
        read.known &= known.is_some();
        read.stated.push(Stated {
            limit: known.is_some().then_some(read.limits.len()),
            unknown,
            place: line.whole(),
            unit: unit_of(line, limit),
        });
        read.limits.extend(known);
    }
    let length = geometry.map_or(0.0, |geometry| geometry.extent.length);
    let whole = (Length::from_si(0.0), Length::from_si(length));
    let models: Vec<&SectionModel> = sections.iter().map(|bent| &bent.section).collect();
    for stated in StatedLimit::of_materials(&models, context.line) {
        let subject = stated.subject;
        let place = context.name_place();
        let known = solved.is_some_and(|solved| moves_not(reading, subject, solved, None, place))
            && !is_beyond(reading, &stated, solved, place)
            && {
                let mut stating = models.iter().filter(|section| stated.is_stated_by(section));
                stating.all(|section| is_comparable(reading, section, &stated, place))
            };
        read.known &= known;
        read.stated.push(Stated {
            limit: known.then_some(read.limits.len()),
            unknown: unknown_check(&context.name(), subject, context.line),
            place,
            unit: None,
        });
        read.limits.extend(known.then(|| BeamLimit {
            name: String::new(),
            stated,
            under: None,
            deflections: Vec::new(),
            supports: Vec::new(),
            within: whole,
        }));
    }
    // A second check of one name is told apart by a number, as wherever checks are listed.
    for index in 0..read.stated.len() {
        let name = read.stated[index].unknown.name.clone();
        let before = read.stated[..index]
            .iter()
            .filter(|stated| stated.unknown.name == name)
            .count();
        if let Some(limit) = read.stated[index]
            .limit
            .and_then(|at| read.limits.get_mut(at))
        {
            limit.name = match before {
                0 => name,
                before => format!("{name}.{}", before + 1),
            };
        }
    }
    read.unknown_checks = read.stated.iter().map(|s| s.unknown.clone()).collect();
    read
}

/// What a limit is on. Of all subjects a deflection alone may be `sideways`.
fn subject(reading: &mut Reading<'_>, line: &BlockLine<'_>, limit: &Limit) -> Option<LimitSubject> {
    let subject = LimitSubject::from_word(&limit.subject.text)?;
    match (limit.sideways, subject) {
        (None, subject) => Some(subject),
        (Some(_), LimitSubject::Deflection) => Some(LimitSubject::SidewaysDeflection),
        (Some(span), _) => {
            let message = "sideways is for a limit on deflection. A limit on stress counts what \
                           acts sideways in any case.";
            let finding = findings::place::wrong(line.place(span), message);
            reading.findings.push(finding);
            None
        }
    }
}

/// A limit of the beam's own line.
fn own(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    limit: &Limit,
    subject: LimitSubject,
    geometry: &Geometry,
    sections: &[&BentSection],
    solved: Option<&Solved>,
) -> Option<BeamLimit> {
    let context = reading.context;
    if context.is_broken(line) {
        return None;
    }
    let inclusive = limit.relation != Relation::Less;
    let within = within(reading, line, limit, geometry)?;
    let supports = supports(reading, line, limit, geometry)?;
    let is_sideways = subject == LimitSubject::SidewaysDeflection;
    let mut bays = if is_sideways {
        held_sideways(geometry).bays()
    } else {
        geometry.bays()
    };
    bays.retain(|bay| 0.5 * (bay.from + bay.to) > within.0 && 0.5 * (bay.from + bay.to) < within.1);
    let bounds = bounds(reading, line, limit, subject.dimension(), &bays)?;
    let solved = solved?;
    if let Some(under) = &limit.under {
        let named = |c: &Combination| c.name.as_ref() == Some(&under.text);
        if !solved.combinations.iter().any(named) {
            let place = line.place(under.span);
            let finding = findings::unknown_name::block(place, &under.text, "combination");
            reading.findings.push(finding);
            return None;
        }
    }
    let under = limit.under.as_ref().map(|under| under.text.as_str());
    if !moves_not(reading, subject, solved, under, line.whole()) {
        return None;
    }
    let smallest = bounds.iter().map(|(_, bound)| *bound);
    let smallest = smallest.min_by(|a, b| a.si().total_cmp(&b.si()))?;
    let mut beam_limit = BeamLimit {
        name: String::new(),
        stated: StatedLimit::of_line(subject, smallest, inclusive, line.id),
        under: limit.under.as_ref().map(|name| name.text.clone()),
        deflections: Vec::new(),
        supports,
        within: (Length::from_si(within.0), Length::from_si(within.1)),
    };
    if matches!(
        subject,
        LimitSubject::Deflection | LimitSubject::SidewaysDeflection
    ) {
        if !solved.has_deflection {
            let place = line.place(limit.subject.span);
            let without = sections.iter().find(|bent| bent.rigidity.is_none())?;
            let what = "a limit on deflection";
            let finding = findings::missing_property::modulus(place, what, &without.name);
            reading.findings.push(finding);
            return None;
        }
        if is_sideways && solved.moves_unknown {
            let place = line.place(limit.subject.span);
            let what = "how far this beam moves sideways";
            reading
                .findings
                .push(findings::not_supported::value(place, what));
            return None;
        }
        reading.findings.extend(loose(line, limit, &bounds));
        beam_limit.deflections = bounds
            .iter()
            .map(|(bay, bound)| DeflectionBound {
                from: Length::from_si(bay.from),
                to: Length::from_si(bay.to),
                bound: Length::from_si(bound.si()),
                inclusive,
            })
            .collect();
    } else if matches!(subject, LimitSubject::Stress(_)) {
        if is_beyond(reading, &beam_limit.stated, Some(solved), line.whole()) {
            return None;
        }
        for bent in sections {
            if !is_comparable(reading, &bent.section, &beam_limit.stated, line.whole()) {
                return None;
            }
        }
    }
    Some(beam_limit)
}

/// Where a limit on stress or deflection applies, in m from the start.
fn within(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    limit: &Limit,
    geometry: &Geometry,
) -> Option<(f64, f64)> {
    let LimitPlace::Span(number) = &limit.place else {
        return Some((0.0, geometry.extent.length));
    };
    match geometry.span(&number.text) {
        Ok(span) => Some(span),
        Err(message) => {
            let finding = findings::place::wrong(line.place(number.span), message);
            reading.findings.push(finding);
            None
        }
    }
}

/// The supports at which a limit on a reaction applies, by their index.
fn supports(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    limit: &Limit,
    geometry: &Geometry,
) -> Option<Vec<usize>> {
    let supports = &geometry.supports;
    let (found, place) = match &limit.place {
        LimitPlace::Everywhere | LimitPlace::Span(_) => {
            return Some((0..supports.len()).collect());
        }
        LimitPlace::Support(name) => {
            let named = |support: &BeamSupport| support.name.as_ref() == Some(&name.text);
            (supports.iter().position(named), line.place(name.span))
        }
        LimitPlace::At(at) => {
            let x = reading.position(line, at, &geometry.extent)?;
            let stands = |s: &BeamSupport| geometry.extent.is_same(s.support.at.si(), x);
            (supports.iter().position(stands), line.place(at.span))
        }
    };
    let Some(found) = found else {
        let finding = match &limit.place {
            LimitPlace::Support(name) => {
                findings::unknown_name::block(place, &name.text, "support")
            }
            _ => findings::place::wrong(place, "no support stands at this place."),
        };
        reading.findings.push(finding);
        return None;
    };
    Some(vec![found])
}

/// Whether the limit is not one on normal and shear stress together under loads whose places are
/// sought: the worst place of each alone is not the worst of both together. Otherwise it is told.
fn moves_not(
    reading: &mut Reading<'_>,
    subject: LimitSubject,
    solved: &Solved,
    under: Option<&str>,
    place: Place,
) -> bool {
    let LimitSubject::Stress(stress) = subject else {
        return true;
    };
    let mut combinations = solved.combinations.iter();
    let is_sought = combinations.any(|combination| {
        combination.pattern.is_some()
            && under.is_none_or(|u| combination.name.as_deref() == Some(u))
    });
    if stress.together().is_none() || !is_sought {
        return true;
    }
    let what = "a limit on normal and shear stress together, under wheels or loads on any spans,";
    let finding = findings::not_supported::value(place, what);
    if !reading.findings.contains(&finding) {
        reading.findings.push(finding);
    }
    false
}

/// Whether a limit is on normal and shear stress together where the beam is loaded sideways; this
/// is told.
fn is_beyond(
    reading: &mut Reading<'_>,
    stated: &StatedLimit,
    solved: Option<&Solved>,
    place: Place,
) -> bool {
    let LimitSubject::Stress(subject) = stated.subject else {
        return false;
    };
    let acts = |combination: &Combination| combination.sideways.as_ref().is_some_and(oblique::acts);
    let is_beyond =
        subject.together().is_some() && solved.is_some_and(|own| own.combinations.iter().any(acts));
    if is_beyond {
        let what = "a limit on normal and shear stress together on a beam that is loaded sideways";
        let finding = findings::not_supported::value(place, what);
        if !reading.findings.contains(&finding) {
            reading.findings.push(finding);
        }
    }
    is_beyond
}

/// Whether the section has the stress that a limit is on; otherwise the reason is told.
fn is_comparable(
    reading: &mut Reading<'_>,
    section: &SectionModel,
    stated: &StatedLimit,
    place: Place,
) -> bool {
    let action = [Action::default()];
    if stated.unknown_in(section).is_none() && !stated.stress_demands(section, &action).is_empty() {
        return true;
    }
    let reason = stated
        .unknown_in(section)
        .unwrap_or("the section has no place at which this stress is known");
    let finding = findings::no_value::finding(place, reason);
    if !reading.findings.contains(&finding) {
        reading.findings.push(finding);
    }
    false
}

/// The bound in each stretch, with what `span` means there.
fn bounds(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    limit: &Limit,
    dimension: Dimension,
    bays: &[Bay],
) -> Option<Vec<(Bay, Quantity)>> {
    let mut bounds = Vec::new();
    for bay in bays {
        let mut locals = Locals::default();
        let span = Quantity::new(bay.span, Dimension::LENGTH)?;
        locals.insert("span".into(), Evaluated::quantity(span));
        let (evaluated, new) = line.evaluate_with(reading.context, &locals);
        for finding in new {
            let is_told = line.outcome.findings.contains(&finding);
            if !is_told && !reading.findings.contains(&finding) {
                reading.findings.push(finding);
            }
        }
        let bound = evaluated
            .get(limit.bound.0 as usize)?
            .as_dimension(dimension)?;
        if bound.si() <= 0.0 {
            let place = line.place(line.span(limit.bound));
            let finding = findings::impossible_value::not_positive(place, "a limit");
            reading.findings.push(finding);
            return None;
        }
        bounds.push((*bay, bound));
    }
    Some(bounds)
}

/// The bound on deflection that is loosest for its span, if it hardly limits anything.
fn loose(line: &BlockLine<'_>, limit: &Limit, bounds: &[(Bay, Quantity)]) -> Option<Finding> {
    let part = |(bay, bound): &&(Bay, Quantity)| bound.si() / bay.span;
    let loosest = bounds.iter().max_by(|a, b| part(a).total_cmp(&part(b)));
    let (bay, bound) = loosest?;
    let is_part = line.tree.paths().any(|path| {
        let mut names = path.names.iter();
        names.any(|name| name.text == "span")
    });
    let place = line.place(line.span(limit.bound));
    loose_deflection::finding(place, bound.si(), bay.span, is_part)
}

/// The unit in which a bound is written as one number.
fn unit_of(line: &BlockLine<'_>, limit: &Limit) -> Option<Unit> {
    match &line.tree.expressions.get(limit.bound.0 as usize)?.kind {
        ExpressionKind::Literal(literal) => written_unit(literal),
        _ => None,
    }
}

impl BeamLimit {
    /// What this limit compares under these combinations: the extremes of moment and shear in each
    /// stretch of one section, and the largest deflection of each span.
    pub(super) fn demands(&self, model: &BeamModel, responses: &[Under<'_>]) -> Vec<Demand> {
        let applies = |name: Option<&SmolStr>| match &self.under {
            Some(under) => name == Some(under),
            None => true,
        };
        let responses = responses.iter().filter(|under| applies(under.name));
        if matches!(
            self.stated.subject,
            LimitSubject::Deflection | LimitSubject::SidewaysDeflection
        ) {
            return responses
                .flat_map(|under| self.deflection_demands(*under))
                .collect();
        }
        if matches!(
            self.stated.subject,
            LimitSubject::Reaction | LimitSubject::Uplift
        ) {
            return responses
                .flat_map(|under| self.reaction_demands(model, *under))
                .collect();
        }
        let mut demands = Vec::new();
        for under in responses {
            for stretch in &model.stretches {
                let Some(bent) = model.sections.get(stretch.section) else {
                    continue;
                };
                let sideways = under.sideways.filter(|sideways| oblique::acts(sideways));
                if let LimitSubject::Stress(subject) = self.stated.subject
                    && let Some(equivalent) = subject.together()
                {
                    demands.extend(match sideways {
                        Some(_) => vec![self.unknown_demand()],
                        None => self.demands_together(model, *under, stretch, equivalent),
                    });
                    continue;
                }
                if let Some(sideways) = sideways {
                    let oblique = self.oblique_demands(bent, *under, sideways, stretch);
                    // A search without an end leaves nothing to judge by.
                    demands.extend(oblique.unwrap_or_else(|| vec![self.unknown_demand()]));
                    continue;
                }
                let Some(actions) = extreme_actions(*under, stretch, self.within) else {
                    continue;
                };
                demands.extend(self.stated.stress_demands(&bent.section, &actions));
            }
        }
        demands
    }

    /// Normal and shear stress together along the part of a stretch where the limit applies.
    fn demands_together(
        &self,
        model: &BeamModel,
        under: Under<'_>,
        stretch: &BeamStretch,
        equivalent: Equivalent,
    ) -> Vec<Demand> {
        let from = stretch.from.si().max(self.within.0.si());
        let to = stretch.to.si().min(self.within.1.si());
        let Some(bent) = model.sections.get(stretch.section).filter(|_| from < to) else {
            return Vec::new();
        };
        let (from, to) = (Length::from_si(from), Length::from_si(to));
        let (stops, forces) = along(under.response, from, to);
        let places = bent.section.critical(equivalent, &stops, &forces);
        let of_place = |place: CriticalPlace| {
            let demand = Demand {
                value: place.stress,
                bound: 0.0,
                inclusive: true,
                stated: self.stated.line,
                point: Some(place.name),
                is_named: false,
                at: Some(place.at),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            };
            self.stated.bounded(demand, &place.limits)
        };
        places.into_iter().flat_map(of_place).collect()
    }

    /// As [`demands`](Self::demands), with bending and shear both ways.
    fn oblique_demands(
        &self,
        bent: &BentSection,
        under: Under<'_>,
        sideways: &Response,
        stretch: &BeamStretch,
    ) -> Option<Vec<Demand>> {
        let from = Length::from_si(stretch.from.si().max(self.within.0.si()));
        let to = Length::from_si(stretch.to.si().min(self.within.1.si()));
        if from >= to {
            return Some(Vec::new());
        }
        let (section, within) = (&bent.section, (from, to));
        if self.stated.subject == LimitSubject::Stress(StressLimit::Shear) {
            let actions = oblique::shearing(section, under, sideways, within)?;
            return Some(self.stated.stress_demands(section, &actions));
        }
        let places = oblique::bending(section, under, sideways, within)?;
        let of = |(section, action): &(SectionModel, Action)| {
            let actions = std::slice::from_ref(action);
            self.stated.stress_demands(section, actions)
        };
        Some(places.iter().flat_map(of).collect())
    }

    /// A demand without a number.
    fn unknown_demand(&self) -> Demand {
        Demand {
            value: f64::NAN,
            bound: f64::NAN,
            inclusive: true,
            stated: self.stated.line,
            point: None,
            is_named: false,
            at: None,
            combination: None,
            pattern: None,
        }
    }

    fn reaction_demands(&self, model: &BeamModel, under: Under<'_>) -> Vec<Demand> {
        let Some((bound, inclusive)) = self.stated.bound else {
            return Vec::new();
        };
        let reactions = under.response.reactions();
        let of_support = |&support: &usize| {
            let reaction = reactions.get(support)?;
            Some(Demand {
                value: reaction.force.si(),
                bound: bound.si(),
                inclusive,
                stated: self.stated.line,
                point: model.supports.get(support)?.name.clone(),
                is_named: false,
                at: Some(reaction.at.si()),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            })
        };
        self.supports.iter().filter_map(of_support).collect()
    }

    fn deflection_demands(&self, under: Under<'_>) -> Vec<Demand> {
        let response = match self.stated.subject {
            // Nothing acts sideways, and so nothing moves there.
            LimitSubject::SidewaysDeflection if under.sideways.is_none() => {
                let still = |stretch: &DeflectionBound| Demand {
                    bound: stretch.bound.si(),
                    inclusive: stretch.inclusive,
                    ..self.unknown_demand()
                };
                return self.deflections.iter().map(still).collect();
            }
            LimitSubject::SidewaysDeflection => under.sideways,
            _ => Some(under.response),
        };
        let Some(deflection) = response.and_then(Response::deflection) else {
            return Vec::new();
        };
        let of_stretch = |stretch: &DeflectionBound| {
            let extremes = deflection.extremes_within(stretch.from, stretch.to)?;
            let extreme = extremes.largest_magnitude();
            Some(Demand {
                value: extreme.value.si(),
                bound: stretch.bound.si(),
                inclusive: stretch.inclusive,
                stated: self.stated.line,
                point: None,
                is_named: false,
                at: Some(extreme.at.si()),
                combination: under.name.cloned(),
                pattern: under.pattern.cloned(),
            })
        };
        self.deflections.iter().filter_map(of_stretch).collect()
    }
}

/// The extremes of moment and shear along the part of a stretch where a limit applies. Stress is linear in each, so that its own
/// extremes are there.
fn extreme_actions(
    under: Under<'_>,
    stretch: &BeamStretch,
    within: (Length, Length),
) -> Option<[Action; 4]> {
    let from = Length::from_si(stretch.from.si().max(within.0.si()));
    let to = Length::from_si(stretch.to.si().min(within.1.si()));
    let moment = under.response.moment().extremes_within(from, to)?;
    let shear = under.response.shear().extremes_within(from, to)?;
    let bending =
        |extreme: haunch_mechanics::beam::Extreme<haunch_quantity::typed::Moment>| Action {
            moment: extreme.value.si(),
            at: Some(extreme.at.si()),
            combination: under.name.cloned(),
            pattern: under.pattern.cloned(),
            ..Action::default()
        };
    let shearing =
        |extreme: haunch_mechanics::beam::Extreme<haunch_quantity::typed::Force>| Action {
            shear: extreme.value.si(),
            at: Some(extreme.at.si()),
            combination: under.name.cloned(),
            pattern: under.pattern.cloned(),
            ..Action::default()
        };
    Some([
        bending(moment.max),
        bending(moment.min),
        shearing(shear.max),
        shearing(shear.min),
    ])
}

impl BeamModel {
    /// The demands on every limit under these combinations; limits for other combinations left
    /// out.
    pub(super) fn demands(&self, responses: &[Under<'_>]) -> Vec<LimitDemands> {
        let demands = |limit: &BeamLimit| LimitDemands {
            name: limit.name.clone(),
            subject: limit.stated.subject,
            demands: limit.demands(self, responses),
        };
        let all = self.limits.iter().map(demands);
        all.filter(|limit| !limit.demands.is_empty()).collect()
    }

    /// The responses of all combinations with their names.
    pub(super) fn responses(&self) -> Vec<Under<'_>> {
        self.combinations.iter().map(Under::of).collect()
    }
}

/// A response with the combination that it is of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Under<'a> {
    /// The combination's name.
    pub(super) name: Option<&'a SmolStr>,
    /// Which spans are loaded, and where wheels stand.
    pub(super) pattern: Option<&'a SmolStr>,
    /// What it does to the beam, downwards.
    pub(super) response: &'a Response,
    /// What it does sideways.
    pub(super) sideways: Option<&'a Response>,
}

impl<'a> Under<'a> {
    pub(super) fn of(combination: &'a Combination) -> Under<'a> {
        Under {
            name: combination.name.as_ref(),
            pattern: combination.pattern.as_ref(),
            response: &combination.response,
            sideways: combination.sideways.as_ref(),
        }
    }
}

/// The checks in the order in which the limits were read, with the findings of those that fail.
pub(super) fn checks(
    context: &BlockContext<'_>,
    model: &BeamModel,
    stated: &[Stated],
) -> (Vec<Check>, Vec<Finding>) {
    let responses = model.responses();
    let mut checks = Vec::new();
    let mut found = Vec::new();
    for stated in stated {
        let Some(limit) = stated.limit.and_then(|index| model.limits.get(index)) else {
            checks.push(stated.unknown.clone());
            continue;
        };
        let judgement = Judgement {
            block: context,
            place: stated.place,
            unit: stated.unit.as_ref(),
            length_unit: model.length_unit.as_ref(),
        };
        let demands = limit.demands(model, &responses);
        let (check, finding) = judge(&limit.stated, &demands, &judgement);
        checks.push(check);
        found.extend(finding);
    }
    (checks, found)
}
