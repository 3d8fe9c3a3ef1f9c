//! The words of the notation. Only six are reserved; every other one is a keyword by its place and
//! may be a name elsewhere.

macro_rules! keywords {
    ($($variant:ident $text:literal)*) => {
        /// A word of the notation.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(crate) enum Keyword {
            $(#[doc = concat!("`", $text, "`")] $variant,)*
        }

        impl Keyword {
            const ALL: &'static [Keyword] = &[$(Keyword::$variant,)*];

            /// The keyword that a word spells.
            pub(crate) fn of(word: &str) -> Option<Keyword> {
                match word {
                    $($text => Some(Keyword::$variant),)*
                    _ => None,
                }
            }

            /// The word that a label shows; none where it shows something else.
            pub(crate) fn words_of_label(label: &str) -> &'static [&'static str] {
                $(if label == concat!("`", $text, "`") {
                    return &[$text];
                })*
                &[]
            }

            /// The word.
            pub(crate) fn text(self) -> &'static str {
                match self { $(Keyword::$variant => $text,)* }
            }

            /// The word between backticks, as messages show it.
            pub(crate) fn label(self) -> &'static str {
                match self { $(Keyword::$variant => concat!("`", $text, "`"),)* }
            }
        }
    };
}

keywords! {
    If "if" Then "then" Else "else" And "and" Or "or" Not "not"
    Sheet "sheet" Material "material" Section "section" Forces "forces" Beam "beam"
    Note "note" Results "results" Use "use" Allow "allow"
    Verify "verify" Expect "expect" Answer "answer" Limit "limit"
    Deduct "deduct" Point "point"
    Support "support" Hinge "hinge" Load "load" Combination "combination"
    Rect "rect" Circle "circle" Round "round" Box "box" Tube "tube" Triangle "triangle"
    Polygon "polygon" Tee "tee" Channel "channel" Angle "angle" Trapezium "trapezium"
    Ellipse "ellipse" Zed "zed" I "I" Shape "shape" Quarter "quarter" Fillet "fillet"
    Rolled "rolled"
    Root "root" Toe "toe" Corner "corner" Inner "inner" Taper "taper" Apex "apex"
    Turned "turned" Mirrored "mirrored" Sideways "sideways" Upside "upside" Down "down"
    In "in" Of "of" On "on" As "as" For "for" Within "within" Under "under" To "to" From "from"
    At "at" X "x" Any "any" Digits "digits"
    Largest "largest" Smallest "smallest" Step "step" Thickness "thickness"
    Above "above" Below "below" Left "left" Right "right" Top "top" Bottom "bottom"
    Centred "centred" Flush "flush" Inset "inset"
    Pin "pin" Roller "roller" Fixed "fixed"
    Start "start" Middle "middle" End "end" Throughout "throughout" Span "span" Spans "spans"
    Self_ "self" Weight "weight" Up "up" Leftwards "leftwards" Rightwards "rightwards"
    Tributary "tributary" Moving "moving" One "one" Way "way"
    Tension "tension" Compression "compression" Sagging "sagging" Hogging "hogging"
    Clockwise "clockwise" Anticlockwise "anticlockwise" Warmer "warmer"
}

/// Shapes of one word. Some are read here before they can be computed, so that the finding is about
/// the shape and not about a word.
pub(crate) const SHAPES: &[Keyword] = &[
    Keyword::Rect,
    Keyword::Circle,
    Keyword::Triangle,
    Keyword::Tee,
    Keyword::Channel,
    Keyword::Angle,
    Keyword::Trapezium,
    Keyword::Ellipse,
    Keyword::Zed,
];

/// Shapes of two words: `round tube`, `I shape`.
pub(crate) const TWO_WORDS: &[(Keyword, Keyword)] = &[
    (Keyword::Round, Keyword::Tube),
    (Keyword::Box, Keyword::Tube),
    (Keyword::I, Keyword::Shape),
    (Keyword::Quarter, Keyword::Fillet),
];

/// The words after the sizes of a part that give it more sizes: `root 12 mm`.
pub(crate) const DETAILS: &[Keyword] = &[
    Keyword::Root,
    Keyword::Toe,
    Keyword::Corner,
    Keyword::Inner,
    Keyword::Taper,
    Keyword::Apex,
    Keyword::Bottom,
];

/// The words that start a statement.
const STATEMENTS: &[Keyword] = &[
    Keyword::Sheet,
    Keyword::Material,
    Keyword::Section,
    Keyword::Forces,
    Keyword::Beam,
    Keyword::Note,
    Keyword::Results,
    Keyword::Use,
    Keyword::Allow,
    Keyword::Verify,
    Keyword::Expect,
    Keyword::Answer,
    Keyword::Limit,
    Keyword::Deduct,
    Keyword::Point,
    Keyword::Support,
    Keyword::Hinge,
    Keyword::Load,
    Keyword::Combination,
    Keyword::Polygon,
];

impl Keyword {
    /// Whether the word can never be a name.
    pub(crate) fn is_reserved(self) -> bool {
        use Keyword::{And, Else, If, Not, Or, Then};
        matches!(self, If | Then | Else | And | Or | Not)
    }

    /// Whether the word starts a block.
    pub(crate) fn is_heading(self) -> bool {
        use Keyword::{Beam, Forces, Material, Section, Sheet};
        matches!(self, Sheet | Material | Section | Forces | Beam)
    }

    /// Whether the word starts a part of a section.
    pub(crate) fn is_shape(self) -> bool {
        SHAPES.contains(&self)
            || TWO_WORDS.iter().any(|(first, _)| *first == self)
            || matches!(self, Keyword::Polygon | Keyword::Rolled)
    }

    /// Whether the word starts a line that only a block can have.
    pub(crate) fn is_of_block(self) -> bool {
        use Keyword::{Combination, Deduct, Hinge, Limit, Load, Point, Support};
        self.is_shape()
            || matches!(
                self,
                Limit | Deduct | Point | Support | Hinge | Load | Combination
            )
    }

    /// The second word of a shape of two words, by its first.
    pub(crate) fn second_of_shape(self) -> Option<Keyword> {
        let mut shapes = TWO_WORDS.iter();
        let found = shapes.find(|(first, _)| *first == self)?;
        Some(found.1)
    }

    /// Whether the word starts a statement.
    pub(crate) fn is_statement(self) -> bool {
        STATEMENTS.contains(&self) || self.is_shape()
    }

    /// Every word of the notation that starts a statement.
    pub(crate) fn statements() -> impl Iterator<Item = Keyword> {
        Keyword::ALL.iter().copied().filter(|k| k.is_statement())
    }
}

/// The candidates that differ least from a word, at most two letters and less than half of it, the
/// nearest first.
pub(crate) fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let letters: Vec<char> = word.chars().take(MAXIMUM_LETTERS + 1).collect();
    if letters.len() > MAXIMUM_LETTERS {
        return Vec::new();
    }
    let mut found: Vec<(usize, &str)> = candidates
        .map(|candidate| (distance(&letters, candidate), candidate))
        .filter(|&(distance, candidate)| {
            distance <= 2 && 2 * distance < letters.len().max(candidate.len())
        })
        .collect();
    found.sort();
    found.truncate(3);
    found.into_iter().map(|(_, candidate)| candidate).collect()
}

/// No word of the notation is longer than this by more than two letters.
const MAXIMUM_LETTERS: usize = 16;

/// How many letters must be put in, left out, changed or swapped with their neighbour.
fn distance(word: &[char], candidate: &str) -> usize {
    let candidate: Vec<char> = candidate.chars().collect();
    let width = candidate.len() + 1;
    let mut rows = vec![(0..width).collect::<Vec<usize>>()];
    for (i, letter) in word.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, other) in candidate.iter().enumerate() {
            let changed = rows[i][j] + usize::from(letter != other);
            let mut best = changed.min(rows[i][j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *letter == candidate[j - 1] && word[i - 1] == *other {
                best = best.min(rows[i - 1][j - 1] + 1);
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows[word.len()][width - 1]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn statement(word: &str) -> Vec<&'static str> {
        nearest(word, Keyword::statements().map(Keyword::text))
    }

    #[test]
    fn a_slip_of_the_fingers_is_near() {
        assert_eq!(statement("rct"), ["rect"]);
        assert_eq!(statement("laod"), ["load"]);
        assert_eq!(statement("suport"), ["support"]);
        assert_eq!(statement("Section"), ["section"]);
        assert!(statement("q").is_empty());
        assert!(statement("bridge").is_empty());
    }

    #[test]
    fn every_word_is_found_by_its_text() {
        for &keyword in Keyword::ALL {
            assert_eq!(Keyword::of(keyword.text()), Some(keyword));
        }
    }
}
