//! Units: chains of unit words with powers, as `kN/m^2`.

use std::cell::RefCell;
use std::fmt;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::decimal::Decimal;
use crate::dimension::Dimension;
use crate::factor::Factor;
use crate::rational::Rational;
use crate::unit_table::{UnitSystem, UnitWord, unit_word};

/// A product of powers of unit words, with its exact size. Cheap to clone.
///
/// Two units are equal when they are written with the same words in the same order; `kN/m` and
/// `N/mm` have the same size and dimension but are different units.
#[derive(Clone, Debug, Eq)]
pub struct Unit {
    shared: Arc<Shared>,
}

#[derive(Debug, Eq, PartialEq)]
struct Shared {
    powers: Vec<UnitPower>,
    /// These two follow from the powers.
    dimension: Dimension,
    factor: Factor,
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.powers() == other.powers()
    }
}

/// One unit word of a unit with its exponent, which is never 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitPower {
    /// The row of the unit table.
    pub word: &'static UnitWord,
    /// The exponent; fractional only for words of size 1 (N, m, kg, s, K …).
    pub exponent: Rational,
}

impl Unit {
    /// The unit of a plain number, which has no text.
    pub fn one() -> Self {
        Self {
            shared: Arc::new(Shared {
                powers: Vec::new(),
                dimension: Dimension::RATIO,
                factor: Factor::ONE,
            }),
        }
    }

    /// The product of these powers. Equal words are drawn together, and words whose powers cancel
    /// are left out. `None` when the exact size or the dimension does not fit.
    pub fn from_powers(powers: impl IntoIterator<Item = UnitPower>) -> Option<Self> {
        let mut joined: Vec<UnitPower> = Vec::new();
        for power in powers {
            join(&mut joined, power)?;
        }
        Self::from_joined(joined)
    }

    fn from_joined(mut powers: Vec<UnitPower>) -> Option<Self> {
        powers.retain(|power| !power.exponent.is_zero());
        let mut dimension = Dimension::RATIO;
        let mut factor = Factor::ONE;
        let mut multiply = |UnitPower { word, exponent }: &UnitPower| {
            let size = match exponent.as_integer() {
                Some(whole) => word.factor.checked_power(whole)?,
                None if word.factor.is_one() => Factor::ONE,
                None => return None,
            };
            factor = factor.checked_multiply(size)?;
            dimension = dimension.checked_multiply(word.dimension.checked_power(*exponent)?)?;
            Some(())
        };
        if let [power] = powers.as_slice() {
            multiply(power)?;
        } else {
            // In one order, so that whether a unit fits does not depend on how it is written.
            let mut ordered: Vec<&UnitPower> = powers.iter().collect();
            ordered.sort_by_key(|power| power.word.spelling);
            for power in ordered {
                multiply(power)?;
            }
        }
        Some(Self {
            shared: Arc::new(Shared {
                powers,
                dimension,
                factor,
            }),
        })
    }

    /// The unit words and their powers, in the order written.
    pub fn powers(&self) -> &[UnitPower] {
        &self.shared.powers
    }

    /// The dimension of what is measured in this unit.
    pub fn dimension(&self) -> Dimension {
        self.shared.dimension
    }

    /// The exact size of the unit in coherent SI units.
    pub fn exact_factor(&self) -> Factor {
        self.shared.factor
    }

    /// The number nearest to the size of the unit in coherent SI units.
    pub fn factor(&self) -> f64 {
        Decimal::from_integer(1).times(self.shared.factor).to_f64()
    }

    /// A number in SI units expressed in this unit; `None` when that is too large for a number.
    ///
    /// The number's shortest decimal form is converted exactly and rounded once, so what was read
    /// as `3.1 mm` comes back as 3.1.
    pub fn from_si(&self, si: f64) -> Option<f64> {
        if self.shared.factor.is_one() {
            return si.is_finite().then_some(si);
        }
        let value = Decimal::from_f64(si)?
            .times(self.shared.factor.inverse())
            .to_f64();
        value.is_finite().then_some(value)
    }

    /// The family of this unit: customary if any of its words is.
    pub fn system(&self) -> UnitSystem {
        let customary = |power: &UnitPower| power.word.system == UnitSystem::UsCustomary;
        if self.powers().iter().any(customary) {
            UnitSystem::UsCustomary
        } else {
            UnitSystem::International
        }
    }

    /// Whether this is the unit of a plain number, written without any unit word.
    pub fn is_one(&self) -> bool {
        self.powers().is_empty()
    }

    /// The unit as it can be written in a file after a number: `mm^4`, `kN*m`, `K^-1`.
    pub fn source_text(&self) -> String {
        let mut text = String::new();
        let (above, below) = self.above_and_below();
        for power in above {
            if !text.is_empty() {
                text.push('*');
            }
            text.push_str(power.word.spelling);
            text.push_str(&plain_exponent(power.exponent));
        }
        for power in below {
            let exponent = if text.is_empty() {
                Some(power.exponent)
            } else {
                text.push('/');
                power.exponent.checked_negate()
            };
            text.push_str(power.word.spelling);
            text.push_str(&exponent.map(plain_exponent).unwrap_or_default());
        }
        text
    }

    fn above_and_below(&self) -> (Vec<&UnitPower>, Vec<&UnitPower>) {
        self.powers()
            .iter()
            .partition(|power| !power.exponent.is_negative())
    }
}

/// The unit for reading: `mm⁴`, `kN·m`, `kN/m²`, `1/K`.
impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (above, below) = self.above_and_below();
        if above.is_empty() && !below.is_empty() {
            f.write_str("1")?;
        }
        for (index, power) in above.iter().enumerate() {
            if index > 0 {
                f.write_str("·")?;
            }
            f.write_str(power.word.spelling)?;
            f.write_str(&raised_exponent(power.exponent))?;
        }
        for power in below {
            let exponent = power.exponent.checked_negate().map(raised_exponent);
            write!(
                f,
                "/{}{}",
                power.word.spelling,
                exponent.unwrap_or_default()
            )?;
        }
        Ok(())
    }
}

/// Adds a power to others of different words. Drawing equal words together at once keeps a long chain
/// short.
fn join(joined: &mut Vec<UnitPower>, power: UnitPower) -> Option<()> {
    let is_same = |known: &&mut UnitPower| known.word.spelling == power.word.spelling;
    match joined.iter_mut().find(is_same) {
        Some(known) => known.exponent = known.exponent.checked_add(power.exponent)?,
        None => joined.push(power),
    }
    Some(())
}

fn plain_exponent(exponent: Rational) -> String {
    match exponent.as_integer() {
        Some(1) => String::new(),
        Some(whole) => format!("^{whole}"),
        None => format!("^({exponent})"),
    }
}

fn raised_exponent(exponent: Rational) -> String {
    match exponent.as_integer() {
        Some(1) => String::new(),
        Some(whole) => whole.to_string().chars().map(superscript).collect(),
        None => format!("^({exponent})"),
    }
}

const SUPERSCRIPTS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

fn superscript(character: char) -> char {
    let digit = character
        .to_digit(10)
        .and_then(|digit| usize::try_from(digit).ok());
    match digit.and_then(|digit| SUPERSCRIPTS.get(digit)) {
        Some(raised) => *raised,
        None => '⁻',
    }
}

/// The ordinary digit of a superscript one, and `-` of a superscript minus.
fn lowered(character: char) -> Option<char> {
    if character == '⁻' {
        return Some('-');
    }
    let value = SUPERSCRIPTS
        .iter()
        .position(|raised| *raised == character)?;
    char::from_digit(u32::try_from(value).ok()?, 10)
}

/// Why a text is not a unit. Positions are byte offsets in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// There is no text.
    Empty,
    /// A word that is not in the unit table.
    UnknownWord {
        /// The word.
        word: String,
        /// Where it starts.
        offset: usize,
    },
    /// A unit word is missing before or after `*`, `/` or an exponent.
    MissingWord {
        /// Where it is missing.
        offset: usize,
    },
    /// An exponent that is not a whole number from -99 to 99 other than 0.
    Exponent {
        /// The exponent as written.
        text: String,
        /// Where it starts.
        offset: usize,
    },
    /// The powers are so high that the unit cannot be converted exactly.
    TooHigh,
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "a unit is missing"),
            Self::UnknownWord { word, .. } => write!(f, "`{word}` is not a known unit"),
            Self::MissingWord { .. } => write!(f, "a unit word is missing beside `*`, `/` or `^`"),
            Self::Exponent { text, .. } => write!(
                f,
                "`{text}` is not a power of a unit: write a whole number, as in `mm^4`"
            ),
            Self::TooHigh => write!(
                f,
                "the powers of this unit are too high to be converted exactly"
            ),
        }
    }
}

impl std::error::Error for UnitError {}

impl Unit {
    /// Reads a unit written without spaces: `kN*m`, `kN·m`, `kN/m^2`, `mm4`, `mm⁴`, `kip-ft`.
    ///
    /// `/` divides by the one word after it, so `N/m*s` is (N/m)·s. Between square brackets
    /// `1/K` is accepted too; after a number it is written `K^-1`.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        READ_LATELY.with_borrow_mut(|known| {
            if let Some(unit) = known.get(text) {
                return Ok(unit.clone());
            }
            let unit = Self::read(text)?;
            if known.len() >= KEPT_UNITS {
                known.clear();
            }
            known.insert(text.into(), unit.clone());
            Ok(unit)
        })
    }

    fn read(text: &str) -> Result<Self, UnitError> {
        if text.is_empty() {
            return Err(UnitError::Empty);
        }
        let mut reader = Reader { text, offset: 0 };
        let mut divide = reader.take("1/");
        let mut powers: Vec<UnitPower> = Vec::new();
        loop {
            let word = reader.word()?;
            let exponent = reader.exponent()?;
            let exponent = if divide {
                exponent.checked_negate().ok_or(UnitError::TooHigh)?
            } else {
                exponent
            };
            join(&mut powers, UnitPower { word, exponent }).ok_or(UnitError::TooHigh)?;
            divide = match reader.separator()? {
                Some(divide) => divide,
                None => return Self::from_joined(powers).ok_or(UnitError::TooHigh),
            };
        }
    }
}

/// How many units are kept that were read lately.
const KEPT_UNITS: usize = 100;

thread_local! {
    /// Units that were read lately: a file writes the same few on most of its lines.
    static READ_LATELY: RefCell<FxHashMap<Box<str>, Unit>> = RefCell::default();
}

struct Reader<'a> {
    text: &'a str,
    offset: usize,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.offset..).unwrap_or_default()
    }

    fn take(&mut self, prefix: &str) -> bool {
        let found = self.rest().starts_with(prefix);
        if found {
            self.offset += prefix.len();
        }
        found
    }

    fn take_while(&mut self, belongs: impl Fn(char) -> bool) -> &'a str {
        let rest = self.rest();
        let end = rest
            .find(|character| !belongs(character))
            .unwrap_or(rest.len());
        self.offset += end;
        rest.get(..end).unwrap_or_default()
    }

    fn word(&mut self) -> Result<&'static UnitWord, UnitError> {
        let offset = self.offset;
        let ends = |c: char| "*/·⋅^".contains(c) || c.is_ascii_digit() || lowered(c).is_some();
        let spelling = self.take_while(|character| !ends(character));
        if spelling.is_empty() {
            return Err(UnitError::MissingWord { offset });
        }
        unit_word(spelling).ok_or_else(|| UnitError::UnknownWord {
            word: spelling.to_string(),
            offset,
        })
    }

    fn exponent(&mut self) -> Result<Rational, UnitError> {
        let offset = self.offset;
        let raised = self.take("^");
        let written = if raised && self.take("(") {
            let inside = self.take_while(|c| c.is_ascii_digit() || c == '-' || c == '/');
            let closed = self.take(")");
            inside.split_once('/').filter(|_| closed)
        } else if raised {
            let whole = self.take_while(|c| c.is_ascii_digit() || c == '-');
            Some((whole, "1"))
        } else {
            let plain = self.take_while(|c| c.is_ascii_digit());
            let small = if plain.is_empty() {
                self.take_while(|c| lowered(c).is_some())
            } else {
                plain
            };
            if small.is_empty() {
                return Ok(Rational::ONE);
            }
            Some((small, "1"))
        };
        written
            .and_then(|(numerator, denominator)| {
                Rational::new(whole_number(numerator)?, whole_number(denominator)?)
            })
            .filter(|exponent| !exponent.is_zero())
            .ok_or_else(|| UnitError::Exponent {
                text: self
                    .text
                    .get(offset..self.offset)
                    .unwrap_or_default()
                    .to_string(),
                offset,
            })
    }

    /// `Some(true)` for `/`, `Some(false)` for a product, `None` at the end of the text.
    fn separator(&mut self) -> Result<Option<bool>, UnitError> {
        if self.rest().is_empty() {
            Ok(None)
        } else if self.take("/") {
            Ok(Some(true))
        } else if self.take("*") || self.take("·") || self.take("⋅") {
            Ok(Some(false))
        } else {
            let offset = self.offset;
            Err(UnitError::Exponent {
                text: self.rest().to_string(),
                offset,
            })
        }
    }
}

fn whole_number(text: &str) -> Option<i32> {
    let plain: String = text.chars().map(|c| lowered(c).unwrap_or(c)).collect();
    let value: i32 = plain.parse().ok()?;
    (-99..=99).contains(&value).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit_table::unit_words;
    use proptest::prelude::*;

    fn texts(text: &str) -> (String, String) {
        let unit = Unit::parse(text).unwrap();
        (unit.to_string(), unit.source_text())
    }

    #[test]
    fn spellings_of_the_same_unit() {
        for text in ["mm4", "mm^4", "mm⁴"] {
            assert_eq!(texts(text), ("mm⁴".into(), "mm^4".into()));
        }
        for text in ["kN*m", "kN·m", "kN⋅m"] {
            assert_eq!(texts(text), ("kN·m".into(), "kN*m".into()));
        }
        assert_eq!(texts("N/mm^2"), ("N/mm²".into(), "N/mm^2".into()));
        assert_eq!(texts("kip-ft"), ("kip-ft".into(), "kip-ft".into()));
        assert_eq!(texts("1/K"), ("1/K".into(), "K^-1".into()));
        assert_eq!(texts("K⁻¹"), ("1/K".into(), "K^-1".into()));
        assert_eq!(texts("1/m/K"), ("1/m/K".into(), "m^-1/K".into()));
        assert_eq!(texts("mm*mm"), ("mm²".into(), "mm^2".into()));
        assert_eq!(texts("N/m*s"), ("N·s/m".into(), "N*s/m".into()));
        assert_eq!(texts("m^(-1/2)"), ("1/m^(1/2)".into(), "m^(-1/2)".into()));
    }

    #[test]
    fn dimensions_and_sizes() {
        let unit = |text: &str| Unit::parse(text).unwrap();
        assert_eq!(unit("kN/m^2").dimension(), Dimension::STRESS);
        assert_eq!(unit("kN/m^2").factor(), 1000.0);
        assert_eq!(unit("kg/m^3").dimension(), Dimension::DENSITY);
        assert_eq!(unit("mm^4").factor(), 1e-12);
        assert_eq!(unit("kip-ft").dimension(), Dimension::MOMENT);
        assert_eq!(unit("lb-ft").exact_factor(), unit("lbf*ft").exact_factor());
        assert_eq!(unit("ksi").exact_factor(), unit("kip/in^2").exact_factor());
        assert_eq!(
            unit("slug").exact_factor(),
            unit("lbf*s^2/ft").exact_factor()
        );
        assert_eq!(unit("m/m").dimension(), Dimension::RATIO);
    }

    #[test]
    fn what_is_not_a_unit() {
        let error = |text: &str| Unit::parse(text).unwrap_err();
        assert_eq!(error(""), UnitError::Empty);
        assert_eq!(
            error("kN/mn"),
            UnitError::UnknownWord {
                word: "mn".into(),
                offset: 3
            }
        );
        assert_eq!(error("kN*"), UnitError::MissingWord { offset: 3 });
        assert_eq!(error("/m"), UnitError::MissingWord { offset: 0 });
        assert_eq!(error("kN//m"), UnitError::MissingWord { offset: 3 });
        assert_eq!(error("1"), UnitError::MissingWord { offset: 0 });
        for text in [
            "mm^", "mm^0", "mm^100", "mm^-", "mm^--1", "mm⁻", "mm2^3", "mm^(1/0)", "mm^(1", "mm^1m",
        ] {
            assert!(matches!(error(text), UnitError::Exponent { .. }), "{text}");
        }
        assert_eq!(error("psi^9"), UnitError::TooHigh);
        assert_eq!(error("mm^(1/2)"), UnitError::TooHigh);
        assert!(matches!(error("k N"), UnitError::UnknownWord { .. }));
    }

    fn any_unit() -> impl Strategy<Value = Unit> {
        let words: Vec<_> = unit_words().collect();
        let exponent = prop_oneof![1..4i32, -4..-1i32].prop_map(Rational::from_integer);
        let power = (proptest::sample::select(words), exponent)
            .prop_map(|(word, exponent)| UnitPower { word, exponent });
        proptest::collection::vec(power, 1..4)
            .prop_filter_map("too high to be exact", Unit::from_powers)
            .prop_filter("cancelled", |unit| !unit.is_one())
    }

    proptest! {
        #[test]
        fn both_texts_lead_back_to_the_unit(unit in any_unit()) {
            let read = Unit::parse(&unit.source_text()).unwrap();
            prop_assert_eq!(read.exact_factor(), unit.exact_factor());
            prop_assert_eq!(read.dimension(), unit.dimension());
            prop_assert_eq!(read.source_text(), unit.source_text());
            let shown = Unit::parse(&unit.to_string()).unwrap();
            prop_assert_eq!(shown, read);
        }

        #[test]
        fn any_text_is_answered(text in "\\PC{0,12}") {
            let _ = Unit::parse(&text);
        }

        #[test]
        fn any_text_of_unit_characters_is_answered(text in "[mkNsft1/*^()⁴⁻·-]{0,12}") {
            let _ = Unit::parse(&text);
        }
    }
}
