//! The normal form of an expression: a sum of products of names with powers.
//!
//! `b*h^3/12`, `1/12*b*h*h^2` and `(b*h^3)/12` are one: numbers without a unit, `pi` among them, are
//! folded into one constant for each term, products of sums are multiplied out, and like terms are
//! added. What is no name (a number with its unit, a call) is a symbol by its text. A sum under a root
//! or below a stroke stays a sum.
//!
//! Everything is bounded, and what goes beyond a bound has no normal form.

use std::hash::{Hash, Hasher};

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{
    BinaryOperator, Expression, ExpressionId, ExpressionKind, Literal, Number, Path, Tree,
};
use haunch_text::Span;
use rustc_hash::FxHasher;

/// Most expressions that are looked at.
const MOST_EXPRESSIONS: usize = 120;
/// Most terms of a sum, multiplied out.
const MOST_TERMS: usize = 24;
/// Most different symbols.
const MOST_SYMBOLS: usize = 16;
/// The highest whole power to which a sum is multiplied out.
const HIGHEST_POWER: i32 = 8;
/// Most products of two terms.
const MOST_PRODUCTS: usize = 2_000;
/// What is left of a constant that cancels, as a share of what was added.
const CANCELLED: f64 = 1e-12;

/// A sum of products.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Form {
    /// What stands in it, in the order of first appearance.
    pub(crate) symbols: Vec<Symbol>,
    /// Sums under a root or below a stroke.
    pub(super) sums: Vec<Vec<Term>>,
    pub(super) terms: Vec<Term>,
}

/// A name, or something else that the form does not look into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Symbol {
    /// The expression where it first stands.
    pub(crate) id: ExpressionId,
    pub(crate) span: Span,
}

/// A constant times factors.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term {
    pub(super) constant: f64,
    /// Sorted by what is raised, no power 0.
    pub(super) factors: Vec<(Base, Rational)>,
}

/// What is raised to a power in a term.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Base {
    Symbol(u8),
    Sum(u8),
}

type Sum = Vec<Term>;

/// Puts an expression into normal form.
pub(crate) fn of(tree: &Tree, text: &str, id: ExpressionId) -> Option<Form> {
    let expressions = tree.expressions.get(..=id.0 as usize)?;
    if expressions.len() > MOST_EXPRESSIONS {
        return None;
    }
    let mut builder = Builder {
        text,
        symbols: Vec::new(),
        sums: Vec::new(),
        products: MOST_PRODUCTS,
        done: Vec::with_capacity(expressions.len()),
    };
    for (index, expression) in expressions.iter().enumerate() {
        let sum = builder.node(ExpressionId(index as u32), expression);
        builder.done.push(sum);
    }
    let mut terms = builder.take(id)?;
    terms.sort_by(|a, b| a.factors.cmp(&b.factors));
    let used = |index: usize| {
        let symbol = Base::Symbol(index as u8);
        terms
            .iter()
            .chain(builder.sums.iter().flatten())
            .any(|term| term.factors.iter().any(|(base, _)| *base == symbol))
    };
    // Symbols that stand only within a call, or that have cancelled, are no part of it.
    if !(0..builder.symbols.len()).all(used) {
        let keep: Vec<bool> = (0..builder.symbols.len()).map(used).collect();
        builder.keep(&keep, &mut terms);
    }
    Some(Form {
        symbols: builder.symbols,
        sums: builder.sums,
        terms,
    })
}

struct Builder<'a> {
    text: &'a str,
    symbols: Vec<Symbol>,
    sums: Vec<Sum>,
    /// How many products of two terms are left.
    products: usize,
    /// The form of each expression so far; taken by the one expression that it is part of.
    done: Vec<Option<Sum>>,
}

impl Builder<'_> {
    fn take(&mut self, id: ExpressionId) -> Option<Sum> {
        self.done.get_mut(id.0 as usize)?.take()
    }

    fn node(&mut self, id: ExpressionId, expression: &Expression) -> Option<Sum> {
        use BinaryOperator as Operator;
        match &expression.kind {
            ExpressionKind::Literal(literal) => match plain_number(literal) {
                Some(number) => Some(constant(number)),
                None => self.symbol(id, expression),
            },
            ExpressionKind::Path(path) => self.path(id, expression, path),
            ExpressionKind::Group(inner) => self.take(*inner),
            ExpressionKind::Negate(inner) => Some(scaled(self.take(*inner)?, -1.0)),
            ExpressionKind::Superscript { base, exponent, .. } => {
                let base = self.take(*base)?;
                self.power(base, Rational::from_integer(*exponent))
            }
            ExpressionKind::Binary {
                operator,
                left,
                right,
                ..
            } => {
                let (left, right) = (self.take(*left)?, self.take(*right)?);
                match operator {
                    Operator::Add => added(left, right),
                    Operator::Subtract => added(left, scaled(right, -1.0)),
                    Operator::Multiply => self.product(&left, &right),
                    Operator::Divide => {
                        let right = self.power(right, Rational::from_integer(-1))?;
                        self.product(&left, &right)
                    }
                    Operator::Power => {
                        let exponent = fraction(plain(&right)?)?;
                        self.power(left, exponent)
                    }
                    Operator::And | Operator::Or => None,
                }
            }
            ExpressionKind::Not(_)
            | ExpressionKind::Compare { .. }
            | ExpressionKind::Choice { .. } => None,
        }
    }

    fn path(&mut self, id: ExpressionId, expression: &Expression, path: &Path) -> Option<Sum> {
        let name = match path.names.as_slice() {
            [name] => name.text.as_str(),
            _ => return self.symbol(id, expression),
        };
        match (name, path.arguments.as_deref()) {
            ("pi", None) => Some(constant(std::f64::consts::PI)),
            ("sqrt", Some([inner])) => {
                let inner = self.take(*inner)?;
                self.power(inner, Rational::HALF)
            }
            ("cbrt", Some([inner])) => {
                let inner = self.take(*inner)?;
                self.power(inner, Rational::THIRD)
            }
            _ => self.symbol(id, expression),
        }
    }

    fn symbol(&mut self, id: ExpressionId, expression: &Expression) -> Option<Sum> {
        let span = expression.span;
        let text = span.text(self.text);
        let known = |symbol: &Symbol| symbol.span.text(self.text) == text;
        let index = match self.symbols.iter().position(known) {
            Some(index) => index,
            None if self.symbols.len() < MOST_SYMBOLS => {
                self.symbols.push(Symbol { id, span });
                self.symbols.len() - 1
            }
            None => return None,
        };
        Some(vec![Term {
            constant: 1.0,
            factors: vec![(Base::Symbol(index as u8), Rational::ONE)],
        }])
    }

    fn product(&mut self, left: &Sum, right: &Sum) -> Option<Sum> {
        if left.len() * right.len() > MOST_TERMS {
            return None;
        }
        let mut sum = Sum::new();
        for a in left {
            for b in right {
                self.products = self.products.checked_sub(1)?;
                let term = Term {
                    constant: a.constant * b.constant,
                    factors: multiplied(&a.factors, &b.factors)?,
                };
                sum = added(sum, self.opened(term)?)?;
            }
        }
        Some(sum)
    }

    /// A sum to a power: of one term the powers of its factors, of several the product where that is
    /// a whole number of times, else the sum as a factor.
    fn power(&mut self, base: Sum, exponent: Rational) -> Option<Sum> {
        if let [term] = base.as_slice() {
            let mut factors = term.factors.clone();
            for (_, own) in &mut factors {
                *own = own.checked_multiply(exponent)?;
            }
            let constant = constant_power(term.constant, exponent)?;
            return self.opened(Term { constant, factors });
        }
        match exponent.as_integer() {
            Some(times) if (1..=HIGHEST_POWER).contains(&times) => {
                let mut product = base.clone();
                for _ in 1..times {
                    product = self.product(&product, &base)?;
                }
                Some(product)
            }
            _ => {
                let mut base = base;
                base.sort_by(|a, b| a.factors.cmp(&b.factors));
                (!base.is_empty() && !exponent.is_zero()).then_some(())?;
                let index = match self.sums.iter().position(|known| *known == base) {
                    Some(index) => index,
                    None if self.sums.len() < MOST_SYMBOLS => {
                        self.sums.push(base);
                        self.sums.len() - 1
                    }
                    None => return None,
                };
                Some(vec![Term {
                    constant: 1.0,
                    factors: vec![(Base::Sum(index as u8), exponent)],
                }])
            }
        }
    }

    /// A term with sums that it has a whole number of times multiplied out.
    fn opened(&mut self, mut term: Term) -> Option<Sum> {
        let whole = term.factors.iter().position(|(base, exponent)| {
            let times = exponent.as_integer();
            matches!(base, Base::Sum(_)) && times.is_some_and(|t| (1..=HIGHEST_POWER).contains(&t))
        });
        let Some(at) = whole else {
            return Some(vec![term]);
        };
        let (base, exponent) = term.factors.remove(at);
        let Base::Sum(index) = base else {
            return None;
        };
        let sum = self.sums.get(index as usize)?.clone();
        let powers = self.power(sum, exponent)?;
        // A sum inside a sum came before it, so that this ends.
        let rest = self.opened(term)?;
        self.product(&rest, &powers)
    }

    fn keep(&mut self, keep: &[bool], terms: &mut Sum) {
        let index = |old: u8| {
            let before = keep.iter().take(old as usize);
            before.filter(|keep| **keep).count() as u8
        };
        for term in terms.iter_mut().chain(self.sums.iter_mut().flatten()) {
            for (base, _) in &mut term.factors {
                if let Base::Symbol(old) = base {
                    *old = index(*old);
                }
            }
        }
        let mut keep = keep.iter();
        self.symbols
            .retain(|_| keep.next().copied().unwrap_or_default());
    }
}

/// A number without a unit.
pub(crate) fn plain_number(literal: &Literal) -> Option<f64> {
    match literal.parts.as_slice() {
        [part] if part.unit.is_none() => match &part.number {
            Number::Decimal(text) => text.parse().ok().filter(|number: &f64| number.is_finite()),
            Number::Fraction { .. } => None,
        },
        _ => None,
    }
}

fn constant(constant: f64) -> Sum {
    if constant == 0.0 {
        return Sum::new();
    }
    vec![Term {
        constant,
        factors: Vec::new(),
    }]
}

/// The constant that a sum is, where it has no symbols.
fn plain(sum: &Sum) -> Option<f64> {
    match sum.as_slice() {
        [] => Some(0.0),
        [term] if term.factors.is_empty() => Some(term.constant),
        _ => None,
    }
}

/// A number as a fraction of small whole numbers.
fn fraction(number: f64) -> Option<Rational> {
    (1..=6).find_map(|denominator| {
        let numerator = number * f64::from(denominator);
        let whole = numerator.round();
        let close = (numerator - whole).abs() <= 1e-9 && whole.abs() <= 100.0;
        close.then(|| Rational::new(whole as i32, denominator))?
    })
}

fn constant_power(constant: f64, exponent: Rational) -> Option<f64> {
    let power = match exponent.as_integer() {
        Some(times) if times.abs() <= 64 => {
            let mut product = 1.0;
            for _ in 0..times.abs() {
                product *= constant;
            }
            if times < 0 { 1.0 / product } else { product }
        }
        _ if constant > 0.0 => libm::pow(constant, exponent.to_f64()),
        _ => return None,
    };
    (power.is_finite() && power != 0.0).then_some(power)
}

fn scaled(mut sum: Sum, by: f64) -> Sum {
    for term in &mut sum {
        term.constant *= by;
    }
    sum
}

fn added(mut left: Sum, right: Sum) -> Option<Sum> {
    for term in right {
        let like = left.iter().position(|known| known.factors == term.factors);
        let Some(at) = like else {
            left.push(term);
            continue;
        };
        let known = &mut left[at];
        let size = known.constant.abs() + term.constant.abs();
        known.constant += term.constant;
        if known.constant.abs() <= CANCELLED * size {
            left.remove(at);
        }
    }
    (left.len() <= MOST_TERMS).then_some(left)
}

/// The factors of a product of two terms.
fn multiplied(
    left: &[(Base, Rational)],
    right: &[(Base, Rational)],
) -> Option<Vec<(Base, Rational)>> {
    let mut factors = Vec::with_capacity(left.len() + right.len());
    factors.extend_from_slice(left);
    for (base, exponent) in right {
        match factors.iter().position(|(known, _)| known == base) {
            Some(at) => {
                let sum = factors[at].1.checked_add(*exponent)?;
                if sum.is_zero() {
                    factors.remove(at);
                } else {
                    factors[at].1 = sum;
                }
            }
            None => factors.push((*base, *exponent)),
        }
    }
    factors.sort_unstable_by_key(|(base, _)| *base);
    Some(factors)
}

/// The dimensions of the symbols of a form and of its sums.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dimensions {
    pub(super) symbols: Vec<Dimension>,
    pub(super) sums: Vec<Dimension>,
}

impl Form {
    /// The dimensions, where that of every symbol is known.
    pub(super) fn dimensions(
        &self,
        of: impl FnMut(&Symbol) -> Option<Dimension>,
    ) -> Option<Dimensions> {
        let symbols: Vec<Dimension> = self.symbols.iter().map(of).collect::<Option<_>>()?;
        let mut dimensions = Dimensions {
            symbols,
            sums: Vec::with_capacity(self.sums.len()),
        };
        for sum in &self.sums {
            let mut dimension = Dimension::RATIO;
            for (base, exponent) in &sum.first()?.factors {
                let power = dimensions.of(*base)?.checked_power(*exponent)?;
                dimension = dimension.checked_multiply(power)?;
            }
            dimensions.sums.push(dimension);
        }
        Some(dimensions)
    }

    /// The dimension of the whole, where all terms have one.
    #[cfg(test)]
    pub(super) fn dimension(&self, dimensions: &Dimensions) -> Option<Dimension> {
        let of = |term: &Term| {
            let mut dimension = Dimension::RATIO;
            for (base, exponent) in &term.factors {
                let power = dimensions.of(*base)?.checked_power(*exponent)?;
                dimension = dimension.checked_multiply(power)?;
            }
            Some(dimension)
        };
        let first = of(self.terms.first()?)?;
        let same = self.terms.iter().all(|term| of(term) == Some(first));
        same.then_some(first)
    }

    /// Whether it is one term in which every symbol stands once, above or below the stroke.
    pub(super) fn is_linear(&self) -> bool {
        let once = |exponent: &Rational| exponent.as_integer().is_some_and(|n| n.abs() == 1);
        match self.terms.as_slice() {
            [term] => term.factors.iter().all(|(_, exponent)| once(exponent)),
            _ => false,
        }
    }

    /// A number that is the same for all forms that differ in nothing but names and constants.
    pub(super) fn signature(&self, dimensions: &Dimensions) -> u64 {
        let terms = self.terms.iter().map(|term| {
            let factors = term.factors.iter().map(|(base, exponent)| {
                let is_sum = matches!(base, Base::Sum(_));
                hash(&(is_sum, dimensions.of(*base), *exponent))
            });
            mixed(factors.fold(0, u64::wrapping_add))
        });
        terms.fold(0, u64::wrapping_add)
    }

    /// The same where an exponent has gone from one symbol to another of its dimension: of a form of
    /// one term of symbols.
    pub(super) fn family(&self, dimensions: &Dimensions) -> Option<u64> {
        let [term] = self.terms.as_slice() else {
            return None;
        };
        let mut totals: Vec<(Dimension, Rational, u8)> = Vec::with_capacity(term.factors.len());
        for (base, exponent) in &term.factors {
            let Base::Symbol(_) = base else {
                return None;
            };
            let dimension = dimensions.of(*base)?;
            match totals.iter_mut().find(|(known, ..)| *known == dimension) {
                Some((_, total, count)) => {
                    *total = total.checked_add(*exponent)?;
                    *count += 1;
                }
                None => totals.push((dimension, *exponent, 1)),
            }
        }
        Some(totals.iter().map(hash).fold(1, u64::wrapping_add))
    }
}

impl Dimensions {
    pub(super) fn of(&self, base: Base) -> Option<Dimension> {
        match base {
            Base::Symbol(index) => self.symbols.get(index as usize),
            Base::Sum(index) => self.sums.get(index as usize),
        }
        .copied()
    }
}

pub(super) fn hash(value: &impl Hash) -> u64 {
    let mut hasher = FxHasher::default();
    value.hash(&mut hasher);
    mixed(hasher.finish())
}

/// Spreads a number over all its bits, so that sums of such numbers seldom meet (the finishing step of
/// a common hash function).
fn mixed(number: u64) -> u64 {
    let number = (number ^ (number >> 33)).wrapping_mul(0xff51_afd7_ed55_8ccd);
    let number = (number ^ (number >> 33)).wrapping_mul(0xc4ce_b9fe_1a85_ec53);
    number ^ (number >> 33)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn formed(right: &str) -> Option<String> {
        let text = format!("x = {right}");
        let tree = haunch_syntax::read_line(&text, haunch_quantity::is_unit_word);
        let haunch_syntax::Statement::Value(value) = &tree.statement else {
            panic!("{text} is a value line");
        };
        let haunch_syntax::ValueBody::Expression(id) = value.body else {
            panic!("{text} has an expression");
        };
        let form = of(&tree, &text, id)?;
        Some(told(&text, &form, &form.terms))
    }

    fn told(text: &str, form: &Form, terms: &[Term]) -> String {
        let term = |term: &Term| {
            let factors = term.factors.iter().map(|(base, exponent)| {
                let base = match base {
                    Base::Symbol(index) => form.symbols[*index as usize].span.text(text).to_owned(),
                    Base::Sum(index) => {
                        format!("({})", told(text, form, &form.sums[*index as usize]))
                    }
                };
                format!(" {base}^{exponent}")
            });
            let constant = (term.constant * 1e9).round() / 1e9;
            format!("{constant}{}", factors.collect::<String>())
        };
        let terms: Vec<String> = terms.iter().map(term).collect();
        terms.join(" + ")
    }

    #[track_caller]
    fn is(right: &str, expected: &str) {
        assert_eq!(formed(right).as_deref(), Some(expected), "{right}");
    }

    #[test]
    fn one_form_for_every_way_to_write_it() {
        for same in [
            "b*h^3/4",
            "1/4*b*h*h^2",
            "(b*h^3)/4",
            "0.25*b*h³",
            "b*(h^6)^(1/2)/4",
            "b*h*h*h/(2*2)",
            "-b*(-h)^3/4",
            "b*h^3/2 - b*h^3/4",
        ] {
            is(same, "0.25 b^1 h^3");
        }
    }

    #[test]
    fn sums_are_multiplied_out_or_stay() {
        is("(a - c)^2*b", "-2 a^1 c^1 b^1 + 1 a^2 b^1 + 1 c^2 b^1");
        is("a*x/(a + x)", "1 a^1 x^1 (1 a^1 + 1 x^1)^-1");
        is("sqrt(a^2 + 3*x^2)^2", "1 a^2 + 3 x^2");
        is("sqrt(4*I/A)", "2 I^1/2 A^-1/2");
    }

    #[test]
    fn numbers_with_units_and_calls_are_symbols() {
        is("130 mm * (10 mm)^3/10", "0.1 130 mm^1 10 mm^3");
        is("rail.M(1 m)/tee.W*2", "2 rail.M(1 m)^1 tee.W^-1");
    }

    #[test]
    fn what_has_none() {
        assert_eq!(formed("if a > b then a else b"), None);
        assert_eq!(formed("a^b"), None);
        assert_eq!(formed("a/(b - b)"), None);
        assert_eq!(formed("(a + b + c + d)^8"), None);
        assert_eq!(formed(&vec!["a"; 200].join("*")), None);
        assert_eq!(formed("sqrt(0 - 4)*a"), None);
        assert_eq!(formed(&vec!["(a + b)"; 24].join("*")), None);
        let within = (0..40).fold("a".to_owned(), |inner, _| format!("sqrt(a + {inner})"));
        assert_eq!(formed(&format!("({within})^8")), None);
    }
}
