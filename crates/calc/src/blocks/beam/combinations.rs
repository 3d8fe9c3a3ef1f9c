//! Combinations: sums of load cases with factors, told from the structure of the expression.

use std::collections::{BTreeMap, BTreeSet};

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Statement};
use smol_str::SmolStr;

use super::super::context::BlockLine;
use super::loads::CaseLoads;
use super::reading::{Lines, Reading};
use crate::findings;
use crate::line::LineId;
use crate::value::Kind;

/// A combination as its line states it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StatedCombination {
    /// Its name; none for "all loads once" where no combination is stated.
    pub(super) name: Option<SmolStr>,
    pub(super) line: Option<LineId>,
    pub(super) factors: BTreeMap<SmolStr, f64>,
}

/// An expression as a sum of cases with factors, or a plain number.
#[derive(Debug, Clone, PartialEq)]
enum Form {
    Number(f64),
    Cases(BTreeMap<SmolStr, f64>),
    /// Not known, for a reason that is told elsewhere.
    Unknown,
}

/// Reads the combinations, sorted by name. With none there is one: all loads once. A case in none
/// of them takes the beam's results.
pub(super) fn read(
    reading: &mut Reading<'_>,
    lines: &Lines<'_>,
    cases: &BTreeMap<SmolStr, CaseLoads>,
) -> Vec<StatedCombination> {
    if !lines.says_combination {
        return vec![StatedCombination {
            name: None,
            line: None,
            factors: cases.keys().map(|case| (case.clone(), 1.0)).collect(),
        }];
    }
    let names: BTreeSet<SmolStr> = cases.keys().cloned().collect();
    let mut combinations = Vec::new();
    for line in &lines.combinations {
        let Statement::Combination(combination) = &line.tree.statement else {
            continue;
        };
        let sum = Sum {
            line,
            cases: &names,
        };
        match sum.form(reading, combination.sum) {
            Form::Cases(factors) => combinations.push(StatedCombination {
                name: Some(combination.name.text.clone()),
                line: Some(line.id),
                factors,
            }),
            Form::Number(_) => {
                let place = line.place(line.span(combination.sum));
                let source = line.source(combination.sum);
                reading.refuse(findings::combination::no_case(place, source));
            }
            Form::Unknown => reading.is_incomplete(),
        }
    }
    // With a combination that is not known, a case may be in that one.
    if reading.complete {
        for (name, case) in cases {
            let is_in = |combination: &StatedCombination| combination.factors.contains_key(name);
            if !combinations.iter().any(is_in) {
                let place = case.named.unwrap_or(reading.context.name_place());
                reading.refuse(findings::combination::left_out(place, name));
            }
        }
    }
    combinations.sort_by(|a, b| a.name.cmp(&b.name));
    combinations
}

struct Sum<'a> {
    line: &'a BlockLine<'a>,
    cases: &'a BTreeSet<SmolStr>,
}

impl Sum<'_> {
    /// The form of an expression. Children come before their parents, so that no depth of
    /// nesting matters.
    fn form(&self, reading: &mut Reading<'_>, root: ExpressionId) -> Form {
        let mut forms: Vec<Form> = Vec::with_capacity(self.line.tree.expressions.len());
        for index in 0..self.line.tree.expressions.len() {
            let form = self.node(reading, ExpressionId(index as u32), &forms);
            forms.push(form);
        }
        forms.get(root.0 as usize).cloned().unwrap_or(Form::Unknown)
    }

    fn node(&self, reading: &mut Reading<'_>, id: ExpressionId, forms: &[Form]) -> Form {
        let form = |id: ExpressionId| forms.get(id.0 as usize).cloned().unwrap_or(Form::Unknown);
        let Some(expression) = self.line.tree.expressions.get(id.0 as usize) else {
            return Form::Unknown;
        };
        match &expression.kind {
            ExpressionKind::Path(path) => match (path.names.as_slice(), &path.arguments) {
                ([name], None) if self.cases.contains(&name.text) => {
                    Form::Cases(BTreeMap::from([(name.text.clone(), 1.0)]))
                }
                (_, Some(arguments)) => self.no_cases(reading, id, arguments, forms),
                _ => self.number(id),
            },
            ExpressionKind::Literal(_) => self.number(id),
            ExpressionKind::Group(inner) => form(*inner),
            ExpressionKind::Negate(inner) => scaled(form(*inner), -1.0),
            ExpressionKind::Not(inner) => self.no_cases(reading, id, &[*inner], forms),
            ExpressionKind::Superscript { base, .. } => self.no_cases(reading, id, &[*base], forms),
            ExpressionKind::Compare { left, right, .. } => {
                self.no_cases(reading, id, &[*left, *right], forms)
            }
            ExpressionKind::Choice {
                condition,
                then,
                otherwise,
            } => self.no_cases(reading, id, &[*condition, *then, *otherwise], forms),
            ExpressionKind::Binary {
                operator,
                left,
                right,
                ..
            } => match (operator, form(*left), form(*right)) {
                (_, Form::Unknown, _) | (_, _, Form::Unknown) => Form::Unknown,
                (_, Form::Number(_), Form::Number(_)) => self.number(id),
                (BinaryOperator::Add, Form::Cases(a), Form::Cases(b)) => added(a, b, 1.0),
                (BinaryOperator::Subtract, Form::Cases(a), Form::Cases(b)) => added(a, b, -1.0),
                (BinaryOperator::Add | BinaryOperator::Subtract, Form::Number(_), _) => {
                    self.no_case(reading, *left)
                }
                (BinaryOperator::Add | BinaryOperator::Subtract, _, Form::Number(_)) => {
                    self.no_case(reading, *right)
                }
                (BinaryOperator::Multiply, Form::Number(factor), cases) => {
                    self.factored(reading, *left, factor, cases)
                }
                (BinaryOperator::Multiply, cases, Form::Number(factor)) => {
                    self.factored(reading, *right, factor, cases)
                }
                (BinaryOperator::Divide, cases, Form::Number(divisor)) if divisor != 0.0 => {
                    self.factored(reading, *right, 1.0 / divisor, cases)
                }
                _ => self.no_cases(reading, id, &[*left, *right], forms),
            },
        }
    }

    /// A part without a case in it: its value was worked out with the line.
    fn number(&self, id: ExpressionId) -> Form {
        self.line
            .evaluated(id)
            .as_quantity()
            .map_or(Form::Unknown, |quantity| Form::Number(quantity.si()))
    }

    /// A part that may not have a case among its operands.
    fn no_cases(
        &self,
        reading: &mut Reading<'_>,
        id: ExpressionId,
        operands: &[ExpressionId],
        forms: &[Form],
    ) -> Form {
        let has_case = |id: &ExpressionId| matches!(forms.get(id.0 as usize), Some(Form::Cases(_)));
        if !operands.iter().any(has_case) {
            return self.number(id);
        }
        let place = self.line.place(self.line.span(id));
        let source = self.line.source(id);
        reading.refuse(findings::combination::not_a_sum(place, source));
        Form::Unknown
    }

    fn no_case(&self, reading: &mut Reading<'_>, id: ExpressionId) -> Form {
        let place = self.line.place(self.line.span(id));
        let source = self.line.source(id);
        reading.refuse(findings::combination::no_case(place, source));
        Form::Unknown
    }

    /// A factor is a plain number.
    fn factored(
        &self,
        reading: &mut Reading<'_>,
        id: ExpressionId,
        factor: f64,
        cases: Form,
    ) -> Form {
        match self.line.evaluated(id).kind {
            Kind::Quantity(found) if !found.is_ratio() => {
                let finding = findings::unit_mismatch::needed(
                    self.line.place(self.line.span(id)),
                    self.line.source(id),
                    found,
                    Dimension::RATIO,
                    "the factor of a load case",
                );
                reading.refuse(finding);
                Form::Unknown
            }
            _ => scaled(cases, factor),
        }
    }
}

fn scaled(form: Form, factor: f64) -> Form {
    match form {
        Form::Number(number) => Form::Number(number * factor + 0.0),
        Form::Cases(cases) => Form::Cases(
            cases
                .into_iter()
                .map(|(case, own)| (case, own * factor + 0.0))
                .collect(),
        ),
        Form::Unknown => Form::Unknown,
    }
}

fn added(mut a: BTreeMap<SmolStr, f64>, b: BTreeMap<SmolStr, f64>, sign: f64) -> Form {
    for (case, factor) in b {
        *a.entry(case).or_insert(0.0) += sign * factor;
    }
    Form::Cases(a)
}
