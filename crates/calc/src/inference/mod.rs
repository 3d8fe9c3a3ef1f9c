//! Dimensions of names that have no definition, or a broken one, and of a formula's arguments: unknowns
//! that are solved for within their line.
//!
//! Every expression of the line has a dimension in terms of the unknown ones ([`form`]); sums,
//! comparisons, functions and the places of a statement set some of them equal ([`reader`], [`paths`],
//! [`asked`]). For the exponents these are linear equations with rational coefficients, solved exactly
//! ([`system`]). All other names of the line are taken as they are. Other lines are never drawn in, but
//! for the bodies of the formulas that the line calls.
//!
//! It is done only for lines that have an unknown, and bounded: with more than
//! [`system::MOST_EQUATIONS`] equations nothing is told.

mod argument;
mod asked;
mod form;
mod paths;
mod reader;
mod system;

pub(crate) use argument::{AtFault, at_fault, exchanged};

use haunch_quantity::Dimension;
use haunch_syntax::{BlockKind, ExpressionId, ExpressionKind, Statement};
use haunch_text::Span;
use smol_str::SmolStr;

use crate::expression::Locals;
use crate::finding::Place;
use crate::line::LineId;
use crate::reads::point_argument;
use crate::state::{Cell, State};
use crate::value::{Evaluated, Kind};
use form::{Form, Unknown};
use reader::{Named, Reader, Scope};
use system::Solution;

/// What a line says of an unknown name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Needs {
    /// It has to be of this dimension.
    Dimension(Dimension),
    /// It has to be true or false.
    Truth,
    /// It has to be of one dimension with another unknown name.
    Like(SmolStr),
    /// This product of it and other unknown names has to be of a dimension.
    Product(String, Dimension),
    /// Its uses on the line contradict each other.
    Contradiction,
    /// The line does not tell.
    Nothing,
}

impl Needs {
    /// The dimension, where the line tells it.
    pub fn dimension(&self) -> Option<Dimension> {
        match self {
            Needs::Dimension(dimension) => Some(*dimension),
            _ => None,
        }
    }
}

/// A name whose dimension is solved for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inferred {
    /// The dotted name; a call as it is written, without spaces.
    pub name: SmolStr,
    /// Where it stands in the line.
    pub spans: Vec<Span>,
    /// What it has to be.
    pub needs: Needs,
}

impl Inferred {
    /// What the line says of it, as a sentence; none where it does not tell.
    pub fn in_words(&self) -> Option<String> {
        let it = match self.name.contains('(') {
            true => "what it gives",
            false => "it",
        };
        Some(match &self.needs {
            Needs::Dimension(dimension) => format!(
                "As it is used here {it} has to be {}.",
                dimension.describe_with_article()
            ),
            Needs::Truth => format!("As it is used here {it} has to be true or false."),
            Needs::Like(other) => {
                format!("As it is used here {it} has to be of the same dimension as {other}.")
            }
            Needs::Product(product, dimension) => format!(
                "As it is used here {product} has to be {}, so this line does not tell what each \
                 of them is.",
                dimension.describe_with_article()
            ),
            Needs::Contradiction | Needs::Nothing => return None,
        })
    }
}

/// Uses that no dimension fits.
#[derive(Debug, Clone)]
pub(crate) struct Contradiction {
    /// The names.
    pub(crate) names: Vec<SmolStr>,
    /// What asks for different things, with the name's dimension where it is told by this alone.
    pub(crate) uses: Vec<(Place, Option<Dimension>)>,
}

/// What a line's equations come to.
#[derive(Debug, Default)]
pub(crate) struct Inference {
    pub(crate) names: Vec<Inferred>,
    /// The dimension of each expression, where it is told.
    pub(crate) dimensions: Vec<Option<Dimension>>,
    pub(crate) contradiction: Option<Contradiction>,
}

impl Inference {
    /// Gives expressions that are not known the dimension that the line tells.
    pub(crate) fn fill_in(&self, expressions: &mut [Evaluated]) {
        for (evaluated, dimension) in expressions.iter_mut().zip(&self.dimensions) {
            if let (Kind::Unknown, Some(dimension)) = (evaluated.kind, dimension) {
                *evaluated = Evaluated::dimension_only(*dimension);
            }
        }
    }

    /// What the line says that a part has to be.
    pub(crate) fn dimension(&self, part: ExpressionId) -> Option<Dimension> {
        self.dimensions.get(part.0 as usize).copied().flatten()
    }

    /// The name at a place.
    pub(crate) fn at(&self, place: Span) -> Option<&Inferred> {
        at(&self.names, place)
    }
}

/// The innermost of these names that covers a place.
fn at(names: &[Inferred], place: Span) -> Option<&Inferred> {
    let covers = |span: &&Span| span.start <= place.start && place.end <= span.end;
    let within = |own: &Inferred| own.spans.iter().filter(covers).map(|span| span.len()).min();
    let found = names.iter().filter_map(|own| Some((within(own)?, own)));
    found.min_by_key(|(length, _)| *length).map(|(_, own)| own)
}

/// Whether a line has a name that is not known, or arguments. `locals` are names that only the line knows.
pub(crate) fn is_needed(cell: &Cell, evaluated: &[Evaluated], locals: &Locals) -> bool {
    let tree = &cell.tree;
    let has_arguments = matches!(tree.statement, Statement::Formula(_));
    let is_unknown = |index: usize| match tree.expressions.get(index).map(|own| &own.kind) {
        Some(ExpressionKind::Path(path)) => {
            let first = path.names.first();
            let is_local = first.is_some_and(|name| locals.contains_key(&name.text));
            (has_arguments || !is_local)
                && evaluated
                    .get(index)
                    .is_none_or(|own| own.kind == Kind::Unknown)
        }
        _ => false,
    };
    let mut unknown = (0..tree.expressions.len()).filter(|index| is_unknown(*index));
    let Some(first) = unknown.next() else {
        return false;
    };
    let points: Vec<usize> = tree
        .paths()
        .filter_map(|path| Some(point_argument(tree, path)?.0 as usize))
        .collect();
    std::iter::once(first)
        .chain(unknown)
        .any(|index| !points.contains(&index))
}

/// Solves for the unknown names of a line, given what each of its expressions is so far.
pub(crate) fn infer(
    state: &State,
    line: LineId,
    cell: &Cell,
    evaluated: &[Evaluated],
    block: Option<BlockKind>,
) -> Inference {
    let mut reader = Reader::new(state);
    let mut scope = Scope {
        line,
        file: cell.file,
        tree: &cell.tree,
        text: &cell.text,
        evaluated,
        bound: Vec::new(),
        is_own: true,
    };
    reader.bind(&mut scope, cell, block);
    let shapes = reader.read(&scope);
    reader.asked(&scope, &shapes, block);
    let forms = reader.equations.iter().map(|equation| &equation.form);
    let solution = match reader.gave_up {
        true => None,
        false => system::solve(forms),
    };
    let Some(solution) = solution else {
        return Inference::default();
    };
    let names = |named: &Named| Inferred {
        name: named.name.clone(),
        spans: named.spans.clone(),
        needs: needs(&reader, named, &solution),
    };
    Inference {
        names: reader.named.iter().map(names).collect(),
        dimensions: shapes
            .iter()
            .map(|shape| solution.dimension(shape.form()?))
            .collect(),
        contradiction: contradiction(&reader, &solution),
    }
}

fn needs(reader: &Reader<'_>, named: &Named, solution: &Solution) -> Needs {
    if named.is_truth {
        return Needs::Truth;
    }
    let mut conflicting = solution.conflicts().flatten();
    let is_about = |index: usize| {
        let equation = reader.equations.get(index);
        equation.is_some_and(|own| own.about.contains(&named.unknown))
    };
    if conflicting.any(is_about) || solution.is_contradicted(named.unknown) {
        return Needs::Contradiction;
    }
    if let Some(dimension) = solution.dimension(&Form::unknown(named.unknown)) {
        return Needs::Dimension(dimension);
    }
    let Some((product, dimension)) = solution.relation(named.unknown) else {
        return Needs::Nothing;
    };
    let name = |unknown: Unknown| reader.named.iter().find(|own| own.unknown == unknown);
    let (mut above, mut below) = (Vec::new(), Vec::new());
    for (unknown, power) in &product.powers {
        let (Some(own), Some(power)) = (name(*unknown), power.as_integer()) else {
            return Needs::Nothing;
        };
        let side = if power > 0 { &mut above } else { &mut below };
        side.push(match power.unsigned_abs() {
            1 => own.name.to_string(),
            power => format!("{}^{power}", own.name),
        });
    }
    match (above.as_slice(), below.as_slice()) {
        ([one], [other]) if dimension.is_ratio() && *one == named.name && !other.contains('^') => {
            Needs::Like(other.as_str().into())
        }
        (_, []) => Needs::Product(above.join("*"), dimension),
        (_, [only]) => Needs::Product(format!("{}/{only}", above.join("*")), dimension),
        _ => Needs::Product(
            format!("{}/({})", above.join("*"), below.join("*")),
            dimension,
        ),
    }
}

fn contradiction(reader: &Reader<'_>, solution: &Solution) -> Option<Contradiction> {
    let conflict = solution.conflict()?;
    let equations: Vec<_> = conflict
        .iter()
        .filter_map(|index| reader.equations.get(*index))
        .collect();
    let named = |unknown: Unknown| reader.named.iter().find(|own| own.unknown == unknown);
    let is_about = |own: &&Named| {
        let mut about = equations.iter().flat_map(|equation| &equation.about);
        about.any(|unknown| *unknown == own.unknown)
    };
    let concerned = reader.named.iter().filter(is_about);
    let names: Vec<SmolStr> = concerned.map(|own| own.name.clone()).collect();
    if names.is_empty() {
        return None;
    }
    let uses = equations.iter().map(|equation| {
        let alone = match equation.form.powers.as_slice() {
            [(unknown, _)] if named(*unknown).is_some() => system::solve([&equation.form])
                .and_then(|solution| solution.dimension(&Form::unknown(*unknown))),
            _ => None,
        };
        (equation.place, alone)
    });
    Some(Contradiction {
        names,
        uses: uses.collect(),
    })
}

/// What the unknown names of a line have to be, and the arguments of the formula that it is.
pub(crate) fn of_line(state: &State, line: LineId) -> Vec<Inferred> {
    let Some(cell) = state.cell(line) else {
        return Vec::new();
    };
    if matches!(cell.tree.statement, Statement::Broken { .. }) {
        return Vec::new();
    }
    let block = state.block_of(cell).map(|(_, kind)| kind);
    infer(state, line, cell, &cell.outcome.expressions, block).names
}
