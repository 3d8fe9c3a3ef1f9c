//! Every small edit that could give a part of a line the dimension that it needs.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Literal, Path, Statement};
use haunch_text::Span;

use super::company::{Company, term_around};
use super::line::Line;
use super::needed::{Need, needs};
use super::product::{Product, inside_products};
use super::scope::{InScope, Scope, same_series, series};
use super::term::Change;
use super::{Candidate, Slip};
use crate::expression::sum::terms;
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::{Cell, State};
use crate::value::Kind;

/// Lines within which a result is usually used.
const NEAR: u64 = 4;

struct Search<'a> {
    state: &'a State,
    cell: &'a Cell,
    line: Line<'a>,
    scope: &'a Scope,
    inside: Vec<bool>,
    found: Vec<Candidate>,
}

pub(super) fn all(state: &State, cell: &Cell, scope: &Scope) -> Vec<Candidate> {
    let block = state.block_of(cell).map(|(_, kind)| kind);
    let line = Line::of(cell);
    let mut search = Search {
        state,
        cell,
        line,
        scope,
        inside: inside_products(&line),
        found: Vec::new(),
    };
    for (id, wanted) in needs(&line, block) {
        if line.found(id) != Some(wanted) {
            search.part((id, wanted));
        }
    }
    search.found
}

/// The slips that a line tells by itself, without the names around it.
pub(super) fn of_structure(line: &Line<'_>, needs: &[Need]) -> Vec<Candidate> {
    let inside = inside_products(line);
    let mut found = Vec::new();
    for &(id, wanted) in needs {
        let is_inside = inside.get(id.0 as usize).copied().unwrap_or(false);
        if line.found(id) == Some(wanted) || is_bound_by_others(line, id) {
            continue;
        }
        found.extend(another_name(line, id, wanted));
        if is_inside {
            continue;
        }
        if let Some(product) = Product::of(line, id) {
            found.extend(product.slips(line, wanted));
            found.extend(lost_factor(line, &product, wanted));
        }
        found.extend(root(line, id, wanted));
    }
    found
}

/// Whether a term around this part agrees with another term of its sum: changing it alone would
/// only make them disagree.
fn is_bound_by_others(line: &Line<'_>, id: ExpressionId) -> bool {
    let span = line.span(id);
    let holds = |outer: Span| outer.start <= span.start && span.end <= outer.end;
    line.tree
        .expressions
        .iter()
        .enumerate()
        .any(|(index, sum)| {
            let sum_id = ExpressionId(index as u32);
            let is_sum = matches!(
                sum.kind,
                ExpressionKind::Binary {
                    operator: BinaryOperator::Add | BinaryOperator::Subtract,
                    ..
                }
            );
            if !is_sum || sum_id == id || !holds(sum.span) {
                return false;
            }
            let terms = terms(line.tree, sum_id);
            let Some(own) = terms.iter().find(|term| holds(line.span(**term))) else {
                return false;
            };
            terms
                .iter()
                .any(|term| term != own && line.found(*term) == line.found(*own))
        })
}

/// A name, or every name of a sum, in the place of another: likely where the place needs what single
/// names usually stand for, likelier where the name stands twice in its product.
fn another_name(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> Option<Candidate> {
    if !super::symbols::is_common(wanted) || line.found(id)?.is_ratio() {
        return None;
    }
    let name = |id: ExpressionId| match line.kind(id) {
        Some(ExpressionKind::Path(path)) if path.arguments.is_none() => Some(line.source(id)),
        _ => None,
    };
    let names: Option<Vec<&str>> = terms(line.tree, id).into_iter().map(name).collect();
    let names = names?;
    let times = match names.as_slice() {
        [only] => {
            let ids = (0..line.tree.expressions.len()).map(|index| ExpressionId(index as u32));
            let term = term_around(line, line.span(id));
            let is_there = |span: Span| term.start <= span.start && span.end <= term.end;
            ids.filter(|id| name(*id) == Some(*only) && is_there(line.span(*id)))
                .count()
        }
        _ => 1,
    };
    let twice = if times > 1 { -0.2 } else { 0.0 };
    let raised = if is_raised(line, id) { 0.2 } else { 0.0 };
    Some(Candidate {
        cost: 1.45 + twice + raised,
        distance: 0,
        place: line.span(id),
        title: String::new(),
        edits: Vec::new(),
        slip: Slip::of(id, Change::Name(line.span(id), wanted)),
    })
}

/// A single name that is missing in a product, above or below the stroke.
fn lost_factor(line: &Line<'_>, product: &Product, wanted: Dimension) -> Vec<Candidate> {
    let Some(missing) = product.missing(wanted) else {
        return Vec::new();
    };
    let lost = |(dimension, above): (Option<Dimension>, bool)| {
        let dimension = dimension.filter(|dimension| super::symbols::is_common(*dimension))?;
        let change = Change::Add(dimension, above);
        Some(Candidate {
            cost: 1.65,
            distance: 0,
            place: product.place(line),
            title: String::new(),
            edits: Vec::new(),
            slip: Slip::of(product.id, change),
        })
    };
    let inverse = Dimension::RATIO.checked_divide(missing);
    [(Some(missing), true), (inverse, false)]
        .into_iter()
        .filter_map(lost)
        .collect()
}

/// Whether an expression is raised to a power.
fn is_raised(line: &Line<'_>, id: ExpressionId) -> bool {
    line.tree.expressions.iter().any(|own| match &own.kind {
        ExpressionKind::Superscript { base, .. } => *base == id,
        ExpressionKind::Binary {
            operator: BinaryOperator::Power,
            left,
            ..
        } => *left == id,
        _ => false,
    })
}

/// A square root of the whole part, or none.
fn root(line: &Line<'_>, id: ExpressionId, wanted: Dimension) -> Option<Candidate> {
    let span = line.span(id);
    if let Some(ExpressionKind::Path(path)) = line.kind(id) {
        let [argument] = path.arguments.as_deref()? else {
            return None;
        };
        let is_root = path.names.first().is_some_and(|n| n.text == "sqrt");
        if !is_root || line.found(*argument) != Some(wanted) {
            return None;
        }
        let text = format!("({})", line.source(*argument));
        return Some(Candidate {
            cost: 2.0,
            distance: 0,
            place: span,
            title: format!("Write {text} without the root"),
            edits: vec![(span, text)],
            slip: Slip::of(id, Change::Power(span, 2, 1)),
        });
    }
    let half = haunch_quantity::Rational::HALF;
    if line.found(id)?.checked_power(half) != Some(wanted) {
        return None;
    }
    let (cost, text) = match line.kind(id)? {
        // Parentheses round a whole formula are what a lost root leaves.
        ExpressionKind::Group(inner) => (1.2, format!("sqrt({})", line.source(*inner))),
        ExpressionKind::Binary {
            operator: BinaryOperator::Multiply | BinaryOperator::Divide,
            ..
        } => (1.6, format!("sqrt({})", line.source(id))),
        _ => return None,
    };
    Some(Candidate {
        cost,
        distance: 0,
        place: span,
        title: format!("Write {text}"),
        edits: vec![(span, text)],
        slip: Slip::of(id, Change::Power(span, 1, 2)),
    })
}

impl<'a> Search<'a> {
    fn offer(
        &mut self,
        cost: f64,
        distance: u64,
        place: Span,
        title: String,
        edits: Vec<(Span, String)>,
    ) {
        self.found.push(Candidate {
            cost,
            distance,
            place,
            title,
            edits,
            slip: None,
        });
    }

    fn replace(&mut self, cost: f64, distance: u64, id: ExpressionId, text: String) {
        let title = format!("Write {text} instead of {}", self.line.source(id));
        let span = self.line.span(id);
        self.offer(cost, distance, span, title, vec![(span, text)]);
    }

    fn part(&mut self, (id, wanted): Need) {
        let line = self.line;
        match line.kind(id) {
            Some(ExpressionKind::Path(path)) if path.arguments.is_none() => {
                self.name(id, path, wanted);
            }
            Some(ExpressionKind::Literal(literal)) => self.literal(id, literal, wanted),
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                left,
                right,
                ..
            }) => {
                self.sum(id, wanted);
                self.no_sum(*left, *right, wanted);
            }
            _ => {}
        }
        if self.inside.get(id.0 as usize).copied().unwrap_or(false) {
            return;
        }
        self.found.extend(root(&line, id, wanted));
        let Some(product) = Product::of(&line, id) else {
            return;
        };
        self.found.extend(product.slips(&line, wanted));
        self.another_factor(&product, wanted);
        self.by_a_sum(&product, wanted);
    }

    /// Costs less where a given number comes into use, more where a value is broken itself, defined
    /// further down, or a result that nothing has used so far.
    fn use_bonus(&self, name: &InScope) -> f64 {
        let value = if name.has_value { 0.0 } else { 0.4 };
        let below = if name.below { 0.3 } else { 0.0 };
        let is_near = name.distance <= NEAR && !name.below;
        let unused = match (name.unused, name.given) {
            (true, true) => -0.5,
            (true, false) if is_near => 0.0,
            (true, false) => 0.2,
            (false, true) => 0.0,
            (false, false) => 0.1,
        };
        // A name that few lines use so far is likelier the one that is missing here.
        value + below + unused + 0.04 * name.readers.min(5) as f64
    }

    /// How often a name stands in the line.
    fn times(&self, name: &str) -> usize {
        let is_it = |path: &&Path| path.names.len() == 1 && path.names[0].text == name;
        self.line.tree.paths().filter(is_it).count()
    }

    fn name(&mut self, id: ExpressionId, path: &Path, wanted: Dimension) {
        if path.names.len() > 1 {
            self.member(id, path, wanted);
            return;
        }
        let Some(own) = path.names.first() else {
            return;
        };
        // A name that stands twice, or that this line alone uses, is less or more likely meant.
        let twice = if self.times(&own.text) > 1 {
            -0.25
        } else {
            0.0
        };
        let only_here = self
            .scope
            .find(&own.text)
            .is_some_and(|name| name.readers < 2);
        let left_over = if only_here { 0.3 } else { 0.0 };
        if crate::expression::is_kept(&own.text) {
            return;
        }
        // A plain number instead of a quantity, or the other way round, is another kind of slip.
        let plain = self.line.found(id).is_some_and(Dimension::is_ratio) != wanted.is_ratio();
        let odd = if plain { 0.5 } else { 0.0 };
        let raised = if is_raised(&self.line, id) { 0.35 } else { 0.0 };
        let line = self.line;
        let company = Company::of(&line, line.span(id), Some(&own.text), &self.scope.own);
        let offers: Vec<(f64, u64, String)> = self
            .scope
            .of(wanted)
            .filter(|name| name.name != own.text)
            .map(|name| {
                let alike = if same_series(&own.text, &name.name) {
                    1.0
                } else if shared_start(&own.text, &name.name) < 64 {
                    1.3
                } else {
                    1.55
                };
                let again = if company.has(&name.name) { 0.35 } else { 0.0 };
                (
                    alike
                        + self.use_bonus(name)
                        + company.cost(name)
                        + twice
                        + left_over
                        + odd
                        + again
                        + raised,
                    name.distance,
                    name.name.to_string(),
                )
            })
            .collect();
        for (cost, distance, name) in offers {
            self.replace(cost, distance, id, name);
        }
    }

    /// Another result of the same block; elastic ones before plastic ones.
    fn member(&mut self, id: ExpressionId, path: &Path, wanted: Dimension) {
        let names = names_of(path);
        let Target::Block { heading, member } = self.state.resolve(self.cell.file, &names).target
        else {
            return;
        };
        let Some(Meaning::Block(block)) =
            self.state.cell(heading).map(|cell| &cell.outcome.meaning)
        else {
            return;
        };
        let full = self.line.source(id).to_owned();
        let Some(prefix) = full.strip_suffix(member.as_str()) else {
            return;
        };
        let mut offers: Vec<(bool, u64, String)> = block
            .members()
            .iter()
            .filter(|(name, evaluated)| *name != member && evaluated.kind == Kind::Quantity(wanted))
            .map(|(name, _)| {
                let text = format!("{prefix}{name}");
                (
                    name.starts_with("plastic"),
                    shared_start(name, &member),
                    text,
                )
            })
            .collect();
        offers.sort();
        for (rank, (_, _, text)) in offers.into_iter().take(6).enumerate() {
            self.replace(1.0, rank as u64, id, text);
        }
    }

    fn literal(&mut self, id: ExpressionId, literal: &Literal, wanted: Dimension) {
        let [part] = literal.parts.as_slice() else {
            return;
        };
        let number = part.number_span.text(self.line.text).to_owned();
        if part.unit.is_none() && (self.line.found(id).is_none() || self.is_factor(id)) {
            return;
        }
        let written = part.unit.as_ref().map(|unit| unit.text.as_str());
        let preferences = self.state.file(self.cell.file);
        let preferences = preferences.map(|file| file.preferences.clone());
        let mut texts = super::units::near(written, wanted, &preferences.unwrap_or_default());
        if self.is_modulus() && wanted == Dimension::STRESS {
            // Moduli are some gigapascals in every material that is built with.
            texts.insert(0, "GPa".to_owned());
        }
        for (rank, text) in texts.into_iter().take(3).enumerate() {
            let cost = if part.unit.is_some() { 1.4 } else { 1.75 };
            self.replace(cost, rank as u64, id, format!("{number} {text}"));
        }
        if wanted.is_ratio() && part.unit.is_some() {
            self.replace(1.6, 0, id, number);
        }
    }

    /// Whether the line gives a modulus of elasticity or of rigidity.
    fn is_modulus(&self) -> bool {
        matches!(
            &self.line.tree.statement,
            Statement::Value(value) if matches!(super::symbols::letter(&value.name.text), "E" | "G")
        )
    }

    /// Whether the line limits a deflection, whose bound is mostly a part of the span.
    fn limits_deflection(&self) -> bool {
        matches!(
            &self.line.tree.statement,
            Statement::Limit(limit) if limit.subject.text == "deflection"
        )
    }

    /// Whether an expression is an operand of a product, quotient or power: a number there is a plain
    /// factor.
    fn is_factor(&self, id: ExpressionId) -> bool {
        self.line.tree.expressions.iter().any(|expression| {
            matches!(
                &expression.kind,
                ExpressionKind::Binary {
                    operator: BinaryOperator::Multiply
                        | BinaryOperator::Divide
                        | BinaryOperator::Power,
                    left,
                    right,
                    ..
                } if *left == id || *right == id
            )
        })
    }

    /// Every name of a sum changes to the one at the same place of another series.
    fn sum(&mut self, id: ExpressionId, wanted: Dimension) {
        let line = self.line;
        let mut names: Vec<(Span, &str)> = Vec::new();
        for term in terms(line.tree, id) {
            match line.kind(term) {
                Some(ExpressionKind::Path(path))
                    if path.names.len() == 1 && path.arguments.is_none() =>
                {
                    names.push((line.span(term), path.names[0].text.as_str()));
                }
                _ => return,
            }
        }
        let places: Vec<&str> = names.iter().map(|(_, name)| series(name).1).collect();
        for (replaced, distance) in self.series_of(&places, wanted) {
            if names
                .iter()
                .zip(&replaced)
                .any(|((_, own), name)| *own == name.name)
            {
                continue;
            }
            let bonus = replaced
                .iter()
                .map(|name| self.use_bonus(name))
                .fold(0.0, f64::min);
            let edits: Vec<(Span, String)> = names
                .iter()
                .zip(&replaced)
                .map(|((span, _), name)| (*span, name.name.to_string()))
                .collect();
            let mut text = line.source(id).to_owned();
            let base = line.span(id).start;
            for (span, name) in edits.iter().rev() {
                let range = (span.start - base) as usize..(span.end - base) as usize;
                text.replace_range(range, name);
            }
            let title = format!("Write {text} instead of {}", line.source(id));
            self.offer(1.0 + bonus, distance, line.span(id), title, edits);
        }
    }

    /// The series of this dimension that have a name at each of these places, with how far away.
    fn series_of(&self, places: &[&str], wanted: Dimension) -> Vec<(Vec<&'a InScope>, u64)> {
        let Some(first) = places.first() else {
            return Vec::new();
        };
        if places.iter().any(|place| place.is_empty()) {
            return Vec::new();
        }
        let scope = self.scope;
        let mut starts: Vec<&str> = scope
            .of(wanted)
            .filter(|name| series(&name.name).1 == *first)
            .map(|name| series(&name.name).0)
            .collect();
        starts.dedup();
        let whole = |start: &str| {
            let names: Option<Vec<&InScope>> = places
                .iter()
                .map(|place| {
                    scope
                        .find(&format!("{start}{place}"))
                        .filter(|name| name.dimension == wanted)
                })
                .collect();
            let names = names?;
            let distance = names.iter().map(|name| name.distance).sum();
            Some((names, distance))
        };
        starts.into_iter().filter_map(whole).collect()
    }

    /// Two terms that are meant as a ratio or a product.
    fn no_sum(&mut self, left: ExpressionId, right: ExpressionId, wanted: Dimension) {
        let (Some(a), Some(b)) = (self.line.found(left), self.line.found(right)) else {
            return;
        };
        for (sign, result, cost) in [
            ("/", a.checked_divide(b), 1.7),
            ("*", a.checked_multiply(b), 1.9),
        ] {
            if result != Some(wanted) {
                continue;
            }
            let span = self.line.span(left).cover(self.line.span(right));
            let text = format!(
                "{}{sign}{}",
                self.line.source(left),
                self.line.source(right)
            );
            let edit = Span {
                start: self.line.span(left).end,
                end: self.line.span(right).start,
            };
            let edits = vec![(edit, sign.to_owned())];
            self.offer(cost, 0, span, format!("Write {text}"), edits);
        }
    }

    /// A factor from the file put in above or below the stroke, or one above and one below.
    fn another_factor(&mut self, product: &Product, wanted: Dimension) {
        let Some(missing) = product.missing(wanted) else {
            return;
        };
        let line = self.line;
        let fits = |name: &&InScope, divides: bool| {
            // Its power is what would change.
            let is_plain_divisor = divides && name.dimension.is_ratio();
            !is_plain_divisor && !product.has(&line, &name.name)
        };
        let mut offers: Vec<(f64, u64, Option<&InScope>, Option<&InScope>)> = Vec::new();
        let scope = self.scope;
        let company = Company::of(&line, line.span(product.id), None, &scope.own);
        let factor = |name: &InScope| {
            let again = if company.has(&name.name) { 0.35 } else { 0.0 };
            1.65 + company.cost(name) + again
        };
        for name in scope.of(missing).filter(|name| fits(name, false)) {
            let cost = factor(name) + self.use_bonus(name);
            offers.push((cost, name.distance, Some(name), None));
        }
        if let Some(extra) = Dimension::RATIO.checked_divide(missing) {
            for name in scope.of(extra).filter(|name| fits(name, true)) {
                let cost = factor(name) + self.use_bonus(name);
                offers.push((cost, name.distance, None, Some(name)));
            }
        }
        let mut pairs = Vec::new();
        for below in scope.names.iter().filter(|name| fits(name, true)) {
            let Some(needed) = missing.checked_multiply(below.dimension) else {
                continue;
            };
            if needed.is_ratio() {
                continue;
            }
            for above in scope.of(needed).filter(|name| fits(name, true)).take(3) {
                let cost = 2.6 + self.use_bonus(above) + self.use_bonus(below);
                pairs.push((
                    cost,
                    above.distance + below.distance,
                    Some(above),
                    Some(below),
                ));
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        offers.extend(pairs.into_iter().take(6));
        for (cost, distance, above, below) in offers {
            let names = (
                above.map(|n| n.name.as_str()),
                below.map(|n| n.name.as_str()),
            );
            self.with_factors(product, cost, distance, names);
        }
        if missing == Dimension::LENGTH && self.limits_deflection() {
            self.with_factors(product, 1.0, 0, (Some("span"), None));
        }
        if missing == Dimension::ACCELERATION {
            self.with_factors(product, 1.5, 0, (Some("g_n"), None));
        }
    }

    fn with_factors(
        &mut self,
        product: &Product,
        cost: f64,
        distance: u64,
        (above, below): (Option<&str>, Option<&str>),
    ) {
        let line = self.line;
        let (mut over, mut under) = product.sides(&line, |_| false, None);
        if product.factors.len() == 1 && self.is_sum(product.id) {
            let text = format!("({})", line.source(product.id));
            (over, under) = (vec![text], Vec::new());
        }
        over.extend(above.map(str::to_owned));
        under.extend(below.map(str::to_owned));
        let text = Product::written(&over, &under);
        let title = match (above, below) {
            (Some(above), None) => format!("Multiply by {above}: {text}"),
            (None, Some(below)) => format!("Divide by {below}: {text}"),
            _ => format!("Write {text}"),
        };
        let span = product.place(&line);
        self.offer(cost, distance, span, title, vec![(span, text)]);
    }

    fn is_sum(&self, id: ExpressionId) -> bool {
        matches!(
            self.line.kind(id),
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            })
        )
    }

    /// A weighted sum that was not divided by its weights: `A1*y1 + A2*y2` by `A1 + A2`.
    fn by_a_sum(&mut self, product: &Product, wanted: Dimension) {
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
            1.3,
            0,
            span,
            format!("Divide by {divisor}"),
            vec![(span, text)],
        );
    }
}

/// How unlike two names begin: smaller for a longer common start.
fn shared_start(left: &str, right: &str) -> u64 {
    let shared = left
        .chars()
        .zip(right.chars())
        .take_while(|(a, b)| a == b)
        .count();
    (64 - shared.min(64)) as u64
}
