//! Places of one logical line, worked out once for all that stands in it.

use haunch_calc::{LineView, Snapshot};
use haunch_text::{Position, Range, Span, split_lines};

/// Where the physical lines of a logical line start.
pub(crate) struct LinePlaces {
    first: u32,
    starts: Vec<u32>,
}

impl LinePlaces {
    /// Those of a line; none if the line is of another view.
    pub(crate) fn of(snapshot: &Snapshot, line: LineView<'_>) -> Option<LinePlaces> {
        let first = snapshot.first_physical(line.id())?;
        let mut starts = Vec::with_capacity(line.height());
        let mut start = 0;
        for physical in split_lines(line.text()).take(line.height()) {
            starts.push(start);
            start += physical.len() as u32;
        }
        Some(LinePlaces {
            first: first as u32,
            starts,
        })
    }

    fn position(&self, offset: u32) -> Position {
        let part = self.starts.partition_point(|&start| start <= offset).max(1) - 1;
        let start = self.starts.get(part).copied().unwrap_or(0);
        Position {
            line: self.first + part as u32,
            column: offset - start,
        }
    }

    /// The stretch of the file that a span of the line is.
    pub(crate) fn range(&self, span: Span) -> Range {
        Range {
            start: self.position(span.start),
            end: self.position(span.end),
        }
    }
}
