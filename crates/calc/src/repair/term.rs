//! Whole products of a line with what stands under their roots and powers, as flat lists of factors:
//! what an edit anywhere inside makes of them is compared with the formulas of the trade.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Statement, ValueBody};
use haunch_text::Span;

use super::likeness::{Factor, Name, likeness};
use super::line::Line;
use super::needed::whole_number;

/// Most factors that are compared.
const MOST_FACTORS: usize = 10;

/// One factor with its place.
#[derive(Debug, Clone)]
struct Atom<'a> {
    span: Span,
    factor: Factor<'a>,
}

#[derive(Debug, Clone, Default)]
struct Term<'a> {
    atoms: Vec<Atom<'a>>,
    numbers: Vec<&'a str>,
    left: Option<&'a str>,
    /// Whether every factor's dimension is known.
    known: bool,
}

/// The products of a line.
#[derive(Debug, Default)]
pub(super) struct Terms<'a> {
    terms: Vec<Term<'a>>,
    /// For each expression its term and the half power that it stands with there.
    of: Vec<Option<(usize, i32)>>,
}

/// What a slip would change in a product.
#[derive(Debug, Clone, Copy)]
pub(super) enum Change {
    /// Another name of this dimension at the place, whichever it is.
    Name(Span, Dimension),
    /// Everything in the place to this power instead of the other.
    Power(Span, i32, i32),
    /// One more name of this dimension, above or below the stroke.
    Add(Dimension, bool),
}

impl<'a> Terms<'a> {
    pub(super) fn of(line: &Line<'a>) -> Terms<'a> {
        let count = line.tree.expressions.len();
        let mut terms = Terms {
            terms: Vec::new(),
            of: vec![None; count],
        };
        let mut is_direct = vec![false; count];
        let mut left = None;
        if let Statement::Value(value) = &line.tree.statement
            && let ValueBody::Expression(body) = value.body
        {
            left = Some(value.name.text.as_str());
            if let Some(slot) = is_direct.get_mut(body.0 as usize) {
                *slot = true;
            }
        }
        // Parents come after their children.
        for index in (0..count).rev() {
            let id = ExpressionId(index as u32);
            let direct = is_direct.get(index).copied().unwrap_or(false);
            let (term, halves) = match terms.of.get(index).copied().flatten() {
                Some(known) => known,
                None => {
                    terms.terms.push(Term {
                        left: left.filter(|_| direct),
                        known: true,
                        ..Term::default()
                    });
                    let own = (terms.terms.len() - 1, 2);
                    if let Some(slot) = terms.of.get_mut(index) {
                        *slot = Some(own);
                    }
                    own
                }
            };
            terms.node(line, id, (term, halves), direct, &mut is_direct);
        }
        terms
    }

    fn node(
        &mut self,
        line: &Line<'a>,
        id: ExpressionId,
        (term, halves): (usize, i32),
        direct: bool,
        is_direct: &mut [bool],
    ) {
        let mut pass = |child: ExpressionId, halves: i32| {
            if let Some(slot) = self.of.get_mut(child.0 as usize) {
                *slot = Some((term, halves));
            }
        };
        let mut name = Name::None;
        match line.kind(id) {
            Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) => {
                pass(*inner, halves);
                if let Some(slot) = is_direct.get_mut(inner.0 as usize) {
                    *slot = direct;
                }
                return;
            }
            Some(ExpressionKind::Binary {
                operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
                left,
                right,
                ..
            }) => {
                let is_product = *operator == BinaryOperator::Multiply;
                pass(*left, halves);
                pass(*right, if is_product { halves } else { -halves });
                return;
            }
            Some(ExpressionKind::Superscript { base, exponent, .. }) => {
                if let Some(halves) = halves.checked_mul(*exponent) {
                    pass(*base, halves);
                    return;
                }
            }
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                right,
                ..
            }) => {
                if let Some(power) = whole_number(line.tree, *right)
                    && let Some(halves) = halves.checked_mul(power)
                {
                    pass(*left, halves);
                    return;
                }
            }
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            }) if direct => {
                for term in [left, right] {
                    if let Some(slot) = is_direct.get_mut(term.0 as usize) {
                        *slot = true;
                    }
                }
            }
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            }) if halves == 1 => {
                // The squares of a sum under a root are looked at as what they are squares of.
                for child in [left, right] {
                    self.terms.push(Term {
                        known: true,
                        ..Term::default()
                    });
                    let own = (self.terms.len() - 1, 1);
                    if let Some(slot) = self.of.get_mut(child.0 as usize) {
                        *slot = Some(own);
                    }
                }
            }
            Some(ExpressionKind::Path(path)) => match &path.arguments {
                None => {
                    if let Some(last) = path.names.last() {
                        name = Name::Is(last.text.as_str());
                    }
                }
                Some(arguments) => {
                    let is_root = path.names.first().is_some_and(|n| n.text == "sqrt");
                    if let ([argument], true, true) =
                        (arguments.as_slice(), is_root, halves % 2 == 0)
                    {
                        pass(*argument, halves / 2);
                        return;
                    }
                }
            },
            Some(ExpressionKind::Literal(literal)) => {
                if let [part] = literal.parts.as_slice()
                    && part.unit.is_none()
                {
                    let text = part.number_span.text(line.text);
                    if let Some(term) = self.terms.get_mut(term) {
                        term.numbers.push(text);
                    }
                    return;
                }
            }
            _ => {}
        }
        let Some(term) = self.terms.get_mut(term) else {
            return;
        };
        match line.found(id) {
            Some(dimension) => term.atoms.push(Atom {
                span: line.span(id),
                factor: Factor {
                    name,
                    dimension,
                    halves,
                },
            }),
            None => term.known = false,
        }
    }

    /// How much a line's products look like those of the trade, from 0 to 1: the mean of those whose
    /// dimensions are known. None where there is none.
    pub(super) fn likeness(&self) -> Option<f64> {
        let all: Vec<f64> = self
            .terms
            .iter()
            .filter_map(|term| term.likeness(2, &[]))
            .collect();
        (!all.is_empty()).then(|| all.iter().sum::<f64>() / all.len() as f64)
    }

    /// How much the product around an expression looks like one of the trade with a slip undone.
    pub(super) fn likeness_with(&self, at: ExpressionId, changes: &[Change]) -> Option<f64> {
        let (index, halves) = self.of.get(at.0 as usize).copied().flatten()?;
        self.terms.get(index)?.likeness(halves, changes)
    }
}

impl Term<'_> {
    fn likeness(&self, halves: i32, changes: &[Change]) -> Option<f64> {
        if !self.known || self.atoms.len() > MOST_FACTORS {
            return None;
        }
        let mut factors: Vec<Factor<'_>> = Vec::with_capacity(self.atoms.len());
        for atom in &self.atoms {
            let mut factor = atom.factor;
            let is_in = |span: &Span| span.start <= atom.span.start && atom.span.end <= span.end;
            for change in changes {
                match change {
                    Change::Name(span, dimension) if is_in(span) => {
                        factor.name = Name::Right;
                        factor.dimension = *dimension;
                    }
                    Change::Power(span, right, wrong) if is_in(span) => {
                        factor.halves = factor.halves.checked_mul(*right)?.checked_div(*wrong)?;
                    }
                    _ => {}
                }
            }
            factors.push(factor);
        }
        for change in changes {
            if let Change::Add(dimension, above) = change {
                factors.push(Factor {
                    name: Name::Right,
                    dimension: *dimension,
                    halves: if *above { halves } else { -halves },
                });
            }
        }
        factors.retain(|factor| factor.halves != 0 && !factor.dimension.is_ratio());
        (!factors.is_empty()).then(|| likeness(&factors, self.left, &self.numbers))
    }
}
