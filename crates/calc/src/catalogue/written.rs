//! A line of a file beside the catalogue: its normal form, what its names say, what fits.

use std::cell::OnceCell;

use haunch_quantity::Dimension;
use haunch_syntax::{
    BinaryOperator, Expression, ExpressionId, ExpressionKind, Statement, Tree, ValueBody,
};
use haunch_text::Span;

use super::form::{self, Dimensions, Form, plain_number};
use super::index::{Dimensioned, Known, index};
use super::matching::{self, Fit, Profiled, profiles};
use super::names::{self, Said};
use super::symbols::Role;
use super::{Entry, Shape};
use crate::value::{Evaluated, Kind};

/// How close a constant comes to one that no written number is exactly.
const ROUNDED: f64 = 1e-3;
/// The same where it is written with a decimal point, as 0.049 for pi/64.
const ROUNDED_DECIMAL: f64 = 5e-3;
const EXACT: f64 = 1e-9;
/// Most entries that are named of one line.
const MOST_NAMED: usize = 3;

/// The name that a line gives and what it gives it: of a value, and of a formula with arguments.
pub(crate) fn stated(tree: &Tree) -> Option<(Span, ExpressionId)> {
    match &tree.statement {
        Statement::Value(value) => match value.body {
            ValueBody::Expression(body) => Some((value.name.span, body)),
            _ => None,
        },
        Statement::Formula(formula) => Some((formula.name.span, formula.body)),
        _ => None,
    }
}

/// An expression and what it is made of, the last of them first.
fn parts(tree: &Tree, whole: ExpressionId) -> impl Iterator<Item = (ExpressionId, &Expression)> {
    let expressions = tree.expressions.get(..=whole.0 as usize);
    let expressions = expressions.unwrap_or_default();
    let start = expressions.last().map_or(0, |whole| whole.span.start);
    let all = expressions.iter().enumerate().rev();
    all.map(|(index, own)| (ExpressionId(index as u32), own))
        .filter(move |(_, own)| own.span.start >= start)
}

/// What a normal form does not look into: names, numbers with units, calls.
fn symbols(tree: &Tree, whole: ExpressionId) -> impl Iterator<Item = ExpressionId> {
    // What a call is given comes after it here.
    let mut call: Option<u32> = None;
    parts(tree, whole).filter_map(move |(id, own)| {
        if call.is_some_and(|start| own.span.start >= start) {
            return None;
        }
        call = None;
        match &own.kind {
            ExpressionKind::Literal(literal) => plain_number(literal).is_none().then_some(id),
            ExpressionKind::Path(path) => {
                let name = match path.names.as_slice() {
                    [name] => name.text.as_str(),
                    _ => "",
                };
                let is_opened = match &path.arguments {
                    Some(_) => matches!(name, "sqrt" | "cbrt"),
                    None => name == "pi",
                };
                if !is_opened && path.arguments.is_some() {
                    call = Some(own.span.start);
                }
                (!is_opened).then_some(id)
            }
            _ => None,
        }
    })
}

/// A value line in normal form.
pub(crate) struct Written<'a> {
    pub(crate) text: &'a str,
    /// The name on the left.
    pub(crate) name: &'a str,
    pub(crate) body: ExpressionId,
    pub(crate) form: Form,
    dimensions: Dimensions,
    profiles: Vec<u64>,
    tree: &'a Tree,
    numerals: OnceCell<Numerals>,
    /// The shapes that words of its names mean.
    pub(crate) shapes: Option<&'static [Shape]>,
    cases: Option<&'static [Shape]>,
}

/// A formula of the catalogue that a line is, but for its constant.
#[derive(Debug)]
pub(crate) struct Candidate {
    pub(crate) known: &'static Known,
    pub(crate) fit: Fit,
    /// Symbols of the formula for which a name stands that says something else, and what it says.
    pub(crate) contradictions: Vec<(usize, &'static str)>,
    /// What the name on the left says of it.
    pub(crate) said: Said,
    /// The constant is the formula's, as near as it is written, with its sign or the other one.
    pub(crate) is_same: bool,
    /// No word of the line's names means another shape or case.
    pub(crate) is_allowed: bool,
}

impl Candidate {
    /// Whether the line is this formula, as far as form and names can tell.
    pub(crate) fn is_it(&self) -> bool {
        self.is_same && self.is_allowed && self.contradictions.is_empty() && self.said != Said::No
    }
}

impl<'a> Written<'a> {
    /// A value of a file, or a formula with arguments, whose right side has a normal form and known
    /// dimensions.
    pub(crate) fn of(
        tree: &'a Tree,
        text: &'a str,
        evaluated: &'a [Evaluated],
    ) -> Option<Written<'a>> {
        let (_, body) = stated(tree)?;
        Written::of_part(tree, text, evaluated, body)
    }

    /// The same of a part of the right side, as if it stood alone.
    pub(crate) fn of_part(
        tree: &'a Tree,
        text: &'a str,
        evaluated: &'a [Evaluated],
        body: ExpressionId,
    ) -> Option<Written<'a>> {
        let (name, _) = stated(tree)?;
        let is_formula = matches!(
            tree.expressions.get(body.0 as usize)?.kind,
            ExpressionKind::Binary { .. }
                | ExpressionKind::Path(_)
                | ExpressionKind::Superscript { .. }
                | ExpressionKind::Group(_)
                | ExpressionKind::Negate(_)
        );
        if tree.indented || !is_formula || tree.expressions.len() < 2 {
            return None;
        }
        let dimension = |id: ExpressionId| -> Option<Dimension> {
            match evaluated.get(id.0 as usize)?.kind {
                Kind::Quantity(dimension) => Some(dimension),
                _ => None,
            }
        };
        let mut kinds = Dimensioned::of(dimension(body)?);
        let is_known = symbols(tree, body).all(|id| match dimension(id) {
            Some(dimension) => kinds.add(dimension),
            None => false,
        });
        if !is_known || !index().has(kinds) {
            return None;
        }
        let form = form::of(tree, text, body)?;
        let dimensions = form.dimensions(|symbol| dimension(symbol.id))?;
        let name = name.text(text);
        let symbols = form.symbols.iter().map(|symbol| symbol.span.text(text));
        Some(Written {
            text,
            name,
            body,
            profiles: profiles(&form, &dimensions),
            tree,
            numerals: OnceCell::new(),
            shapes: names::shapes(symbols.chain([name])),
            cases: names::cases(name),
            form,
            dimensions,
        })
    }

    /// The text of one of its symbols.
    pub(crate) fn source(&self, symbol: u8) -> &'a str {
        let symbol = self.form.symbols.get(symbol as usize);
        symbol.map_or("", |symbol| symbol.span.text(self.text))
    }

    pub(crate) fn span(&self, symbol: u8) -> Span {
        let symbol = self.form.symbols.get(symbol as usize);
        symbol.map_or(Span::default(), |symbol| symbol.span)
    }

    /// The formulas that it is but for names and a constant, in the order of the table; those that are
    /// written by mistake among them.
    pub(crate) fn candidates(&self) -> Vec<Candidate> {
        let signature = self.form.signature(&self.dimensions);
        let known = index().of_signature(signature);
        known.filter_map(|known| self.candidate(known)).collect()
    }

    /// The first formula that it is, as far as form and names can tell.
    pub(crate) fn same(&self) -> Option<Candidate> {
        let signature = self.form.signature(&self.dimensions);
        let known = index().of_signature(signature);
        known
            .filter(|known| !known.is_mistaken && names::said(self.name, known.gives) != Said::No)
            .filter_map(|known| self.candidate(known))
            .find(Candidate::is_it)
    }

    /// The numbers that it is written with.
    pub(crate) fn numerals(&self) -> &Numerals {
        let numerals = || Numerals::of(self.tree, self.body);
        self.numerals.get_or_init(numerals)
    }

    fn candidate(&self, known: &'static Known) -> Option<Candidate> {
        if known.entry.only_when_said && names::said(self.name, known.gives) != Said::Yes {
            return None;
        }
        let written = Profiled {
            form: &self.form,
            profiles: &self.profiles,
        };
        let fits = matching::fits(known.profiled(), written);
        let mut best: Option<(Fit, Vec<(usize, &'static str)>)> = None;
        for fit in fits {
            let contradictions = self.contradictions(known, &fit);
            let is_better = |(_, before): &(Fit, Vec<_>)| contradictions.len() < before.len();
            if best.as_ref().is_none_or(is_better) {
                best = Some((fit, contradictions));
            }
        }
        let (fit, contradictions) = best?;
        Some(self.judged(known, fit, contradictions))
    }

    fn judged(
        &self,
        known: &'static Known,
        fit: Fit,
        contradictions: Vec<(usize, &'static str)>,
    ) -> Candidate {
        let close = if !known.is_irrational() {
            EXACT
        } else if self.numerals().decimals {
            ROUNDED_DECIMAL
        } else {
            ROUNDED
        };
        let shape = known.entry.shape;
        let among = |shapes: Option<&[Shape]>| shapes.is_none_or(|s| s.contains(&shape));
        Candidate {
            known,
            said: names::said(self.name, known.gives),
            is_same: (fit.ratio.abs() - 1.0).abs() <= close,
            is_allowed: (!shape.is_plane() || among(self.shapes))
                && (!shape.is_beam() || among(self.cases)),
            fit,
            contradictions,
        }
    }

    fn contradictions(&self, known: &Known, fit: &Fit) -> Vec<(usize, &'static str)> {
        let mut found = Vec::new();
        for (index, partner) in fit.symbols.iter().enumerate() {
            let role = known.role(index);
            if role == Role::Any {
                continue;
            }
            let text = self.source(*partner);
            if let Some(says) = names::contradiction(role, text, known.is_round()) {
                found.push((index, says));
            }
            let with_this_axis = |(other, partner): (usize, &u8)| {
                known.role(other) == Role::SecondMoment
                    && names::axes_differ(self.source(*partner), text)
            };
            let mut symbols = fit.symbols.iter().enumerate();
            let is_along = matches!(role, Role::ToEdge | Role::Depth);
            if is_along && symbols.any(with_this_axis) {
                found.push((index, "a distance along the other axis"));
            }
        }
        found
    }

    /// The candidate's symbols with the two that names contradict exchanged, where none does any more.
    pub(crate) fn exchanged(&self, candidate: &Candidate) -> Option<(Fit, [u8; 2])> {
        let [(one, _), (other, _)] = candidate.contradictions.as_slice() else {
            return None;
        };
        let mut fit = candidate.fit.clone();
        let both = [*fit.symbols.get(*one)?, *fit.symbols.get(*other)?];
        let dimension = |symbol: u8| self.dimensions.symbols.get(symbol as usize);
        if dimension(both[0]) != dimension(both[1]) {
            return None;
        }
        fit.symbols.swap(*one, *other);
        self.contradictions(candidate.known, &fit)
            .is_empty()
            .then_some((fit, both))
    }

    /// Formulas of one term that it is but for an exponent that stands at another letter.
    pub(crate) fn with_an_exponent_moved(&self) -> Vec<Candidate> {
        let Some(family) = self.form.family(&self.dimensions) else {
            return Vec::new();
        };
        let known = index().of_family(family);
        known
            .filter_map(|known| {
                let letter = |index: u8| {
                    let symbol = known.form.symbols.get(index as usize)?;
                    Some(symbol.span.text(&known.text))
                };
                let same =
                    |index: u8, own: u8| letter(index) == Some(names::head(self.source(own)));
                let fit = matching::with_an_exponent_moved(
                    (&known.form, &known.dimensions),
                    (&self.form, &self.dimensions),
                    same,
                )?;
                Some(self.judged(known, fit, Vec::new()))
            })
            .collect()
    }

    /// See [`named`](super::named).
    pub(crate) fn named(&self) -> Vec<&'static Entry> {
        let mut found: Vec<Candidate> = self.candidates();
        found.retain(|candidate| {
            let is_told = candidate.said == Said::Yes || !candidate.known.is_plain();
            !candidate.known.is_mistaken && candidate.is_it() && is_told
        });
        let most = found.iter().map(|candidate| candidate.said).max();
        found.retain(|candidate| Some(candidate.said) == most);
        let mut entries: Vec<&'static Entry> = Vec::new();
        for candidate in found {
            if !entries
                .iter()
                .any(|entry| entry.name == candidate.known.entry.name)
            {
                entries.push(candidate.known.entry);
            }
        }
        entries.truncate(MOST_NAMED);
        entries
    }

    /// A formula of the catalogue in the names of the line.
    pub(crate) fn rewritten(&self, known: &Known, fit: &Fit) -> String {
        let of_letter = |letter: &str| {
            let symbols = known.form.symbols.iter();
            let own = |symbol: &form::Symbol| symbol.span.text(&known.text) == letter;
            let index = symbols.clone().position(own)?;
            Some(self.source(*fit.symbols.get(index)?).to_owned())
        };
        in_names(known, of_letter, fit.ratio < 0.0)
    }

    /// The formula of an entry for which another is written by mistake, in the names of the line.
    pub(crate) fn corrected(&self, mistaken: &Known, fit: &Fit) -> Option<String> {
        let letters: Vec<&str> = mistaken
            .form
            .symbols
            .iter()
            .map(|symbol| symbol.span.text(&mistaken.text))
            .collect();
        let known = index().known.iter().find(|known| {
            let of_entry = known.entry.name == mistaken.entry.name && !known.is_mistaken;
            let mut symbols = known.form.symbols.iter();
            of_entry && symbols.all(|symbol| letters.contains(&symbol.span.text(&known.text)))
        })?;
        let of_letter = |letter: &str| {
            let index = letters.iter().position(|own| *own == letter)?;
            Some(self.source(*fit.symbols.get(index)?).to_owned())
        };
        Some(in_names(known, of_letter, fit.ratio < 0.0))
    }
}

/// The right side of a formula with its letters replaced, and with a minus where it is asked for.
fn in_names(
    known: &Known,
    of_letter: impl Fn(&str) -> Option<String>,
    is_negative: bool,
) -> String {
    let start = known.text.find("= ").map_or(0, |at| at + 2);
    let mut text = known.text.clone();
    let paths = known.tree.expressions.iter().rev();
    let mut places: Vec<Span> = paths
        .filter(|expression| matches!(expression.kind, ExpressionKind::Path(_)))
        .map(|expression| expression.span)
        .collect();
    places.sort_by_key(|span| std::cmp::Reverse(span.start));
    for span in places {
        let Some(mut name) = of_letter(span.text(&known.text)) else {
            continue;
        };
        let raised = text
            .get(span.end as usize..)
            .is_some_and(|rest| rest.starts_with('^'));
        if raised && name.contains(char::is_whitespace) {
            name = format!("({name})");
        }
        text.replace_range(span.start as usize..span.end as usize, &name);
    }
    let right = text.split_off(start);
    match (is_negative, known.form.terms.len()) {
        (false, _) => right,
        (true, 1) => format!("-{right}"),
        (true, _) => format!("-({right})"),
    }
}

/// The numbers without a unit that the factors of an expression are.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Numerals {
    /// Each with whether it stands above the stroke, and its place; those that are 1 left out.
    pub(crate) factors: Vec<(f64, bool, Span)>,
    /// How often `pi` is a factor, below the stroke counted down.
    pub(crate) pi: i32,
    /// The factor with it.
    pub(crate) pi_span: Option<Span>,
    /// `pi` stands somewhere.
    pub(crate) has_pi: bool,
    /// How many powers are written.
    powers: usize,
    /// There are others, in sums and under powers.
    pub(crate) others: bool,
    /// One is written with a decimal point or a power of ten.
    pub(crate) decimals: bool,
}

impl Numerals {
    pub(super) fn of(tree: &Tree, body: ExpressionId) -> Numerals {
        let mut numerals = Numerals::default();
        let mut plain = 0_usize;
        for (_, expression) in parts(tree, body) {
            match &expression.kind {
                ExpressionKind::Literal(literal) if plain_number(literal).is_some() => {
                    plain += 1;
                    let [part] = literal.parts.as_slice() else {
                        continue;
                    };
                    if let haunch_syntax::Number::Decimal(text) = &part.number {
                        numerals.decimals |= text.contains(['.', 'e', 'E']);
                    }
                }
                ExpressionKind::Path(path) => {
                    let is_pi = matches!(path.names.as_slice(), [name] if name.text == "pi");
                    numerals.has_pi |= is_pi;
                }
                // An exponent is no factor.
                ExpressionKind::Binary {
                    operator: BinaryOperator::Power,
                    ..
                } => numerals.powers += 1,
                _ => {}
            }
        }
        let mut seen = 0_usize;
        for factor in tree.factors(body, |_| ()).all {
            let Some(expression) = tree.expressions.get(factor.id.0 as usize) else {
                continue;
            };
            let above = !factor.divides;
            if let ExpressionKind::Literal(literal) = &expression.kind {
                if let Some(number) = plain_number(literal) {
                    seen += 1;
                    if number != 1.0 {
                        numerals.factors.push((number, above, expression.span));
                    }
                }
            } else if let Some(power) = pi_power(tree, factor.id) {
                numerals.pi += if above { power } else { -power };
                numerals.pi_span = Some(expression.span);
            }
        }
        numerals.others = seen != plain.saturating_sub(numerals.powers);
        numerals
    }
}

/// The power of pi that an expression is.
fn pi_power(tree: &Tree, id: ExpressionId) -> Option<i32> {
    let kind = |id: ExpressionId| tree.expressions.get(id.0 as usize).map(|e| &e.kind);
    let is_pi = |id| match kind(id) {
        Some(ExpressionKind::Path(path)) => {
            matches!(path.names.as_slice(), [name] if name.text == "pi")
        }
        _ => false,
    };
    match kind(id)? {
        ExpressionKind::Path(_) => is_pi(id).then_some(1),
        ExpressionKind::Superscript { base, exponent, .. } => is_pi(*base).then_some(*exponent),
        ExpressionKind::Binary {
            operator: BinaryOperator::Power,
            left,
            right,
            ..
        } if is_pi(*left) => match kind(*right)? {
            ExpressionKind::Literal(literal) => Some(plain_number(literal)? as i32),
            _ => None,
        },
        _ => None,
    }
}
