//! Lines that stand by themselves: values, formulas, checks, settings.

pub(crate) mod check;
pub(crate) mod expected;
pub(crate) mod settings;
pub(crate) mod value;
