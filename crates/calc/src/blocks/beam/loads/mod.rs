//! What acts on a beam: the loads of each case in SI units.

mod concentrated;
mod distributed;
mod line;
mod place;
mod sections;
mod wheels;

use std::collections::BTreeMap;

use haunch_mechanics::beam::Load as Action;
use haunch_quantity::Quantity;
use haunch_quantity::typed::{Length, Typed};
use haunch_syntax::{LoadKind, LoadPlace, Statement};
use smol_str::SmolStr;

use super::reading::{Lines, Reading};
use super::stretches::Sections;
use super::structure::{Bay, Geometry};
use crate::finding::Place;
use crate::findings;
use crate::line::LineId;
use line::LoadLine;
pub(super) use wheels::Wheels;

/// The loads of one case.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct CaseLoads {
    pub(super) actions: Vec<Action>,
    /// The line of each action.
    pub(super) lines: Vec<LineId>,
    /// What acts sideways, positive to the left.
    pub(super) sideways: Vec<Action>,
    /// The line of each of these.
    pub(super) sideways_lines: Vec<LineId>,
    /// Where the first line names the case.
    pub(super) named: Option<Place>,
    /// What the case's only line says, as it is written; none for several lines, and for self
    /// weight and varying loads.
    pub(super) magnitude: Option<Quantity>,
    /// Lines whose load acts on whichever spans are worst, with the load of each span.
    pub(super) on_any_spans: Vec<(LineId, Vec<Action>)>,
    /// Wheels that run along the beam.
    pub(super) wheels: Option<Wheels>,
}

/// A load of one intensity parted into those of the spans and overhangs.
fn on_each_span(geometry: &Geometry, actions: &[Action]) -> Option<Vec<Action>> {
    let [
        Action::Distributed {
            down_at_from,
            down_at_to,
            ..
        },
    ] = actions
    else {
        return None;
    };
    if down_at_from != down_at_to {
        return None;
    }
    let on = |bay: Bay| Action::Distributed {
        from: Length::from_si(bay.from),
        to: Length::from_si(bay.to),
        down_at_from: *down_at_from,
        down_at_to: *down_at_to,
    };
    Some(geometry.bays().into_iter().map(on).collect())
}

/// Reads the loads by their case. A load that cannot be told takes the beam's results.
pub(super) fn read<'a>(
    reading: &mut Reading<'a>,
    lines: &Lines<'a>,
    geometry: &Geometry,
    sections: Option<&Sections>,
) -> BTreeMap<SmolStr, CaseLoads> {
    let mut cases: BTreeMap<SmolStr, CaseLoads> = BTreeMap::new();
    for line in &lines.loads {
        let Statement::Load(load) = &line.tree.statement else {
            continue;
        };
        let case = cases.entry(load.case.text.clone()).or_default();
        let is_first = case.named.is_none();
        case.named.get_or_insert(line.place(load.case.span));
        let mut load_line = LoadLine {
            reading: &mut *reading,
            line,
            load,
            geometry,
            sections,
        };
        if matches!(load.place, LoadPlace::Moving { .. })
            || matches!(load.kind, LoadKind::Wheels(_))
        {
            let Some((wheels, magnitude)) = load_line.wheels() else {
                reading.is_incomplete();
                continue;
            };
            if case.wheels.is_some() {
                let what = "wheels on two lines of one load case";
                reading.refuse(findings::not_supported::two_trains(line.whole(), what));
                continue;
            }
            case.wheels = Some(wheels);
            case.magnitude = magnitude.filter(|_| is_first);
            continue;
        }
        let Some((actions, magnitude)) = load_line.actions() else {
            reading.is_incomplete();
            continue;
        };
        if load.sideways.is_some() {
            if let LoadPlace::AnySpans(span) = load.place {
                let what = "a sideways load on any spans";
                reading.refuse(findings::not_supported::finding(line.place(span), what));
            }
            case.sideways_lines.extend(actions.iter().map(|_| line.id));
            case.sideways.extend(actions);
        } else if let LoadPlace::AnySpans(span) = load.place {
            match on_each_span(geometry, &actions) {
                Some(spans) => case.on_any_spans.push((line.id, spans)),
                None => {
                    let finding = findings::place::not_on_any_spans(line.place(span));
                    reading.refuse(finding);
                }
            }
        } else {
            case.lines.extend(actions.iter().map(|_| line.id));
            case.actions.extend(actions);
        }
        case.magnitude = magnitude.filter(|_| is_first);
    }
    cases
}
