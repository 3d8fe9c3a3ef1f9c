//! Whether a line belongs to the block above it.

use crate::keyword::Keyword;
use crate::tree::{Statement, SyntaxErrorKind, Tree};

impl Tree {
    /// Whether the line belongs to the block above: it is indented, it begins as only a line of a block can, or it
    /// is the mark of a merge, which may stand in the midst of one.
    pub fn belongs_to_block(&self) -> bool {
        self.indented || self.is_conflict_marker() || begins_as_line_of_block(&self.statement)
    }

    /// Whether the line is the mark of a merge.
    pub fn is_conflict_marker(&self) -> bool {
        let mut errors = self.errors.iter();
        errors.any(|error| error.kind == SyntaxErrorKind::ConflictMarker)
    }
}

fn begins_as_line_of_block(statement: &Statement) -> bool {
    match statement {
        Statement::Limit(_)
        | Statement::Part(_)
        | Statement::Point(_)
        | Statement::Support(_)
        | Statement::Hinge(_)
        | Statement::SectionStretch(_)
        | Statement::Load(_)
        | Statement::Combination(_) => true,
        Statement::Broken {
            keyword: Some(keyword),
            name,
            ..
        } => {
            // `load = 3 kN +` was to be a value.
            let is_value = name.as_ref().is_some_and(|name| name.span == keyword.span);
            !is_value && Keyword::of(&keyword.text).is_some_and(Keyword::is_of_block)
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use crate::tests::read;

    #[test]
    fn lines_of_a_block() {
        for line in [
            "    length = 3 m",
            "rect web 8 x 140 mm",
            "rect web 8 x",
            "deduct circle bore",
            "load dead 3 kN",
            "section tail from 1 m to 2 m",
            "=======",
        ] {
            assert!(read(line).belongs_to_block(), "{line}");
        }
        for line in [
            "length = 3 m",
            "load = 3 kN +",
            "section tail of",
            "sektion tail",
            "# rect",
            "",
            "note rect web 8 x 140 mm",
        ] {
            assert!(!read(line).belongs_to_block(), "{line}");
        }
    }
}
