//! Every small edit that could give a part of a line the dimension that it needs.

use haunch_quantity::{Dimension, Rational};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Literal, Path};
use haunch_text::Span;

use super::Candidate;
use super::needed::{Need, found, needs, terms, whole_number};
use super::scope::{InScope, Scope, empty_at, same_series, series};
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::state::{Cell, State};
use crate::value::Kind;

struct Search<'a> {
    state: &'a State,
    cell: &'a Cell,
    scope: &'a Scope,
    found: Vec<Candidate>,
}

pub(super) fn all(state: &State, cell: &Cell, scope: &Scope) -> Vec<Candidate> {
    let block = state.block_of(cell).map(|(_, kind)| kind);
    let mut search = Search {
        state,
        cell,
        scope,
        found: Vec::new(),
    };
    for (id, wanted) in needs(cell, block) {
        if found(cell, id) == Some(wanted) {
            continue;
        }
        search.part((id, wanted));
    }
    search.found
}

impl Search<'_> {
    fn span(&self, id: ExpressionId) -> Span {
        self.cell
            .tree
            .expressions
            .get(id.0 as usize)
            .map_or(Span::default(), |e| e.span)
    }

    fn source(&self, id: ExpressionId) -> &str {
        self.span(id).text(&self.cell.text)
    }

    fn offer(&mut self, cost: f64, distance: u64, title: String, edits: Vec<(Span, String)>) {
        self.found.push(Candidate {
            cost,
            distance,
            title,
            edits,
        });
    }

    fn replace(&mut self, cost: f64, distance: u64, id: ExpressionId, text: String) {
        let title = format!("Write {text} instead of {}", self.source(id));
        self.offer(cost, distance, title, vec![(self.span(id), text)]);
    }

    fn part(&mut self, (id, wanted): Need) {
        let cell = self.cell;
        let Some(expression) = cell.tree.expressions.get(id.0 as usize) else {
            return;
        };
        match &expression.kind {
            ExpressionKind::Path(path) if path.arguments.is_none() => self.name(id, path, wanted),
            ExpressionKind::Literal(literal) => self.literal(id, literal, wanted),
            ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            } => self.sum(id, wanted),
            ExpressionKind::Binary {
                operator: operator @ (BinaryOperator::Multiply | BinaryOperator::Divide),
                operator_span,
                left,
                right,
            } => self.product(id, *operator, *operator_span, *left, *right, wanted),
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                right,
                ..
            } if whole_number(&cell.tree, *right).is_some() => {
                let exponent = Span {
                    start: self.span(*left).end,
                    end: self.span(*right).end,
                };
                self.change_power(*left, exponent, wanted);
            }
            ExpressionKind::Superscript {
                base,
                exponent_span,
                ..
            } => self.change_power(*base, *exponent_span, wanted),
            _ => {}
        }
        self.around(id, wanted);
    }

    /// Costs less where a value comes into use, more where it is broken itself.
    fn use_bonus(&self, name: &InScope) -> f64 {
        match (name.has_value, name.unused) {
            (false, _) => 0.4,
            (true, true) => -0.3,
            (true, false) => 0.0,
        }
    }

    fn name(&mut self, id: ExpressionId, path: &Path, wanted: Dimension) {
        if path.names.len() > 1 {
            self.member(id, path, wanted);
            return;
        }
        let Some(own) = path.names.first() else {
            return;
        };
        let offers: Vec<(f64, u64, String)> = self
            .scope
            .of(wanted)
            .filter(|name| name.name != own.text)
            .map(|name| {
                let cost = if same_series(&own.text, &name.name) {
                    1.0
                } else {
                    1.7
                };
                (
                    cost + self.use_bonus(name),
                    name.distance,
                    name.name.to_string(),
                )
            })
            .collect();
        for (cost, distance, name) in offers {
            self.replace(cost, distance, id, name);
        }
    }

    /// Another result of the same block.
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
        let full = self.source(id).to_owned();
        let Some(prefix) = full.strip_suffix(member.as_str()) else {
            return;
        };
        let mut offers: Vec<(u64, String)> = block
            .members
            .iter()
            .filter(|(name, evaluated)| {
                **name != member && evaluated.kind == Kind::Quantity(wanted)
            })
            .map(|(name, _)| (shared_start(name, &member), format!("{prefix}{name}")))
            .collect();
        offers.sort();
        for (rank, (_, text)) in offers.into_iter().take(6).enumerate() {
            self.replace(1.0, rank as u64, id, text);
        }
    }

    fn literal(&mut self, id: ExpressionId, literal: &Literal, wanted: Dimension) {
        let [part] = literal.parts.as_slice() else {
            return;
        };
        let number = part.number_span.text(&self.cell.text).to_owned();
        if part.unit.is_none() && (found(self.cell, id).is_none() || self.is_factor(id)) {
            return;
        }
        let written = part.unit.as_ref().map(|unit| unit.text.as_str());
        let preferences = self.state.file(self.cell.file);
        let preferences = preferences.map(|file| file.preferences.clone());
        let texts = super::units::near(written, wanted, &preferences.unwrap_or_default());
        for (rank, text) in texts.into_iter().take(3).enumerate() {
            self.replace(1.4, rank as u64, id, format!("{number} {text}"));
        }
        if wanted.is_ratio() && part.unit.is_some() {
            self.replace(1.6, 0, id, number);
        }
    }

    /// Whether an expression is an operand of a product, quotient or power: a number there is a plain
    /// factor.
    fn is_factor(&self, id: ExpressionId) -> bool {
        self.cell.tree.expressions.iter().any(|expression| {
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
        let tree = &self.cell.tree;
        let mut names: Vec<(Span, &str)> = Vec::new();
        for term in terms(tree, id) {
            match tree
                .expressions
                .get(term.0 as usize)
                .map(|e| (&e.kind, e.span))
            {
                Some((ExpressionKind::Path(path), span))
                    if path.names.len() == 1 && path.arguments.is_none() =>
                {
                    names.push((span, path.names[0].text.as_str()));
                }
                _ => return,
            }
        }
        let places: Vec<&str> = names.iter().map(|(_, name)| series(name).1).collect();
        if places.iter().any(|place| place.is_empty()) {
            return;
        }
        let mut other: Vec<&str> = self
            .scope
            .of(wanted)
            .filter(|name| series(&name.name).1 == places[0])
            .map(|name| series(&name.name).0)
            .collect();
        other.dedup();
        let mut offers = Vec::new();
        for start in other {
            let replaced: Option<Vec<&InScope>> = places
                .iter()
                .map(|place| {
                    self.scope
                        .find(&format!("{start}{place}"))
                        .filter(|name| name.dimension == wanted)
                })
                .collect();
            let Some(replaced) = replaced else { continue };
            let distance = replaced.iter().map(|name| name.distance).sum();
            let bonus = replaced
                .iter()
                .map(|name| self.use_bonus(name))
                .fold(0.0, f64::min);
            let edits: Vec<(Span, String)> = names
                .iter()
                .zip(&replaced)
                .map(|((span, _), name)| (*span, name.name.to_string()))
                .collect();
            let mut text = self.source(id).to_owned();
            let base = self.span(id).start;
            for (span, name) in edits.iter().rev() {
                let range = (span.start - base) as usize..(span.end - base) as usize;
                text.replace_range(range, name);
            }
            offers.push((1.0 + bonus, distance, text, edits));
        }
        for (cost, distance, text, edits) in offers {
            let title = format!("Write {text} instead of {}", self.source(id));
            self.offer(cost, distance, title, edits);
        }
    }

    fn product(
        &mut self,
        id: ExpressionId,
        operator: BinaryOperator,
        operator_span: Span,
        left: ExpressionId,
        right: ExpressionId,
        wanted: Dimension,
    ) {
        let (Some(a), Some(b)) = (found(self.cell, left), found(self.cell, right)) else {
            return;
        };
        let divides = operator == BinaryOperator::Divide;
        if divides && a.checked_multiply(b) == Some(wanted) {
            let title = format!("Multiply by {} instead of dividing", self.source(right));
            self.offer(1.5, 0, title, vec![(operator_span, "*".to_owned())]);
        }
        if !divides && a.checked_divide(b) == Some(wanted) {
            let title = format!("Divide by {} instead of multiplying", self.source(right));
            self.offer(1.5, 0, title, vec![(operator_span, "/".to_owned())]);
        }
        if divides && b.checked_divide(a) == Some(wanted) {
            let (above, below) = (self.source(left).to_owned(), self.source(right).to_owned());
            let below_text = if self.is_plain(left) {
                above.clone()
            } else {
                format!("({above})")
            };
            let title = format!("Turn the fraction over: {below}/{below_text}");
            let edits = vec![(self.span(left), below), (self.span(right), below_text)];
            self.offer(1.5, 1, title, edits);
        }
        if a == wanted {
            let taken = Span {
                start: self.span(left).end,
                end: self.span(id).end,
            };
            let title = format!("Leave out {}", taken.text(&self.cell.text).trim());
            self.offer(1.8, 0, title, vec![(taken, String::new())]);
        }
        if b == wanted && !divides {
            let taken = Span {
                start: self.span(id).start,
                end: self.span(right).start,
            };
            let title = format!("Leave out {}", taken.text(&self.cell.text).trim());
            self.offer(1.8, 0, title, vec![(taken, String::new())]);
        }
    }

    /// Whether an operand needs no parentheses of its own.
    fn is_plain(&self, id: ExpressionId) -> bool {
        matches!(
            self.cell
                .tree
                .expressions
                .get(id.0 as usize)
                .map(|e| &e.kind),
            Some(
                ExpressionKind::Path(_)
                    | ExpressionKind::Literal(_)
                    | ExpressionKind::Group(_)
                    | ExpressionKind::Superscript { .. }
            )
        )
    }

    /// Another exponent, or none.
    fn change_power(&mut self, base: ExpressionId, exponent: Span, wanted: Dimension) {
        let Some(dimension) = found(self.cell, base) else {
            return;
        };
        let source = self.source(base).to_owned();
        for power in 1..=4 {
            if dimension.checked_power(Rational::from_integer(power)) != Some(wanted) {
                continue;
            }
            let text = if power == 1 {
                String::new()
            } else {
                format!("^{power}")
            };
            let title = format!("Write {source}{text}");
            self.offer(1.1, 0, title, vec![(exponent, text)]);
        }
    }

    /// Edits round a whole part: a power, a root, a factor.
    fn around(&mut self, id: ExpressionId, wanted: Dimension) {
        let Some(dimension) = found(self.cell, id) else {
            return;
        };
        let span = self.span(id);
        let source = self.source(id).to_owned();
        let is_name = matches!(
            self.cell
                .tree
                .expressions
                .get(id.0 as usize)
                .map(|e| &e.kind),
            Some(ExpressionKind::Path(_))
        );
        if is_name {
            for power in 2..=4 {
                if dimension.checked_power(Rational::from_integer(power)) == Some(wanted) {
                    let title = format!("Write {source}^{power}");
                    let edit = (empty_at(span.end), format!("^{power}"));
                    self.offer(1.3, 0, title, vec![edit]);
                }
            }
        }
        if dimension.checked_power(Rational::HALF) == Some(wanted) {
            let text = format!("sqrt({source})");
            self.offer(2.0, 0, format!("Write {text}"), vec![(span, text)]);
        }
        let is_sum = matches!(
            self.cell
                .tree
                .expressions
                .get(id.0 as usize)
                .map(|e| &e.kind),
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Add | BinaryOperator::Subtract,
                ..
            })
        );
        let factor = |sign: &str, name: &InScope| {
            let edits = if is_sum {
                vec![
                    (empty_at(span.start), "(".to_owned()),
                    (empty_at(span.end), format!("){sign}{}", name.name)),
                ]
            } else {
                vec![(empty_at(span.end), format!("{sign}{}", name.name))]
            };
            let verb = if sign == "*" { "Multiply" } else { "Divide" };
            (
                2.2 + self.use_bonus(name),
                name.distance,
                format!("{verb} {source} by {}", name.name),
                edits,
            )
        };
        let mut offers = Vec::new();
        if let Some(missing) = wanted.checked_divide(dimension) {
            offers.extend(self.scope.of(missing).take(6).map(|name| factor("*", name)));
        }
        if let Some(extra) = dimension.checked_divide(wanted) {
            // Dividing a name by itself leaves 1, which no one means.
            let others = self.scope.of(extra).filter(|name| name.name != source);
            offers.extend(others.take(6).map(|name| factor("/", name)));
        }
        for (cost, distance, title, edits) in offers {
            self.offer(cost, distance, title, edits);
        }
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
