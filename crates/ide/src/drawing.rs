//! The drawing beside what is said of a section.

use haunch_calc::blocks::{BlockMeaning, Model};
use haunch_calc::{Definition, FileId, LineId, Snapshot};
use haunch_drawing::Marks;
use haunch_quantity::Preferences;
use haunch_text::Position;

use crate::cursor::{self, Thing};
use crate::show;

/// Most edges that are drawn: a picture as small as this shows no more, and an editor may refuse a longer one.
const MOST_EDGES: usize = 400;

/// The section that a position names, or one of whose results it names, as SVG.
pub fn drawing(snapshot: &Snapshot, file: FileId, position: Position) -> Option<String> {
    let heading = named(snapshot, file, position)?;
    let block = snapshot.line(heading)?.block()?;
    drawn(block, &snapshot.preferences(file))
}

/// The line of the thing at a position, or the heading of the block whose result it is.
fn named(snapshot: &Snapshot, file: FileId, position: Position) -> Option<LineId> {
    let (line, thing) = cursor::at(snapshot, file, position)?;
    match thing {
        Thing::Names(names, _) => match snapshot.definition(file, &names)? {
            Definition::Line(place) => Some(place.line),
            Definition::Result { heading, .. } => Some(heading),
        },
        Thing::Own(_) => Some(line.id()),
        Thing::Unit(_) | Thing::BuiltIn(..) | Thing::OfBlock(_) => None,
    }
}

fn drawn(block: &BlockMeaning, preferences: &Preferences) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let edges = section.outline_edges();
    if edges.len() > MOST_EDGES {
        return None;
    }
    let size = |member| show::value(&block.member(member)?, None, preferences);
    let marks = Marks {
        centroid: section.centroid(),
        width: &size("width")?,
        depth: &size("depth")?,
        title: &format!("section {}", block.name),
    };
    let drawing = haunch_drawing::section(&edges, marks);
    (!drawing.is_empty()).then_some(drawing)
}
