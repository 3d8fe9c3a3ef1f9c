//! Which argument of a formula's call is at fault.

use haunch_quantity::Dimension;
use haunch_syntax::Statement;
use smol_str::SmolStr;

use super::form::Form;
use super::reader::{Reader, Shape};
use super::system;
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

/// The arguments of which one alone, being of another dimension, would make a call right, where the call
/// has to come out as `wanted`. Those that would need a dimension without a name count only where there
/// are no others.
pub(crate) fn at_fault(
    state: &State,
    formula: LineId,
    arguments: &[Kind],
    wanted: Option<Dimension>,
) -> Vec<AtFault> {
    let Some(cell) = state.cell(formula) else {
        return Vec::new();
    };
    let Statement::Formula(own) = &cell.tree.statement else {
        return Vec::new();
    };
    let mut reader = Reader::new(state);
    let Some((parameters, result)) = reader.formula(formula, cell, arguments.len()) else {
        return Vec::new();
    };
    if let (Shape::Form(result), Some(wanted)) = (&result, wanted) {
        if !result.is_open() && result.known != wanted {
            return Vec::new();
        }
        let place = crate::finding::Place {
            line: formula,
            span: own.name.span,
        };
        reader.alike(result, &Form::known(wanted), place);
    }
    if reader.gave_up {
        return Vec::new();
    }
    let given = |index: usize| match arguments.get(index)? {
        Kind::Quantity(dimension) => parameters.get(index)?.divide(&Form::known(*dimension)),
        _ => None,
    };
    let mut found: Vec<AtFault> = Vec::new();
    for (index, (parameter, name)) in parameters.iter().zip(&own.parameters).enumerate() {
        if given(index).is_none() {
            continue;
        }
        let others: Vec<Form> = (0..arguments.len())
            .filter(|other| *other != index)
            .filter_map(given)
            .collect();
        let inside = reader.equations.iter().map(|equation| &equation.form);
        let Some(solution) = system::solve(inside.chain(&others)) else {
            return Vec::new();
        };
        if solution.conflict().is_none()
            && let Some(needed) = solution.dimension(parameter)
            && arguments.get(index) != Some(&Kind::Quantity(needed))
        {
            found.push(AtFault {
                index,
                formula: own.name.text.clone(),
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
