//! A result that a block or value does not have.

use haunch_syntax::BlockKind;
use smol_str::SmolStr;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-result",
    severity: Severity::Error,
    summary: "a block has no result of this name",
    page: include_str!("pages/unknown-result.md"),
};

/// A member of a value.
pub(crate) fn of_a_value(place: Place, full: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{full} asks for a result of a plain value, which has none."),
    )
    .about(full)
}

/// A result that the block does not have; the nearest names it has are offered.
pub(crate) fn of_a_block(
    place: Place,
    full: &str,
    member: &str,
    kind: BlockKind,
    known: &[SmolStr],
) -> Finding {
    let what = crate::blocks::describe(kind);
    let last = member.rsplit('.').next().unwrap_or(member);
    let near = crate::spelling::nearest(
        last,
        known
            .iter()
            .map(|name| name.rsplit('.').next().unwrap_or(name)),
    );
    let mut finding = Finding::new(
        &CODE,
        place,
        format!("{full} is not known: {what} has no result {member}."),
    )
    .about(full);
    for name in near {
        finding = finding.with_repair(format!("Write {name}"), place, name);
    }
    finding
}

/// A part or a combination that the block does not have, in front of a result.
pub(crate) fn of_nothing(
    place: Place,
    full: &str,
    missing: &str,
    kind: BlockKind,
    known: &[SmolStr],
) -> Finding {
    let owner = match kind {
        BlockKind::Section => "part",
        BlockKind::Beam => "combination",
        BlockKind::Sheet | BlockKind::Material | BlockKind::Forces => "result",
    };
    let what = crate::blocks::describe(kind);
    let message = format!("{full} is not known: this is {what} without a {owner} {missing}.");
    let mut finding = Finding::new(&CODE, place, message).about(full);
    let owners = known.iter().filter_map(|name| name.split_once('.'));
    for name in crate::spelling::nearest(missing, owners.map(|(owner, _)| owner)) {
        finding = finding.with_repair(format!("Write {name}"), place, name);
    }
    finding
}
