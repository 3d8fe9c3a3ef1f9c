//! Names that need each other.

use smol_str::SmolStr;

use crate::finding::{Code, Finding, Place, Severity};
use crate::line::LineId;
use crate::state::{Cell, State};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "ring",
    severity: Severity::Error,
    summary: "values need each other, so none of them has a value",
    page: include_str!("pages/ring.md"),
};

/// Names that a message lists, and lines that it points at.
const MOST_NAMED: usize = 20;

/// The ring, told once in each file at its first line there; the other lines are related places.
pub(crate) fn finding(
    state: &State,
    line: LineId,
    cell: &Cell,
    component: &[LineId],
) -> Option<Finding> {
    let name_of = |member: LineId| Some(state.cell(member)?.defines.as_ref()?.1.clone());
    let in_this_file =
        |member: LineId| state.cell(member).map(|other| other.file) == Some(cell.file);
    let mut members = component.iter().copied();
    let first = members.find(|&member| in_this_file(member) && name_of(member).is_some())?;
    if first != line {
        return None;
    }
    let members = component.iter().copied();
    let named: Vec<(LineId, SmolStr)> = members
        .filter_map(|member| Some((member, name_of(member)?)))
        .collect();
    let place = Place {
        line,
        span: crate::compute::name_span(&cell.tree.statement)?,
    };
    let mut names: Vec<&str> = named.iter().map(|(_, name)| name.as_str()).collect();
    let and_others = match names.len() {
        all if all > MOST_NAMED => {
            names.truncate(MOST_NAMED);
            format!(" and {} others", all - MOST_NAMED)
        }
        _ => String::new(),
    };
    let message = match names.as_slice() {
        [only] => format!("{only} is defined by itself, so it has no value."),
        _ => format!(
            "{}{and_others} are defined by each other, so none of them has a value. Give one of them a value of its own.",
            names.join(", ")
        ),
    };
    let mut finding = Finding::new(&CODE, place, message);
    for (member, name) in named
        .iter()
        .filter(|(member, _)| *member != line)
        .take(MOST_NAMED)
    {
        let span = crate::compute::defined_span(state, *member);
        finding = finding.with_related(
            Place {
                line: *member,
                span,
            },
            format!("{name} is in the ring"),
        );
    }
    Some(finding)
}
