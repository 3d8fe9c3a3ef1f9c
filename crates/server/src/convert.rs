//! Between the places of the core and those of the protocol.

use haunch_calc::{FileId, Place};
use haunch_text::{Position, Range, column_from_encoding, column_to_encoding, content};
use tower_lsp::lsp_types::{self, Location, Url};

use crate::address::{path_of, uri_of};
use crate::world::View;

impl View {
    /// The file of a document, if the core has it.
    pub(crate) fn file(&self, uri: &Url) -> Option<FileId> {
        self.snapshot.file(&path_of(uri))
    }

    /// The address of a file: the client's own where it is open.
    pub(crate) fn uri(&self, file: FileId) -> Option<Url> {
        let path = self.snapshot.path(file);
        match self.titles.get(path) {
            Some(title) => Some(title.uri.clone()),
            None => uri_of(path),
        }
    }

    /// A position of the client as one of the core.
    pub(crate) fn position_in(&self, file: FileId, position: lsp_types::Position) -> Position {
        let line = content(self.snapshot.physical_line(file, position.line as usize));
        Position {
            line: position.line,
            column: column_from_encoding(line, position.character, self.encoding),
        }
    }

    /// A range of the client as one of the core.
    pub(crate) fn range_in(&self, file: FileId, range: lsp_types::Range) -> Range {
        Range {
            start: self.position_in(file, range.start),
            end: self.position_in(file, range.end),
        }
    }

    /// A position of the core as one of the client.
    pub(crate) fn position(&self, file: FileId, position: Position) -> lsp_types::Position {
        let line = content(self.snapshot.physical_line(file, position.line as usize));
        lsp_types::Position {
            line: position.line,
            character: column_to_encoding(line, position.column, self.encoding),
        }
    }

    /// A range of the core as one of the client.
    pub(crate) fn range(&self, file: FileId, range: Range) -> lsp_types::Range {
        lsp_types::Range {
            start: self.position(file, range.start),
            end: self.position(file, range.end),
        }
    }

    /// A place of the core as a location of the client.
    pub(crate) fn location(&self, place: Place) -> Option<Location> {
        let file = self.snapshot.file_of(place.line)?;
        let range = self.snapshot.range(place)?;
        Some(Location {
            uri: self.uri(file)?,
            range: self.range(file, range),
        })
    }
}
