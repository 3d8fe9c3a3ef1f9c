//! Every unit word, one row each.
//!
//! To add a unit, add a row to [`UNIT_WORDS`]: its spelling, its exact factor, its dimension, the
//! system it belongs to, words for a hover, and the source of the factor. Nothing else changes:
//! the lexer, completion, checking and display all read this table. A single letter is not added
//! lightly, since it takes a short name away from everybody's formulas.

use std::sync::LazyLock;

use rustc_hash::FxHashMap;

use crate::dimension::Dimension;
use crate::factor::Factor;

/// The family that a unit belongs to, which decides the units of results where a file lists none
/// that fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UnitSystem {
    /// The International System of Units and what is used with it.
    International,
    /// United States customary units.
    UsCustomary,
}

/// A row of the unit table.
#[derive(Debug, PartialEq, Eq)]
pub struct UnitWord {
    /// How it is written in a file.
    pub spelling: &'static str,
    /// Its size in coherent SI units, exact.
    pub factor: Factor,
    /// Its dimension.
    pub dimension: Dimension,
    /// The family it belongs to.
    pub system: UnitSystem,
    /// What it is, for people.
    pub description: &'static str,
    /// Where the factor comes from.
    pub source: &'static str,
}

const SI_BASE: &str = "SI Brochure, 9th edition (2019), table 2 (base units)";
const SI_DERIVED: &str =
    "SI Brochure, 9th edition (2019), table 4 (derived units) and table 7 (prefixes)";
const SI_PREFIX: &str = "SI Brochure, 9th edition (2019), table 7 (prefixes)";
const SI_ACCEPTED: &str =
    "SI Brochure, 9th edition (2019), table 8 (units accepted for use with the SI)";
const SI_PERCENT: &str = "SI Brochure, 9th edition (2019), section 5.4.7 (% is the number 0.01)";
const PER_MILLE: &str = "ISO 80000-1:2009, 6.5 (‰ is the number 0.001; from memory)";
const SP_811: &str = "NIST SP 811 (2008), appendix B.8, exact";
const SP_811_DERIVED: &str = "exact consequence of the foot, the pound and the standard acceleration of free fall, NIST SP 811 (2008), appendix B.8";

const INCH: Factor = Factor::decimal(254, -4);
const FOOT: Factor = Factor::decimal(3048, -4);
const POUND: Factor = Factor::decimal(45_359_237, -8);
const FREE_FALL: Factor = Factor::decimal(980_665, -5);
const POUND_FORCE: Factor = POUND.times(FREE_FALL);
const KIP: Factor = POUND_FORCE.times(Factor::decimal(1, 3));
const DEGREE: Factor = Factor::PI.per(Factor::decimal(180, 0), 1);

macro_rules! unit_words {
    ($($spelling:literal $factor:expr, $dimension:ident $system:ident $description:literal $source:ident;)*) => {
        &[$(UnitWord {
            spelling: $spelling,
            factor: $factor,
            dimension: Dimension::$dimension,
            system: UnitSystem::$system,
            description: $description,
            source: $source,
        }),*]
    };
}

#[rustfmt::skip]
static UNIT_WORDS: &[UnitWord] = unit_words! {
    // length
    "m"     Factor::ONE,             LENGTH International "metre" SI_BASE;
    "um"    Factor::decimal(1, -6),  LENGTH International "micrometre" SI_PREFIX;
    "\u{b5}m" Factor::decimal(1, -6), LENGTH International "micrometre" SI_PREFIX;
    "\u{3bc}m" Factor::decimal(1, -6), LENGTH International "micrometre" SI_PREFIX;
    "mm"    Factor::decimal(1, -3),  LENGTH International "millimetre" SI_PREFIX;
    "cm"    Factor::decimal(1, -2),  LENGTH International "centimetre" SI_PREFIX;
    "dm"    Factor::decimal(1, -1),  LENGTH International "decimetre" SI_PREFIX;
    "km"    Factor::decimal(1, 3),   LENGTH International "kilometre" SI_PREFIX;
    "in"    INCH,                    LENGTH UsCustomary "inch (25.4 mm)" SP_811;
    "ft"    FOOT,                    LENGTH UsCustomary "foot (12 in)" SP_811;
    "yd"    Factor::decimal(9144, -4), LENGTH UsCustomary "yard (3 ft)" SP_811;

    // force
    "N"     Factor::ONE,             FORCE International "newton" SI_DERIVED;
    "kN"    Factor::decimal(1, 3),   FORCE International "kilonewton" SI_DERIVED;
    "MN"    Factor::decimal(1, 6),   FORCE International "meganewton" SI_DERIVED;
    "kgf"   FREE_FALL,               FORCE International "kilogram-force (the weight of 1 kg, 9.80665 N)" SP_811;
    "lbf"   POUND_FORCE,             FORCE UsCustomary "pound-force (the weight of 1 lb)" SP_811_DERIVED;
    "kip"   KIP,                     FORCE UsCustomary "kip (1000 lbf)" SP_811_DERIVED;

    // stress and pressure
    "Pa"    Factor::ONE,             STRESS International "pascal (N/m²)" SI_DERIVED;
    "kPa"   Factor::decimal(1, 3),   STRESS International "kilopascal (kN/m²)" SI_DERIVED;
    "MPa"   Factor::decimal(1, 6),   STRESS International "megapascal (N/mm²)" SI_DERIVED;
    "GPa"   Factor::decimal(1, 9),   STRESS International "gigapascal (kN/mm²)" SI_DERIVED;
    "bar"   Factor::decimal(1, 5),   STRESS International "bar (100 kPa)" SP_811;
    "psi"   POUND_FORCE.per(INCH, 2), STRESS UsCustomary "pound-force per square inch" SP_811_DERIVED;
    "ksi"   KIP.per(INCH, 2),        STRESS UsCustomary "kip per square inch" SP_811_DERIVED;
    "psf"   POUND_FORCE.per(FOOT, 2), STRESS UsCustomary "pound-force per square foot" SP_811_DERIVED;
    "ksf"   KIP.per(FOOT, 2),        STRESS UsCustomary "kip per square foot" SP_811_DERIVED;

    // force per length
    "plf"   POUND_FORCE.per(FOOT, 1), FORCE_PER_LENGTH UsCustomary "pound-force per foot" SP_811_DERIVED;
    "klf"   KIP.per(FOOT, 1),        FORCE_PER_LENGTH UsCustomary "kip per foot" SP_811_DERIVED;

    // moment: the pound of these spellings is the pound-force
    "kip-ft" KIP.times(FOOT),        MOMENT UsCustomary "kip foot" SP_811_DERIVED;
    "kip-in" KIP.times(INCH),        MOMENT UsCustomary "kip inch" SP_811_DERIVED;
    "lb-ft" POUND_FORCE.times(FOOT), MOMENT UsCustomary "pound-force foot" SP_811_DERIVED;
    "lb-in" POUND_FORCE.times(INCH), MOMENT UsCustomary "pound-force inch" SP_811_DERIVED;

    // mass
    "kg"    Factor::ONE,             MASS International "kilogram" SI_BASE;
    "g"     Factor::decimal(1, -3),  MASS International "gram" SI_PREFIX;
    "t"     Factor::decimal(1, 3),   MASS International "tonne (1000 kg)" SI_ACCEPTED;
    "tonne" Factor::decimal(1, 3),   MASS International "tonne (1000 kg)" SI_ACCEPTED;
    "lb"    POUND,                   MASS UsCustomary "pound, a mass; as a force write lbf" SP_811;
    "slug"  POUND_FORCE.per(FOOT, 1), MASS UsCustomary "slug (lbf·s²/ft)" SP_811_DERIVED;

    // density
    "pcf"   POUND.per(FOOT, 3),      DENSITY UsCustomary
        "pound per cubic foot, a density; as a force per volume write lbf/ft^3" SP_811_DERIVED;

    // time and temperature
    "s"     Factor::ONE,             TIME International "second" SI_BASE;
    "ms"    Factor::decimal(1, -3),  TIME International "millisecond" SI_PREFIX;
    "Hz"    Factor::ONE,             FREQUENCY International "hertz (cycles per second)" SI_DERIVED;
    "K"     Factor::ONE,             TEMPERATURE International "kelvin, a difference of temperatures" SI_BASE;

    // angle and ratio
    "rad"   Factor::ONE,             RATIO International "radian" SI_DERIVED;
    "mrad"  Factor::decimal(1, -3),  RATIO International "milliradian" SI_DERIVED;
    "deg"   DEGREE,                  RATIO International "degree of angle (π/180)" SI_ACCEPTED;
    "°"     DEGREE,                  RATIO International "degree of angle (π/180)" SI_ACCEPTED;
    "%"     Factor::decimal(1, -2),  RATIO International "percent" SI_PERCENT;
    "‰"     Factor::decimal(1, -3),  RATIO International "per mille (mm per m)" PER_MILLE;
};

static BY_SPELLING: LazyLock<FxHashMap<&'static str, &'static UnitWord>> = LazyLock::new(|| {
    UNIT_WORDS
        .iter()
        .map(|word| (word.spelling, word))
        .collect()
});

/// Every unit word, in the order of the table.
pub fn unit_words() -> impl Iterator<Item = &'static UnitWord> {
    UNIT_WORDS.iter()
}

/// The unit word of this spelling.
pub fn unit_word(spelling: &str) -> Option<&'static UnitWord> {
    BY_SPELLING.get(spelling).copied()
}

/// Whether this spelling is a unit word. Cheap enough for every word of a file.
pub fn is_unit_word(spelling: &str) -> bool {
    BY_SPELLING.contains_key(spelling)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::Unit;
    use std::collections::HashSet;

    #[test]
    fn every_row_parses_and_is_complete() {
        for word in unit_words() {
            let unit = Unit::parse(word.spelling).unwrap();
            assert_eq!(unit.dimension(), word.dimension, "{}", word.spelling);
            assert_eq!(unit.source_text(), word.spelling);
            assert!(word.dimension.name().is_some(), "{}", word.spelling);
            assert!(!word.description.is_empty(), "{}", word.spelling);
            assert!(!word.source.is_empty(), "{}", word.spelling);
        }
    }

    #[test]
    fn no_two_rows_share_a_spelling() {
        let spellings: HashSet<_> = unit_words().map(|word| word.spelling).collect();
        assert_eq!(spellings.len(), unit_words().count());
    }

    #[test]
    fn no_spelling_is_another_with_a_power() {
        for word in unit_words() {
            let last = word.spelling.chars().next_back().unwrap();
            assert!(!last.is_numeric(), "{}", word.spelling);
        }
    }

    #[test]
    fn single_letters_are_few() {
        let letters: Vec<_> = unit_words()
            .map(|word| word.spelling)
            .filter(|spelling| spelling.len() == 1 && *spelling != "%")
            .collect();
        assert_eq!(letters, ["m", "N", "g", "t", "s", "K"]);
    }

    #[test]
    fn lookup() {
        assert!(is_unit_word("kN") && is_unit_word("kip-ft") && is_unit_word("µm"));
        assert!(!is_unit_word("kn") && !is_unit_word("mm2") && !is_unit_word(""));
    }
}
