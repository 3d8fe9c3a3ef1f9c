//! The limits on the stresses of a set of forces: its own and those of its section's materials.

use haunch_quantity::{Dimension, Unit};
use haunch_syntax::{ExpressionKind, Limit, Relation, Statement};

use super::ForcesModel;
use crate::blocks::SectionModel;
use crate::blocks::context::{BlockContext, BlockLine};
use crate::blocks::limits::{Judgement, LimitSubject, STRESSES, StatedLimit, judge, unknown_check};
use crate::blocks::material::StressLimit;
use crate::expression::literal::written_unit;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::outcome::Check;

/// A limit that applies to a set of forces.
#[derive(Debug, Clone, PartialEq)]
pub struct ForcesLimit {
    /// The name of its check, e.g. `hung.tension.2`.
    pub name: String,
    /// What is limited, and the bound.
    pub stated: StatedLimit,
}

/// What was read of the limits.
pub(super) struct Read {
    stated: Vec<Stated>,
    /// Whether every limit is known.
    pub(super) known: bool,
}

/// One check to be.
struct Stated {
    /// None for a limit that is not known.
    limit: Option<ForcesLimit>,
    unknown: Check,
    place: Place,
    unit: Option<Unit>,
}

impl Read {
    pub(super) fn unknown_checks(&self) -> Vec<Check> {
        self.stated.iter().map(|own| own.unknown.clone()).collect()
    }

    pub(super) fn limits(&self) -> Vec<ForcesLimit> {
        self.stated
            .iter()
            .filter_map(|own| own.limit.clone())
            .collect()
    }
}

/// Reads the limits. One that is not known leaves its own check unknown, and nothing else.
pub(super) fn read(
    context: &BlockContext<'_>,
    section: Option<&SectionModel>,
    findings: &mut Vec<Finding>,
) -> Read {
    let mut read = Read {
        stated: Vec::new(),
        known: true,
    };
    let name = context.name();
    for line in &context.lines {
        let Statement::Limit(limit) = &line.tree.statement else {
            // A line that could not be read may have been a limit.
            read.known &= !matches!(line.tree.statement, Statement::Broken { .. });
            continue;
        };
        let subject = StressLimit::from_word(&limit.subject.text).map(LimitSubject::Stress);
        let Some(subject) = subject else {
            read.known = false;
            continue;
        };
        if let Some(span) = limit.sideways {
            findings.push(findings::place::wrong(
                line.place(span),
                findings::place::SIDEWAYS,
            ));
            read.known = false;
            continue;
        }
        let stated = own(context, line, limit, subject, findings);
        read.known &= stated.is_some();
        let mut unknown = unknown_check(&name, subject, line.id);
        let sign = crate::statements::check::sign(limit.relation);
        unknown.text = format!("{sign} {}", line.source(limit.bound));
        read.stated.push(Stated {
            limit: stated.map(|stated| ForcesLimit {
                name: String::new(),
                stated,
            }),
            unknown,
            place: line.whole(),
            unit: unit_of(line, limit),
        });
    }
    for stated in section
        .map(|section| StatedLimit::of_materials(&[section], context.line))
        .unwrap_or_default()
    {
        read.stated.push(Stated {
            unknown: unknown_check(&name, stated.subject, context.line),
            limit: Some(ForcesLimit {
                name: String::new(),
                stated,
            }),
            place: context.name_place(),
            unit: None,
        });
    }
    let of_unknown = section.is_none().then(|| context.limited_by_sections());
    for stress in of_unknown.unwrap_or_default() {
        read.known = false;
        read.stated.push(Stated {
            limit: None,
            unknown: unknown_check(&name, LimitSubject::Stress(stress), context.line),
            place: context.name_place(),
            unit: None,
        });
    }
    name_limits(&mut read);
    read
}

/// A second check of one name is told apart by a number, as wherever checks are listed.
fn name_limits(read: &mut Read) {
    for subject in STRESSES {
        let same = read
            .stated
            .iter_mut()
            .filter(|own| own.unknown.kind == subject.word());
        for (before, own) in same.enumerate() {
            if let Some(limit) = &mut own.limit {
                limit.name = match before {
                    0 => own.unknown.name.clone(),
                    before => format!("{}.{}", own.unknown.name, before + 1),
                };
            }
        }
    }
}

/// A limit of the block's own line.
fn own(
    context: &BlockContext<'_>,
    line: &BlockLine<'_>,
    limit: &Limit,
    subject: LimitSubject,
    findings: &mut Vec<Finding>,
) -> Option<StatedLimit> {
    if context.is_broken(line) {
        return None;
    }
    if let Some(under) = &limit.under {
        let place = line.place(under.span);
        findings.push(findings::unknown_name::block(
            place,
            &under.text,
            "combination",
        ));
        return None;
    }
    let bound = line.quantity(limit.bound, Dimension::STRESS)?;
    if bound.si() <= 0.0 {
        let place = line.place(line.span(limit.bound));
        findings.push(findings::impossible_value::not_positive(place, "a limit"));
        return None;
    }
    let inclusive = limit.relation != Relation::Less;
    Some(StatedLimit::of_line(subject, bound, inclusive, line.id))
}

/// The unit in which a bound is written, where it is one number.
fn unit_of(line: &BlockLine<'_>, limit: &Limit) -> Option<Unit> {
    match &line.tree.expressions.get(limit.bound.0 as usize)?.kind {
        ExpressionKind::Literal(literal) => written_unit(literal),
        _ => None,
    }
}

/// Whether a limit cannot be worked out for the section.
pub(super) fn is_unknown(section: &SectionModel, read: &Read) -> bool {
    let mut limits = read.stated.iter().filter_map(|own| own.limit.as_ref());
    limits.any(|limit| limit.stated.unknown_in(section).is_some())
}

/// The checks in the order in which the limits were read, with the findings of those that fail or
/// cannot be worked out.
pub(super) fn checks(
    context: &BlockContext<'_>,
    model: &ForcesModel,
    read: &Read,
) -> (Vec<Check>, Vec<Finding>) {
    let action = [model.action()];
    let mut checks = Vec::new();
    let mut found = Vec::new();
    for own in &read.stated {
        let Some(limit) = &own.limit else {
            checks.push(own.unknown.clone());
            continue;
        };
        let judgement = Judgement {
            block: context,
            place: own.place,
            unit: own.unit.as_ref(),
            length_unit: None,
        };
        let demands = limit.stated.stress_demands(&model.section, &action);
        if let Some(reason) = limit.stated.unknown_in(&model.section) {
            found.push(findings::no_value::finding(own.place, reason));
        }
        let (check, finding) = judge(&limit.stated, &demands, &judgement);
        checks.push(check);
        found.extend(finding);
    }
    (checks, found)
}
