//! The words that may open a line, by the block that the line belongs to, and the words that follow them.

use haunch_syntax::BlockKind;

/// A word and what it is for.
pub(crate) type Word = (&'static str, &'static str);

/// Words that open a line in the first column.
pub(crate) const FILE: &[Word] = &[
    ("section", "a cross section of parts"),
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
];

/// Words that open a line under a heading, fields left out.
pub(crate) fn of_block(kind: BlockKind) -> &'static [Word] {
    match kind {
        BlockKind::Sheet => &[],
        BlockKind::Material => &[LIMIT],
        BlockKind::Section => &[
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
            ("triangle", "base x height, apex from the left"),
            ("quarter fillet", "fills a corner: radius"),
            ("polygon", "corners one after the other"),
            ("rolled", "a rolled size by its designation"),
            ("deduct", "removes the shape from the parts"),
            ("point", "a place whose stress matters"),
        ],
        BlockKind::Forces => &[LIMIT],
        BlockKind::Beam => &[
            ("support", "pin, roller or fixed, at a place"),
            ("load", "a load of a load case"),
            ("combination", "a sum of factored load cases"),
            LIMIT,
        ],
    }
}

const LIMIT: Word = ("limit", "what must not be exceeded");

/// Words that follow a word of the notation.
pub(crate) fn after(word: &str) -> &'static [Word] {
    match word {
        "limit" => &[
            ("tension", "tensile stress"),
            ("compression", "compressive stress"),
            ("shear", "shear stress"),
            ("von_mises", "normal and shear stress together"),
            ("principal_stress_1", "the greater principal stress"),
            ("principal_stress_2", "the lesser principal stress"),
            ("deflection", "movement across the member"),
            ("reaction", "push of a support"),
            ("uplift", "pull of a support"),
        ],
        "support" => &[
            ("pin", "holds both ways, turns freely"),
            ("roller", "holds across the member"),
            ("fixed", "holds and does not turn"),
        ],
        "deduct" => &[("rect", "a rectangle"), ("circle", "a full circle")],
        "flush" => &[
            ("left", "left edges in line"),
            ("right", "right edges in line"),
            ("top", "top edges in line"),
            ("bottom", "bottom edges in line"),
        ],
        _ => &[],
    }
}

/// Words that place a part.
pub(crate) const PART_PLACES: &[Word] = &[
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
pub(crate) const BEAM_PLACES: &[Word] = &[
    ("at", "at a place"),
    ("start", "where the beam starts"),
    ("middle", "half way along"),
    ("end", "where the beam ends"),
    ("throughout", "over the whole length"),
    ("on span", "on one span, by its number"),
    ("on any spans", "on whichever spans are worst"),
    ("from", "from a place"),
    ("to", "to a place"),
    ("self weight", "from the section and its density"),
    ("tributary", "the width that a pressure is collected from"),
    ("clockwise", "sense of a couple"),
    ("anticlockwise", "sense of a couple"),
    ("top warmer", "sense of a temperature difference"),
    ("bottom warmer", "sense of a temperature difference"),
    ("up", "against gravity"),
    ("as", "a name for it"),
];
