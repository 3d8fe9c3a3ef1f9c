//! A whole product or fraction as the list of its factors above and below the stroke, and the slips
//! that can be told from the factors alone: a power, a factor on the wrong side or too many, a
//! fraction turned over.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::line::Line;
use super::needed::whole_number;
use super::term::Change;
use super::{Candidate, Slip, symbols};

/// Most factors that are looked at.
const MOST_FACTORS: usize = 16;

/// One factor of a product.
#[derive(Debug, Clone)]
pub(super) struct Factor {
    pub(super) id: ExpressionId,
    /// What is raised to `power`: the factor itself where that is 1.
    pub(super) base: ExpressionId,
    pub(super) power: i32,
    /// The factor's dimension with its power.
    pub(super) dimension: Dimension,
    pub(super) above: bool,
}

/// A product that is no factor of a longer one.
#[derive(Debug, Clone)]
pub(super) struct Product {
    pub(super) id: ExpressionId,
    pub(super) found: Dimension,
    pub(super) factors: Vec<Factor>,
}

fn is_product(kind: Option<&ExpressionKind>) -> bool {
    matches!(
        kind,
        Some(ExpressionKind::Binary {
            operator: BinaryOperator::Multiply | BinaryOperator::Divide,
            ..
        })
    )
}

/// The expressions that are read as part of a longer product: its factors, their bases, and the
/// products inside its parentheses.
pub(super) fn inside_products(line: &Line<'_>) -> Vec<bool> {
    let mut inside = vec![false; line.tree.expressions.len()];
    let is_group = |id| matches!(line.kind(id), Some(ExpressionKind::Group(_)));
    for expression in &line.tree.expressions {
        let mut mark = |id: ExpressionId| {
            if let Some(slot) = inside.get_mut(id.0 as usize) {
                *slot = true;
            }
        };
        match &expression.kind {
            ExpressionKind::Binary {
                operator: BinaryOperator::Multiply | BinaryOperator::Divide,
                left,
                right,
                ..
            } => {
                mark(*left);
                mark(*right);
            }
            ExpressionKind::Group(inner) => mark(*inner),
            ExpressionKind::Superscript { base, .. } if !is_group(*base) => mark(*base),
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                right,
                ..
            } => {
                if !is_group(*left) {
                    mark(*left);
                }
                mark(*right);
            }
            _ => {}
        }
    }
    inside
}

impl Product {
    /// The factors of an expression; one factor where it is no product. Nothing where a factor's
    /// dimension is not known.
    pub(super) fn of(line: &Line<'_>, mut id: ExpressionId) -> Option<Product> {
        while let Some(ExpressionKind::Group(inner)) = line.kind(id)
            && (is_product(line.kind(*inner))
                || matches!(line.kind(*inner), Some(ExpressionKind::Group(_))))
        {
            id = *inner;
        }
        let mut factors = Vec::new();
        let mut pending = vec![(id, true)];
        while let Some((id, above)) = pending.pop() {
            match line.kind(id)? {
                ExpressionKind::Binary {
                    operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
                    left,
                    right,
                    ..
                } => {
                    let same = *operator == BinaryOperator::Multiply;
                    pending.push((*right, above == same));
                    pending.push((*left, above));
                }
                ExpressionKind::Group(inner) if is_product(line.kind(*inner)) => {
                    pending.push((*inner, above));
                }
                kind => {
                    let (base, power) = match kind {
                        ExpressionKind::Superscript { base, exponent, .. } => (*base, *exponent),
                        ExpressionKind::Binary {
                            operator: BinaryOperator::Power,
                            left,
                            right,
                            ..
                        } => match whole_number(line.tree, *right) {
                            Some(power) => (*left, power),
                            None => (id, 1),
                        },
                        _ => (id, 1),
                    };
                    factors.push(Factor {
                        id,
                        base,
                        power,
                        dimension: line.found(id)?,
                        above,
                    });
                }
            }
            if factors.len() > MOST_FACTORS {
                return None;
            }
        }
        Some(Product {
            id,
            found: line.found(id)?,
            factors,
        })
    }

    /// The product written with these factors above and below the stroke.
    pub(super) fn written(above: &[String], below: &[String]) -> String {
        let above: Vec<&str> = match above {
            [first, rest @ ..] if first == "1" && !rest.is_empty() => {
                rest.iter().map(String::as_str).collect()
            }
            _ => above.iter().map(String::as_str).collect(),
        };
        let over = if above.is_empty() {
            "1".to_owned()
        } else {
            above.join("*")
        };
        match below {
            [] => over,
            [one] => format!("{over}/{one}"),
            several => format!("{over}/({})", several.join("*")),
        }
    }

    /// The texts above and below the stroke, with some factors on the other side.
    pub(super) fn sides(
        &self,
        line: &Line<'_>,
        on_the_other: impl Fn(usize) -> bool,
        left_out: Option<usize>,
    ) -> (Vec<String>, Vec<String>) {
        let (mut above, mut below) = (Vec::new(), Vec::new());
        for (index, factor) in self.factors.iter().enumerate() {
            if left_out == Some(index) {
                continue;
            }
            let side = if factor.above != on_the_other(index) {
                &mut above
            } else {
                &mut below
            };
            side.push(line.source(factor.id).to_owned());
        }
        (above, below)
    }

    /// The dimension that the product would have to be multiplied by.
    pub(super) fn missing(&self, wanted: Dimension) -> Option<Dimension> {
        wanted.checked_divide(self.found)
    }

    /// Whether a name is a factor already.
    pub(super) fn has(&self, line: &Line<'_>, name: &str) -> bool {
        self.factors.iter().any(|f| line.source(f.base) == name)
    }

    /// Every slip that the factors alone can tell, for a product that has to be `wanted`.
    pub(super) fn slips(&self, line: &Line<'_>, wanted: Dimension) -> Vec<Candidate> {
        let mut found = Vec::new();
        let Some(missing) = self.missing(wanted) else {
            return found;
        };
        let inverse = Dimension::RATIO.checked_divide(missing);
        for (index, factor) in self.factors.iter().enumerate() {
            if line.found(factor.base).is_none_or(Dimension::is_ratio) {
                continue;
            }
            let step = if factor.above { Some(missing) } else { inverse };
            if let Some(step) = step {
                found.extend(self.another_power(line, factor, step));
            }
            self.without(line, index, wanted, &mut found);
        }
        self.moves(line, wanted, &mut found);
        self.turned_over(line, wanted, &mut found);
        found
    }

    /// The factor with another power, where `step` is a power of what it raises.
    fn another_power(
        &self,
        line: &Line<'_>,
        factor: &Factor,
        step: Dimension,
    ) -> Option<Candidate> {
        let base = line.found(factor.base)?;
        let more = (-4..=4)
            .filter(|more| *more != 0)
            .find(|more| base.checked_power(Rational::from_integer(*more)) == Some(step))?;
        let power = factor.power.checked_add(more)?;
        if !(1..=6).contains(&power) || factor.power < 1 {
            return None;
        }
        let base_source = line.source(factor.base);
        let text = match power {
            1 => base_source.to_owned(),
            power => format!("{base_source}^{power}"),
        };
        let usual = if factor.power > 1 { 1.1 } else { 1.3 };
        let high = if power > 4 { 0.6 } else { 0.0 };
        Some(Candidate {
            cost: usual
                + 0.4 * f64::from(more.abs() - 1)
                + high
                + symbols::reluctance_to_powers(base_source, power),
            distance: 0,
            place: line.span(factor.id),
            title: format!("Write {text} instead of {}", line.source(factor.id)),
            edits: vec![(line.span(factor.id), text)],
            slip: Slip::of(
                self.id,
                Change::Power(line.span(factor.id), power, factor.power),
            ),
        })
    }

    /// The product without one factor.
    fn without(
        &self,
        line: &Line<'_>,
        index: usize,
        wanted: Dimension,
        found: &mut Vec<Candidate>,
    ) {
        let factor = &self.factors[index];
        let rest = if factor.above {
            self.found.checked_divide(factor.dimension)
        } else {
            self.found.checked_multiply(factor.dimension)
        };
        if rest != Some(wanted) || self.factors.len() < 2 {
            return;
        }
        let source = line.source(factor.id);
        // Of two equal factors the later one is the one too many.
        let is_again =
            |other: &Factor| other.above == factor.above && line.source(other.id) == source;
        if self.factors[index + 1..].iter().any(is_again) {
            return;
        }
        let (above, below) = self.sides(line, |_| false, Some(index));
        let twice = self
            .factors
            .iter()
            .filter(|other| line.source(other.base) == line.source(factor.base))
            .count()
            > 1;
        found.push(Candidate {
            cost: if twice { 0.9 } else { 1.8 },
            distance: 0,
            place: line.span(factor.id),
            title: format!("Leave out {source}"),
            edits: vec![(line.span(self.id), Self::written(&above, &below))],
            slip: Slip::of(self.id, Change::Power(line.span(factor.id), 0, 1)),
        });
    }

    /// Neighbouring factors that stand on the wrong side of the stroke.
    fn moves(&self, line: &Line<'_>, wanted: Dimension, found: &mut Vec<Candidate>) {
        for start in 0..self.factors.len() {
            let above = self.factors[start].above;
            let mut moved = Some(Dimension::RATIO);
            for end in start..self.factors.len() {
                let factor = &self.factors[end];
                if factor.above != above {
                    break;
                }
                moved = moved.and_then(|moved| moved.checked_multiply(factor.dimension));
                let Some(twice) = moved.and_then(|m| m.checked_multiply(m)) else {
                    break;
                };
                let result = if above {
                    self.found.checked_divide(twice)
                } else {
                    self.found.checked_multiply(twice)
                };
                let ratio_at = |at: usize| self.factors[at].dimension.is_ratio();
                // A plain number before them moves with them, such as a count.
                let is_name = matches!(
                    line.kind(self.factors[start].id),
                    Some(ExpressionKind::Path(_))
                );
                let with_ratio = start > 0 && ratio_at(start) && is_name;
                let starts = !ratio_at(start) || with_ratio;
                if result != Some(wanted) || !starts || ratio_at(end) || twice.is_ratio() {
                    continue;
                }
                let (over, under) = self.sides(line, |index| (start..=end).contains(&index), None);
                let text = Self::written(&over, &under);
                let count = (end - start) as f64;
                let side = if above { 0.0 } else { 0.1 };
                found.push(Candidate {
                    cost: if with_ratio { 1.15 } else { 1.4 } + 0.2 * count + side,
                    distance: 0,
                    place: line
                        .span(self.factors[start].id)
                        .cover(line.span(factor.id)),
                    title: format!("Write {text}"),
                    edits: vec![(line.span(self.id), text)],
                    slip: Some(Slip {
                        at: self.id,
                        changes: self.factors[start..=end]
                            .iter()
                            .map(|factor| Change::Power(line.span(factor.id), -1, 1))
                            .collect(),
                    }),
                });
            }
        }
    }

    /// The fraction turned over.
    fn turned_over(&self, line: &Line<'_>, wanted: Dimension, found: &mut Vec<Candidate>) {
        let fraction = self.factors.iter().any(|factor| !factor.above);
        if !fraction || Dimension::RATIO.checked_divide(self.found) != Some(wanted) {
            return;
        }
        let (above, below) = self.sides(line, |_| true, None);
        let text = Self::written(&above, &below);
        found.push(Candidate {
            cost: 1.2,
            distance: 0,
            place: line.span(self.id),
            title: format!("Turn the fraction over: {text}"),
            edits: vec![(line.span(self.id), text)],
            slip: Slip::of(self.id, Change::Power(line.span(self.id), -1, 1)),
        });
    }

    /// The place of a product's factors: its whole text.
    pub(super) fn place(&self, line: &Line<'_>) -> Span {
        line.span(self.id)
    }
}
