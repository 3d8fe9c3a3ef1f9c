//! A factor of the file that is put into a product.

use haunch_quantity::{Dimension, Rational};

use super::candidates::Search;
use super::company::Company;
use super::costs::{Reason, Reasons};
use super::product::Product;
use super::scope::InScope;
use crate::expression::sum::terms;

/// The highest power with which a factor is put in: the fourth stands in second moments and deflections.
const HIGHEST_POWER: i32 = 4;
/// How many pairs of factors, one above and one below, are offered.
const MOST_PAIRS: usize = 6;

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Above,
    Below,
}

impl Side {
    fn reason(self) -> Reason {
        match self {
            Side::Above => Reason::FactorAbove,
            Side::Below => Reason::FactorBelow,
        }
    }
}

/// What is put into a product.
struct Factors {
    reasons: Reasons,
    distance: u64,
    above: Option<String>,
    below: Option<String>,
}

impl Factors {
    fn one(side: Side, text: String, reasons: Reasons, distance: u64) -> Factors {
        let (above, below) = match side {
            Side::Above => (Some(text), None),
            Side::Below => (None, Some(text)),
        };
        Factors {
            reasons,
            distance,
            above,
            below,
        }
    }
}

impl Search<'_> {
    /// A factor from the file put in above or below the stroke, or one above and one below.
    pub(super) fn another_factor(&mut self, product: &Product, wanted: Dimension) {
        let Some(missing) = product.missing(wanted) else {
            return;
        };
        let line = self.line;
        let fits = |name: &&InScope, divides: bool| {
            // Its power is what would change.
            let is_plain_divisor = divides && name.dimension.is_ratio();
            !is_plain_divisor && !product.has(&line, &name.name)
        };
        let scope = self.scope;
        let company = Company::of(&line, line.span(product.id), None, &scope.own);
        let inverse = Dimension::RATIO.checked_divide(missing);
        let mut offers: Vec<Factors> = Vec::new();
        for power in 1..=HIGHEST_POWER {
            for (side, missing) in [(Side::Above, Some(missing)), (Side::Below, inverse)] {
                let root = Rational::new(1, power).and_then(|root| missing?.checked_power(root));
                let Some(of_one) = root.filter(|root| power == 1 || !root.is_ratio()) else {
                    continue;
                };
                for name in scope
                    .of(of_one)
                    .filter(|name| fits(name, side == Side::Below))
                {
                    let reasons = Reasons::of(side.reason())
                        .and(Reason::FactorRaised, f64::from(power - 1))
                        .with(&self.of_name(name))
                        .with(&company.reasons(name));
                    let text = match power {
                        1 => name.name.to_string(),
                        power => format!("{}^{power}", name.name),
                    };
                    offers.push(Factors::one(side, text, reasons, name.distance));
                }
            }
        }
        let mut pairs: Vec<Factors> = Vec::new();
        for below in scope.names.iter().filter(|name| fits(name, true)) {
            let Some(needed) = missing.checked_multiply(below.dimension) else {
                continue;
            };
            if needed.is_ratio() {
                continue;
            }
            for above in scope.of(needed).filter(|name| fits(name, true)).take(3) {
                pairs.push(Factors {
                    reasons: Reasons::of(Reason::FactorPair)
                        .with(&self.of_name(above))
                        .with(&self.of_name(below)),
                    distance: above.distance + below.distance,
                    above: Some(above.name.to_string()),
                    below: Some(below.name.to_string()),
                });
            }
        }
        pairs.sort_by(|a, b| {
            let by_cost = a.reasons.cost().total_cmp(&b.reasons.cost());
            by_cost.then(a.distance.cmp(&b.distance))
        });
        offers.extend(pairs.into_iter().take(MOST_PAIRS));
        if missing == Dimension::LENGTH && self.limits_deflection() {
            let reasons = Reasons::of(Reason::PartOfSpan);
            offers.push(Factors::one(Side::Above, "span".to_owned(), reasons, 0));
        }
        if missing == Dimension::ACCELERATION {
            let reasons = Reasons::of(Reason::Weight);
            offers.push(Factors::one(Side::Above, "g_n".to_owned(), reasons, 0));
        }
        for factors in offers {
            self.with_factors(product, factors);
        }
    }

    fn with_factors(&mut self, product: &Product, factors: Factors) {
        let line = self.line;
        let (mut over, mut under) = product.sides(&line, |_| false, None);
        if product.factors.len() == 1 && self.is_sum(product.id) {
            let text = format!("({})", line.source(product.id));
            (over, under) = (vec![text], Vec::new());
        }
        over.extend(factors.above.clone());
        under.extend(factors.below.clone());
        let text = Product::written(&over, &under);
        let title = match (factors.above, factors.below) {
            (Some(above), None) => format!("Multiply by {above}: {text}"),
            (None, Some(below)) => format!("Divide by {below}: {text}"),
            _ => format!("Write {text}"),
        };
        let span = product.place(&line);
        self.offer(
            factors.reasons,
            factors.distance,
            span,
            title,
            vec![(span, text)],
        );
    }

    /// A weighted sum that was not divided by its weights: `A1*y1 + A2*y2` by `A1 + A2`.
    pub(super) fn by_a_sum(&mut self, product: &Product, wanted: Dimension) {
        let line = self.line;
        let Some(extra) = product.found.checked_divide(wanted) else {
            return;
        };
        let sum = line.tree.inside(product.id);
        if !self.is_sum(sum) {
            return;
        }
        let mut weights: Vec<&str> = Vec::new();
        for term in terms(line.tree, sum) {
            let Some(factors) = Product::of(&line, term) else {
                return;
            };
            let weight = factors
                .factors
                .iter()
                .find(|f| f.above && f.power == 1 && f.dimension == extra);
            match weight {
                Some(factor) => weights.push(line.source(factor.id)),
                None => return,
            }
        }
        if weights.len() < 2 {
            return;
        }
        let divisor = weights.join(" + ");
        let over = if sum == product.id {
            format!("({})", line.source(sum))
        } else {
            line.source(product.id).to_owned()
        };
        let span = line.span(product.id);
        let text = format!("{over}/({divisor})");
        self.offer(
            Reasons::of(Reason::ByWeights),
            0,
            span,
            format!("Divide by {divisor}"),
            vec![(span, text)],
        );
    }
}
