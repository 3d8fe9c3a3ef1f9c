//! The words of the notation by the place where they stand, for those who propose them.

use crate::keyword::{Keyword, SHAPES, TWO_WORDS};
use crate::tree::BlockKind;

/// The words that open a line: in the first column, or under a heading. Fields of a block are not among them.
pub fn opening(block: Option<BlockKind>) -> Vec<String> {
    use Keyword::{
        Allow, Answer, Beam, Combination, Deduct, Expect, Forces, Hinge, Limit, Load, Material,
        Note, Point, Section, Sheet, Support, Use, Verify,
    };
    let keywords: &[Keyword] = match block {
        None => &[
            Section, Material, Forces, Beam, Sheet, Note, Use, Verify, Expect, Answer, Allow,
        ],
        Some(BlockKind::Sheet) => &[],
        Some(BlockKind::Material | BlockKind::Forces) => &[Limit],
        Some(BlockKind::Section) => &[Deduct, Point],
        Some(BlockKind::Beam) => &[Support, Hinge, Section, Load, Combination, Limit],
    };
    let mut words: Vec<String> = keywords.iter().map(|word| word.text().to_owned()).collect();
    match block {
        None => words.push(format!(
            "{} {}",
            Keyword::Results.text(),
            Keyword::In.text()
        )),
        Some(BlockKind::Section) => words.extend(shapes()),
        Some(_) => {}
    }
    words
}

/// The shapes of parts.
pub fn shapes() -> Vec<String> {
    let one = SHAPES.iter().chain(&[Keyword::Polygon, Keyword::Rolled]);
    let two = TWO_WORDS
        .iter()
        .map(|(first, second)| format!("{} {}", first.text(), second.text()));
    one.map(|word| word.text().to_owned()).chain(two).collect()
}

/// Whether a word has a meaning anywhere in the notation.
pub fn is_word(word: &str) -> bool {
    Keyword::of(word).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_statement_opens_a_line_somewhere() {
        let everywhere = [None]
            .into_iter()
            .chain(BlockKind::ALL.map(Some))
            .flat_map(opening);
        let first: Vec<String> = everywhere
            .filter_map(|words| words.split(' ').next().map(str::to_owned))
            .collect();
        for keyword in Keyword::statements() {
            assert!(
                first.iter().any(|word| word == keyword.text()),
                "{}",
                keyword.text()
            );
        }
    }
}
