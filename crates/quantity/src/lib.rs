//! Dimensions, units and quantities: at run time for the notation, at compile time for mechanics.
//!
//! - [`Dimension`]: what kind of quantity a number is, with rational exponents and the trade's
//!   names ([`dimension_names`]).
//! - [`Unit`]: a chain of unit words with powers, its size kept exact ([`Factor`]).
//! - [`Quantity`]: a finite number in SI units with its dimension, and arithmetic that answers
//!   with a number or says why there is none.
//! - [`literal`]: numbers as written, with their units, rounded once.
//! - [`Preferences`] and [`display`]: which unit a result is given in, and with how many digits,
//!   so that what is printed never contradicts a verdict.
//! - [`typed`]: quantities whose dimension the compiler checks, and the bridge to [`Quantity`].
//!
//! # Adding a unit
//! Add one row to the table in `unit_table.rs`: spelling, exact factor, dimension, family, words
//! for a hover, and the source of the factor. The lexer ([`is_unit_word`]), completion
//! ([`unit_words`]), checking and display read that table; the tests beside it check the row. If
//! results should be given in the new unit when a file lists it, add it to the usual units of its
//! dimension in `dimension_names.rs`. Put a published value of the factor into
//! `tests/units.toml`.

pub mod dimension_names;
pub mod display;
pub mod literal;
pub mod typed;

mod decimal;
mod dimension;
mod factor;
mod functions;
mod number_format;
mod preferences;
mod quantity;
mod rational;
mod unit;
mod unit_table;

pub use dimension::Dimension;
pub use dimension_names::DimensionName;
pub use display::{
    FormattedNumber, Relation, format_against_limit, format_parts, format_quantity,
    format_utilisation, holds,
};
pub use factor::Factor;
pub use literal::{LiteralError, Number, compound_to_si, fraction_to_si, to_si};
pub use number_format::format_number;
pub use preferences::Preferences;
pub use quantity::{ArithmeticError, Quantity, QuantityResult, STANDARD_ACCELERATION_OF_FREE_FALL};
pub use rational::Rational;
pub use unit::{Unit, UnitError, UnitPower};
pub use unit_table::{UnitSystem, UnitWord, is_unit_word, unit_word, unit_words};
