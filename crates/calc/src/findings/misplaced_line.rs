//! A line that stands where it does not belong.

use haunch_syntax::BlockKind;
use haunch_text::Span;

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "misplaced-line",
    severity: Severity::Error,
    summary: "a line stands where it does not belong",
    page: include_str!("pages/misplaced-line.md"),
};

fn blocks_in_words(blocks: &[BlockKind]) -> String {
    let words: Vec<String> = blocks
        .iter()
        .map(|kind| format!("`{}`", crate::blocks::keyword(*kind)))
        .collect();
    words.join(" or ")
}

fn indent(place: Place, text: &str) -> Place {
    Place {
        span: Span::new(0, text.len() - text.trim_start().len()),
        ..place
    }
}

/// A line of a block in the first column.
pub(crate) fn needs_heading(place: Place, word: &str, blocks: &[BlockKind]) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "`{word}` belongs under a heading {}: indent it below one.",
            blocks_in_words(blocks)
        ),
    )
}

/// A line of the block above it in the first column.
pub(crate) fn needs_indent(place: Place, word: &str, kind: BlockKind, name: &str) -> Finding {
    let start = Place {
        span: Span::empty(0),
        ..place
    };
    let heading = format!("{} {name}", crate::blocks::keyword(kind));
    let message = format!(
        "`{word}` belongs under the heading `{}` above, so indent it: in the first column it is not counted, and \
         what is worked out of the block would be wrong without it.",
        heading.trim_end()
    );
    Finding::new(&CODE, place, message).with_repair("Indent it", start, "    ")
}

/// An indented line with nothing above that it could belong to.
pub(crate) fn no_heading(place: Place, text: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        "this line is indented, but no heading stands above it. Move it to the first column.",
    )
    .with_repair("Move it to the first column", indent(place, text), "")
}

/// A line under a heading of another kind.
pub(crate) fn wrong_block(
    place: Place,
    word: &str,
    blocks: &[BlockKind],
    found: BlockKind,
) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "`{word}` belongs under {}, not under `{}`.",
            blocks_in_words(blocks),
            crate::blocks::keyword(found)
        ),
    )
}

/// A heading that is indented.
pub(crate) fn indented_heading(place: Place, text: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        "a heading starts in the first column. Indented, it does not open a block.",
    )
    .with_repair("Move it to the first column", indent(place, text), "")
}

/// A line of the file inside a block.
pub(crate) fn belongs_outside(place: Place, word: &str, text: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "`{word}` does not belong to a block. Move it to the first column, below the block."
        ),
    )
    .with_repair("Move it to the first column", indent(place, text), "")
}
