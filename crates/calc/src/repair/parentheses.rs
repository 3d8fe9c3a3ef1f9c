//! A sum whose parentheses hold too much or too little: one pair is put in, left out or moved so that the
//! terms agree.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::candidates::Search;
use super::costs::{Reason, Reasons};
use super::line::Line;
use super::product::{Factor, Product, factors_of};
use crate::expression::sum::terms;

/// Most places of parentheses that are looked at in one sum.
const MOST_TRIED: usize = 64;

/// A sum written without parentheses around it: the factors of each term, where the parentheses were.
struct Loose {
    terms: Vec<Vec<Factor>>,
    were: Option<Span>,
}

/// Whether one pair of parentheses, put in or moved, makes the terms of a sum agree on what it has to be.
pub(super) fn would_mend(line: &Line<'_>, sum: ExpressionId, wanted: Dimension) -> bool {
    let Some(loose) = loose(line, sum) else {
        return false;
    };
    pairs(&loose).any(|pair| comes_to(&loose, Some(pair)) == Some(wanted))
}

/// Every pair of parentheses that could be put in, so many at most.
fn pairs(loose: &Loose) -> impl Iterator<Item = Pair> + '_ {
    let factors = |term: usize| 0..loose.terms[term].len();
    let spans = (0..loose.terms.len())
        .flat_map(move |from| (from + 1..loose.terms.len()).map(move |to| (from, to)));
    let pairs = spans.flat_map(move |(from, to)| {
        factors(from).flat_map(move |start| {
            factors(to).map(move |end| Pair {
                from: (from, start),
                to: (to, end),
            })
        })
    });
    pairs.take(MOST_TRIED)
}

impl Search<'_> {
    /// Every pair of parentheses under which the part comes out as wanted.
    pub(super) fn parentheses(&mut self, id: ExpressionId, wanted: Dimension) {
        let line = self.line;
        let Some(loose) = loose(&line, id) else {
            return;
        };
        if loose.were.is_some() && comes_to(&loose, None) == Some(wanted) {
            self.write(id, &loose, None);
        }
        for pair in pairs(&loose) {
            if comes_to(&loose, Some(pair)) == Some(wanted) {
                self.write(id, &loose, Some(pair));
            }
        }
    }

    fn write(&mut self, id: ExpressionId, loose: &Loose, pair: Option<Pair>) {
        let line = self.line;
        let at = |at: u32| Span::empty(at as usize);
        let mut edits: Vec<(Span, String)> = Vec::new();
        if let Some(were) = loose.were {
            let first = Span {
                start: were.start,
                end: were.start + 1,
            };
            let last = Span {
                start: were.end - 1,
                end: were.end,
            };
            edits.extend([(first, String::new()), (last, String::new())]);
        }
        if let Some(pair) = pair {
            let first = line.span(loose.terms[pair.from.0][pair.from.1].id).start;
            let last = line.span(loose.terms[pair.to.0][pair.to.1].id).end;
            if loose.were.is_some_and(|were| {
                (were.start, were.end) == (first, last)
                    || (were.start + 1, were.end - 1) == (first, last)
            }) {
                return;
            }
            edits.extend([(at(first), "(".to_owned()), (at(last), ")".to_owned())]);
        }
        let text = line.source_with(id, &edits);
        let reason = match (loose.were, pair) {
            (None, _) => Reason::ParenthesesPutIn,
            (Some(_), None) => Reason::ParenthesesLeftOut,
            (Some(_), Some(_)) => Reason::ParenthesesMoved,
        };
        let title = format!("Write {text}");
        let is_before_stroke = pair.is_some_and(|Pair { to, .. }| {
            let next = loose.terms.get(to.0).and_then(|term| term.get(to.1 + 1));
            next.is_some_and(|factor| !factor.above)
        });
        let reasons = Reasons::of(reason).and_if(is_before_stroke, Reason::ParenthesesBeforeStroke);
        self.offer(reasons, 0, line.span(id), title, edits);
    }
}

/// A pair of parentheses from a factor of one term to a factor of a later one.
#[derive(Clone, Copy)]
struct Pair {
    from: (usize, usize),
    to: (usize, usize),
}

/// The sum that a part is, or that stands in parentheses among its factors.
fn loose(line: &Line<'_>, id: ExpressionId) -> Option<Loose> {
    let factors = |id| Product::of(line, id).map(|product| product.factors);
    let ids = terms(line.tree, id);
    if ids.len() > 1 {
        let terms: Option<Vec<Vec<Factor>>> = ids.into_iter().map(factors).collect();
        return Some(Loose {
            terms: terms?,
            were: None,
        });
    }
    let flat = factors_of(line, id, |_| false)?;
    let is_sum = |inner: ExpressionId| terms(line.tree, inner).len() > 1;
    let mut sums = flat
        .iter()
        .enumerate()
        .filter_map(|(index, (id, _))| match line.kind(*id) {
            Some(ExpressionKind::Group(inner)) if is_sum(*inner) => Some((index, *inner)),
            _ => None,
        });
    let (index, inner) = sums.next()?;
    if sums.next().is_some() {
        return None;
    }
    let factor = |(id, above): &(ExpressionId, bool)| {
        Some(Factor {
            id: *id,
            base: *id,
            power: 1,
            dimension: line.found(*id)?,
            above: *above,
        })
    };
    let before: Option<Vec<Factor>> = flat[..index].iter().map(factor).collect();
    let after: Option<Vec<Factor>> = flat[index + 1..].iter().map(factor).collect();
    let is_below = !flat[index].1;
    let inner: Option<Vec<Vec<Factor>>> =
        terms(line.tree, inner).into_iter().map(factors).collect();
    let mut terms = inner?;
    // Its first factor follows the stroke that the parentheses followed.
    if let Some(first) = terms.first_mut().and_then(|term| term.first_mut()) {
        first.above = first.above != is_below;
    }
    terms.first_mut()?.splice(0..0, before?);
    terms.last_mut()?.extend(after?);
    Some(Loose {
        terms,
        were: Some(line.span(flat[index].0)),
    })
}

/// What a sum comes to with this pair of parentheses; none where its terms would not agree.
fn comes_to(loose: &Loose, pair: Option<Pair>) -> Option<Dimension> {
    let product = |factors: &[Factor]| {
        factors.iter().try_fold(Dimension::RATIO, |all, factor| {
            if factor.above {
                all.checked_multiply(factor.dimension)
            } else {
                all.checked_divide(factor.dimension)
            }
        })
    };
    let mut agreed: Option<Dimension> = None;
    let mut agree = |dimension: Dimension| match agreed {
        None => {
            agreed = Some(dimension);
            true
        }
        Some(known) => known == dimension,
    };
    let Some(Pair { from, to }) = pair else {
        for term in &loose.terms {
            if !agree(product(term)?) {
                return None;
            }
        }
        return agreed;
    };
    // The sum inside.
    let mut inside: Option<Dimension> = None;
    let opening = &loose.terms[from.0][from.1];
    for (index, term) in loose.terms.iter().enumerate().take(to.0 + 1).skip(from.0) {
        let start = if index == from.0 { from.1 } else { 0 };
        let end = if index == to.0 { to.1 + 1 } else { term.len() };
        let mut dimension = product(&term[start..end])?;
        if index == from.0 && !opening.above {
            // Its own stroke stays outside.
            let twice = opening.dimension.checked_multiply(opening.dimension)?;
            dimension = dimension.checked_multiply(twice)?;
        }
        if *inside.get_or_insert(dimension) != dimension {
            return None;
        }
    }
    let inside = inside?;
    let before = product(&loose.terms[from.0][..from.1])?;
    let after = product(&loose.terms[to.0][to.1 + 1..])?;
    let with = if opening.above {
        before.checked_multiply(inside)?
    } else {
        before.checked_divide(inside)?
    };
    if !agree(with.checked_multiply(after)?) {
        return None;
    }
    for (index, term) in loose.terms.iter().enumerate() {
        let is_outside = index < from.0 || index > to.0;
        if is_outside && !agree(product(term)?) {
            return None;
        }
    }
    agreed
}
