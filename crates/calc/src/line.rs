//! The identity of files and logical lines.

/// A file of the host. The id of a path stays the same for the host's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A logical line: a physical line with its continuations. Stable under edits elsewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineId(pub u32);
