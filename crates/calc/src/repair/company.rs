//! How well a name goes with the others that stand beside it: names of one series, and names that other
//! lines of the file use together.

use haunch_syntax::{BinaryOperator, ExpressionKind};
use haunch_text::Span;

use super::costs::{Reason, Reasons};
use super::line::Line;
use super::scope::{InScope, series};

/// The names beside a place of the line.
pub(super) struct Company<'a> {
    /// Those of the same product.
    product: Vec<&'a str>,
    /// The name that the line defines.
    left: Option<&'a str>,
    /// Which names of the line stay, by their bits in [`InScope::company`].
    others: u32,
}

impl<'a> Company<'a> {
    /// The company of what comes in at `place`; the name `leaving` goes.
    pub(super) fn of(
        line: &Line<'a>,
        place: Span,
        leaving: Option<&str>,
        names: &[smol_str::SmolStr],
    ) -> Company<'a> {
        let term = term_around(line, place);
        let within = |span: Span| term.start <= span.start && span.end <= term.end;
        let mut product = Vec::new();
        for expression in &line.tree.expressions {
            if let ExpressionKind::Path(path) = &expression.kind
                && let [name] = path.names.as_slice()
                && path.arguments.is_none()
                && within(expression.span)
                && Some(name.text.as_str()) != leaving
            {
                product.push(name.text.as_str());
            }
        }
        let left = match &line.tree.statement {
            haunch_syntax::Statement::Value(value) => Some(value.name.text.as_str()),
            _ => None,
        };
        let others = names
            .iter()
            .enumerate()
            .filter(|(_, name)| Some(name.as_str()) != leaving)
            .fold(0, |bits, (index, _)| bits | bit(index));
        Company {
            product,
            left,
            others,
        }
    }

    /// What speaks for a name in this company.
    pub(super) fn reasons(&self, name: &InScope) -> Reasons {
        let place = series(&name.name).1;
        let is_of_place = |other: &&str| {
            !place.is_empty() && series(other).1 == place && *other != name.name.as_str()
        };
        let in_series = self.product.iter().chain(&self.left).any(is_of_place);
        let together = match self.others.count_ones() {
            0 => 0.0,
            all => f64::from((name.company & self.others).count_ones()) / f64::from(all),
        };
        Reasons::default()
            .and(
                Reason::InSeries,
                if in_series {
                    1.0 / f64::from(name.alike.max(1))
                } else {
                    0.0
                },
            )
            .and_if(self.product.contains(&name.name.as_str()), Reason::Again)
            .and(Reason::Together, together)
    }
}

/// How many of a line's names have a bit.
pub(super) const MOST_KNOWN: usize = u32::BITS as usize;

/// The bit of the name at this place among a line's names; names after the last bit have none.
pub(super) fn bit(index: usize) -> u32 {
    u32::try_from(index)
        .ok()
        .and_then(|index| 1_u32.checked_shl(index))
        .unwrap_or(0)
}

/// The whole product that a place stands in, up to the nearest sum or comparison.
pub(super) fn term_around(line: &Line<'_>, place: Span) -> Span {
    let mut term = place;
    // Children come before their parents.
    for expression in &line.tree.expressions {
        let span = expression.span;
        if span.start > place.start || span.end < place.end {
            continue;
        }
        match &expression.kind {
            ExpressionKind::Binary {
                operator: BinaryOperator::Multiply | BinaryOperator::Divide,
                ..
            } => term = term.cover(span),
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            }
            | ExpressionKind::Compare { .. }
                if span != place =>
            {
                break;
            }
            _ => {}
        }
    }
    term
}
