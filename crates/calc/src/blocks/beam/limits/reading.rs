//! Reads the limits of a beam.

use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Quantity, Unit};
use haunch_syntax::{ExpressionKind, Limit, LimitPlace, Relation, Statement};

use super::{BeamLimit, DeflectionBound};
use crate::blocks::SectionModel;
use crate::blocks::beam::reading::{Lines, Reading};
use crate::blocks::beam::sideways::held_sideways;
use crate::blocks::beam::structure::{Bay, BeamSupport, Geometry};
use crate::blocks::beam::{BentSection, Combination, Solved};
use crate::blocks::context::BlockLine;
use crate::blocks::limits::{Action, LimitSubject, StatedLimit, unknown_check};
use crate::expression::Locals;
use crate::expression::literal::written_unit;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::lints::loose_deflection;
use crate::outcome::Check;
use crate::value::Evaluated;

/// What was read of the limits.
pub(in crate::blocks::beam) struct Read {
    /// The limits that are known.
    pub(in crate::blocks::beam) limits: Vec<BeamLimit>,
    /// One for each check, in the same order as the checks.
    pub(in crate::blocks::beam) stated: Vec<Stated>,
    /// Whether every limit is known.
    pub(in crate::blocks::beam) known: bool,
    /// The checks of a beam without results.
    pub(in crate::blocks::beam) unknown_checks: Vec<Check>,
}

/// How one check is to be shown.
pub(in crate::blocks::beam) struct Stated {
    /// Index in the known limits; none for a limit that is not known.
    pub(super) limit: Option<usize>,
    pub(super) unknown: Check,
    pub(super) place: Place,
    pub(super) unit: Option<Unit>,
}

/// Reads the limits. One that is not known leaves its own check unknown, and nothing else.
pub(in crate::blocks::beam) fn read(
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
        let mut stating = models.iter().filter(|section| stated.is_stated_by(section));
        let known = solved.is_some()
            && stating.all(|section| is_comparable(reading, section, &stated, place));
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
    for stress in context.limited_by_sections() {
        let subject = LimitSubject::Stress(stress);
        let is_there =
            |own: &Stated| own.unknown.line == context.line && own.unknown.kind == subject.word();
        if !read.stated.iter().any(is_there) {
            read.known = false;
            read.stated.push(Stated {
                limit: None,
                unknown: unknown_check(&context.name(), subject, context.line),
                place: context.name_place(),
                unit: None,
            });
        }
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

/// What a limit is on. Of all subjects a deflection and a reaction alone may be `sideways`.
fn subject(reading: &mut Reading<'_>, line: &BlockLine<'_>, limit: &Limit) -> Option<LimitSubject> {
    let subject = LimitSubject::from_word(&limit.subject.text)?;
    let Some(span) = limit.sideways else {
        return Some(subject);
    };
    let sideways = subject.sideways();
    if sideways.is_none() {
        let message = "sideways is for a limit on deflection or reaction. A limit on stress counts \
                       what acts sideways in any case.";
        let finding = findings::place::wrong(line.place(span), message);
        reading.findings.push(finding);
    }
    sideways
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
    let is_sideways = matches!(
        subject,
        LimitSubject::SidewaysDeflection | LimitSubject::SidewaysReaction
    );
    let level = is_sideways.then(|| held_sideways(geometry));
    let geometry = level.as_ref().unwrap_or(geometry);
    let supports = supports(reading, line, limit, geometry)?;
    let mut bays = geometry.bays();
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
