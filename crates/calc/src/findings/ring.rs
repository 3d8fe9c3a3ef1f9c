//! Names that need each other.

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

/// The ring, told once in each file at its first line there; the other lines are related places.
pub(crate) fn finding(
    state: &State,
    line: LineId,
    cell: &Cell,
    component: &[LineId],
) -> Option<Finding> {
    let named: Vec<(LineId, String)> = component
        .iter()
        .filter_map(|&member| Some((member, state.cell(member)?.defines.as_ref()?.1.to_string())))
        .collect();
    let in_this_file = |member: &LineId| {
        state
            .cell(*member)
            .is_some_and(|other| other.file == cell.file)
    };
    let (first, _) = named.iter().find(|(member, _)| in_this_file(member))?;
    if *first != line {
        return None;
    }
    let place = Place {
        line,
        span: crate::compute::name_span(&cell.tree.statement)?,
    };
    let names: Vec<&str> = named.iter().map(|(_, name)| name.as_str()).collect();
    let message = match names.as_slice() {
        [only] => format!("{only} is defined by itself, so it has no value."),
        _ => format!(
            "{} are defined by each other, so none of them has a value. Give one of them a value of its own.",
            names.join(", ")
        ),
    };
    let mut finding = Finding::new(&CODE, place, message);
    for (member, name) in named.iter().filter(|(member, _)| *member != line).take(20) {
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
