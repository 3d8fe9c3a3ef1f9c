//! Parts whose operands do not fit each other, where they do not say by themselves which one is at fault.
//! The rest of the line may say what the whole part has to be.

use haunch_quantity::Dimension;
use haunch_syntax::ExpressionId;
use smol_str::SmolStr;

use super::{Context, sum};
use crate::finding::Finding;
use crate::findings::unit_mismatch;
use crate::line::LineId;
use crate::value::Kind;

/// A part that is reported once the whole line has been read.
#[derive(Debug)]
pub(super) struct Undecided {
    pub(super) part: ExpressionId,
    pub(super) between: Between,
}

/// What does not fit each other.
#[derive(Debug)]
pub(super) enum Between {
    /// The terms of a sum.
    Terms,
    /// The arguments of a built-in function.
    Arguments {
        function: SmolStr,
        arguments: Vec<ExpressionId>,
    },
    /// The branches of a choice.
    Branches {
        then: ExpressionId,
        otherwise: ExpressionId,
    },
    /// The arguments of a formula, with what is wrong inside it.
    Call {
        formula: LineId,
        name: String,
        arguments: Vec<ExpressionId>,
        inside: Box<Finding>,
    },
}

impl Context<'_> {
    /// Whether something waits for what the line says of it.
    pub(crate) fn has_undecided(&self) -> bool {
        !self.undecided.is_empty()
    }

    /// Whether what the line says of each part is what one of those in it is. Else it is left open what the
    /// part comes to.
    pub(crate) fn is_decided_by(&self, told: impl Fn(ExpressionId) -> Option<Dimension>) -> bool {
        self.undecided.iter().all(|undecided| {
            let parts = match &undecided.between {
                Between::Terms => sum::terms(self.tree, undecided.part),
                Between::Arguments { arguments, .. } => arguments.clone(),
                Between::Branches { then, otherwise } => vec![*then, *otherwise],
                Between::Call { .. } => return true,
            };
            let told = told(undecided.part);
            let mut known = self.known(&parts).into_iter();
            known.any(|(_, dimension)| told == Some(dimension))
        })
    }

    /// Reports what waited, given what the line says that each part has to be.
    pub(crate) fn decide(&mut self, told: impl Fn(ExpressionId) -> Option<Dimension>) {
        for undecided in std::mem::take(&mut self.undecided) {
            let part = undecided.part;
            let told = told(part);
            match undecided.between {
                Between::Terms => {
                    let known = self.known(&sum::terms(self.tree, part));
                    let common = self.meant(&known, told);
                    self.report_terms(part, &known, common);
                }
                Between::Arguments {
                    function,
                    arguments,
                } => {
                    let known = self.known(&arguments);
                    let common = self.meant(&known, told);
                    self.report_arguments(part, &function, &known, common);
                }
                Between::Branches { then, otherwise } => {
                    if let [a, b] = self.known(&[then, otherwise]).as_slice() {
                        let meant = self.meant(&[*a, *b], told);
                        self.report(unit_mismatch::branches(self, part, (*a, *b), meant));
                    }
                }
                Between::Call {
                    formula,
                    name,
                    arguments,
                    inside,
                } => self.report_call(part, formula, &name, &arguments, &inside, told),
            }
        }
    }

    /// Those of these parts whose dimension is known.
    pub(crate) fn known(&self, parts: &[ExpressionId]) -> Vec<(ExpressionId, Dimension)> {
        let known = |part: &ExpressionId| match self.kind(*part) {
            Kind::Quantity(dimension) => Some((*part, dimension)),
            _ => None,
        };
        parts.iter().filter_map(known).collect()
    }

    /// The dimension that these are meant to have: what the line asks for where one of them has it, else
    /// that of the others where one is clearly the odd one.
    fn meant(
        &self,
        known: &[(ExpressionId, Dimension)],
        told: Option<Dimension>,
    ) -> Option<Dimension> {
        told.filter(|told| known.iter().any(|(_, dimension)| dimension == told))
            .or_else(|| unit_mismatch::meant(self, known))
    }
}
