//! A block that a heading names.

use haunch_syntax::BlockKind;

use crate::blocks::context::{BlockContext, ReferenceError};
use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "wrong-reference",
    severity: Severity::Error,
    summary: "a name stands for another kind of thing than is needed here",
    page: include_str!("pages/wrong-reference.md"),
};

/// Another kind of thing than is needed.
pub(crate) fn wrong_kind(place: Place, name: &str, wanted: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{name} is not {wanted}, and one is needed here."),
    )
    .about(name)
}

/// What is wrong with the block that a heading refers to by `of` or `on`.
pub(crate) fn of_heading(context: &BlockContext<'_>) -> Vec<Finding> {
    let (wanted, word) = match context.heading.kind {
        BlockKind::Section => (BlockKind::Material, "material"),
        BlockKind::Forces | BlockKind::Beam => (BlockKind::Section, "section"),
        BlockKind::Sheet | BlockKind::Material => return Vec::new(),
    };
    let Some(path) = &context.heading.of else {
        return Vec::new();
    };
    let (Some(first), Some(last)) = (path.names.first(), path.names.last()) else {
        return Vec::new();
    };
    let place = context.heading_place(first.span.cover(last.span));
    let name = place.span.text(&context.cell.text).to_owned();
    match context.reference(path) {
        Ok(block) if block.kind == wanted => Vec::new(),
        Ok(_) | Err(ReferenceError::WrongKind) => {
            vec![wrong_kind(place, &name, crate::blocks::describe(wanted))]
        }
        Err(ReferenceError::Undefined) => vec![super::unknown_name::block(place, &name, word)],
        Err(ReferenceError::Unknown) => Vec::new(),
    }
}
