//! Which argument of a formula's call is at fault, or which two stand in each other's place.

use haunch_quantity::Dimension;
use haunch_syntax::{Formula, Statement};
use smol_str::SmolStr;

use super::form::Form;
use super::reader::{Reader, Shape};
use super::system::{self, Solution};
use crate::finding::Place;
use crate::line::LineId;
use crate::state::State;
use crate::value::Kind;

/// An argument that, changed by itself, would make a call right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct AtFault {
    /// Which argument.
    pub(crate) index: usize,
    /// The formula's name.
    pub(crate) formula: SmolStr,
    /// The argument's name in it.
    pub(crate) parameter: SmolStr,
    /// What it would have to be.
    pub(crate) needed: Dimension,
}

/// A call's formula with its equations, for trying what its arguments could be.
struct Trial<'a> {
    reader: Reader<'a>,
    parameters: Vec<Form>,
    own: &'a Formula,
}

impl<'a> Trial<'a> {
    /// `None` where nothing can be told of the formula, or where it cannot come out as `wanted`.
    fn new(
        state: &'a State,
        formula: LineId,
        count: usize,
        wanted: Option<Dimension>,
    ) -> Option<Trial<'a>> {
        let cell = state.cell(formula)?;
        let Statement::Formula(own) = &cell.tree.statement else {
            return None;
        };
        let mut reader = Reader::new(state);
        let (parameters, result) = reader.formula(formula, cell, count)?;
        if let (Shape::Form(result), Some(wanted)) = (&result, wanted) {
            if !result.is_open() && result.known != wanted {
                return None;
            }
            let place = Place {
                line: formula,
                span: own.name.span,
            };
            reader.alike(result, &Form::known(wanted), place);
        }
        (!reader.gave_up).then_some(Trial {
            reader,
            parameters,
            own,
        })
    }

    /// What the formula's equations come to with some of its arguments given.
    fn with(&self, given: impl Iterator<Item = (usize, Dimension)>) -> Option<Solution> {
        let given: Vec<Form> = given
            .filter_map(|(index, own)| self.parameters.get(index)?.divide(&Form::known(own)))
            .collect();
        let inside = self.reader.equations.iter().map(|equation| &equation.form);
        system::solve(inside.chain(&given))
    }
}

/// The dimensions of a call's arguments, those that are known.
fn known(arguments: &[Kind]) -> impl Iterator<Item = (usize, Dimension)> {
    let dimension = |(index, kind): (usize, &Kind)| match kind {
        Kind::Quantity(dimension) => Some((index, *dimension)),
        _ => None,
    };
    arguments.iter().enumerate().filter_map(dimension)
}

/// The arguments of which one alone, being of another dimension, would make a call right, where the call
/// has to come out as `wanted`. Those that would need a dimension without a name count only where there
/// are no others.
pub(crate) fn at_fault(
    state: &State,
    formula: LineId,
    arguments: &[Kind],
    wanted: Option<Dimension>,
) -> Vec<AtFault> {
    let Some(trial) = Trial::new(state, formula, arguments.len(), wanted) else {
        return Vec::new();
    };
    let mut found: Vec<AtFault> = Vec::new();
    for (index, given) in known(arguments) {
        let others = known(arguments).filter(|(other, _)| *other != index);
        let Some(solution) = trial.with(others) else {
            return Vec::new();
        };
        let (Some(parameter), Some(name)) =
            (trial.parameters.get(index), trial.own.parameters.get(index))
        else {
            continue;
        };
        if solution.conflict().is_none()
            && let Some(needed) = solution.dimension(parameter)
            && needed != given
        {
            found.push(AtFault {
                index,
                formula: trial.own.name.text.clone(),
                parameter: name.text.clone(),
                needed,
            });
        }
    }
    if found.iter().any(|own| own.needed.name().is_some()) {
        found.retain(|own| own.needed.name().is_some());
    }
    found
}

/// The two arguments that make a call right when they change places, where only these do.
pub(crate) fn exchanged(
    state: &State,
    formula: LineId,
    arguments: &[Kind],
    wanted: Option<Dimension>,
) -> Option<[(usize, SmolStr); 2]> {
    let trial = Trial::new(state, formula, arguments.len(), wanted)?;
    let given: Vec<(usize, Dimension)> = known(arguments).collect();
    let mut found = None;
    for (number, (one, of_one)) in given.iter().enumerate() {
        for (other, of_other) in given.iter().skip(number + 1) {
            if of_one == of_other {
                continue;
            }
            let in_order = given.iter().map(|(index, own)| match index {
                index if index == one => (*index, *of_other),
                index if index == other => (*index, *of_one),
                _ => (*index, *own),
            });
            if trial.with(in_order)?.conflict().is_some() {
                continue;
            }
            if found.is_some() {
                return None;
            }
            let name = |index: usize| Some(trial.own.parameters.get(index)?.text.clone());
            found = Some([(*one, name(*one)?), (*other, name(*other)?)]);
        }
    }
    found
}
