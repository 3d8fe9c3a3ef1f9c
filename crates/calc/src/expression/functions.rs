//! The built-in functions.

use haunch_quantity::{Dimension, Quantity, Rational};
use haunch_syntax::ExpressionId;
use haunch_text::Span;

use super::{Between, Context};
use crate::findings;
use crate::value::{Evaluated, Kind};

/// A built-in function, for completion and hovers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BuiltIn {
    /// Its name.
    pub name: &'static str,
    /// How it is called.
    pub call: &'static str,
    /// What it gives.
    pub meaning: &'static str,
}

/// Every built-in function.
pub const BUILT_IN: &[BuiltIn] = &[
    BuiltIn {
        name: "sqrt",
        call: "sqrt(a)",
        meaning: "square root; the unit's power is halved",
    },
    BuiltIn {
        name: "cbrt",
        call: "cbrt(a)",
        meaning: "cube root; a third of the unit's power",
    },
    BuiltIn {
        name: "abs",
        call: "abs(a)",
        meaning: "magnitude, in the unit of a",
    },
    BuiltIn {
        name: "min",
        call: "min(a, b, …)",
        meaning: "the smallest, all of one dimension",
    },
    BuiltIn {
        name: "max",
        call: "max(a, b, …)",
        meaning: "the largest, all of one dimension",
    },
    BuiltIn {
        name: "sin",
        call: "sin(angle)",
        meaning: "sine of an angle in radians, or with `deg`",
    },
    BuiltIn {
        name: "cos",
        call: "cos(angle)",
        meaning: "cosine of an angle in radians, or with `deg`",
    },
    BuiltIn {
        name: "tan",
        call: "tan(angle)",
        meaning: "tangent of an angle in radians, or with `deg`",
    },
    BuiltIn {
        name: "asin",
        call: "asin(ratio)",
        meaning: "angle whose sine is the ratio, in radians",
    },
    BuiltIn {
        name: "acos",
        call: "acos(ratio)",
        meaning: "angle whose cosine is the ratio, in radians",
    },
    BuiltIn {
        name: "atan",
        call: "atan(ratio)",
        meaning: "angle whose tangent is the ratio, in radians",
    },
    BuiltIn {
        name: "exp",
        call: "exp(ratio)",
        meaning: "e to the power of a ratio",
    },
    BuiltIn {
        name: "ln",
        call: "ln(ratio)",
        meaning: "natural logarithm",
    },
    BuiltIn {
        name: "log10",
        call: "log10(ratio)",
        meaning: "logarithm to base 10",
    },
    BuiltIn {
        name: "round",
        call: "round(a, step)",
        meaning: "the nearest multiple of the step; without a step the nearest whole number of a ratio",
    },
    BuiltIn {
        name: "floor",
        call: "floor(a, step)",
        meaning: "the multiple of the step at or below a; without a step of a ratio",
    },
    BuiltIn {
        name: "ceil",
        call: "ceil(a, step)",
        meaning: "the multiple of the step at or above a; without a step of a ratio",
    },
];

/// Whether a name is a built-in function's.
pub(crate) fn is_built_in(name: &str) -> bool {
    BUILT_IN.iter().any(|function| function.name == name)
}

/// Whether a built-in function gives the dimension of its arguments.
pub(crate) fn keeps_dimension(name: &str) -> bool {
    matches!(name, "abs" | "min" | "max" | "round" | "floor" | "ceil")
}

impl Context<'_> {
    pub(super) fn built_in(
        &mut self,
        id: ExpressionId,
        name: &str,
        span: Span,
        arguments: &[ExpressionId],
    ) -> Evaluated {
        let (least, most) = match name {
            "min" | "max" => (2, usize::MAX),
            "round" | "floor" | "ceil" => (1, 2),
            _ => (1, 1),
        };
        if arguments.len() < least || arguments.len() > most {
            let place = self.place(span);
            self.report(findings::wrong_arguments::count_of_built_in(
                place,
                name,
                least,
                arguments.len(),
            ));
            return Evaluated::UNKNOWN;
        }
        match (name, arguments) {
            ("sqrt", [a]) => self.root(id, *a, Rational::HALF, Quantity::square_root),
            ("cbrt", [a]) => self.root(id, *a, Rational::THIRD, Quantity::cube_root),
            ("abs", [a]) => {
                let Some(dimension) = self.operand(*a) else {
                    return Evaluated::UNKNOWN;
                };
                match self.get(*a).as_quantity() {
                    Some(quantity) => {
                        self.quantity_or_failure(id, dimension, Ok(quantity.absolute()))
                    }
                    None => Evaluated::dimension_only(dimension),
                }
            }
            ("min", _) => self.extreme(id, name, arguments, Quantity::minimum),
            ("max", _) => self.extreme(id, name, arguments, Quantity::maximum),
            ("round", _) => self.step_of(id, name, arguments, Quantity::rounded_to),
            ("floor", _) => self.step_of(id, name, arguments, Quantity::floor_to),
            ("ceil", _) => self.step_of(id, name, arguments, Quantity::ceiling_to),
            (_, [a]) => {
                let function = match name {
                    "sin" => Quantity::sine,
                    "cos" => Quantity::cosine,
                    "tan" => Quantity::tangent,
                    "asin" => Quantity::arcsine,
                    "acos" => Quantity::arccosine,
                    "atan" => Quantity::arctangent,
                    "exp" => Quantity::exponential,
                    "ln" => Quantity::natural_logarithm,
                    "log10" => Quantity::common_logarithm,
                    _ => return Evaluated::UNKNOWN,
                };
                self.of_ratio(id, name, *a, function)
            }
            _ => Evaluated::UNKNOWN,
        }
    }

    fn root(
        &mut self,
        id: ExpressionId,
        argument: ExpressionId,
        exponent: Rational,
        function: impl Fn(Quantity) -> haunch_quantity::QuantityResult,
    ) -> Evaluated {
        let Some(dimension) = self
            .operand(argument)
            .and_then(|d| d.checked_power(exponent))
        else {
            return Evaluated::UNKNOWN;
        };
        match self.get(argument).as_quantity() {
            Some(quantity) => self.quantity_or_failure(id, dimension, function(quantity)),
            None => Evaluated::dimension_only(dimension),
        }
    }

    fn of_ratio(
        &mut self,
        id: ExpressionId,
        name: &str,
        argument: ExpressionId,
        function: impl Fn(Quantity) -> haunch_quantity::QuantityResult,
    ) -> Evaluated {
        match self.operand(argument) {
            Some(dimension) if !dimension.is_ratio() => {
                let finding = findings::unit_mismatch::argument(self, name, argument, dimension);
                self.report(finding);
            }
            Some(_) => {
                if let Some(quantity) = self.get(argument).as_quantity() {
                    return self.quantity_or_failure(id, Dimension::RATIO, function(quantity));
                }
            }
            None => {}
        }
        Evaluated::dimension_only(Dimension::RATIO)
    }

    /// The one dimension of several arguments; a difference is a finding. Of several the odd one is named,
    /// and the others go on.
    fn common(
        &mut self,
        id: ExpressionId,
        name: &str,
        arguments: &[ExpressionId],
    ) -> Option<Dimension> {
        for argument in arguments {
            self.operand(*argument);
        }
        let known = self.known(arguments);
        let Some(&(_, first)) = known.first() else {
            let is_zero = |argument: &ExpressionId| self.kind(*argument) == Kind::Zero;
            return arguments.iter().all(is_zero).then_some(Dimension::RATIO);
        };
        if known.iter().all(|(_, dimension)| *dimension == first) {
            return Some(first);
        }
        let common = self.common_dimension(id, arguments);
        match common {
            Some(common) => self.report_arguments(id, name, &known, Some(common)),
            None => {
                let function = name.into();
                let arguments = arguments.to_vec();
                self.leave_open(
                    id,
                    Between::Arguments {
                        function,
                        arguments,
                    },
                );
            }
        }
        common
    }

    /// Tells which arguments are not of the dimension that all are meant to have; all of them where that
    /// cannot be told.
    pub(super) fn report_arguments(
        &mut self,
        id: ExpressionId,
        name: &str,
        known: &[(ExpressionId, Dimension)],
        common: Option<Dimension>,
    ) {
        let Some(common) = common else {
            let finding = findings::unit_mismatch::arguments(self, self.place_of(id), name, known);
            self.report(finding);
            return;
        };
        let (fitting, odd): (Vec<_>, Vec<_>) = known.iter().partition(|own| own.1 == common);
        for odd in odd {
            let finding = findings::unit_mismatch::odd_argument(self, name, odd, &fitting, common);
            self.report(finding);
        }
    }

    fn extreme(
        &mut self,
        id: ExpressionId,
        name: &str,
        arguments: &[ExpressionId],
        choose: impl Fn(Quantity, Quantity) -> haunch_quantity::QuantityResult,
    ) -> Evaluated {
        let Some(dimension) = self.common(id, name, arguments) else {
            return Evaluated::UNKNOWN;
        };
        let values: Option<Vec<Quantity>> = arguments
            .iter()
            .map(|a| self.get(*a).as_dimension(dimension))
            .collect();
        let Some(values) = values else {
            return Evaluated::dimension_only(dimension);
        };
        let mut values = values.into_iter();
        let Some(first) = values.next() else {
            return Evaluated::UNKNOWN;
        };
        let result = values.try_fold(first, choose);
        self.quantity_or_failure(id, dimension, result)
    }

    fn step_of(
        &mut self,
        id: ExpressionId,
        name: &str,
        arguments: &[ExpressionId],
        function: impl Fn(Quantity, Quantity) -> haunch_quantity::QuantityResult,
    ) -> Evaluated {
        let [value, rest @ ..] = arguments else {
            return Evaluated::UNKNOWN;
        };
        let (dimension, step) = match rest {
            [step] => {
                let Some(dimension) = self.common(id, name, arguments) else {
                    return Evaluated::UNKNOWN;
                };
                (dimension, self.get(*step).as_dimension(dimension))
            }
            _ => {
                let Some(dimension) = self.operand(*value) else {
                    return Evaluated::UNKNOWN;
                };
                if !dimension.is_ratio() {
                    let finding = findings::wrong_arguments::needs_step(
                        self.place_of(*value),
                        name,
                        self.source(*value),
                        dimension,
                    );
                    self.report(finding);
                    return Evaluated::dimension_only(dimension);
                }
                (dimension, Quantity::ratio(1.0))
            }
        };
        let (Some(value), Some(step)) = (self.get(*value).as_dimension(dimension), step) else {
            return Evaluated::dimension_only(dimension);
        };
        self.quantity_or_failure(id, dimension, function(value, step))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_shows_how_it_is_called() {
        for function in BUILT_IN {
            assert!(function.call.starts_with(function.name));
            assert!(!function.meaning.is_empty());
        }
    }
}
