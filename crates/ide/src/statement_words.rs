//! What the words of the notation are for. Which words may stand where is the notation's own list, so far as
//! it has one; the words that place something are listed here, and a test holds that all are words of it.

use haunch_calc::blocks::{limit_words, support_words};
use haunch_syntax::{BlockKind, words};

/// A word and what it is for.
pub(crate) type Word = (String, &'static str);

/// The words that may open a line in the first column, or under a heading, fields left out.
pub(crate) fn opening(block: Option<BlockKind>) -> Vec<Word> {
    described(words::opening(block))
}

fn described(words: Vec<String>) -> Vec<Word> {
    let described = words.into_iter().map(|word| {
        let meaning = MEANINGS.iter().find(|(known, _)| *known == word);
        let meaning = meaning.map_or("", |(_, meaning)| *meaning);
        (word, meaning)
    });
    described.collect()
}

fn listed(words: &[(&str, &'static str)]) -> Vec<Word> {
    words
        .iter()
        .map(|(word, meaning)| ((*word).to_owned(), *meaning))
        .collect()
}

const MEANINGS: &[(&str, &str)] = &[
    (
        "section",
        "a cross section of parts; in a beam, another one along a stretch",
    ),
    ("material", "stiffness, density and allowable stresses"),
    ("forces", "forces on a section, without a beam"),
    ("beam", "supports, loads and limits along a member"),
    ("sheet", "title, member and revision for the printed sheet"),
    ("note", "words for the printed sheet"),
    ("results in", "the units and digits of results"),
    ("use", "names of another file"),
    ("verify", "a comparison that must hold"),
    ("expect", "an independent value to compare with"),
    ("answer", "a final result"),
    ("allow", "silences a finding"),
    ("limit", "what must not be exceeded"),
    ("rect", "a rectangle: breadth x height"),
    ("circle", "a full circle: diameter"),
    ("round tube", "a tube: diameter x thickness"),
    ("box tube", "a hollow rectangle: breadth x height x wall"),
    ("I shape", "breadth x height x web x flange"),
    ("tee", "flange on top: breadth x height x web x flange"),
    (
        "channel",
        "web on the left: breadth x height x web x flange",
    ),
    (
        "angle",
        "heel lower left: level leg x upright leg x thickness",
    ),
    (
        "zed",
        "flanges to both sides: breadth x height x web x flange",
    ),
    ("triangle", "base x height, apex from the left"),
    ("trapezium", "breadth at the bottom x at the top x height"),
    ("ellipse", "breadth x height"),
    ("quarter fillet", "fills a corner: radius"),
    ("polygon", "corners one after the other"),
    ("rolled", "a rolled size by its designation"),
    ("deduct", "removes the shape from the parts"),
    ("point", "a place whose stress matters"),
    ("support", "pin, roller or fixed, at a place"),
    ("hinge", "carries no moment"),
    ("load", "a load of a load case"),
    ("combination", "a sum of factored load cases"),
    ("tension", "tensile stress"),
    ("compression", "compressive stress"),
    ("von_mises", "normal and shear stress together"),
    ("principal_stress_1", "the greater principal stress"),
    (
        "principal_stress_2",
        "the lesser principal stress, in compression",
    ),
    ("deflection", "movement across the member"),
    ("reaction", "push of a support"),
    ("uplift", "pull of a support"),
    ("shear", "shear stress"),
    ("pin", "holds both ways, turns freely"),
    ("roller", "holds across the member"),
    ("fixed", "holds and does not turn"),
    ("spring", "gives way by its stiffness"),
];

/// Words that follow a word of the notation, in a block of a kind.
pub(crate) fn after(word: &str, block: Option<BlockKind>) -> Vec<Word> {
    let owned = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect();
    match word {
        "deduct" => described(words::shapes()),
        "support" => described(owned(support_words())),
        "limit" => {
            let limits = limit_words(block.unwrap_or(BlockKind::Beam));
            described(
                limits
                    .into_iter()
                    .map(|(word, _)| word.to_owned())
                    .collect(),
            )
        }
        "flush" => listed(EDGES),
        _ => Vec::new(),
    }
}

/// Words that follow a word of a limit's line, in a block of a kind.
pub(crate) fn in_limit(word: &str, block: Option<BlockKind>) -> Vec<Word> {
    match (word, block) {
        ("for", Some(BlockKind::Material)) => listed(&[("thickness up to", THICKNESS)]),
        ("thickness", Some(BlockKind::Material)) => listed(&[("up to", THICKNESS)]),
        ("deflection", Some(BlockKind::Beam)) => listed(&[
            ("sideways", "across the upright plane, to either side"),
            ("on span", "on one span, by its number"),
        ]),
        ("reaction" | "uplift", Some(BlockKind::Beam)) => {
            listed(&[("at", "at one support, by its name or place")])
        }
        _ => Vec::new(),
    }
}

const THICKNESS: &str = "the thickest wall for which the bound is meant";

/// Words after the bound of a limit, and what the bound may be a share of.
pub(crate) fn limit_places(block: BlockKind) -> Vec<Word> {
    match block {
        BlockKind::Material => listed(&[("for thickness up to", THICKNESS)]),
        BlockKind::Beam => listed(&[
            (
                "span",
                "the length of the span; of an overhang twice its length",
            ),
            ("under", "under one combination only"),
        ]),
        _ => Vec::new(),
    }
}

const EDGES: &[(&str, &str)] = &[
    ("left", "left edges in line"),
    ("right", "right edges in line"),
    ("top", "top edges in line"),
    ("bottom", "bottom edges in line"),
];

/// Words that place a part.
pub(crate) fn part_places() -> Vec<Word> {
    listed(PART_PLACES)
}

const PART_PLACES: &[(&str, &str)] = &[
    ("above", "on top of a part"),
    ("below", "under a part"),
    ("left of", "to the left of a part"),
    ("right of", "to the right of a part"),
    ("in", "inside a part"),
    ("centred on", "middles in line"),
    ("flush", "edges in line"),
    ("inset", "a distance from the edge"),
    ("at", "the lower left corner at (x, y)"),
    ("of", "another material"),
];

/// Words that place a support or a load.
pub(crate) fn beam_places() -> Vec<Word> {
    listed(BEAM_PLACES)
}

const BEAM_PLACES: &[(&str, &str)] = &[
    ("at", "at a place"),
    ("start", "where the beam starts"),
    ("middle", "half way along"),
    ("end", "where the beam ends"),
    ("throughout", "over the whole length"),
    ("on span", "on one span, by its number"),
    ("on any spans", "on whichever spans are worst"),
    ("moving", "wheels anywhere along the beam"),
    ("one way", "wheels that do not turn round"),
    ("moving", "wheels that may stand anywhere"),
    ("one way", "wheels in the order of the line only"),
    ("from", "from a place"),
    ("to", "to a place"),
    ("self weight", "from the section and its density"),
    ("tributary", "the width that a pressure is collected from"),
    ("clockwise", "sense of a couple"),
    ("anticlockwise", "sense of a couple"),
    ("top warmer", "sense of a temperature difference"),
    ("bottom warmer", "sense of a temperature difference"),
    ("up", "against gravity"),
    ("leftwards", "sideways, to the section's left"),
    ("rightwards", "sideways, to the section's right"),
    ("sideways", "holds sideways only"),
    ("as", "a name for it"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_is_one_of_the_notation_and_is_described() {
        let listed = PART_PLACES.iter().chain(BEAM_PLACES).chain(EDGES);
        for word in listed.flat_map(|(words, _)| words.split(' ')) {
            assert!(words::is_word(word), "{word}");
        }
        for block in BlockKind::ALL {
            let words = ["for", "thickness", "deflection", "reaction"];
            let following = words.map(|word| in_limit(word, Some(block))).concat();
            let all = following.into_iter().chain(limit_places(block));
            // `span` is a name that a limit knows.
            for (words, _) in all.filter(|(word, _)| word != "span") {
                assert!(words.split(' ').all(words::is_word), "{words}");
            }
        }
        for block in [None].into_iter().chain(BlockKind::ALL.map(Some)) {
            let following = ["deduct", "support", "limit"].map(|word| after(word, block));
            for (word, meaning) in opening(block).into_iter().chain(following.concat()) {
                assert!(!meaning.is_empty(), "{word}");
            }
        }
    }
}
