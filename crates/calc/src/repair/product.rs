//! A whole product or fraction as the list of its factors above and below the stroke, and the slips
//! that can be told from the factors alone: a power, a factor on the wrong side or too many, a
//! fraction turned over.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::costs::{Reason, Reasons};
use super::line::{Line, outside_parentheses};
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

/// The factors of a product in their order, each with whether it stands above the stroke; none where there are
/// too many. Parentheses are looked into where `opens` says so of what they hold.
pub(super) fn factors_of(
    line: &Line<'_>,
    id: ExpressionId,
    opens: impl Fn(ExpressionId) -> bool,
) -> Option<Vec<(ExpressionId, bool)>> {
    let mut factors = Vec::new();
    let mut pending = vec![(id, true)];
    while let Some((id, above)) = pending.pop() {
        match (line.tree.product(id), line.kind(id)?) {
            (Some((divides, left, right)), _) => {
                pending.push((right, above != divides));
                pending.push((left, above));
            }
            (None, ExpressionKind::Group(inner)) if opens(*inner) => pending.push((*inner, above)),
            _ => factors.push((id, above)),
        }
        if factors.len() > MOST_FACTORS {
            return None;
        }
    }
    Some(factors)
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
            && (line.tree.product(*inner).is_some()
                || matches!(line.kind(*inner), Some(ExpressionKind::Group(_))))
        {
            id = *inner;
        }
        let factor = |(id, above): (ExpressionId, bool)| {
            let (base, power) = match line.kind(id)? {
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
            Some(Factor {
                id,
                base,
                power,
                dimension: line.found(id)?,
                above,
            })
        };
        let factors = factors_of(line, id, |inner| line.tree.product(inner).is_some())?
            .into_iter()
            .map(factor)
            .collect::<Option<Vec<Factor>>>()?;
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
        self.root_of_factors(line, missing, &mut found);
        self.exchanged(line, wanted, &mut found);
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
        let kind = if factor.power > 1 {
            Reason::PowerChanged
        } else {
            Reason::PowerAdded
        };
        Some(Candidate {
            reasons: Reasons::of(kind)
                .and(Reason::PowerSteps, f64::from(more.abs() - 1))
                .and_if(power > 4, Reason::PowerHigh)
                .and(
                    Reason::RarelyRaised,
                    symbols::reluctance_to_powers(base_source, power),
                ),
            place: line.span(factor.id),
            title: format!("Write {text} instead of {}", line.source(factor.id)),
            edits: vec![(line.span(factor.id), text)],
            slip: Slip::of(
                self.id,
                Change::Power(line.span(factor.id), power, factor.power),
            ),
            ..Candidate::default()
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
            reasons: Reasons::of(if twice {
                Reason::LeftOutTwice
            } else {
                Reason::LeftOut
            }),
            place: line.span(factor.id),
            title: format!("Leave out {source}"),
            edits: vec![(line.span(self.id), Self::written(&above, &below))],
            slip: Slip::of(self.id, Change::Power(line.span(factor.id), 0, 1)),
            ..Candidate::default()
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
                found.push(Candidate {
                    reasons: Reasons::of(Reason::OtherSide)
                        .and(Reason::OtherSideMore, (end - start) as f64)
                        .and_if(with_ratio, Reason::OtherSideCount)
                        .and_if(!above, Reason::OtherSideUp),
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
                    ..Candidate::default()
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
        let is_plain = |index: usize| self.factors[index].dimension.is_ratio();
        let mut turn = |over: &dyn Fn(usize) -> bool, reasons: Reasons| {
            let (above, below) = self.sides(line, over, None);
            let text = Self::written(&above, &below);
            found.push(Candidate {
                reasons,
                place: line.span(self.id),
                title: format!("Turn the fraction over: {text}"),
                edits: vec![(line.span(self.id), text)],
                slip: Slip::of(self.id, Change::Power(line.span(self.id), -1, 1)),
                ..Candidate::default()
            });
        };
        let reasons = Reasons::of(Reason::TurnedOver);
        if (0..self.factors.len()).any(is_plain) {
            let apart = reasons.clone().and(Reason::TurnedOverApart, 1.0);
            turn(&|index| !is_plain(index), apart);
        }
        turn(&|_| true, reasons);
    }

    /// A factor above the stroke and one below it that change places.
    fn exchanged(&self, line: &Line<'_>, wanted: Dimension, found: &mut Vec<Candidate>) {
        if self.factors.len() < 3 {
            return;
        }
        for (over, above) in self.factors.iter().enumerate().filter(|(_, f)| f.above) {
            for (under, below) in self.factors.iter().enumerate().filter(|(_, f)| !f.above) {
                let ratio = above.dimension.checked_divide(below.dimension);
                let twice = ratio.and_then(|ratio| ratio.checked_multiply(ratio));
                let is_plain = |factor: &Factor| factor.dimension.is_ratio();
                if is_plain(above)
                    || is_plain(below)
                    || twice.and_then(|twice| self.found.checked_divide(twice)) != Some(wanted)
                {
                    continue;
                }
                let (up, down) = self.sides(line, |index| index == over || index == under, None);
                let text = Self::written(&up, &down);
                let place = line.span(above.id).cover(line.span(below.id));
                found.push(Candidate {
                    reasons: Reasons::of(Reason::Exchanged),
                    place,
                    title: format!("Write {text}"),
                    edits: vec![(line.span(self.id), text)],
                    slip: Some(Slip {
                        at: self.id,
                        changes: [above, below]
                            .map(|factor| Change::Power(line.span(factor.id), -1, 1))
                            .to_vec(),
                    }),
                    ..Candidate::default()
                });
            }
        }
    }

    /// A root of neighbouring factors that are multiplied with what stands before them.
    fn root_of_factors(&self, line: &Line<'_>, missing: Dimension, found: &mut Vec<Candidate>) {
        let minus_two = Rational::from_integer(-2);
        let Some(of_run) = missing.checked_power(minus_two) else {
            return;
        };
        for start in 0..self.factors.len() {
            let mut run = Some(Dimension::RATIO);
            if !self.factors[start].above {
                continue;
            }
            for end in start..self.factors.len() {
                let factor = &self.factors[end];
                run = run.and_then(|run| match factor.above {
                    true => run.checked_multiply(factor.dimension),
                    false => run.checked_divide(factor.dimension),
                });
                let is_whole = start == 0 && end + 1 == self.factors.len();
                let span = line
                    .span(self.factors[start].id)
                    .cover(line.span(factor.id));
                let source = span.text(line.text);
                let is_plain = |at: usize| self.factors[at].dimension.is_ratio();
                let is_apart = outside_parentheses(source).is_some();
                // A root of one factor is another power of it.
                let is_one =
                    start == end && !matches!(line.kind(factor.id), Some(ExpressionKind::Group(_)));
                if run != Some(of_run) || is_whole || is_plain(start) || !is_apart || is_one {
                    continue;
                }
                let inner = match line.kind(self.factors[start].id) {
                    Some(ExpressionKind::Group(_)) if start == end => source.to_owned(),
                    _ => format!("({source})"),
                };
                let text = format!("sqrt{inner}");
                found.push(Candidate {
                    reasons: Reasons::of(Reason::RootOfFactors),
                    place: span,
                    title: format!("Write {text} instead of {source}"),
                    edits: vec![(span, text)],
                    slip: Slip::of(self.id, Change::Power(span, 1, 2)),
                    ..Candidate::default()
                });
            }
        }
    }

    /// The place of a product's factors: its whole text.
    pub(super) fn place(&self, line: &Line<'_>) -> Span {
        line.span(self.id)
    }
}
