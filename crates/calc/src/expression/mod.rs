//! What expressions are and come to: the dimension of every part first, then its value.
//!
//! One pass over a line's expressions, children before parents. A mistake gives one finding and
//! makes its part unknown, and what uses an unknown part is unknown without a finding of its own.
//! A value that cannot be computed (a division by zero) is reported only where it is used: the
//! branch that an `if` does not take may divide by zero.

mod call;
pub(crate) mod functions;
pub(crate) mod literal;
mod operators;
mod path;
pub(crate) mod power;
pub(crate) mod sum;
mod undecided;

pub use path::{constant, is_kept};

use haunch_quantity::{ArithmeticError, Dimension, Preferences};
use haunch_syntax::{ExpressionId, ExpressionKind, Tree, on_one_row};
use haunch_text::Span;
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

use crate::finding::{Finding, Place};
use crate::findings;
use crate::line::{FileId, LineId};
use crate::state::State;
use crate::value::{Evaluated, Kind, Value};
use undecided::{Between, Undecided};

/// How many expression nodes one line may compute, calls of formulas included.
pub(crate) const BUDGET: usize = 200_000;

/// Names that mean something of their own on one line: the arguments of a formula, `span` in a
/// limit.
pub(crate) type Locals = FxHashMap<SmolStr, Evaluated>;

/// The expressions of one line while they are worked out.
pub(crate) struct Context<'a> {
    pub(crate) state: &'a State,
    pub(crate) file: FileId,
    pub(crate) line: LineId,
    pub(crate) tree: &'a Tree,
    pub(crate) text: &'a str,
    pub(crate) preferences: &'a Preferences,
    pub(crate) locals: &'a Locals,
    /// Kind and value of each expression so far, by its id.
    pub(crate) evaluated: Vec<Evaluated>,
    /// Why an expression of known kind has no value, and which part of it is to blame.
    failures: FxHashMap<ExpressionId, Failure>,
    pub(crate) findings: Vec<Finding>,
    /// What is reported once the whole line has been read.
    undecided: Vec<Undecided>,
    /// The dimension that the whole of an expression should have, where the line says so.
    expected: FxHashMap<ExpressionId, Dimension>,
    /// Expressions that name a point and are no value.
    points: FxHashSet<ExpressionId>,
    pub(crate) budget: usize,
    /// How many formulas are being called within each other.
    pub(crate) depth: usize,
}

/// Why there is no value.
#[derive(Debug, Clone)]
pub(crate) struct Failure {
    pub(crate) origin: Span,
    pub(crate) message: String,
}

impl<'a> Context<'a> {
    pub(crate) fn new(
        state: &'a State,
        line: LineId,
        cell: &'a crate::state::Cell,
        preferences: &'a Preferences,
        locals: &'a Locals,
    ) -> Context<'a> {
        Context {
            state,
            file: cell.file,
            line,
            tree: &cell.tree,
            text: &cell.text,
            preferences,
            locals,
            evaluated: Vec::with_capacity(cell.tree.expressions.len()),
            failures: FxHashMap::default(),
            findings: Vec::new(),
            undecided: Vec::new(),
            expected: FxHashMap::default(),
            points: FxHashSet::default(),
            budget: BUDGET,
            depth: 0,
        }
    }

    /// Says what dimension an expression should have, so that the odd term of a sum can be told, and with
    /// it the parts of which it is one.
    pub(crate) fn expect(&mut self, id: ExpressionId, dimension: Dimension) {
        use haunch_syntax::BinaryOperator as Operator;
        let mut pending = vec![id];
        while let Some(id) = pending.pop() {
            self.expected.insert(id, dimension);
            match self.tree.expressions.get(id.0 as usize).map(|e| &e.kind) {
                Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) => {
                    pending.push(*inner);
                }
                Some(ExpressionKind::Choice {
                    then, otherwise, ..
                }) => pending.extend([*then, *otherwise]),
                Some(ExpressionKind::Binary {
                    operator: Operator::Add | Operator::Subtract,
                    left,
                    right,
                    ..
                }) => pending.extend([*left, *right]),
                Some(ExpressionKind::Path(path)) => {
                    if let ([name], Some(arguments)) = (path.names.as_slice(), &path.arguments)
                        && functions::keeps_dimension(&name.text)
                    {
                        pending.extend(arguments);
                    }
                }
                _ => {}
            }
        }
    }

    pub(crate) fn expected(&self, id: ExpressionId) -> Option<Dimension> {
        self.expected.get(&id).copied()
    }

    /// Works out every expression of the line by itself.
    pub(crate) fn evaluate(&mut self) {
        self.read();
        self.decide(|_| None);
    }

    /// Works out every expression of the line, and leaves open what other parts of it may decide.
    pub(crate) fn read(&mut self) {
        let tree = self.tree;
        self.points = tree
            .paths()
            .filter_map(|path| crate::reads::point_argument(tree, path))
            .collect();
        let inner_sums = sum::inner_sums(tree);
        for (index, expression) in tree.expressions.iter().enumerate() {
            let id = ExpressionId(index as u32);
            let evaluated = if self.budget == 0 || self.points.contains(&id) {
                Evaluated::UNKNOWN
            } else {
                self.budget -= 1;
                self.node(id, expression, inner_sums.contains(&id))
            };
            self.evaluated.push(evaluated);
        }
    }

    fn node(
        &mut self,
        id: ExpressionId,
        expression: &haunch_syntax::Expression,
        inner_sum: bool,
    ) -> Evaluated {
        use haunch_syntax::BinaryOperator as Operator;
        match &expression.kind {
            ExpressionKind::Literal(literal) => self.literal(id, literal, expression.span),
            ExpressionKind::Path(path) => self.path(id, path, expression.span),
            ExpressionKind::Group(inner) => self.passed_on(id, *inner),
            ExpressionKind::Negate(inner) => self.negate(id, *inner),
            ExpressionKind::Not(inner) => self.not(id, *inner),
            ExpressionKind::Binary {
                operator: operator @ (Operator::Add | Operator::Subtract),
                left,
                right,
                ..
            } => {
                if !inner_sum {
                    self.check_sum(id);
                }
                self.sum(id, *operator, *left, *right)
            }
            ExpressionKind::Binary {
                operator: operator @ (Operator::Multiply | Operator::Divide),
                left,
                right,
                ..
            } => self.product(id, *operator, *left, *right),
            ExpressionKind::Binary {
                operator: Operator::Power,
                left,
                right,
                ..
            } => self.power(id, *left, *right),
            ExpressionKind::Binary {
                operator: operator @ (Operator::And | Operator::Or),
                left,
                right,
                ..
            } => self.logical(id, *operator, *left, *right),
            ExpressionKind::Compare {
                relation,
                left,
                right,
                ..
            } => self.compare(id, *relation, *left, *right),
            ExpressionKind::Superscript { base, exponent, .. } => {
                self.superscript(id, *base, *exponent)
            }
            ExpressionKind::Choice {
                condition,
                then,
                otherwise,
            } => self.choice(id, *condition, *then, *otherwise),
        }
    }

    pub(crate) fn get(&self, id: ExpressionId) -> Evaluated {
        self.evaluated
            .get(id.0 as usize)
            .cloned()
            .unwrap_or(Evaluated::UNKNOWN)
    }

    pub(crate) fn kind(&self, id: ExpressionId) -> Kind {
        self.evaluated
            .get(id.0 as usize)
            .map_or(Kind::Unknown, |e| e.kind)
    }

    pub(crate) fn span(&self, id: ExpressionId) -> Span {
        self.tree
            .expressions
            .get(id.0 as usize)
            .map_or(Span::default(), |e| e.span)
    }

    pub(crate) fn source(&self, id: ExpressionId) -> &'a str {
        self.span(id).text(self.text)
    }

    /// An expression's text as it is laid out, on one row.
    pub(crate) fn laid_out(&self, id: ExpressionId) -> String {
        on_one_row(self.text, self.tree, self.span(id))
    }

    pub(crate) fn place(&self, span: Span) -> Place {
        Place {
            line: self.line,
            span,
        }
    }

    pub(crate) fn place_of(&self, id: ExpressionId) -> Place {
        self.place(self.span(id))
    }

    /// Leaves a part open until the whole line has been read.
    fn leave_open(&mut self, part: ExpressionId, between: Between) {
        self.undecided.push(Undecided { part, between });
    }

    pub(crate) fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// The expression has a kind but no value, for a reason of its own.
    pub(crate) fn fail(&mut self, id: ExpressionId, origin: Span, message: String) {
        self.failures.insert(id, Failure { origin, message });
    }

    /// Why an expression has no value.
    pub(crate) fn failure(&self, id: ExpressionId) -> Option<String> {
        self.failures
            .get(&id)
            .map(|failure| failure.message.clone())
    }

    /// Hands an operand's failure on to the expression that uses it.
    pub(crate) fn inherit_failure(&mut self, id: ExpressionId, from: &[ExpressionId]) {
        if self.failures.contains_key(&id) {
            return;
        }
        let found = from.iter().find_map(|f| self.failures.get(f).cloned());
        if let Some(failure) = found {
            self.failures.insert(id, failure);
        }
    }

    fn passed_on(&mut self, id: ExpressionId, inner: ExpressionId) -> Evaluated {
        self.inherit_failure(id, &[inner]);
        self.get(inner)
    }

    /// A quantity of known dimension from an operation that may have no result.
    pub(crate) fn quantity_or_failure(
        &mut self,
        id: ExpressionId,
        dimension: Dimension,
        result: Result<haunch_quantity::Quantity, ArithmeticError>,
    ) -> Evaluated {
        let value = match result {
            Ok(quantity) => Some(Value::Quantity(quantity)),
            Err(error) => {
                let span = self.span(id);
                self.fail(id, span, error.to_string());
                None
            }
        };
        Evaluated {
            kind: Kind::Quantity(dimension),
            value,
        }
    }

    /// Reports why these expressions have no value, once for each reason.
    pub(crate) fn report_failures(&mut self, roots: &[ExpressionId]) {
        let mut seen = FxHashSet::default();
        for root in roots {
            if let Some(failure) = self.failures.get(root).cloned()
                && seen.insert(failure.origin)
            {
                let place = self.place(failure.origin);
                self.report(findings::no_value::finding(place, &failure.message));
            }
        }
        if self.budget == 0 {
            let place = self.place(Span::new(0, self.text.trim_end().len()));
            self.report(findings::no_value::too_much(place));
        }
    }
}
