//! Calls of the user's formulas: the body is worked out with the arguments' kinds and values, so
//! that a call is checked as strictly as if the formula stood there.

use haunch_quantity::{Dimension, Unit};
use haunch_syntax::{ExpressionId, ExpressionKind, ShownKind, Statement};
use haunch_text::Span;

use super::{Context, Locals};
use crate::finding::{Finding, Place};
use crate::findings;
use crate::inference::{self, AtFault};
use crate::line::LineId;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::value::{Evaluated, Kind};

/// How deep formulas may call each other. Rings are found before; this bounds the stack.
const MAXIMUM_CALLS: usize = 64;

impl Context<'_> {
    pub(super) fn call_formula(
        &mut self,
        id: ExpressionId,
        line: LineId,
        name: &str,
        arguments: &[ExpressionId],
        span: Span,
    ) -> Evaluated {
        let Some(cell) = self.state.cell(line) else {
            return Evaluated::UNKNOWN;
        };
        let Statement::Formula(formula) = &cell.tree.statement else {
            return Evaluated::UNKNOWN;
        };
        if formula.parameters.len() != arguments.len() {
            let place = self.place(span);
            let expected = formula.parameters.len();
            self.report(findings::wrong_arguments::count(
                place,
                name,
                expected,
                arguments.len(),
            ));
            return Evaluated::UNKNOWN;
        }
        if !cell.outcome.findings.is_empty()
            && cell
                .outcome
                .findings
                .iter()
                .any(|f| f.severity == crate::finding::Severity::Error)
        {
            return Evaluated::UNKNOWN;
        }
        if self.depth >= MAXIMUM_CALLS {
            let place = self.place(span);
            self.report(findings::no_value::too_much(place));
            return Evaluated::UNKNOWN;
        }
        let locals: Locals = formula
            .parameters
            .iter()
            .zip(arguments)
            .map(|(parameter, argument)| (parameter.text.clone(), self.get(*argument)))
            .collect();
        let mut inner = Context::new(self.state, line, cell, self.preferences, &locals);
        inner.budget = self.budget;
        inner.depth = self.depth + 1;
        let declared = formula.shown.as_ref().and_then(|shown| match &shown.kind {
            ShownKind::Unit(unit) => Unit::parse(&unit.text).ok().map(|u| u.dimension()),
            ShownKind::Any(words) => haunch_quantity::Dimension::from_name(&words.text),
        });
        inner.evaluate();
        let mut result = inner.get(formula.body);
        inner.report_failures(&[]);
        let failure = inner.failure(formula.body);
        let findings = std::mem::take(&mut inner.findings);
        self.budget = inner.budget;
        if let Some(first) = findings.first() {
            let place = self.place(span);
            let is_mismatch = first.code == &findings::unit_mismatch::CODE;
            let argument = is_mismatch
                .then(|| self.argument_at_fault(place, line, name, arguments, None))
                .flatten();
            let finding = match argument {
                Some(finding) => finding.with_related(first.place, first.message.clone()),
                None => findings::wrong_arguments::inside(place, name, first),
            };
            self.report(finding);
            return Evaluated::UNKNOWN;
        }
        if let (Some(declared), Some(found)) = (declared, result.kind.dimension())
            && declared != found
            && result.kind != crate::value::Kind::Zero
        {
            let place = self.place(span);
            let argument = self.argument_at_fault(place, line, name, arguments, None);
            let finding = argument
                .unwrap_or_else(|| findings::unit_mismatch::call(place, name, found, declared));
            self.report(finding);
            return Evaluated::dimension_only(declared);
        }
        if let Some(message) = failure {
            self.fail(id, span, format!("in {name}, {message}"));
            result.value = None;
        }
        result
    }

    /// Tells which argument of a call does not fit, the call having to come out as `wanted`.
    fn argument_at_fault(
        &self,
        call: Place,
        formula: LineId,
        name: &str,
        arguments: &[ExpressionId],
        wanted: Option<Dimension>,
    ) -> Option<Finding> {
        let kinds: Vec<Kind> = arguments.iter().map(|id| self.kind(*id)).collect();
        let at_fault = inference::at_fault(self.state, formula, &kinds, wanted);
        findings::unit_mismatch::argument_of_formula(self, call, name, arguments, &at_fault)
    }

    /// The argument at fault of a call that has to come out as `wanted`, and what it has to be, where there
    /// is one such argument.
    pub(crate) fn single_argument_at_fault(
        &self,
        call: ExpressionId,
        wanted: Dimension,
    ) -> Option<(ExpressionId, AtFault)> {
        let ExpressionKind::Path(path) = &self.tree.expressions.get(call.0 as usize)?.kind else {
            return None;
        };
        let arguments = path.arguments.as_ref()?;
        let Target::Line(line) = self.state.resolve(self.file, &names_of(path)).target else {
            return None;
        };
        let kinds: Vec<Kind> = arguments.iter().map(|id| self.kind(*id)).collect();
        match inference::at_fault(self.state, line, &kinds, Some(wanted)).as_slice() {
            [only] => Some((*arguments.get(only.index)?, only.clone())),
            _ => None,
        }
    }
}
