//! Names and calls: what they are where they are known, an unknown where they have no definition.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{ExpressionId, Path, Statement};
use haunch_text::Span;
use smol_str::SmolStr;

use super::form::Form;
use super::reader::{Reader, Scope, Shape, as_written};
use crate::expression::functions::is_built_in;
use crate::expression::is_kept;
use crate::finding::Severity;
use crate::line::LineId;
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::Cell;
use crate::statements::expected::shown_dimension;
use crate::value::Kind;

/// How deep formulas are followed into each other.
const MOST_CALLS: usize = 16;

impl<'a> Reader<'a> {
    pub(super) fn path(
        &mut self,
        scope: &Scope<'a>,
        shapes: &[Shape],
        id: ExpressionId,
        path: &'a Path,
    ) -> Shape {
        let [first, rest @ ..] = path.names.as_slice() else {
            return Shape::Nothing;
        };
        let span = scope.span(id);
        if rest.is_empty() {
            let bound = scope.bound.iter().find(|(name, _)| *name == first.text);
            if let Some((_, form)) = bound {
                if path.arguments.is_some() {
                    return Shape::Nothing;
                }
                if scope.is_own {
                    self.named_again(&first.text, span);
                }
                return Shape::Form(form.clone());
            }
            if let (true, Some(arguments)) = (is_built_in(&first.text), &path.arguments) {
                return self.built_in(scope, shapes, &first.text, arguments, id);
            }
            if is_kept(&first.text) {
                return Shape::of_kind(scope.kind(id));
            }
        }
        let names = names_of(path);
        let target = self.state.resolve(scope.file, &names).target;
        if let Some(arguments) = &path.arguments {
            match &target {
                Target::Line(line) => return self.call(scope, shapes, id, *line, path),
                Target::Block { .. } => self.places(scope, shapes, arguments, span),
                _ => {}
            }
        }
        let is_unknown = self.lacks_definition(&target)
            || scope.kind(id) == Kind::Unknown && matches!(target, Target::Block { .. });
        match is_unknown && scope.is_own {
            true => Shape::Form(self.name(as_written(scope.text, path, span), span)),
            false => Shape::of_kind(scope.kind(id)),
        }
    }

    /// Whether a path has no definition, or one from which no dimension can be told.
    fn lacks_definition(&self, target: &Target) -> bool {
        match target {
            Target::Undefined | Target::Several(_) | Target::Broken(_) | Target::FileMissing(_) => {
                true
            }
            Target::Line(line) => {
                self.state
                    .cell(*line)
                    .is_some_and(|cell| match &cell.outcome.meaning {
                        Meaning::Value(value) => value.evaluated.kind == Kind::Unknown,
                        Meaning::Nothing => true,
                        _ => false,
                    })
            }
            _ => false,
        }
    }

    /// Arguments of a block's function are places in it.
    fn places(
        &mut self,
        scope: &Scope<'_>,
        shapes: &[Shape],
        arguments: &[ExpressionId],
        span: Span,
    ) {
        for argument in arguments {
            if let Some(shape) = shapes.get(argument.0 as usize) {
                self.has_to_be(shape, Dimension::LENGTH, scope.place(span));
            }
        }
    }

    fn built_in(
        &mut self,
        scope: &Scope<'_>,
        shapes: &[Shape],
        name: &str,
        arguments: &[ExpressionId],
        id: ExpressionId,
    ) -> Shape {
        let of = |id: &ExpressionId| shapes.get(id.0 as usize).unwrap_or(&Shape::Nothing);
        let place = scope.place(scope.span(id));
        match (name, arguments) {
            ("sqrt", [argument]) => self.power(of(argument), Rational::HALF),
            ("cbrt", [argument]) => self.power(of(argument), Rational::THIRD),
            ("abs", [argument]) => self.power(of(argument), Rational::ONE),
            ("min" | "max", [_, _, ..]) | ("round" | "floor" | "ceil", [_, _]) => {
                let all: Vec<&Shape> = arguments.iter().map(of).collect();
                self.common(&all, scope.kind(id), place)
            }
            (_, [argument]) => {
                // Of an angle, a ratio or, without a step, a plain number.
                self.has_to_be(of(argument), Dimension::RATIO, place);
                Shape::Form(Form::known(Dimension::RATIO))
            }
            _ => Shape::Nothing,
        }
    }

    /// A call of a formula: its body with the arguments put in. A formula with a mistake of its own gives an
    /// unknown.
    fn call(
        &mut self,
        scope: &Scope<'a>,
        shapes: &[Shape],
        id: ExpressionId,
        line: LineId,
        path: &Path,
    ) -> Shape {
        let arguments = path.arguments.as_deref().unwrap_or_default();
        let of = |id: &ExpressionId| shapes.get(id.0 as usize).unwrap_or(&Shape::Nothing);
        let is_open = |id: &ExpressionId| of(id).form().is_some_and(Form::is_open);
        let Some(cell) = self.state.cell(line) else {
            return Shape::Nothing;
        };
        if scope.is_own && is_broken(cell) {
            let span = scope.span(id);
            return Shape::Form(self.name(as_written(scope.text, path, span), span));
        }
        if !arguments.iter().any(is_open) {
            let is_unknown = scope.is_own && scope.kind(id) == Kind::Unknown;
            return match is_unknown {
                true => Shape::Form(Form::unknown(self.fresh())),
                false => Shape::of_kind(scope.kind(id)),
            };
        }
        let Some((parameters, result)) = self.formula(line, cell, arguments.len()) else {
            return Shape::of_kind(scope.kind(id));
        };
        for (parameter, argument) in parameters.iter().zip(arguments) {
            if let Shape::Form(form) = of(argument) {
                let form = form.clone();
                self.alike(parameter, &form, scope.place(scope.span(id)));
            }
        }
        result
    }

    /// What a formula asks of its arguments, and what it gives. `None` for a formula with a mistake of its
    /// own, and for another number of arguments.
    pub(super) fn formula(
        &mut self,
        line: LineId,
        cell: &'a Cell,
        count: usize,
    ) -> Option<(Vec<Form>, Shape)> {
        let Statement::Formula(formula) = &cell.tree.statement else {
            return None;
        };
        if formula.parameters.len() != count || self.depth >= MOST_CALLS || is_broken(cell) {
            return None;
        }
        let bound: Vec<(SmolStr, Form)> = formula
            .parameters
            .iter()
            .map(|own| (own.text.clone(), Form::unknown(self.fresh())))
            .collect();
        let parameters = bound.iter().map(|(_, form)| form.clone()).collect();
        let scope = Scope::of_formula(line, cell, bound);
        self.depth += 1;
        let shapes = self.read(&scope);
        self.depth -= 1;
        let body = shapes.get(formula.body.0 as usize)?.clone();
        let shown = formula.shown.as_ref();
        let result = match shown.and_then(|shown| shown_dimension(&shown.kind)) {
            Some(dimension) => {
                self.has_to_be(&body, dimension, scope.place(scope.span(formula.body)));
                Shape::Form(Form::known(dimension))
            }
            None => body,
        };
        Some((parameters, result))
    }
}

/// Whether a line has a mistake of its own.
fn is_broken(cell: &Cell) -> bool {
    let mut findings = cell.outcome.findings.iter();
    findings.any(|finding| finding.severity == Severity::Error)
}
