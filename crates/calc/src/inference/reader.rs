//! The equations that a line's expressions set between dimensions.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Path, Tree};
use haunch_text::Span;
use rustc_hash::FxHashSet;
use smol_str::SmolStr;

use super::form::{Form, Unknown};
use super::system::MOST_EQUATIONS;
use crate::expression::power::literal_exponent;
use crate::expression::sum;
use crate::finding::Place;
use crate::line::{FileId, LineId};
use crate::reads::point_argument;
use crate::state::{Cell, State};
use crate::value::{Evaluated, Kind};

/// How many expressions are looked at for one line, those of called formulas included.
const MOST_EXPRESSIONS: usize = 20_000;
/// How many unknowns a line may have.
const MOST_UNKNOWNS: u16 = 128;

/// What is known of an expression's dimension.
#[derive(Debug, Clone)]
pub(super) enum Shape {
    /// It has this one.
    Form(Form),
    /// The literal 0, which fits any.
    Zero,
    /// It is no quantity, or nothing can be said of it.
    Nothing,
}

impl Shape {
    pub(super) fn of_kind(kind: Kind) -> Shape {
        match kind {
            Kind::Quantity(dimension) => Shape::Form(Form::known(dimension)),
            Kind::Zero => Shape::Zero,
            _ => Shape::Nothing,
        }
    }

    /// As an operand of a product: the literal 0 counts as a plain number.
    fn factor(&self) -> Option<Form> {
        match self {
            Shape::Form(form) => Some(form.clone()),
            Shape::Zero => Some(Form::known(Dimension::RATIO)),
            Shape::Nothing => None,
        }
    }

    pub(super) fn form(&self) -> Option<&Form> {
        match self {
            Shape::Form(form) => Some(form),
            _ => None,
        }
    }
}

/// One equation: the form has to be a plain number.
#[derive(Debug, Clone)]
pub(super) struct Equation {
    pub(super) form: Form,
    /// The unknowns that it is about: some may have cancelled out.
    pub(super) about: Vec<Unknown>,
    /// What says so.
    pub(super) place: Place,
}

/// A name of the line whose dimension is solved for.
#[derive(Debug, Clone)]
pub(super) struct Named {
    pub(super) name: SmolStr,
    pub(super) unknown: Unknown,
    /// Where it stands: the whole path, arguments included.
    pub(super) spans: Vec<Span>,
    /// It stands where only a truth can.
    pub(super) is_truth: bool,
}

/// Expressions that are read together: those of the line itself, or of a formula that it calls.
pub(super) struct Scope<'a> {
    pub(super) line: LineId,
    pub(super) file: FileId,
    pub(super) tree: &'a Tree,
    pub(super) text: &'a str,
    pub(super) evaluated: &'a [Evaluated],
    /// Names that mean something of their own here: the arguments of a formula, `span` in a limit.
    pub(super) bound: Vec<(SmolStr, Form)>,
    /// Whether this is the line itself, whose names are solved for.
    pub(super) is_own: bool,
}

impl<'a> Scope<'a> {
    pub(super) fn of_formula(line: LineId, cell: &'a Cell, bound: Vec<(SmolStr, Form)>) -> Self {
        Scope {
            line,
            file: cell.file,
            tree: &cell.tree,
            text: &cell.text,
            evaluated: &cell.outcome.expressions,
            bound,
            is_own: false,
        }
    }

    pub(super) fn kind(&self, id: ExpressionId) -> Kind {
        self.evaluated
            .get(id.0 as usize)
            .map_or(Kind::Unknown, |own| own.kind)
    }

    pub(super) fn span(&self, id: ExpressionId) -> Span {
        let own = self.tree.expressions.get(id.0 as usize);
        own.map_or(Span::default(), |own| own.span)
    }

    pub(super) fn place(&self, span: Span) -> Place {
        let line = self.line;
        Place { line, span }
    }
}

/// Collects equations.
pub(super) struct Reader<'a> {
    pub(super) state: &'a State,
    pub(super) equations: Vec<Equation>,
    pub(super) named: Vec<Named>,
    unknowns: u16,
    expressions: usize,
    /// How many formulas are being read within each other.
    pub(super) depth: usize,
    /// Something was too large: nothing is told.
    pub(super) gave_up: bool,
}

impl<'a> Reader<'a> {
    pub(super) fn new(state: &'a State) -> Reader<'a> {
        Reader {
            state,
            equations: Vec::new(),
            named: Vec::new(),
            unknowns: 0,
            expressions: 0,
            depth: 0,
            gave_up: false,
        }
    }

    pub(super) fn fresh(&mut self) -> Unknown {
        let unknown = Unknown(self.unknowns);
        if self.unknowns < MOST_UNKNOWNS {
            self.unknowns += 1;
        } else {
            self.gave_up = true;
        }
        unknown
    }

    /// Two forms have to be alike. Known ones are compared elsewhere.
    pub(super) fn alike(&mut self, one: &Form, other: &Form, place: Place) {
        if !one.is_open() && !other.is_open() {
            return;
        }
        match one.divide(other) {
            Some(form) if !form.is_open() && form.known.is_ratio() => {}
            Some(form) if self.equations.len() < MOST_EQUATIONS => {
                let powers = one.powers.iter().chain(&other.powers);
                let about = powers.map(|(unknown, _)| *unknown).collect();
                self.equations.push(Equation { form, about, place });
            }
            _ => self.gave_up = true,
        }
    }

    /// A shape has to be of this dimension.
    pub(super) fn has_to_be(&mut self, shape: &Shape, dimension: Dimension, place: Place) {
        if let Shape::Form(form) = shape {
            self.alike(form, &Form::known(dimension), place);
        }
    }

    /// Several have to be of one dimension: gives the one that they have. Where those that are known
    /// differ, it is `meant`.
    pub(super) fn common(&mut self, shapes: &[&Shape], meant: Kind, place: Place) -> Shape {
        let common = common_form(shapes, meant);
        let Some(common) = common else {
            let zeros = |shape: &&Shape| matches!(shape, Shape::Zero);
            let forms = shapes.iter().filter_map(|shape| shape.form());
            return match shapes.iter().all(zeros) {
                true => Shape::Form(Form::known(Dimension::RATIO)),
                false => self.left_open(forms, place),
            };
        };
        for shape in shapes {
            if let Shape::Form(form) = shape {
                self.alike(form, &common, place);
            }
        }
        Shape::Form(common)
    }

    /// What several have in common of which the known ones differ: the rest of the line may tell.
    fn left_open<'f>(&mut self, forms: impl Iterator<Item = &'f Form>, place: Place) -> Shape {
        let mut forms = forms.peekable();
        if forms.peek().is_none() {
            return Shape::Nothing;
        }
        let common = Form::unknown(self.fresh());
        for form in forms.filter(|form| form.is_open()) {
            self.alike(form, &common, place);
        }
        Shape::Form(common)
    }

    /// What is known of each expression of a scope, children before parents.
    pub(super) fn read(&mut self, scope: &Scope<'a>) -> Vec<Shape> {
        let tree = scope.tree;
        let mut shapes: Vec<Shape> = Vec::with_capacity(tree.expressions.len());
        let points: FxHashSet<ExpressionId> = tree
            .paths()
            .filter_map(|path| point_argument(tree, path))
            .collect();
        let inner_sums = sum::inner_sums(tree);
        for (index, expression) in tree.expressions.iter().enumerate() {
            let id = ExpressionId(index as u32);
            self.expressions += 1;
            self.gave_up |= self.expressions > MOST_EXPRESSIONS;
            let shape = if self.gave_up || points.contains(&id) {
                Shape::Nothing
            } else {
                self.expression(scope, &shapes, id, &expression.kind, &inner_sums)
            };
            shapes.push(shape);
        }
        shapes
    }

    fn expression(
        &mut self,
        scope: &Scope<'a>,
        shapes: &[Shape],
        id: ExpressionId,
        kind: &'a ExpressionKind,
        inner_sums: &FxHashSet<ExpressionId>,
    ) -> Shape {
        use BinaryOperator as Operator;
        let of = |id: ExpressionId| shapes.get(id.0 as usize).unwrap_or(&Shape::Nothing);
        let place = scope.place(scope.span(id));
        match kind {
            ExpressionKind::Literal(_) => Shape::of_kind(scope.kind(id)),
            ExpressionKind::Path(path) => self.path(scope, shapes, id, path),
            ExpressionKind::Group(inner) | ExpressionKind::Negate(inner) => of(*inner).clone(),
            ExpressionKind::Not(inner) => {
                self.truth(scope, *inner);
                Shape::Nothing
            }
            ExpressionKind::Binary {
                operator,
                left,
                right,
                ..
            } => match operator {
                Operator::Add | Operator::Subtract => {
                    let terms = sum::terms(scope.tree, id);
                    let terms: Vec<&Shape> = terms.into_iter().map(of).collect();
                    if inner_sums.contains(&id) {
                        let common = common_form(&terms, scope.kind(id));
                        common.map_or(Shape::Nothing, Shape::Form)
                    } else {
                        self.common(&terms, scope.kind(id), place)
                    }
                }
                Operator::Multiply | Operator::Divide => {
                    let factors = of(*left).factor().zip(of(*right).factor());
                    self.whole(factors.map(|(left, right)| match operator {
                        Operator::Multiply => left.multiply(&right),
                        _ => left.divide(&right),
                    }))
                }
                Operator::Power => match literal_exponent(scope.tree, *right) {
                    Some(exponent) => self.power(of(*left), exponent),
                    None => self.power_of_ratio(of(*left), of(*right), place),
                },
                Operator::And | Operator::Or => {
                    self.truth(scope, *left);
                    self.truth(scope, *right);
                    Shape::Nothing
                }
            },
            ExpressionKind::Superscript { base, exponent, .. } => {
                self.power(of(*base), Rational::from_integer(*exponent))
            }
            ExpressionKind::Compare { left, right, .. } => {
                if let (Shape::Form(left), Shape::Form(right)) = (of(*left), of(*right)) {
                    self.alike(left, right, place);
                }
                Shape::Nothing
            }
            ExpressionKind::Choice {
                condition,
                then,
                otherwise,
            } => {
                self.truth(scope, *condition);
                self.common(&[of(*then), of(*otherwise)], scope.kind(id), place)
            }
        }
    }

    /// An outcome of arithmetic; what does not fit ends the search.
    fn whole(&mut self, result: Option<Option<Form>>) -> Shape {
        match result {
            None => Shape::Nothing,
            Some(Some(form)) => Shape::Form(form),
            Some(None) => {
                self.gave_up = true;
                Shape::Nothing
            }
        }
    }

    pub(super) fn power(&mut self, base: &Shape, exponent: Rational) -> Shape {
        let base = base.factor();
        self.whole(base.map(|base| base.power(exponent)))
    }

    /// A power that is not written as a number: it is a plain number, and of a plain number only.
    fn power_of_ratio(&mut self, base: &Shape, exponent: &Shape, place: Place) -> Shape {
        self.has_to_be(exponent, Dimension::RATIO, place);
        let Some(form) = base.factor() else {
            return Shape::Nothing;
        };
        if !form.is_open() && !form.known.is_ratio() {
            return Shape::Nothing;
        }
        self.has_to_be(base, Dimension::RATIO, place);
        Shape::Form(Form::known(Dimension::RATIO))
    }

    /// Notes a name that stands where only a truth can.
    pub(super) fn truth(&mut self, scope: &Scope<'_>, id: ExpressionId) {
        let span = scope.span(scope.tree.inside(id));
        if scope.is_own
            && let Some(named) = self.named.iter_mut().find(|own| own.spans.contains(&span))
        {
            named.is_truth = true;
        }
    }

    /// Another place of a name that is solved for.
    pub(super) fn named_again(&mut self, name: &SmolStr, span: Span) {
        if let Some(known) = self.named.iter_mut().find(|own| own.name == *name) {
            known.spans.push(span);
        }
    }

    /// The unknown that a name of the line stands for.
    pub(super) fn name(&mut self, name: SmolStr, span: Span) -> Form {
        if let Some(known) = self.named.iter_mut().find(|own| own.name == name) {
            known.spans.push(span);
            return Form::unknown(known.unknown);
        }
        let unknown = self.fresh();
        self.named.push(Named {
            name,
            unknown,
            spans: vec![span],
            is_truth: false,
        });
        Form::unknown(unknown)
    }
}

/// The one form of several shapes: that of the known ones, else of the first. Where the known ones differ,
/// what is meant.
fn common_form(shapes: &[&Shape], meant: Kind) -> Option<Form> {
    let forms = || shapes.iter().filter_map(|shape| shape.form());
    let mut known = forms().filter(|form| !form.is_open());
    match known.next() {
        None => forms().next().cloned(),
        Some(first) if known.all(|other| other == first) => Some(first.clone()),
        Some(_) => match meant {
            Kind::Quantity(dimension) => Some(Form::known(dimension)),
            _ => None,
        },
    }
}

/// The path as it is written, without spaces: `f(a, b)` is `f(a,b)`.
pub(super) fn as_written(text: &str, path: &Path, span: Span) -> SmolStr {
    if path.arguments.is_none() {
        let names: Vec<&str> = path.names.iter().map(|name| name.text.as_str()).collect();
        return names.join(".").into();
    }
    let written = span.text(text);
    written.chars().filter(|c| !c.is_whitespace()).collect()
}
