//! A field that the block does not know.

use haunch_syntax::BlockKind;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unknown-field",
    severity: Severity::Error,
    summary: "a block has no field of this name",
    page: include_str!("pages/unknown-field.md"),
};

/// The field's name; the nearest ones that the block knows are offered.
pub(crate) fn finding(place: Place, name: &str, block: BlockKind) -> Finding {
    let fields = crate::blocks::fields::of(block);
    let what = crate::blocks::describe(block);
    let message = if fields.is_empty() {
        format!("{what} has no fields. Give {name} its value on a line in the first column.")
    } else {
        let known: Vec<&str> = fields.iter().map(|field| field.name).collect();
        format!("{what} has no field {name}. It knows {}.", known.join(", "))
    };
    let mut finding = Finding::new(&CODE, place, message).about(name);
    for near in crate::spelling::nearest(name, fields.iter().map(|field| field.name)) {
        finding = finding.with_repair(format!("Write {near}"), place, near);
    }
    finding
}
