//! Calls of the user's formulas: the body is worked out with the arguments' kinds and values, so
//! that a call is checked as strictly as if the formula stood there.

use haunch_quantity::{Dimension, Unit};
use haunch_syntax::{ExpressionId, ExpressionKind, ShownKind, Statement};
use haunch_text::Span;

use super::{Between, Context, Locals};
use crate::finding::{Finding, Place};
use crate::findings;
use crate::inference::{self, AtFault};
use crate::line::LineId;
use crate::reads::names_of;
use crate::repair::is_customary;
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
        let of_body = inner.span(formula.body);
        inner.report_failures(&[]);
        let failure = inner.failure(formula.body);
        let findings = std::mem::take(&mut inner.findings);
        self.budget = inner.budget;
        if let Some(first) = findings.into_iter().next() {
            if first.code == &findings::unit_mismatch::CODE {
                let between = Between::Call {
                    formula: line,
                    name: name.to_owned(),
                    arguments: arguments.to_vec(),
                    inside: Box::new(first),
                };
                self.leave_open(id, between);
            } else {
                let place = self.place(span);
                self.report(findings::wrong_arguments::inside(place, name, &first));
            }
            return Evaluated::UNKNOWN;
        }
        if let (Some(declared), Some(found)) = (declared, result.kind.dimension())
            && declared != found
            && result.kind != crate::value::Kind::Zero
        {
            let place = self.place(span);
            let argument = self.argument_at_fault(place, line, name, arguments, None);
            let finding = argument.unwrap_or_else(|| {
                let mut finding = findings::unit_mismatch::call(place, name, found, declared);
                finding.related = findings::unit_mismatch::given_to(self, arguments);
                let formula_itself = Place {
                    line,
                    span: of_body,
                };
                finding.with_related(formula_itself, format!("the formula {name}"))
            });
            self.report(finding);
            return Evaluated::dimension_only(declared);
        }
        if let Some(message) = failure {
            self.fail(id, span, format!("in {name}, {message}"));
            result.value = None;
        }
        result
    }

    /// Tells which argument of a call does not fit, else what goes wrong inside the formula.
    pub(super) fn report_call(
        &mut self,
        call: ExpressionId,
        formula: LineId,
        name: &str,
        arguments: &[ExpressionId],
        inside: &Finding,
        told: Option<Dimension>,
    ) {
        let place = self.place_of(call);
        let finding = told
            .and_then(|told| self.argument_at_fault(place, formula, name, arguments, Some(told)))
            .or_else(|| self.argument_at_fault(place, formula, name, arguments, None));
        self.report(match finding {
            Some(finding) => finding.with_related(inside.place, inside.message.clone()),
            None => {
                let mut finding = findings::wrong_arguments::inside(place, name, inside);
                let given = findings::unit_mismatch::given_to(self, arguments);
                finding.related.splice(0..0, given);
                finding
            }
        });
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
        let at_fault = self.suspects(formula, arguments, wanted);
        if at_fault.iter().all(|own| own.needed.name().is_none()) {
            let kinds: Vec<Kind> = arguments.iter().map(|id| self.kind(*id)).collect();
            if let Some(pair) = inference::exchanged(self.state, formula, &kinds, wanted) {
                return findings::unit_mismatch::exchanged(self, call, name, arguments, &pair);
            }
        }
        findings::unit_mismatch::argument_of_formula(self, call, name, arguments, &at_fault)
    }

    /// The arguments one of which is at fault. Names in the formula tell which, where all others are of the kind
    /// that their names usually stand for. Where each is, and the formula asks for another, it is the formula.
    fn suspects(
        &self,
        formula: LineId,
        arguments: &[ExpressionId],
        wanted: Option<Dimension>,
    ) -> Vec<AtFault> {
        let kinds: Vec<Kind> = arguments.iter().map(|id| self.kind(*id)).collect();
        let mut at_fault = inference::at_fault(self.state, formula, &kinds, wanted);
        let fits_its_name = |own: &AtFault| {
            let given = kinds.get(own.index).and_then(|kind| kind.dimension());
            given.and_then(|given| is_customary(&own.parameter, given)) == Some(true)
        };
        let asks = |own: &AtFault| is_customary(&own.parameter, own.needed);
        let odd = |own: &AtFault| !fits_its_name(own) && asks(own) == Some(true);
        let in_formula = |own: &AtFault| fits_its_name(own) && asks(own) == Some(false);
        if at_fault.iter().all(in_formula) {
            return Vec::new();
        }
        let odd_ones = at_fault.iter().filter(|own| odd(own)).count();
        if odd_ones == 1 && at_fault.iter().all(|own| odd(own) || fits_its_name(own)) {
            at_fault.retain(odd);
        }
        at_fault
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
        match self.suspects(line, arguments, Some(wanted)).as_slice() {
            [only] => Some((*arguments.get(only.index)?, only.clone())),
            _ => None,
        }
    }
}
