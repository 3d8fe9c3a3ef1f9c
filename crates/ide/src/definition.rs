//! Where a name is defined.

use haunch_calc::{Definition, FileId, Place, Snapshot};
use haunch_text::{Position, Range};

use crate::cursor::{self, Thing};

/// A place to go to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Target {
    /// The file.
    pub file: FileId,
    /// The name there.
    pub range: Range,
}

/// Where the name at a position is defined. A result of a block is at the block's heading.
pub fn definition(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Target> {
    let (line, thing) = cursor::at(snapshot, file, position)?;
    let place = match thing {
        Thing::Names(names, _) => match snapshot.definition(file, &names)? {
            Definition::Line(place) | Definition::Result { place, .. } => place,
        },
        Thing::OfBlock(name) => {
            let line = cursor::line_of_block(snapshot, line, &name.text)?;
            Place {
                line,
                span: snapshot.name_span(line),
            }
        }
        Thing::Own(span) => Place {
            line: line.id(),
            span,
        },
        Thing::Unit(_) | Thing::BuiltIn(..) => return None,
    };
    Some(Target {
        file: snapshot.file_of(place.line)?,
        range: snapshot.range(place)?,
    })
}
