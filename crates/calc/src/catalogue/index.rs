//! The table read once: each formula in normal form, found by its signature.

use std::sync::LazyLock;

use haunch_quantity::{Dimension, is_unit_word};
use haunch_syntax::{Statement, Tree, ValueBody, read_line};
use rustc_hash::{FxHashMap, FxHashSet};

use super::form::{self, Dimensions, Form};
use super::matching::{Profiled, profiles};
use super::symbols::{Letter, Role, letter_of};
use super::{Entry, Gives, entries};
use crate::catalogue::written::Numerals;

/// Most dimensions of the symbols of one formula.
const MOST_DIMENSIONS: usize = 8;

/// One formula of an entry, read.
#[derive(Debug)]
pub(crate) struct Known {
    pub(crate) entry: &'static Entry,
    /// The formula, a value line.
    pub(crate) text: String,
    pub(super) tree: Tree,
    pub(crate) form: Form,
    pub(super) dimensions: Dimensions,
    profiles: Vec<u64>,
    /// The letter on the left.
    left: &'static Letter,
    /// The letter that each symbol is.
    letters: Vec<&'static Letter>,
    pub(crate) gives: Gives,
    /// The numbers that it is written with.
    pub(crate) numerals: Numerals,
    /// It is not the entry's formula but what is written for it by mistake.
    pub(crate) is_mistaken: bool,
}

/// The dimension of a formula with those of its symbols, each once: most lines have none that a formula
/// of the table has, and need no normal form.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dimensioned {
    whole: Dimension,
    symbols: [Dimension; MOST_DIMENSIONS],
    count: usize,
}

impl Dimensioned {
    /// Without symbols.
    pub(super) fn of(whole: Dimension) -> Dimensioned {
        Dimensioned {
            whole,
            symbols: [Dimension::RATIO; MOST_DIMENSIONS],
            count: 0,
        }
    }

    /// Adds the dimension of a symbol; whether there was room.
    pub(super) fn add(&mut self, dimension: Dimension) -> bool {
        let known = self.symbols.get(..self.count).unwrap_or_default();
        if known.contains(&dimension) {
            return true;
        }
        let Some(place) = self.symbols.get_mut(self.count) else {
            return false;
        };
        *place = dimension;
        self.count += 1;
        true
    }

    fn key(&self) -> u64 {
        let known = self.symbols.get(..self.count).unwrap_or_default();
        let symbols = known.iter().map(form::hash);
        symbols.fold(form::hash(&(self.whole, self.count)), u64::wrapping_add)
    }
}

pub(super) struct Index {
    pub(super) known: Vec<Known>,
    /// The keys of [`Dimensioned`].
    dimensioned: FxHashSet<u64>,
    by_signature: FxHashMap<u64, Vec<u16>>,
    by_family: FxHashMap<u64, Vec<u16>>,
}

static INDEX: LazyLock<Index> = LazyLock::new(Index::build);

pub(super) fn index() -> &'static Index {
    &INDEX
}

impl Index {
    fn build() -> Index {
        let mut index = Index {
            known: Vec::new(),
            dimensioned: FxHashSet::default(),
            by_signature: FxHashMap::default(),
            by_family: FxHashMap::default(),
        };
        for entry in entries() {
            for formula in entry.formulas {
                index.add(Known::read(entry, formula, false));
                // E and I are often one value, the flexural rigidity.
                if formula.contains("E*I") {
                    let one = formula.replace("E*I", "EI");
                    index.add(Known::read(entry, &one, false));
                }
            }
            for formula in entry.mistaken {
                index.add(Known::read(entry, formula, true));
            }
        }
        index
    }

    /// A formula that cannot be read is left out; a test holds that there is none.
    fn add(&mut self, known: Option<Known>) {
        let Some(known) = known else { return };
        let at = self.known.len() as u16;
        let mut dimensioned = Dimensioned::of(known.left.dimension);
        for dimension in &known.dimensions.symbols {
            dimensioned.add(*dimension);
        }
        self.dimensioned.insert(dimensioned.key());
        let signature = known.form.signature(&known.dimensions);
        self.by_signature.entry(signature).or_default().push(at);
        if let Some(family) = known.form.family(&known.dimensions)
            && !known.is_mistaken
        {
            self.by_family.entry(family).or_default().push(at);
        }
        self.known.push(known);
    }

    /// Whether any formula has these dimensions.
    pub(super) fn has(&self, dimensioned: Dimensioned) -> bool {
        self.dimensioned.contains(&dimensioned.key())
    }

    /// The formulas of this signature, in the order of the table.
    pub(super) fn of_signature(&self, signature: u64) -> impl Iterator<Item = &Known> {
        self.at(self.by_signature.get(&signature))
    }

    /// The formulas of this family, in the order of the table.
    pub(super) fn of_family(&self, family: u64) -> impl Iterator<Item = &Known> {
        self.at(self.by_family.get(&family))
    }

    fn at(&self, places: Option<&Vec<u16>>) -> impl Iterator<Item = &Known> {
        let places = places.map(Vec::as_slice).unwrap_or_default();
        places.iter().filter_map(|at| self.known.get(*at as usize))
    }
}

impl Known {
    fn read(entry: &'static Entry, formula: &str, is_mistaken: bool) -> Option<Known> {
        let tree = read_line(formula, is_unit_word);
        let Statement::Value(value) = &tree.statement else {
            return None;
        };
        let ValueBody::Expression(body) = value.body else {
            return None;
        };
        let gives = Gives::of(&value.name.text);
        let form = form::of(&tree, formula, body)?;
        let letter = |symbol: &form::Symbol| letter_of(symbol.span.text(formula));
        let letters: Vec<&'static Letter> =
            form.symbols.iter().map(letter).collect::<Option<_>>()?;
        let dimensions = form.dimensions(|symbol| Some(letter(symbol)?.dimension))?;
        Some(Known {
            entry,
            text: formula.to_owned(),
            profiles: profiles(&form, &dimensions),
            left: letter_of(&value.name.text)?,
            letters,
            numerals: Numerals::of(&tree, body),
            tree,
            form,
            dimensions,
            gives,
            is_mistaken,
        })
    }

    pub(super) fn profiled(&self) -> Profiled<'_> {
        Profiled {
            form: &self.form,
            profiles: &self.profiles,
        }
    }

    pub(crate) fn role(&self, symbol: usize) -> Role {
        let letter = self.letters.get(symbol);
        letter.map_or(Role::Any, |letter| letter.role)
    }

    /// What a symbol stands for, in the trade's words.
    pub(crate) fn words(&self, symbol: usize) -> &'static str {
        self.letters.get(symbol).map_or("", |letter| letter.words)
    }

    /// Whether the formula has a number that no written one is exactly.
    pub(crate) fn is_irrational(&self) -> bool {
        self.numerals.has_pi || self.text.contains("sqrt") || self.numerals.decimals
    }

    /// Whether so little of it is its own that only the name on the left can tell it.
    pub(crate) fn is_plain(&self) -> bool {
        let count = self.form.symbols.len();
        count <= 1
            && self.dimensions.symbols.first() == Some(&Dimension::LENGTH)
            && self.is_linear()
            || count == 2 && self.is_linear()
    }

    fn is_linear(&self) -> bool {
        self.form.is_linear()
    }

    /// Whether a round shape is meant, so that `d` is a diameter.
    pub(crate) fn is_round(&self) -> bool {
        self.numerals.has_pi
    }

    /// Whether another constant than those of the table can hardly be meant: of the moments and moduli
    /// of plane shapes, the table has what the trade has.
    pub(crate) fn is_firm(&self) -> bool {
        match self.gives {
            Gives::SecondMoment
            | Gives::PolarMoment
            | Gives::TorsionConstant
            | Gives::SectionModulus
            | Gives::PlasticModulus
            | Gives::TorsionModulus
            | Gives::FirstMoment => self.entry.shape.is_plane(),
            Gives::Area | Gives::NormalStress | Gives::ShearStress => {
                self.entry.shape.is_plane() && self.numerals.has_pi
            }
            Gives::CriticalLoad => true,
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_formula_is_in_the_index() {
        let written: usize = entries()
            .map(|entry| {
                let twice = entry.formulas.iter().filter(|f| f.contains("E*I")).count();
                entry.formulas.len() + twice + entry.mistaken.len()
            })
            .sum();
        assert_eq!(index().known.len(), written);
    }

    /// The dimension of each formula is that of the letter on its left.
    #[test]
    fn both_sides_have_one_dimension() {
        for known in &index().known {
            let Statement::Value(value) = &known.tree.statement else {
                panic!("{}", known.text);
            };
            let left = letter_of(&value.name.text).unwrap_or_else(|| panic!("{}", known.text));
            let right = known.form.dimension(&known.dimensions);
            assert_eq!(right, Some(left.dimension), "{}", known.text);
            let gives = known.gives.dimension().unwrap_or(left.dimension);
            assert_eq!(gives, left.dimension, "{}", known.text);
        }
    }

    #[test]
    fn a_mistake_is_no_other_entry() {
        for known in index().known.iter().filter(|known| known.is_mistaken) {
            let same = index()
                .of_signature(known.form.signature(&known.dimensions))
                .filter(|other| !other.is_mistaken)
                .flat_map(|other| super::super::matching::fits(other.profiled(), known.profiled()))
                .any(|fit| (fit.ratio - 1.0).abs() < 1e-9);
            assert!(!same, "{}", known.text);
        }
    }
}
