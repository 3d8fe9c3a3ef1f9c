//! The elastic buckling load of a straight member with stated effective lengths.

use haunch_mechanics::beam::euler_load;
use haunch_quantity::typed::{FlexuralRigidity, Force, Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{Statement, ValueBody};
use smol_str::SmolStr;

use super::reading::{Lines, Reading, listed};
use super::stretches::Sections;
use crate::blocks::context::BlockLine;
use crate::findings;
use crate::line::LineId;
use crate::outcome::Meaning;
use crate::value::Evaluated;

/// The field that states the effective lengths.
pub(super) const FIELD: &str = "effective_length";

/// The results, each with the dimension of a force.
pub(super) const RESULTS: [&str; 3] = ["euler_load", "euler_load_x", "euler_load_y"];

/// Flexural rigidities about the axes of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisRigidities {
    /// About the x axis.
    pub about_x: FlexuralRigidity,
    /// About the y axis.
    pub about_y: FlexuralRigidity,
    /// About the axis about which it is least.
    pub least: FlexuralRigidity,
}

/// The buckling loads of a member.
#[derive(Debug, Clone, PartialEq)]
pub struct BucklingLoads {
    /// The line of the effective lengths.
    pub line: LineId,
    /// The least of all.
    pub least: Force,
    /// About the x and the y axis; none where the principal axes are turned, since the member then
    /// buckles about neither.
    pub about: Option<(Force, Force)>,
}

/// What the effective lengths come to.
#[derive(Debug, Clone, PartialEq)]
pub enum Buckling {
    /// None are stated.
    Unsaid,
    /// Their line or what it needs is not known, for a reason that is told.
    Unknown,
    /// The buckling loads.
    Known(BucklingLoads),
}

/// Reads the effective lengths: one for both axes, or those about x and about y. What is wrong with
/// them takes the buckling loads alone.
pub(super) fn read(
    reading: &mut Reading<'_>,
    lines: &Lines<'_>,
    sections: Option<&Sections>,
) -> Buckling {
    let field = lines.fields.iter().find_map(|line| {
        let Statement::Value(value) = &line.tree.statement else {
            return None;
        };
        (value.name.text == FIELD).then_some((*line, value))
    });
    let Some((line, value)) = field else {
        return Buckling::Unsaid;
    };
    let Some((about_x, about_y)) = lengths(reading, line, &value.body) else {
        return Buckling::Unknown;
    };
    let Some(sections) = sections else {
        return Buckling::Unknown;
    };
    let place = line.place(value.name.span);
    let mut used = sections.used();
    let (Some(bent), None) = (used.next(), used.next()) else {
        let what = format!(
            "the buckling load of {}, whose section changes,",
            reading.context.name()
        );
        reading
            .findings
            .push(findings::not_supported::value(place, &what));
        return Buckling::Unknown;
    };
    let Some(rigidities) = bent.axes else {
        let finding = findings::missing_property::modulus(place, "a buckling load", &bent.name);
        reading.findings.push(finding);
        return Buckling::Unknown;
    };
    let load = |rigidity: FlexuralRigidity, length: f64| {
        euler_load(rigidity, Length::from_si(length), 1.0)
    };
    let about = load(rigidities.about_x, about_x).zip(load(rigidities.about_y, about_y));
    let loads = if !bent.moves_sideways {
        about.map(|(x, y)| {
            let least = if y.si() < x.si() { y } else { x };
            (least, Some((x, y)))
        })
    } else if about_x == about_y {
        load(rigidities.least, about_x).map(|least| (least, None))
    } else {
        let what = "the buckling load of a section whose principal axes are turned, with two \
                    effective lengths,";
        reading
            .findings
            .push(findings::not_supported::value(place, what));
        return Buckling::Unknown;
    };
    match loads {
        Some((least, about)) => Buckling::Known(BucklingLoads {
            line: line.id,
            least,
            about,
        }),
        None => {
            let name = reading.context.name();
            reading
                .findings
                .push(findings::not_accurate::beam(place, &name));
            Buckling::Unknown
        }
    }
}

/// The effective lengths about x and about y, in m.
fn lengths(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    body: &ValueBody,
) -> Option<(f64, f64)> {
    let Meaning::Value(named) = &line.outcome.meaning else {
        return None;
    };
    let evaluated = &named.evaluated;
    let lengths = listed(evaluated.kind, evaluated.value.as_ref())?;
    let (first, second) = match lengths.as_slice() {
        [both] => (both, both),
        [first, second] => (first, second),
        _ => {
            let finding = findings::place::wrong(
                line.whole(),
                "a member has one effective length, or two: about the x axis, and about the y axis.",
            );
            reading.findings.push(finding);
            return None;
        }
    };
    for (index, length) in lengths.iter().enumerate() {
        if length.dimension() != Dimension::LENGTH {
            return None;
        }
        if length.si() <= 0.0 {
            let place = match body {
                ValueBody::List(ids) => ids.get(index).map(|id| line.place(line.span(*id))),
                _ => None,
            };
            let place = place.unwrap_or(line.whole());
            let finding = findings::impossible_value::not_positive(place, "an effective length");
            reading.findings.push(finding);
            return None;
        }
    }
    Some((first.si(), second.si()))
}

/// The results by name; without values where they are stated and not known.
pub(super) fn members(buckling: &Buckling) -> Vec<(SmolStr, Evaluated)> {
    let unknown = Evaluated::dimension_only(Dimension::FORCE);
    match buckling {
        Buckling::Unsaid => Vec::new(),
        Buckling::Unknown => RESULTS
            .iter()
            .map(|name| (SmolStr::new_static(name), unknown.clone()))
            .collect(),
        Buckling::Known(loads) => {
            let value = |force: Force| {
                let quantity: Option<Quantity> = force.to_quantity();
                quantity.map_or(unknown.clone(), Evaluated::quantity)
            };
            let [least, x, y] = RESULTS;
            let mut members = vec![(SmolStr::new_static(least), value(loads.least))];
            if let Some((about_x, about_y)) = loads.about {
                members.push((SmolStr::new_static(x), value(about_x)));
                members.push((SmolStr::new_static(y), value(about_y)));
            }
            members
        }
    }
}
