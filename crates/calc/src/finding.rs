//! A finding is data: what is wrong, where, in an engineer's words, and how to mend it. Renderers
//! in the outer crates turn it into squiggles, terminal lines or JSON.

use haunch_text::Span;

use crate::line::LineId;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The line, or what depends on it, has no trustworthy result.
    Error,
    /// The result stands, but something is likely not meant.
    Warning,
    /// Worth knowing.
    Information,
}

/// A finding's code: kebab-case words, never a number.
#[derive(Debug)]
pub struct Code {
    /// The code as it is written in `allow`.
    pub name: &'static str,
    /// Its severity.
    pub severity: Severity,
    /// One line that says what it means.
    pub summary: &'static str,
    /// Its page, in the layout of [`Page`](crate::page::Page).
    pub page: &'static str,
}

impl PartialEq for Code {
    fn eq(&self, other: &Code) -> bool {
        self.name == other.name
    }
}

/// A stretch of a logical line. Line numbers are worked out when asked for, so that an edit
/// elsewhere leaves a finding as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// The logical line.
    pub line: LineId,
    /// Bytes from the line's start.
    pub span: Span,
}

/// Something wrong, or worth knowing.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The kind of finding.
    pub code: &'static Code,
    /// How much it matters; the code's own severity.
    pub severity: Severity,
    /// The exact place.
    pub place: Place,
    /// What is wrong and what to do, with units.
    pub message: String,
    /// Other places that explain it, such as the dimension of each operand.
    pub related: Vec<Related>,
    /// Edits that would mend it, best first.
    pub repairs: Vec<Repair>,
    /// The name that the finding is about, for `allow CODE for NAME`.
    pub name: Option<String>,
}

/// A place that explains a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Related {
    /// Where.
    pub place: Place,
    /// What is there.
    pub message: String,
}

/// Edits that mend a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// What it does.
    pub title: String,
    /// Replacements, none overlapping.
    pub edits: Vec<(Place, String)>,
}

impl Finding {
    /// A finding of `code` at `place`.
    pub fn new(code: &'static Code, place: Place, message: impl Into<String>) -> Finding {
        Finding {
            code,
            severity: code.severity,
            place,
            message: message.into(),
            related: Vec::new(),
            repairs: Vec::new(),
            name: None,
        }
    }

    /// Adds a related place.
    #[must_use]
    pub fn with_related(mut self, place: Place, message: impl Into<String>) -> Finding {
        self.related.push(Related {
            place,
            message: message.into(),
        });
        self
    }

    /// Adds a repair of one replacement.
    #[must_use]
    pub fn with_repair(
        mut self,
        title: impl Into<String>,
        place: Place,
        text: impl Into<String>,
    ) -> Finding {
        self.repairs.push(Repair {
            title: title.into(),
            edits: vec![(place, text.into())],
        });
        self
    }

    /// Says which name the finding is about.
    #[must_use]
    pub fn about(mut self, name: impl Into<String>) -> Finding {
        self.name = Some(name.into());
        self
    }
}
