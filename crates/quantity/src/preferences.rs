//! Which unit a result is given in.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use crate::dimension::Dimension;
use crate::dimension_names::names;
use crate::rational::Rational;
use crate::unit::{Unit, UnitPower};
use crate::unit_table::{UnitSystem, UnitWord, unit_word};

/// How results are given where a line does not say: from `results in mm, kN, kN*m, 4 digits`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Preferences {
    units: Vec<Unit>,
    digits: u8,
    /// The units of the dimensions that have a name, chosen once: choosing costs more than printing.
    chosen: Arc<BTreeMap<Dimension, Unit>>,
}

impl Default for Preferences {
    /// No unit listed, 4 digits.
    fn default() -> Self {
        static USUAL: LazyLock<Preferences> =
            LazyLock::new(|| Preferences::new(Vec::new(), Preferences::USUAL_DIGITS));
        USUAL.clone()
    }
}

impl Preferences {
    /// Significant digits of a result unless told otherwise.
    pub const USUAL_DIGITS: u8 = 4;
    /// The most digits that tell one number from its neighbour.
    pub const MOST_DIGITS: u8 = 17;

    /// The units listed, in order, and the significant digits (taken into 1 to 17).
    pub fn new(units: Vec<Unit>, digits: u8) -> Self {
        let mut preferences = Self {
            units,
            digits: digits.clamp(1, Self::MOST_DIGITS),
            chosen: Arc::default(),
        };
        let named = names().iter().map(|name| name.dimension);
        let chosen = named.map(|dimension| (dimension, preferences.choose(dimension)));
        preferences.chosen = Arc::new(chosen.collect());
        preferences
    }

    /// The units listed.
    pub fn units(&self) -> &[Unit] {
        &self.units
    }

    /// The significant digits of a result.
    pub fn digits(&self) -> u8 {
        self.digits
    }

    /// The unit that a result of this dimension is given in.
    ///
    /// In this order: a unit listed for it; the first of the trade's usual units that is made of
    /// listed words (`kN/m` where kN and m are listed); a power of the listed length; the trade's
    /// usual unit in the family of the listed units; a product of working units. A plain number
    /// gets no unit: a listed `deg` or `%` does not say which numbers are angles.
    pub fn unit_for(&self, dimension: Dimension) -> Unit {
        match self.chosen.get(&dimension) {
            Some(unit) => unit.clone(),
            None => self.choose(dimension),
        }
    }

    fn choose(&self, dimension: Dimension) -> Unit {
        if dimension.is_ratio() {
            return Unit::one();
        }
        let listed = self.units.iter().find(|unit| unit.dimension() == dimension);
        listed
            .cloned()
            .or_else(|| self.power_of_listed_length(dimension))
            .or_else(|| self.usual_unit(dimension))
            .unwrap_or_else(|| compose(dimension, &self.working_words()))
    }

    /// The first listed unit of angle, for results known to be angles.
    pub fn angle_unit(&self) -> Option<&Unit> {
        self.units.iter().find(|unit| {
            matches!(unit.powers(), [power]
                if matches!(power.word.spelling, "deg" | "°" | "rad" | "mrad"))
        })
    }

    /// The family of the listed units: customary if any of them is.
    pub fn system(&self) -> UnitSystem {
        let customary = |unit: &Unit| unit.system() == UnitSystem::UsCustomary;
        if self.units.iter().any(customary) {
            UnitSystem::UsCustomary
        } else {
            UnitSystem::International
        }
    }

    fn usual_unit(&self, dimension: Dimension) -> Option<Unit> {
        let usual = dimension.row()?.usual_units;
        let units = || usual.iter().filter_map(|text| Unit::parse(text).ok());
        let of_listed_words = |unit: &Unit| {
            let mut powers = unit.powers().iter();
            powers.all(|power| self.lists_word(power.word))
        };
        // The m of a listed kN·m does not ask for lengths in metres.
        let is_length = power_of_length(dimension).is_some();
        units()
            .find(|unit| !is_length && of_listed_words(unit))
            .or_else(|| units().find(|unit| unit.system() == self.system()))
            .or_else(|| units().next())
    }

    fn power_of_listed_length(&self, dimension: Dimension) -> Option<Unit> {
        let exponent = power_of_length(dimension)?;
        let word = self.listed_word(Dimension::LENGTH)?;
        Unit::from_powers([UnitPower { word, exponent }])
    }

    fn lists_word(&self, word: &UnitWord) -> bool {
        let mut powers = self.units.iter().flat_map(Unit::powers);
        powers.any(|power| power.word == word)
    }

    /// The word for this dimension that is listed by itself or, failing that, as the only word of
    /// a unit (the cm of cm²).
    fn listed_word(&self, dimension: Dimension) -> Option<&'static UnitWord> {
        let single = |unit: &Unit| match unit.powers() {
            [power] if power.word.dimension == dimension => Some(*power),
            _ => None,
        };
        let mut alone = self.units.iter().filter_map(single);
        let by_itself = alone.clone().find(|power| power.exponent == Rational::ONE);
        by_itself.or_else(|| alone.next()).map(|power| power.word)
    }

    fn working_words(&self) -> WorkingWords {
        let usual = match self.system() {
            UnitSystem::International => WorkingWords::of(["mm", "N", "kg"]),
            UnitSystem::UsCustomary => WorkingWords::of(["in", "kip", "lb"]),
        };
        WorkingWords {
            length: self.listed_word(Dimension::LENGTH).or(usual.length),
            force: self.listed_word(Dimension::FORCE).or(usual.force),
            mass: self.listed_word(Dimension::MASS).or(usual.mass),
        }
    }
}

impl Unit {
    /// The unit that results of this dimension are usually given in.
    pub(crate) fn typical(dimension: Dimension) -> Self {
        Preferences::default().unit_for(dimension)
    }

    /// The unit of this dimension whose size is 1 in SI units: `N/m`, `m^4`.
    pub fn coherent(dimension: Dimension) -> Self {
        product(dimension, &WorkingWords::of(["m", "N", "kg"]))
            .or_else(|| base_units(dimension))
            .unwrap_or_else(Self::one)
    }
}

/// The words that a unit is made of where the trade has no usual one.
struct WorkingWords {
    length: Option<&'static UnitWord>,
    force: Option<&'static UnitWord>,
    mass: Option<&'static UnitWord>,
}

impl WorkingWords {
    fn of([length, force, mass]: [&str; 3]) -> Self {
        Self {
            length: unit_word(length),
            force: unit_word(force),
            mass: unit_word(mass),
        }
    }
}

/// A unit of this dimension from working words, or from SI units of size 1 where a power is
/// fractional or very high.
fn compose(dimension: Dimension, words: &WorkingWords) -> Unit {
    product(dimension, words).unwrap_or_else(|| Unit::coherent(dimension))
}

/// Mass and time are drawn together to force where there is at least as much time below the line
/// as force has: N·mm/s rather than kg·mm²/s³.
fn product(dimension: Dimension, words: &WorkingWords) -> Option<Unit> {
    let mass = dimension.mass();
    let time = dimension.time();
    let time_left = time.checked_add(mass.checked_add(mass)?)?;
    let force_fits = !mass.is_zero() && (time_left.is_zero() || is_opposite(time_left, mass));
    if !force_fits {
        return unit_of([
            (words.length, dimension.length()),
            (words.mass, mass),
            (unit_word("s"), time),
            (unit_word("K"), dimension.temperature()),
        ]);
    }
    unit_of([
        (words.force, mass),
        (words.length, dimension.length().checked_subtract(mass)?),
        (unit_word("s"), time_left),
        (unit_word("K"), dimension.temperature()),
    ])
}

fn base_units(dimension: Dimension) -> Option<Unit> {
    unit_of([
        (unit_word("m"), dimension.length()),
        (unit_word("kg"), dimension.mass()),
        (unit_word("s"), dimension.time()),
        (unit_word("K"), dimension.temperature()),
    ])
}

fn unit_of(parts: [(Option<&'static UnitWord>, Rational); 4]) -> Option<Unit> {
    let powers: Option<Vec<_>> = parts
        .into_iter()
        .map(|(word, exponent)| {
            Some(UnitPower {
                word: word?,
                exponent,
            })
        })
        .collect();
    Unit::from_powers(powers?)
}

/// The exponent of a dimension that is a power of length (length, area …).
fn power_of_length(dimension: Dimension) -> Option<Rational> {
    let exponent = dimension.length();
    let is_power = Dimension::LENGTH.checked_power(exponent) == Some(dimension);
    (is_power && exponent > Rational::ZERO).then_some(exponent)
}

fn is_opposite(a: Rational, b: Rational) -> bool {
    !a.is_zero() && a.is_negative() != b.is_negative()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn preferences(units: &str) -> Preferences {
        let units = units
            .split_whitespace()
            .map(|text| Unit::parse(text).unwrap());
        Preferences::new(units.collect(), 4)
    }

    #[track_caller]
    fn check(listed: &str, expected: &[(Dimension, &str)]) {
        let preferences = preferences(listed);
        for (dimension, text) in expected {
            let unit = preferences.unit_for(*dimension);
            assert_eq!(
                unit.to_string(),
                *text,
                "{} with `{listed}`",
                dimension.describe()
            );
            assert_eq!(unit.dimension(), *dimension);
        }
    }

    /// The usual units of the trade: common practice, no source.
    #[test]
    fn nothing_listed() {
        check(
            "",
            &[
                (Dimension::LENGTH, "mm"),
                (Dimension::AREA, "mm²"),
                (Dimension::SECOND_MOMENT_OF_AREA, "mm⁴"),
                (Dimension::FORCE, "kN"),
                (Dimension::FORCE_PER_LENGTH, "kN/m"),
                (Dimension::MOMENT, "kN·m"),
                (Dimension::STRESS, "MPa"),
                (Dimension::DENSITY, "kg/m³"),
                (Dimension::MASS, "kg"),
                (Dimension::CURVATURE, "1/m"),
                (Dimension::THERMAL_EXPANSION, "1/K"),
                (Dimension::RATIO, ""),
            ],
        );
    }

    #[test]
    fn listed_units_and_what_is_made_of_them() {
        check(
            "cm kN kN*m MPa",
            &[
                (Dimension::LENGTH, "cm"),
                (Dimension::FIRST_MOMENT_OF_AREA, "cm³"),
                (Dimension::WARPING_CONSTANT, "cm⁶"),
                (Dimension::FORCE_PER_LENGTH, "kN/m"),
                (Dimension::FLEXURAL_RIGIDITY, "kN·m²"),
                (Dimension::STRESS, "MPa"),
            ],
        );
        check(
            "mm N",
            &[
                (Dimension::MOMENT, "N·mm"),
                (Dimension::FORCE_PER_LENGTH, "N/mm"),
                (Dimension::FLEXURAL_RIGIDITY, "N·mm²"),
            ],
        );
        check(
            "mm kN",
            &[
                (Dimension::MOMENT, "kN·m"),
                (Dimension::FORCE_PER_LENGTH, "kN/m"),
            ],
        );
        check(
            "kN*m",
            &[
                (Dimension::LENGTH, "mm"),
                (Dimension::FORCE, "kN"),
                (Dimension::AREA, "mm²"),
            ],
        );
        check(
            "cm^4 deg",
            &[(Dimension::AREA, "cm²"), (Dimension::RATIO, "")],
        );
        check("kN m", &[(Dimension::from_integers(1, 2, -4, 0), "kN²/m")]);
    }

    #[test]
    fn customary_units() {
        let customary = [
            (Dimension::AREA, "in²"),
            (Dimension::SECOND_MOMENT_OF_AREA, "in⁴"),
            (Dimension::STRESS, "ksi"),
            (Dimension::MASS, "lb"),
            (Dimension::DENSITY, "lb/ft³"),
        ];
        check("in kip ksi", &customary);
        check(
            "in kip ksi",
            &[
                (Dimension::MOMENT, "kip·in"),
                (Dimension::FORCE_PER_LENGTH, "kip/in"),
            ],
        );
        check("in kip ksi kip*ft", &customary);
        check(
            "in kip ksi kip*ft",
            &[
                (Dimension::MOMENT, "kip·ft"),
                (Dimension::FORCE_PER_LENGTH, "kip/ft"),
            ],
        );
        check(
            "ksi",
            &[
                (Dimension::LENGTH, "in"),
                (Dimension::FORCE, "kip"),
                (Dimension::MOMENT, "kip-ft"),
            ],
        );
    }

    #[test]
    fn every_dimension_has_a_unit_of_its_own_dimension() {
        let exponents = [-40, -3, -1, 0, 1, 2, 5, 2_000_000_000].map(Rational::from_integer);
        let exponents = exponents
            .into_iter()
            .chain([Rational::HALF, Rational::new(-3, 2).unwrap()]);
        let all: Vec<_> = exponents.collect();
        for listed in ["", "in kip ksi", "m kN", "kN*m"] {
            let preferences = preferences(listed);
            for length in &all {
                for mass in &all {
                    for time in &all {
                        let powers = [
                            Dimension::LENGTH.checked_power(*length),
                            Dimension::MASS.checked_power(*mass),
                            Dimension::TIME.checked_power(*time),
                        ];
                        let product = powers
                            .into_iter()
                            .try_fold(Dimension::TEMPERATURE, |product, power| {
                                product.checked_multiply(power?)
                            });
                        let Some(dimension) = product else {
                            continue;
                        };
                        assert_eq!(preferences.unit_for(dimension).dimension(), dimension);
                    }
                }
            }
        }
    }

    #[test]
    fn digits_are_kept_in_range() {
        assert_eq!(Preferences::new(Vec::new(), 0).digits(), 1);
        assert_eq!(Preferences::new(Vec::new(), 200).digits(), 17);
        assert_eq!(
            preferences("mm mrad").angle_unit().unwrap().to_string(),
            "mrad"
        );
        assert_eq!(preferences("mm %").angle_unit(), None);
    }
}
