/// A stretch of bytes, `start..end`, in some text that the context names (most often a line).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The stretch `start..end`. An end before the start gives an empty span at the start.
    pub fn new(start: usize, end: usize) -> Span {
        let start = clamp(start);
        Span {
            start,
            end: clamp(end).max(start),
        }
    }

    /// An empty span.
    pub fn empty(at: usize) -> Span {
        Span::new(at, at)
    }

    /// The smallest span that covers both.
    pub fn cover(self, other: Span) -> Span {
        Span {
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// Whether the offset is inside or at either end.
    pub fn touches(self, offset: u32) -> bool {
        self.start <= offset && offset <= self.end
    }

    /// Whether `other` lies wholly inside.
    pub fn contains(self, other: Span) -> bool {
        self.start <= other.start && other.end <= self.end
    }

    /// The number of bytes.
    pub fn len(self) -> u32 {
        self.end - self.start
    }

    /// Whether it has no bytes.
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }

    /// The text under the span; empty where the span does not fit the text.
    pub fn text(self, source: &str) -> &str {
        source
            .get(self.start as usize..self.end as usize)
            .unwrap_or("")
    }

    /// The span moved to the right by `offset` bytes.
    pub fn shifted(self, offset: u32) -> Span {
        Span {
            start: self.start.saturating_add(offset),
            end: self.end.saturating_add(offset),
        }
    }

    /// As a range of indices.
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}

fn clamp(offset: usize) -> u32 {
    u32::try_from(offset).unwrap_or(u32::MAX)
}

/// A place in a file: line number and byte column, both from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Position {
    /// Physical line, from 0.
    pub line: u32,
    /// Byte in the line, from 0.
    pub column: u32,
}

/// A stretch of a file, `start..end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Range {
    /// First place.
    pub start: Position,
    /// One past the last place.
    pub end: Position,
}

#[cfg(test)]
mod tests {
    use super::Span;

    #[test]
    fn a_reversed_span_is_empty() {
        assert!(Span::new(5, 3).is_empty());
    }

    #[test]
    fn text_outside_the_source_is_empty() {
        assert_eq!(Span::new(2, 9).text("abc"), "");
        assert_eq!(Span::new(1, 2).text("é"), "");
    }
}
