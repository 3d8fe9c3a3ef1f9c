//! What an expression is: its kind before anything is computed, and its value where it has one.

use haunch_quantity::{Dimension, Quantity};
use smol_str::SmolStr;

/// What kind of thing an expression is, known before any value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A quantity of this dimension.
    Quantity(Dimension),
    /// The literal 0, which fits any dimension.
    Zero,
    /// True or false.
    Truth,
    /// Words.
    Text,
    /// Several quantities of one dimension.
    List(Dimension),
    /// Not known: something it uses is missing, broken or not supported.
    Unknown,
}

impl Kind {
    /// The dimension of a quantity; the literal 0 counts as a plain number.
    pub fn dimension(self) -> Option<Dimension> {
        match self {
            Kind::Quantity(dimension) => Some(dimension),
            Kind::Zero => Some(Dimension::RATIO),
            _ => None,
        }
    }
}

/// A value.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number with its dimension.
    Quantity(Quantity),
    /// True or false.
    Truth(bool),
    /// Words.
    Text(SmolStr),
    /// Several quantities.
    List(Vec<Quantity>),
}

/// An expression's kind, and its value where it could be computed.
///
/// A kind can be known without a value (`1 m/0` is a length), never the other way round.
#[derive(Debug, Clone, PartialEq)]
pub struct Evaluated {
    /// The kind.
    pub kind: Kind,
    /// The value.
    pub value: Option<Value>,
}

impl Evaluated {
    /// Neither kind nor value.
    pub const UNKNOWN: Evaluated = Evaluated {
        kind: Kind::Unknown,
        value: None,
    };

    /// A known quantity.
    pub fn quantity(quantity: Quantity) -> Evaluated {
        Evaluated {
            kind: Kind::Quantity(quantity.dimension()),
            value: Some(Value::Quantity(quantity)),
        }
    }

    /// A quantity of known dimension and unknown value.
    pub fn dimension_only(dimension: Dimension) -> Evaluated {
        Evaluated {
            kind: Kind::Quantity(dimension),
            value: None,
        }
    }

    /// A known truth.
    pub fn truth(truth: bool) -> Evaluated {
        Evaluated {
            kind: Kind::Truth,
            value: Some(Value::Truth(truth)),
        }
    }

    /// The value as a quantity.
    pub fn as_quantity(&self) -> Option<Quantity> {
        match self.value {
            Some(Value::Quantity(quantity)) => Some(quantity),
            _ => None,
        }
    }

    /// The value as a quantity of this dimension; the literal 0 is one of any dimension.
    pub fn as_dimension(&self, dimension: Dimension) -> Option<Quantity> {
        let quantity = self.as_quantity()?;
        match self.kind {
            Kind::Zero => Some(Quantity::zero(dimension)),
            _ => (quantity.dimension() == dimension).then_some(quantity),
        }
    }

    /// The value as a truth.
    pub fn as_truth(&self) -> Option<bool> {
        match self.value {
            Some(Value::Truth(truth)) => Some(truth),
            _ => None,
        }
    }
}
